/* How much of what: more or less of something, much or little of it. */
#include "answer/judgement.h"

#include <string.h>

enum { AMOUNT_REACH = 2 };      /* words between "few" and what there are few of */

static bool is_degree(const struct word *word)
{
    return strcmp(word->stem, "more") == 0 || strcmp(word->stem, "less") == 0 || strcmp(word->stem, "fewer") == 0;
}

/* The word that a word of degree stands before: "oxygen" in "less oxygen", "services" in "more kinds of services"; NULL at the
 * end of its clause, and where "than" comes between, or "of" ("more of it"). */
static const struct word *measured(const struct words *words, size_t degree)
{
    bool kind = false;
    for (size_t i = degree + 1; i < words->count && words->items[i].clause == words->items[degree].clause; i++) {
        if (strcmp(words->items[i].folded, "than") == 0 || (strcmp(words->items[i].folded, "of") == 0 && !kind))
            return NULL;
        kind = is_empty(&words->items[i]);
        if (word_carries(&words->items[i]) && !kind)
            return &words->items[i];
    }
    return NULL;
}

/* Does text measure this word? *any: it measures something. */
static bool text_measures(const struct reading *reading, const struct words *text, const struct word *word, bool *any)
{
    for (size_t i = 0; i < text->count; i++) {
        const struct word *other = is_degree(&text->items[i]) ? measured(text, i) : NULL;
        *any = *any || other;
        if (other && word_compare(word, other, reading->vocabulary) != WORD_MATCH_NONE)
            return true;
    }
    return false;
}

/* "less need for oxygen" is not "less oxygen": where the scheme says what is more or less, the answer has to say it of the same. */
bool measures_the_same(const struct judgement *judgement)
{
    const struct reading *reading = judgement->reading;
    const struct wording *accepts = &judgement->point->accepts;
    for (size_t i = 0; i < judgement->group_count; i++) {
        size_t at = judgement->groups[i].chosen->first;
        bool single = at == judgement->groups[i].chosen->last;      /* "more dense" measures nothing */
        const struct word *word = single && is_degree(&reading->words.items[at]) ? measured(&reading->words, at) : NULL;
        if (!word || is_key(judgement, (size_t)(word - reading->words.items)))
            continue;
        bool any = false, same = text_measures(reading, &judgement->text, word, &any);
        for (size_t k = 0; k < accepts->count && !same; k++) {
            struct words wording = reading_words(reading, accepts->items[k]);
            same = text_measures(reading, &wording, word, &any);
        }
        if (any && !same)
            return false;
    }
    return true;
}

/* Much or many before a word, or little or few of it. */
static enum direction amount_before(const struct words *words, size_t index)
{
    for (size_t back = 1; back <= AMOUNT_REACH && back <= index; back++) {
        size_t i = index - back;
        if (words->items[i].clause != words->items[index].clause)
            break;
        if (direction_at(words, i) == DIRECTION_DOWN && IS_ONE_OF(words->items[i].folded, "much", "many"))
            return DIRECTION_DOWN;
        if (IS_ONE_OF(words->items[i].folded, "few", "fewer", "little", "less", "no", "hardly", "barely"))
            return DIRECTION_DOWN;
        if (IS_ONE_OF(words->items[i].folded, "many", "much", "lots", "loads", "plenty", "more", "most", "all"))
            return DIRECTION_UP;
    }
    return DIRECTION_NONE;
}

static bool speaks_of_the_same(const struct words *text)
{
    for (size_t i = 0; i < text->count; i++)
        if (IS_ONE_OF(text->items[i].folded, "same", "constant", "unchanged"))
            return true;
    return false;
}

/* "More workers" is not "the same number of workers", "few people" is not "many people", and "not much water" is not said by a text that speaks of water. */
bool amounts_are_kept(const struct judgement *judgement)
{
    const struct words *words = &judgement->reading->words, *text = &judgement->text;
    for (size_t i = 0; i < judgement->group_count; i++) {
        const struct hit *hit = judgement->groups[i].chosen;
        enum direction said = amount_before(words, hit->first), wanted = DIRECTION_NONE;
        for (size_t k = 0; k < text->count && wanted == DIRECTION_NONE; k++)
            if (word_compare(&words->items[hit->first], &text->items[k], judgement->reading->vocabulary) != WORD_MATCH_NONE)
                wanted = amount_before(text, k);
        if (direction_at(words, hit->first) != DIRECTION_NONE || judgement->keys_direct)
            continue;
        if ((said == DIRECTION_DOWN && wanted != DIRECTION_DOWN && !judgement->lacks)
            || (said == DIRECTION_UP && wanted == DIRECTION_DOWN) || (said != DIRECTION_NONE && speaks_of_the_same(text)))
            return false;
    }
    return true;
}
