/* Key words: which of them are there, and where they stand together. */
#include "answer/judgement.h"

#include <string.h>

enum { SHORT_ANSWER = 40 };     /* words; in a short answer all stands together */

bool is_negated_in(const struct words *text, const struct word *word)
{
    for (size_t i = 0; i < text->count; i++)
        if (strcmp(text->items[i].stem, word->stem) == 0)
            return assertion_of(text, i, i) == NEGATED;
    return false;
}

/* "Land that does not flood" wants "flood" negated. */
static bool scheme_negates(const struct judgement *judgement, const struct words *wording)
{
    const struct wording *accepts = &judgement->point->accepts;
    if (wording->count != 1)
        return false;
    for (size_t i = 0; i < accepts->count; i++) {
        struct words accepted = reading_words(judgement->reading, accepts->items[i]);
        if (is_negated_in(&accepted, &wording->items[0]))
            return true;
    }
    return is_negated_in(&judgement->text, &wording->items[0]);
}

/* "Up and down", "stays where", "more dense": such words have to stand together, in this order. */
static bool is_phrase(const struct words *wording)
{
    for (size_t i = 1; i < wording->count; i++)
        if (wording->items[i].small)
            return true;
    return wording->count == 2 && direction_at(wording, 0) != DIRECTION_NONE;
}

static bool stands_as_phrase(const struct words *words, const struct words *wording, const struct hit *hit)
{
    size_t skipped = 0;
    while (skipped < wording->count && !word_carries(&wording->items[skipped]))
        skipped++;
    for (size_t i = skipped; i < wording->count; i++)
        if (wording->items[i].small && strcmp(folded_at(words, hit->first + i - skipped), wording->items[i].folded) != 0)
            return false;
    return hit->last - hit->first < wording->count;
}

static void gather_group(struct judgement *judgement, struct group *group)
{
    const struct reading *reading = judgement->reading;
    group->hits.items = arena_get_array(reading->arena, reading->words.count * group->key->count, sizeof(struct hit));
    for (size_t i = 0; i < group->key->count; i++) {
        struct words wording = reading_words(reading, group->key->alternatives[i]);
        if (!wording.count)
            continue;
        struct directions ways = directions_in(&wording, 0, wording.count - 1);
        judgement->keys_direct = judgement->keys_direct || ways.up + ways.down > 0;
        struct hits hits = match_wording(reading, &wording, is_phrase(&wording) ? OWN_ORDER : ANY_ORDER);
        bool turns = (judgement->lacks && !speaks_of_lack(&wording) && ways.up + ways.down == 0)
                  || scheme_negates(judgement, &wording);
        for (size_t k = 0; k < hits.count; k++) {
            struct hit hit = hits.items[k];
            if (is_phrase(&wording) && !stands_as_phrase(&reading->words, &wording, &hit))
                continue;
            hit.lacking = turns && (hit.assertion == NEGATED || is_hardly_there(&reading->words, hit.first));
            hit.assertion = hit.lacking ? SAID : hit.assertion;
            group->hits.items[group->hits.count++] = hit;
        }
    }
}

void gather_groups(struct judgement *judgement)
{
    judgement->group_count = judgement->point->key_count;
    judgement->groups = arena_get_array(judgement->reading->arena, judgement->group_count, sizeof *judgement->groups);
    for (size_t i = 0; i < judgement->group_count; i++) {
        judgement->groups[i].key = &judgement->point->keys[i];
        gather_group(judgement, &judgement->groups[i]);
    }
}

const struct hit *hit_in(const struct judgement *judgement, const struct group *group, enum assertion assertion,
                         size_t from, size_t to)
{
    for (size_t i = 0; i < group->hits.count; i++) {
        const struct hit *hit = &group->hits.items[i];
        size_t sentence = judgement->reading->words.items[hit->first].sentence;
        if (!hit->opposite && hit->assertion == assertion && sentence >= from && sentence <= to)
            return hit;
    }
    return NULL;
}

bool is_key(const struct judgement *judgement, size_t index)
{
    for (size_t i = 0; i < judgement->group_count; i++)
        for (size_t k = 0; k < judgement->groups[i].hits.count; k++)
            if (judgement->groups[i].hits.items[k].first <= index && index <= judgement->groups[i].hits.items[k].last)
                return true;
    return false;
}

static size_t choose_in(struct judgement *judgement, enum assertion assertion, size_t from, size_t to)
{
    size_t count = 0;
    for (size_t i = 0; i < judgement->group_count; i++) {
        judgement->groups[i].chosen = hit_in(judgement, &judgement->groups[i], assertion, from, to);
        count += judgement->groups[i].chosen != NULL;
    }
    return count;
}

/* Words between two places of the answer. */
static size_t distance_of(const struct hit *one, const struct hit *other)
{
    return one->last < other->first ? other->first - one->last : other->last < one->first ? one->first - other->last : 0;
}

/* The group's hit in sentences from … to that is nearest to this one. */
static const struct hit *nearest_in(const struct judgement *judgement, const struct group *group, const struct hit *to_hit,
                                    size_t from, size_t to)
{
    const struct hit *best = NULL;
    for (size_t i = 0; i < group->hits.count; i++) {
        const struct hit *hit = &group->hits.items[i];
        size_t sentence = judgement->reading->words.items[hit->first].sentence;
        if (!hit->opposite && hit->assertion == SAID && sentence >= from && sentence <= to
            && (!best || distance_of(hit, to_hit) < distance_of(best, to_hit)))
            best = hit;
    }
    return best;
}

/* Of all choices in sentences from … to, the one whose words stand nearest together. */
static void choose_nearest(struct judgement *judgement, size_t from, size_t to)
{
    struct group *first = &judgement->groups[0];
    const struct hit *best = first->chosen;
    size_t least = SIZE_MAX;
    for (size_t i = 0; i < first->hits.count; i++) {
        const struct hit *hit = &first->hits.items[i];
        size_t sentence = judgement->reading->words.items[hit->first].sentence, sum = 0;
        if (hit->opposite || hit->assertion != SAID || sentence < from || sentence > to)
            continue;
        for (size_t k = 1; k < judgement->group_count; k++)
            sum += distance_of(hit, nearest_in(judgement, &judgement->groups[k], hit, from, to));
        best = sum < least ? hit : best;
        least = sum < least ? sum : least;
    }
    first->chosen = best;
    for (size_t k = 1; k < judgement->group_count; k++)
        judgement->groups[k].chosen = nearest_in(judgement, &judgement->groups[k], best, from, to);
}

static bool choose_window(struct judgement *judgement, size_t from, size_t to)
{
    if (choose_in(judgement, SAID, from, to) != judgement->group_count)
        return false;
    choose_nearest(judgement, from, to);
    return true;
}

bool choose_together(struct judgement *judgement)
{
    size_t sentences = judgement->reading->words.sentences, windows = 0, first = 0, first_width = 0;
    for (size_t width = 0; width < 2; width++)
        for (size_t i = 0; i + width < sentences; i++) {
            if (!choose_window(judgement, i, i + width))
                continue;
            if (belonging_of(judgement) == BELONGS_TOGETHER)
                return true;
            first = windows ? first : i;
            first_width = windows++ ? first_width : width;
        }
    if (windows)
        return choose_window(judgement, first, first + first_width);
    return judgement->reading->words.count <= SHORT_ANSWER && choose_window(judgement, 0, sentences);
}
