/* Key words: which of them are there, where they stand together, and how much of the point is borne out beside them. */
#include "answer/judgement.h"

#include <string.h>

enum { SHORT_ANSWER = 40 };     /* words; in a short answer all stands together */

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
        struct hits hits = match_wording(reading, &wording, ANY_ORDER);
        for (size_t k = 0; k < hits.count; k++)
            group->hits.items[group->hits.count++] = hits.items[k];
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

/* The group's first hit of this kind in sentences from … to. */
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

static size_t choose_in(struct judgement *judgement, enum assertion assertion, size_t from, size_t to)
{
    size_t count = 0;
    for (size_t i = 0; i < judgement->group_count; i++) {
        judgement->groups[i].chosen = hit_in(judgement, &judgement->groups[i], assertion, from, to);
        count += judgement->groups[i].chosen != NULL;
    }
    return count;
}

/* All groups said in one sentence, or else in two neighbouring ones, or else anywhere in a short answer. */
bool choose_together(struct judgement *judgement)
{
    size_t sentences = judgement->reading->words.sentences;
    for (size_t width = 0; width < 2; width++)
        for (size_t i = 0; i + width < sentences; i++)
            if (choose_in(judgement, SAID, i, i + width) == judgement->group_count)
                return true;
    return judgement->reading->words.count <= SHORT_ANSWER
        && choose_in(judgement, SAID, 0, sentences) == judgement->group_count;
}

/* How many carrying words of a text, those of the question left out, are in the answer. */
size_t count_own(const struct reading *reading, const struct words *text, size_t *total)
{
    size_t found = 0;
    *total = 0;
    for (size_t i = 0; i < text->count; i++) {
        const struct word *word = &text->items[i];
        if (!word_carries(word) || words_hold(&reading->asked, word))
            continue;
        ++*total;
        for (size_t k = 0; k < reading->words.count; k++)
            if (word_compare(&reading->words.items[k], word, reading->vocabulary) != WORD_MATCH_NONE) {
                found++;
                break;
            }
    }
    return found;
}

/* The student may only be handing the question back: all chosen words stand in it, and nothing else of the point
 * is there. */
bool is_from_the_ask(const struct judgement *judgement)
{
    const struct reading *reading = judgement->reading;
    for (size_t i = 0; i < judgement->group_count; i++) {
        const struct hit *hit = judgement->groups[i].chosen;
        for (size_t k = hit->first; k <= hit->last; k++)
            if (word_carries(&reading->words.items[k]) && !words_hold(&reading->asked, &reading->words.items[k]))
                return false;
    }
    size_t total;
    return !names_only(reading->ask) && count_own(reading, &judgement->text, &total) == 0;
}

/* The share of all words the scheme offers for the point that the answer has. */
double share_of_words(const struct judgement *judgement, bool *any)
{
    const struct reading *reading = judgement->reading;
    const struct node *point = judgement->point;
    size_t total, found = count_own(reading, &judgement->text, &total);
    double best = total ? (double)found / (double)total : 0;
    *any = total > 0;
    for (size_t i = 0; i < point->accepts.count; i++) {
        struct words wording = reading_words(reading, point->accepts.items[i]);
        found = count_own(reading, &wording, &total);
        if (total && (double)found / (double)total > best)
            best = (double)found / (double)total;
    }
    return best;
}

/* Few key words say little by themselves: "rock is cheaper" has the key word of "timber is cheaper". The fewer they are, the
 * more of the point's other words must be there too. Naming asks for nothing but the word. */
bool is_borne_out(const struct judgement *judgement)
{
    static const double needed[] = {1.0, 0.5, 0.34, 0.25};
    size_t groups = judgement->group_count < 3 ? judgement->group_count : 3;
    bool any;
    return names_only(judgement->reading->ask) || share_of_words(judgement, &any) >= needed[groups] || !any;
}
