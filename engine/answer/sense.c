/* Directions: does what was written go the way the point goes? */
#include "answer/judgement.h"

#include <assert.h>
#include <string.h>

enum { NEAR = 2 };      /* words between a key word and the direction that is surely its own */

enum sense { SENSE_FITS, SENSE_LEFT_OPEN, SENSE_UNSURE, SENSE_TURNED };

static struct directions turned(struct directions directions)
{
    return (struct directions){directions.down, directions.up};
}

/* Distance in words from the hit to the nearest word of this direction; a large number when there is none. */
static size_t nearest_direction(const struct words *words, size_t first, size_t last, const struct hit *hit,
                                enum direction wanted, size_t *where)
{
    size_t best = SIZE_MAX;
    for (size_t i = first; i <= last; i++) {
        if (direction_at(words, i) != wanted)
            continue;
        size_t distance = i < hit->first ? hit->first - i : i > hit->last ? i - hit->last : 0;
        if (distance < best) {
            best = distance;
            *where = i;
        }
    }
    return best;
}

/* "more water" is about the water, "water is more stable" may be about anything: a degree word counts as the
 * key's own only right before it. */
static bool is_its_own(const struct words *words, const struct hit *hit, size_t where, size_t distance)
{
    const char *stem = words->items[where].stem;
    bool degree = strcmp(stem, "more") == 0 || strcmp(stem, "less") == 0;
    return degree ? where + 1 == hit->first : distance <= NEAR;
}

static bool clause_has_way(const struct words *text, size_t clause)
{
    for (size_t i = 0; i < text->count; i++)
        if (text->items[i].clause == clause && direction_at(text, i) != DIRECTION_NONE)
            return true;
    return false;
}

/* A text may give a way to one of its words and not to another. The way has to be there where a key word stands beside it in
 * the text ("falling pressure"), not for a word that says it by itself ("low"), and not where only names are asked for. */
static bool has_to_be_there(const struct judgement *judgement, size_t first, size_t last)
{
    const struct words *text = &judgement->text, *words = &judgement->reading->words;
    if (names_only(judgement->reading->ask))
        return false;
    if (!judgement->group_count || judgement->lacks)
        return true;
    const struct hits *hits = &judgement->groups[0].hits;
    bool beside = true;
    for (size_t i = 0; i < hits->count; i++) {
        if (hits->items[i].assertion != SAID || hits->items[i].first < first || hits->items[i].last > last)
            continue;
        bool stands = false;
        for (size_t k = 0; k < text->count; k++)
            if (strcmp(text->items[k].stem, words->items[hits->items[i].first].stem) == 0)
                stands = stands || clause_has_way(text, text->items[k].clause);
        beside = beside && stands;
    }
    return beside;
}

/* "Goes up" has nothing to do with "cooler": is there a direction that is as plain, or as special? */
static bool has_kind(const struct words *words, size_t first, size_t last, bool plain)
{
    for (size_t i = first; i <= last && i < words->count; i++)
        if (direction_at(words, i) != DIRECTION_NONE && direction_is_plain(words, i) == plain)
            return true;
    return false;
}

static bool text_is_plain(const struct words *text)
{
    return text->count && has_kind(text, 0, text->count - 1, true);
}

/* Do words first … last of the answer, around the hit, go the way the text goes? Turned twice ("a shorter fetch
 * gives smaller waves" for "a longer fetch gives higher waves") is the same argument the other way round. */
static enum sense sense_of(const struct judgement *judgement, size_t first, size_t last, const struct hit *hit)
{
    const struct words *words = &judgement->reading->words;
    struct directions wanted = judgement->sense, found = directions_in(words, first, last);
    if (wanted.up + wanted.down == 0 || judgement->keys_direct)
        return SENSE_FITS;
    if (!text_is_plain(&judgement->text) && !has_kind(words, first, last, false))
        found = (struct directions){0, 0};
    if (found.up + found.down == 0)
        return has_to_be_there(judgement, first, last) ? SENSE_LEFT_OPEN : SENSE_FITS;
    if (wanted.up && wanted.down)
        return found.up && found.down ? SENSE_FITS : SENSE_UNSURE;
    enum direction way = wanted.up ? DIRECTION_UP : DIRECTION_DOWN;
    if (way == DIRECTION_DOWN)
        found = turned(found);
    if (!found.down)
        return SENSE_FITS;
    size_t where = 0, same_where = 0;
    size_t against = nearest_direction(words, first, last, hit, way == DIRECTION_UP ? DIRECTION_DOWN : DIRECTION_UP, &where);
    size_t with = nearest_direction(words, first, last, hit, way, &same_where);
    if (found.up)
        return wanted.up + wanted.down == 1 && with <= against ? SENSE_FITS : SENSE_UNSURE;
    bool plain = found.down == 1 && is_its_own(words, hit, where, against)
              && direction_is_plain(words, where) == text_is_plain(&judgement->text)
              && assertion_of(words, where, where) == SAID && !names_reverse(words, first, last, &judgement->text, PAIRS_ALL);
    return plain ? SENSE_TURNED : SENSE_UNSURE;
}

void sentence_around(const struct words *words, const struct hit *hit, size_t *first, size_t *last)
{
    *first = hit->first;
    *last = hit->last;
    while (*first > 0 && words->items[*first - 1].sentence == words->items[hit->first].sentence)
        --*first;
    while (*last + 1 < words->count && words->items[*last + 1].sentence == words->items[hit->last].sentence)
        ++*last;
}

/* The word of direction that goes against the text, quoted with the hit. */
static void quote_turned(struct judgement *judgement, size_t first, size_t last, const struct hit *hit)
{
    size_t where = 0;
    enum direction against = judgement->sense.up ? DIRECTION_DOWN : DIRECTION_UP;
    nearest_direction(&judgement->reading->words, first, last, hit, against, &where);
    size_t from = where < hit->first ? where : hit->first, to = where > hit->last ? where : hit->last;
    add_quote(judgement, words_span(&judgement->reading->words, from, to));
}

bool settle_by_sense(struct judgement *judgement, size_t first, size_t last, const struct hit *hit)
{
    switch (sense_of(judgement, first, last, hit)) {
    case SENSE_FITS:
        return false;
    case SENSE_LEFT_OPEN:
        add_hit(judgement, hit);
        settle(judgement, CANT_TELL, GROUND_NO_DIRECTION,
               with_quotes(judgement, "", " is there, but not in which direction"));
        return true;
    case SENSE_UNSURE:
        add_hit(judgement, hit);
        settle(judgement, CANT_TELL, GROUND_OPPOSITE,
               with_quotes(judgement, "look at the direction you give with ", ""));
        return true;
    case SENSE_TURNED:
        quote_turned(judgement, first, last, hit);
        settle(judgement, LOOKS_NOT_EARNED, GROUND_OPPOSITE,
               with_quotes(judgement, "", " goes the opposite way"));
        return true;
    }
    assert(false && "every sense is settled");
    return false;
}
