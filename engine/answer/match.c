#include "answer/inside.h"

#include <assert.h>
#include <string.h>

#include "base/text.h"

enum {
    NEGATION_REACH = 5,         /* words that a "not" before them still turns */
    NO_REACH = 3,               /* "no": only what it stands before */
    SPAN_FIRST = 3, SPAN_EACH = 3   /* words a wording may be spread over: 3 and 3 for each of its own */
};

/* ---- Words in their place ------------------------------------------------------------------------ */

bool word_carries(const struct word *word)
{
    return !word->small && !word_negates(word);
}

bool words_hold(const struct words *words, const struct word *word)
{
    for (size_t i = 0; i < words->count; i++)
        if (strcmp(words->items[i].stem, word->stem) == 0)
            return true;
    return false;
}

static bool is_one_of(const char *text, const char *const *list, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(text, list[i]) == 0)
            return true;
    return false;
}

#define IS_ONE_OF(text, ...)                                                                               \
    is_one_of(text, (const char *const[]){__VA_ARGS__}, sizeof((const char *const[]){__VA_ARGS__}) / sizeof(char *))

static const char *folded_at(const struct words *words, size_t index)
{
    return index < words->count ? words->items[index].folded : "";
}

/* "goes up", "went back down"; "up" alone may be anything ("dries up"). */
static enum direction moved_at(const struct words *words, size_t index)
{
    const char *word = words->items[index].folded;
    enum direction way = strcmp(word, "up") == 0 ? DIRECTION_UP : strcmp(word, "down") == 0 ? DIRECTION_DOWN : DIRECTION_NONE;
    for (size_t back = 1; way != DIRECTION_NONE && back <= 2 && back <= index; back++)
        if (IS_ONE_OF(folded_at(words, index - back), "go", "goes", "going", "gone", "went", "come", "comes", "coming", "came"))
            return way;
    return DIRECTION_NONE;
}

enum direction direction_at(const struct words *words, size_t index)
{
    const char *word = words->items[index].folded, *next = folded_at(words, index + 1);
    if (moved_at(words, index) != DIRECTION_NONE)
        return moved_at(words, index);
    if (IS_ONE_OF(word, "lower", "higher")
        && IS_ONE_OF(next, "shore", "shores", "zone", "zones", "slope", "slopes", "part", "parts", "end", "limit", "edge",
                     "beach", "levels", "up", "down", "ground", "area", "areas", "region", "course"))
        return DIRECTION_NONE;
    if (strcmp(word, "more") == 0 && IS_ONE_OF(next, "or", "stable", "even", "constant"))
        return DIRECTION_NONE;
    return word_direction(&words->items[index]);
}

struct directions directions_in(const struct words *words, size_t first, size_t last)
{
    struct directions found = {0, 0};
    for (size_t i = first; i <= last && i < words->count; i++) {
        enum direction direction = direction_at(words, i);
        found.up += direction == DIRECTION_UP;
        found.down += direction == DIRECTION_DOWN;
    }
    return found;
}

static const char *const pairs[][2] = {
    {"upper", "lower"}, {"top", "bottom"}, {"high", "low"}, {"higher", "lower"}, {"inside", "outside"}, {"before", "after"},
    {"summer", "winter"}, {"day", "night"}, {"near", "far"}, {"nearer", "further"}, {"exposed", "sheltered"}, {"wet", "dry"},
    {"hot", "cold"}, {"large", "small"}, {"big", "small"}, {"fast", "slow"}, {"deep", "shallow"}, {"deeper", "shallower"}, {"land", "sea"},
    {"long", "short"}, {"longer", "shorter"}, {"hard", "soft"}, {"north", "south"}, {"east", "west"}, {"open", "closed"},
    {"maximum", "minimum"}, {"strong", "weak"}, {"wide", "narrow"}, {"heavy", "light"}, {"steep", "gentle"},
    {"spring", "neap"}, {"crest", "trough"}, {"calm", "rough"}, {"male", "female"}, {"with", "without"},
};

/* The place of the word in first … last; words->count when it is not there. */
static size_t place_of(const struct words *words, size_t first, size_t last, const char *folded)
{
    for (size_t i = first; i <= last && i < words->count; i++)
        if (strcmp(words->items[i].folded, folded) == 0)
            return i;
    return words->count;
}

/* Where the wording names both ("lower over the land than over the sea"), it speaks of the one it names first. */
bool names_reverse(const struct words *words, size_t first, size_t last, const struct words *wording)
{
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs && wording->count; i++) {
        size_t one = place_of(wording, 0, wording->count - 1, pairs[i][0]);
        size_t two = place_of(wording, 0, wording->count - 1, pairs[i][1]);
        if (one == two)
            continue;   /* neither */
        if (place_of(words, first, last, pairs[i][two < one]) == words->count
            && place_of(words, first, last, pairs[i][one < two]) < words->count)
            return true;
    }
    return false;
}

/* ---- Said or not --------------------------------------------------------------------------------- */

/* A negation that turns what comes after it: not "not only", "no doubt", "instead" alone; but "short of" too. */
static bool turns(const struct words *words, size_t index)
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
    if (strcmp(word, "not") == 0)
        return !IS_ONE_OF(next, "only", "just", "simply", "merely");
    return strcmp(word, "no") != 0 || !IS_ONE_OF(next, "doubt", "matter");
}

