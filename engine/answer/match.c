/* Wordings of the scheme in the answer. */
#include "answer/inside.h"

#include <string.h>

enum {
    SPAN_FIRST = 3, SPAN_EACH = 3,      /* words a wording may be spread over: 3 and 3 for each of its own */
    APART_FROM = 3                      /* letters of each part of a word that is written apart */
};

/* ---- Words --------------------------------------------------------------------------------------- */

bool word_carries(const struct word *word)
{
    return !word->small && !word_negates(word);
}

bool is_empty(const struct word *word)
{
    return IS_ONE_OF(word->stem, "accur", "affect", "amount", "bad", "better", "care", "chang", "differ", "effect", "fair",
                     "good", "happen", "help", "import", "kind", "lot", "lots", "make", "mani", "much", "nice", "number",
                     "often", "place", "process", "realli", "reason", "reliabl", "sort", "thing", "type", "use", "way",
                     "wors");
}

bool words_hold(const struct words *words, const struct word *word)
{
    for (size_t i = 0; i < words->count; i++)
        if (strcmp(words->items[i].stem, word->stem) == 0)
            return true;
    return false;
}

bool is_one_of(const char *text, const char *const *list, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(text, list[i]) == 0)
            return true;
    return false;
}

const char *folded_at(const struct words *words, size_t index)
{
    return index < words->count ? words->items[index].folded : "";
}

/* ---- Wordings ------------------------------------------------------------------------------------ */

/* Which words of a wording have to be there: those that carry, or all where none does. */
static size_t wanted_words(const struct words *wording, size_t *wanted)
{
    size_t count = 0;
    for (size_t i = 0; i < wording->count; i++)
        if (word_carries(&wording->items[i]))
            wanted[count++] = i;
    for (size_t i = 0; !count && i < wording->count; i++)
        wanted[i] = i;
    return count ? count : wording->count;
}

enum fit { FITS_NOT, FITS, FITS_OPPOSITE };

/* "Lime stone" is limestone. */
static bool is_written_apart(const struct words *words, size_t index, const char *wanted)
{
    const char *first = words->items[index].folded, *second = folded_at(words, index + 1);
    size_t length = strlen(first);
    return length >= APART_FROM && strlen(second) >= APART_FROM && strncmp(wanted, first, length) == 0
        && strcmp(wanted + length, second) == 0;
}

/* One plain word of direction stands for another: more for higher; no word of one way for one of the other. */
static enum fit fit_of(const struct reading *reading, size_t index, const struct words *wording, size_t wanted)
{
    if (word_compare(&reading->words.items[index], &wording->items[wanted], reading->vocabulary) != WORD_MATCH_NONE
        || is_written_apart(&reading->words, index, wording->items[wanted].folded))
        return FITS;
    enum direction here = direction_at(&reading->words, index), there = direction_at(wording, wanted);
    if (here == DIRECTION_NONE || there == DIRECTION_NONE)
        return FITS_NOT;
    if (here != there)
        return FITS_OPPOSITE;
    if (IS_ONE_OF(reading->words.items[index].folded, "up", "down")
        && IS_ONE_OF(wording->items[wanted].folded, "more", "less"))
        return FITS_NOT;        /* "air goes up" says nothing of more */
    return direction_is_plain(&reading->words, index) && direction_is_plain(wording, wanted) ? FITS : FITS_NOT;
}

/* fits[w * count + i]: how word i of the answer fits wanted word w. */
static enum fit *fits_of(const struct reading *reading, const struct words *wording, const size_t *wanted, size_t wanted_count)
{
    size_t count = reading->words.count;
    enum fit *fits = arena_get_array(reading->arena, wanted_count * count, sizeof *fits);
    for (size_t w = 0; w < wanted_count; w++)
        for (size_t i = 0; i < count; i++)
            fits[w * count + i] = fit_of(reading, i, wording, wanted[w]);
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
    *hit = (struct hit){.first = start, .last = start, .assertion = SAID};
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
    size_t *wanted = arena_get_array(reading->arena, wording->count, sizeof *wanted);
    size_t wanted_count = wanted_words(wording, wanted);
    if (!wanted_count)
        return hits;
    const enum fit *fits = fits_of(reading, wording, wanted, wanted_count);
    bool negative = words_negate(wording);
    for (size_t i = 0; i < reading->words.count; i++) {
        struct hit hit;
        if (!stands_at(&reading->words, fits, wanted_count, i, order, &hit))
            continue;
        hit.assertion = assertion_of(&reading->words, hit.first, hit.last);
        if (negative)   /* "no light" is said by "no light"; "light" alone leaves it open */
            hit.assertion = hit.assertion == NEGATED ? SAID : DOUBTFUL;
        else if (hit.first == hit.last && negates_at(&reading->words, hit.first))
            hit.assertion = SAID;       /* "hardly any" for "little" */
        hits.items[hits.count++] = hit;
    }
    return hits;
}
