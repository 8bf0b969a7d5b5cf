/* How much of the point stands in the answer beside its key words, and how much of that was in the question already. */
#include "answer/judgement.h"

#include <string.h>

enum { REPEATED_WORDS = 4 };    /* fewer words of the question are no handing back */

static bool answer_has(const struct reading *reading, const struct words *text, size_t index, enum counting counting)
{
    enum direction way = counting == COUNT_POINT ? direction_at(text, index) : DIRECTION_NONE;
    for (size_t i = 0; i < reading->words.count; i++)
        if (word_compare(&reading->words.items[i], &text->items[index], reading->vocabulary) != WORD_MATCH_NONE
            || (way != DIRECTION_NONE && direction_at(&reading->words, i) == way))
            return true;
    return false;
}

/* The group that has this word among its alternatives; NULL. */
static const struct group *group_of(const struct judgement *judgement, const struct word *word)
{
    for (size_t i = 0; i < judgement->group_count; i++)
        for (size_t k = 0; k < judgement->groups[i].key->count; k++) {
            struct words wording = reading_words(judgement->reading, judgement->groups[i].key->alternatives[k]);
            if (wording.count == 1 && strcmp(wording.items[0].stem, word->stem) == 0)
                return &judgement->groups[i];
        }
    return NULL;
}

static bool is_there(const struct group *group)
{
    for (size_t i = 0; i < group->hits.count; i++)
        if (!group->hits.items[i].opposite && group->hits.items[i].assertion != NEGATED)
            return true;
    return false;
}

static bool is_among(const struct group *group, const struct group *const *groups, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (groups[i] == group)
            return true;
    return false;
}

size_t count_own(const struct judgement *judgement, const struct words *text, enum counting counting, size_t *total)
{
    const struct reading *reading = judgement->reading;
    const struct group **seen = arena_get_array(reading->arena, judgement->group_count, sizeof *seen);
    size_t found = 0, groups = 0;
    *total = 0;
    for (size_t i = 0; i < text->count; i++) {
        const struct word *word = &text->items[i];
        if (!word_carries(word) || words_hold(&reading->asked, word))
            continue;
        const struct group *group = counting == COUNT_POINT ? group_of(judgement, word) : NULL;
        if (group && is_among(group, seen, groups))
            continue;
        if (group)
            seen[groups++] = group;
        ++*total;
        found += (group && is_there(group)) || answer_has(reading, text, i, counting);
    }
    return found;
}

/* Do the words of the text say anything that the question does not? *beside: and is one of them in the answer? */
static bool says_more_than_asked(const struct reading *reading, const struct words *text, bool *beside)
{
    bool more = false;
    *beside = false;
    for (size_t i = 0; i < text->count; i++) {
        if (!word_carries(&text->items[i]) || is_empty(&text->items[i]) || words_hold(&reading->ask_words, &text->items[i]))
            continue;
        more = more || !words_hold(&reading->asked, &text->items[i]);
        *beside = *beside || answer_has(reading, text, i, COUNT_WORDS);
    }
    return more;
}

bool is_from_the_ask(const struct judgement *judgement)
{
    const struct reading *reading = judgement->reading;
    for (size_t i = 0; i < judgement->group_count; i++) {
        const struct hit *hit = judgement->groups[i].chosen;
        for (size_t k = hit->first; k <= hit->last; k++)
            if (word_carries(&reading->words.items[k]) && !words_hold(&reading->ask_words, &reading->words.items[k]))
                return false;
    }
    bool beside;
    return !names_only(reading->ask) && says_more_than_asked(reading, &judgement->text, &beside) && !beside;
}

bool only_repeats_the_ask(const struct reading *reading)
{
    size_t carrying = 0;
    for (size_t i = 0; i < reading->words.count; i++) {
        if (negates_at(&reading->words, i))
            return false;
        if (!word_carries(&reading->words.items[i]))
            continue;
        carrying++;
        if (!words_hold(&reading->ask_words, &reading->words.items[i]) && !is_empty(&reading->words.items[i]))
            return false;
    }
    return carrying >= REPEATED_WORDS && !names_only(reading->ask);
}

double share_of_words(const struct judgement *judgement, enum counting counting, bool *any)
{
    const struct reading *reading = judgement->reading;
    const struct node *point = judgement->point;
    size_t total, found = count_own(judgement, &judgement->text, counting, &total);
    double best = total ? (double)found / (double)total : 0;
    *any = total > 0;
    for (size_t i = 0; i < point->accepts.count; i++) {
        struct words wording = reading_words(reading, point->accepts.items[i]);
        found = count_own(judgement, &wording, counting, &total);
        if (total && (double)found / (double)total > best)
            best = (double)found / (double)total;
    }
    return best;
}

static bool wants_number(const struct judgement *judgement, const struct group *group)
{
    const struct word *word = &judgement->reading->words.items[group->chosen->first];
    return word->number && word->folded[1];     /* of one digit it says no more than a word */
}

/* Few key words say little by themselves: "rock is cheaper" has the key word of "timber is cheaper". The fewer they are, the
 * more of the point's other words must be there too. A figure counts for two. Naming asks for nothing but the word. */
bool is_borne_out(const struct judgement *judgement)
{
    static const double needed[] = {1.0, 0.5, 0.33, 0.25};
    size_t groups = 0;
    for (size_t i = 0; i < judgement->group_count; i++)
        groups += wants_number(judgement, &judgement->groups[i]) ? 2 : 1;
    groups = groups < 3 ? groups : 3;
    bool any;
    return names_only(judgement->reading->ask) || share_of_words(judgement, COUNT_POINT, &any) >= needed[groups] || !any;
}
