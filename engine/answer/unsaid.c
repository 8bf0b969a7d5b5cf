/* Said, and unsaid: key words that the answer contradicts or negates. */
#include "answer/judgement.h"

#include <string.h>

/* ---- Contradiction ------------------------------------------------------------------------------- */

/* Every carrying word of one clause, directions left out, stands in the other. */
static bool clause_within(const struct words *words, size_t clause, size_t other)
{
    for (size_t i = 0; i < words->count; i++) {
        if (words->items[i].clause != clause || !word_carries(&words->items[i])
            || direction_at(words, i) != DIRECTION_NONE)
            continue;
        bool found = false;
        for (size_t k = 0; k < words->count && !found; k++)
            found = words->items[k].clause == other && strcmp(words->items[k].stem, words->items[i].stem) == 0;
        if (!found)
            return false;
    }
    return true;
}

static struct directions clause_directions(const struct words *words, size_t clause)
{
    struct directions found = {0, 0};
    for (size_t i = 0; i < words->count; i++)
        if (words->items[i].clause == clause && assertion_of(words, i, i) == SAID) {
            struct directions one = directions_in(words, i, i);
            found.up += one.up;
            found.down += one.down;
        }
    return found;
}

static bool goes_against(struct directions one, struct directions other)
{
    return (one.up && !one.down && other.down && !other.up) || (one.down && !one.up && other.up && !other.down);
}

/* The same key word elsewhere with the opposite direction, or negated. */
static const struct hit *contrary(const struct judgement *judgement, const struct group *group, bool *plain)
{
    const struct words *words = &judgement->reading->words;
    size_t clause = words->items[group->chosen->first].clause;
    struct directions here = clause_directions(words, clause);
    for (size_t i = 0; i < group->hits.count; i++) {
        const struct hit *hit = &group->hits.items[i];
        size_t other = words->items[hit->first].clause;
        bool same = strcmp(words->items[hit->first].stem, words->items[group->chosen->first].stem) == 0;
        if (other == clause || hit->opposite || !same)
            continue;
        bool against = hit->assertion == SAID && goes_against(here, clause_directions(words, other));
        if (!against && hit->assertion != NEGATED)
            continue;
        *plain = judgement->group_count == 1 && clause_within(words, other, clause) && clause_within(words, clause, other);
        return hit;
    }
    return NULL;
}

bool settle_contradicted(struct judgement *judgement)
{
    if (judgement->sense.up && judgement->sense.down)
        return false;       /* "falls as the other rises" goes both ways and means it */
    for (size_t i = 0; i < judgement->group_count; i++) {
        bool plain = false;
        const struct hit *hit = contrary(judgement, &judgement->groups[i], &plain);
        if (!hit)
            continue;
        add_hit(judgement, judgement->groups[i].chosen);
        add_hit(judgement, hit);
        settle(judgement, plain ? LOOKS_NOT_EARNED : CANT_TELL, GROUND_CONTRADICTED,
               with_quotes(judgement, "compare what you wrote here: ", ""));
        judgement->evidence->contradicted = plain;
        return true;
    }
    return false;
}

/* ---- Negation ------------------------------------------------------------------------------------ */

/* Nothing but small words and words of going and getting stands between the "not" and the hit: "does not rise", "isn't in a
 * line"; but not "isn't higher than the wall". "Not enough" may be the very point. */
static bool is_negated_directly(const struct words *words, const struct hit *hit)
{
    for (size_t i = hit->first; i-- > 0 && words->items[i].clause == words->items[hit->first].clause;) {
        if (negates_at(words, i))
            return !IS_ONE_OF(folded_at(words, i + 1), "enough", "quite", "all");
        if (word_carries(&words->items[i])
            && !IS_ONE_OF(words->items[i].stem, "go", "goe", "come", "get", "make", "ani", "ever", "longer", "realli", "all"))
            return false;
    }
    return false;
}

/* May a "not" be the point, or the point put the other way round? Then nothing is settled by it. */
static bool may_be_meant(const struct judgement *judgement)
{
    if (judgement->lacks || judgement->negative || sets_against(&judgement->text))
        return true;
    const struct wording *accepts = &judgement->point->accepts;
    for (size_t i = 0; i < accepts->count; i++) {
        struct words wording = reading_words(judgement->reading, accepts->items[i]);
        if (words_negate(&wording))
            return true;
    }
    return false;
}

/* A key word that the answer only negates. It is settled only where the "not" is plainly this word's; "if it did not" leaves
 * it open. */
bool settle_negated(struct judgement *judgement)
{
    const struct words *words = &judgement->reading->words;
    size_t sentences = words->sentences, against = 0, direct = 0;
    for (size_t i = 0; i < judgement->group_count; i++) {
        struct group *group = &judgement->groups[i];
        const struct hit *negated = hit_in(judgement, group, NEGATED, 0, sentences);
        bool stands = hit_in(judgement, group, SAID, 0, sentences) || hit_in(judgement, group, DOUBTFUL, 0, sentences);
        if (!negated || stands)
            continue;
        against++;
        direct += is_negated_directly(words, negated);
        add_hit(judgement, negated);
    }
    if (!against)
        return false;
    bool plain = direct && !may_be_meant(judgement);
    settle(judgement, plain ? LOOKS_NOT_EARNED : CANT_TELL, GROUND_NEGATED,
           with_quotes(judgement, plain ? "you write that it is not so: " : "see what \"not\" turns here: ", ""));
    return true;
}
