/* Is it said, or negated? */
#include "answer/inside.h"

#include <assert.h>
#include <string.h>

enum {
    NEGATION_REACH = 5,         /* words that a "not" before them still turns */
    HARDLY_REACH = 4,           /* the same for "hardly" */
    NO_REACH = 3                /* "no": only what it stands before, or one word before that ("no reason to be biased") */
};

/* A "not" with "only", "just" or "simply" behind it adds something. */
static bool is_not_only(const struct words *words, size_t index)
{
    return IS_ONE_OF(folded_at(words, index + 1), "only", "just", "simply", "merely");
}

static bool is_plain_not(const char *word)
{
    size_t length = strlen(word);
    return strcmp(word, "not") == 0 || (length > 3 && strcmp(word + length - 3, "n't") == 0);
}

bool lessens_at(const struct words *words, size_t index)
{
    if (!is_plain_not(words->items[index].folded))
        return false;
    if (IS_ONE_OF(folded_at(words, index + 1), "much", "many"))
        return true;
    for (size_t i = index + 1; i <= index + 3 && i + 1 < words->count; i++)
        if (IS_ONE_OF(words->items[i].folded, "as", "so", "that", "very", "too")
            && IS_ONE_OF(words->items[i + 1].folded, "much", "many", "often"))
            return words->items[i].sentence == words->items[index].sentence;
    return false;
}

/* A negation that turns what comes after it: not "not only", "no doubt", "instead" alone; but "short of" too. */
bool negates_at(const struct words *words, size_t index)
{
    const char *word = words->items[index].folded, *next = folded_at(words, index + 1);
    if (IS_ONE_OF(word, "short", "shortage", "confused") && IS_ONE_OF(next, "of", "with"))
        return true;    /* "no shortage of oxygen" is turned twice */
    if (!word_negates(&words->items[index]))
        return false;
    if (strcmp(word, "instead") == 0)
        return strcmp(next, "of") == 0;
    if (strcmp(word, "rather") == 0)
        return strcmp(next, "than") == 0;
    if (is_plain_not(word))
        return !is_not_only(words, index) && !lessens_at(words, index);
    return strcmp(word, "no") != 0 || !IS_ONE_OF(next, "doubt", "matter");
}

static bool is_half_negation(const char *word)
{
    return IS_ONE_OF(word, "barely", "hardly", "rarely", "scarcely");
}

bool is_hardly_there(const struct words *words, size_t index)
{
    for (size_t back = 1; back <= HARDLY_REACH && back <= index; back++)
        if (is_half_negation(words->items[index - back].folded))
            return words->items[index - back].clause == words->items[index].clause;
    return false;
}

bool words_negate(const struct words *words)
{
    for (size_t i = 0; i < words->count; i++)
        if (negates_at(words, i))
            return true;
    return false;
}

/* "the rise is not seen": a "not" soon after leaves in doubt what it turns. */
static bool is_negated_after(const struct words *words, size_t last)
{
    size_t clause = words->items[last].clause;
    for (size_t i = last + 1; i < words->count && i <= last + 2; i++) {
        if (words->items[i].clause != clause || word_carries(&words->items[i]))
            return false;
        if (i == last + 1 && strcmp(words->items[i].folded, "not") == 0 && i + 1 < words->count)
            return false;       /* "hertz, not metres": another thing is denied */
        if (negates_at(words, i) && !IS_ONE_OF(words->items[i].folded, "without", "instead", "rather", "lack", "lacking"))
            return true;
    }
    return false;
}

/* "It is not true that …" and "it is wrong that …" turn all that follows in the sentence. */
static bool is_called_untrue(const struct words *words, size_t first)
{
    size_t sentence = words->items[first].sentence;
    for (size_t i = first; i-- > 1 && words->items[i].sentence == sentence;) {
        if (strcmp(words->items[i].folded, "that") != 0)
            continue;
        const char *before = words->items[i - 1].folded;
        if (IS_ONE_OF(before, "untrue", "false", "wrong", "incorrect"))
            return true;
        if (IS_ONE_OF(before, "true", "right", "correct") && i > 1 && negates_at(words, i - 2))
            return true;
    }
    return false;
}

/* "Not when the cash arrives": the "not" stands right before the clause that it turns. */
static bool is_not_when(const struct words *words, size_t index, size_t clause)
{
    return is_plain_not(words->items[index].folded) && words->items[index + 1].clause == clause;
}

enum assertion assertion_of(const struct words *words, size_t first, size_t last)
{
    assert(first <= last && last < words->count);
    size_t clause = words->items[first].clause, negations = 0, carrying = 0;
    bool doubt = false, crossed = false;
    for (size_t i = first; i <= last; i++)
        negations += negates_at(words, i);
    for (size_t back = 1; back <= first && back <= NEGATION_REACH; back++) {
        size_t i = first - back;
        const char *word = words->items[i].folded;
        if (words->items[i].clause != clause && !is_not_when(words, i, clause))
            break;
        crossed = crossed || IS_ONE_OF(word, "and", "by", "but");
        carrying += word_carries(&words->items[i]);
        if (!negates_at(words, i) || (strcmp(word, "no") == 0 && back > NO_REACH && carrying > 1))
            continue;
        negations++;
        doubt = doubt || crossed || is_half_negation(word);
    }
    if (doubt || negations > 1)
        return DOUBTFUL;
    if (negations == 1 || is_called_untrue(words, first))
        return NEGATED;
    return is_negated_after(words, last) ? DOUBTFUL : SAID;
}

/* ---- Lack ---------------------------------------------------------------------------------------- */

bool word_is_of_lack(const struct word *word)
{
    return word_negates(word) || IS_ONE_OF(word->stem, "littl", "few", "fewer", "less", "short", "shortag", "lack", "avoid",
                                           "stop", "prevent", "slow", "protect", "scarc");
}

bool speaks_of_lack(const struct words *words)
{
    for (size_t i = 0; i < words->count; i++)
        if (word_is_of_lack(&words->items[i]))
            return true;
    return false;
}