static bool is_half_negation(const char *word)
{
    return IS_ONE_OF(word, "hardly", "rarely");
}

bool words_negate(const struct words *words)
{
    for (size_t i = 0; i < words->count; i++)
        if (turns(words, i))
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
        if (turns(words, i) && !IS_ONE_OF(words->items[i].folded, "without", "instead", "rather", "lack", "lacking"))
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
        if (IS_ONE_OF(before, "true", "right", "correct") && i > 1 && turns(words, i - 2))
            return true;
    }
    return false;
}

enum assertion assertion_of(const struct words *words, size_t first, size_t last)
{
    assert(first <= last && last < words->count);
    size_t clause = words->items[first].clause, negations = 0;
    bool doubt = false, crossed = false;
    for (size_t i = first; i <= last; i++)
        negations += turns(words, i);
    for (size_t back = 1; back <= first && back <= NEGATION_REACH; back++) {
        size_t i = first - back;
        const char *word = words->items[i].folded;
        if (words->items[i].clause != clause)
            break;
        crossed = crossed || IS_ONE_OF(word, "and", "or", "by", "but");
        if (!turns(words, i) || (strcmp(word, "no") == 0 && back > NO_REACH))
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

/* ---- Wordings ------------------------------------------------------------------------------------ */

/* Which words of a wording have to be there: those that carry, or all where none does. */
static size_t wanted_words(const struct words *wording, const struct word **wanted)
{
    size_t count = 0;
    for (size_t i = 0; i < wording->count; i++)
        if (word_carries(&wording->items[i]))
            wanted[count++] = &wording->items[i];
    for (size_t i = 0; !count && i < wording->count; i++)
        wanted[i] = &wording->items[i];
    return count ? count : wording->count;
}

enum fit { FITS_NOT, FITS, FITS_OPPOSITE };

/* One word of direction stands for another: more for higher. */
static enum fit fit_of(const struct reading *reading, size_t index, const struct word *wanted)
{
    if (word_compare(&reading->words.items[index], wanted, reading->vocabulary) != WORD_MATCH_NONE)
        return FITS;
    enum direction here = direction_at(&reading->words, index), there = word_direction(wanted);
    if (here == DIRECTION_NONE || there == DIRECTION_NONE)
        return FITS_NOT;
    return here == there ? FITS : FITS_OPPOSITE;
}

/* fits[w * count + i]: how word i of the answer fits wanted word w. */
static enum fit *fits_of(const struct reading *reading, const struct word *const *wanted, size_t wanted_count)
{
    size_t count = reading->words.count;
    enum fit *fits = arena_get_array(reading->arena, wanted_count * count, sizeof *fits);
    for (size_t w = 0; w < wanted_count; w++)
        for (size_t i = 0; i < count; i++)
            fits[w * count + i] = fit_of(reading, i, wanted[w]);
    return fits;
}

/* The wanted word w at or behind `from`, before `end`: a right one rather than an opposite one. */
static size_t find_fit(const enum fit *row, size_t from, size_t end, bool *opposite)
{
    size_t other = end;
    for (size_t i = from; i < end; i++) {
        if (row[i] == FITS)
            return i;
        if (row[i] == FITS_OPPOSITE && other == end)
            other = i;
    }
    *opposite = *opposite || other < end;
    return other;
}

/* The wording with its first word at `start`. */
static bool stands_at(const struct words *words, const enum fit *fits, size_t wanted_count, size_t start,
                      enum word_order order, struct hit *hit)
{
    size_t end = start + 1, count = words->count;
    while (end < count && words->items[end].sentence == words->items[start].sentence
           && end - start < SPAN_FIRST + SPAN_EACH * wanted_count)
        end++;
    *hit = (struct hit){start, start, SAID, false};
    bool begins = false;
    for (size_t w = 0; w < wanted_count; w++) {
        size_t from = order == OWN_ORDER && w > 0 ? hit->last + 1 : start;
        size_t at = from < end ? find_fit(fits + w * count, from, end, &hit->opposite) : end;
        if (at == end)
            return false;
        begins = begins || at == start;
        hit->last = at > hit->last ? at : hit->last;
    }
    return begins;
}

struct hits match_wording(const struct reading *reading, const struct words *wording, enum word_order order)
{
    struct hits hits = {arena_get_array(reading->arena, reading->words.count, sizeof *hits.items), 0};
    const struct word **wanted = arena_get_array(reading->arena, wording->count, sizeof *wanted);
    size_t wanted_count = wanted_words(wording, wanted);
    if (!wanted_count)
        return hits;
    const enum fit *fits = fits_of(reading, wanted, wanted_count);
    bool negative = words_negate(wording);
    for (size_t i = 0; i < reading->words.count; i++) {
        struct hit hit;
        if (!stands_at(&reading->words, fits, wanted_count, i, order, &hit))
            continue;
        hit.assertion = assertion_of(&reading->words, hit.first, hit.last);
        if (negative)   /* "no light" is said by "no light"; "light" alone leaves it open */
            hit.assertion = hit.assertion == NEGATED ? SAID : DOUBTFUL;
        hits.items[hits.count++] = hit;
    }
    return hits;
}
