/* A point in words. The order of the questions is that of their weight: a wording that kills the point, a wording
 * that is accepted, the key words, and last, for a point without either, its own text. */
#include "answer/judgement.h"

#include <string.h>

enum { QUOTES_EXTRA = 4 };

/* Own words of a text without key words: three in four of at least three, or all of two. */
static const double NEARLY_WHOLE = 0.75;

/* "It cannot breathe" for "there is too little oxygen to breathe": the "not" is the direction. */
static bool is_said_by_lack(const struct judgement *judgement)
{
    for (size_t i = 0; i < judgement->group_count; i++)
        if (judgement->groups[i].chosen->lacking)
            return true;
    return false;
}

static void settle_all_keys(struct judgement *judgement)
{
    const struct words *words = &judgement->reading->words;
    size_t first = words->count, last = 0;
    for (size_t i = 0; i < judgement->group_count; i++) {
        size_t from, to;
        sentence_around(words, judgement->groups[i].chosen, &from, &to);
        first = from < first ? from : first;
        last = to > last ? to : last;
    }
    if ((!is_said_by_lack(judgement) && settle_by_sense(judgement, first, last, judgement->groups[0].chosen))
        || settle_contradicted(judgement))
        return;
    for (size_t i = 0; i < judgement->group_count; i++)
        add_hit(judgement, judgement->groups[i].chosen);
    if (is_from_the_ask(judgement))
        settle(judgement, only_repeats_the_ask(judgement->reading) ? LOOKS_NOT_EARNED : CANT_TELL, GROUND_FROM_THE_ASK,
               with_quotes(judgement, "", " stands in the question already"));
    else if (belonging_of(judgement) != BELONGS_TOGETHER)
        settle(judgement, belonging_of(judgement) == BELONGS_ELSEWHERE ? LOOKS_NOT_EARNED : CANT_TELL, GROUND_FAR_APART,
               with_quotes(judgement, "the words are there, but you seem to say something else with them: ", ""));
    else if (!is_borne_out(judgement))
        settle(judgement, CANT_TELL, GROUND_SOME_WORDS,
               with_quotes(judgement, "", " is there, but little else of the point: see that it says the same"));
    else
        settle(judgement, LOOKS_EARNED, GROUND_KEYS, with_quotes(judgement, "you wrote ", ""));
}

/* ---- A point without key words ------------------------------------------------------------------- */

/* The text's own words, nearly all in one sentence and said. */
static bool settle_own_words(struct judgement *judgement)
{
    const struct reading *reading = judgement->reading;
    const struct words *words = &reading->words;
    size_t needed, in_all = count_own(judgement, &judgement->text, COUNT_WORDS, &needed);
    bool naming = names_only(reading->ask) && needed == 1;
    if (!in_all || (needed < 2 && !naming))
        return false;
    for (size_t sentence = 0; sentence < words->sentences; sentence++) {
        struct hit hit = {.first = words->count, .assertion = SAID};
        size_t found = 0;
        for (size_t w = 0; w < judgement->text.count; w++) {
            const struct word *word = &judgement->text.items[w];
            if (!word_carries(word) || words_hold(&reading->asked, word))
                continue;
            for (size_t i = 0; i < words->count; i++) {
                if (words->items[i].sentence != sentence
                    || word_compare(&words->items[i], word, reading->vocabulary) == WORD_MATCH_NONE)
                    continue;
                hit.first = i < hit.first ? i : hit.first;
                hit.last = i > hit.last ? i : hit.last;
                found++;
                break;
            }
        }
        bool enough = found == needed || (needed >= 3 && (double)found >= NEARLY_WHOLE * (double)needed);
        if (!found || !enough || judgement->negative || assertion_of(words, hit.first, hit.last) != SAID)
            continue;
        size_t first, last;
        sentence_around(words, &hit, &first, &last);
        if (settle_by_sense(judgement, first, last, &hit))
            return true;
        add_hit(judgement, &hit);
        settle(judgement, LOOKS_EARNED, GROUND_OWN_WORDS, with_quotes(judgement, "you wrote ", ""));
        return true;
    }
    return false;
}

void judge_words(const struct reading *reading, struct point_evidence *evidence)
{
    struct judgement judgement = {.reading = reading, .point = evidence->point, .evidence = evidence};
    judgement.text = reading_rich(reading, &evidence->point->text);
    if (judgement.text.count)
        judgement.sense = directions_in(&judgement.text, 0, judgement.text.count - 1);
    judgement.negative = words_negate(&judgement.text);
    judgement.lacks = speaks_of_lack(&judgement.text);
    judgement.quotes = arena_get_array(reading->arena, evidence->point->key_count + QUOTES_EXTRA, sizeof(struct quote));
    gather_groups(&judgement);
    if (!settle_accepted(&judgement)) {
        judgement.complete = judgement.group_count && choose_together(&judgement);
        if (judgement.complete)
            settle_all_keys(&judgement);
        else if (!settle_negated(&judgement) && (judgement.group_count || !settle_own_words(&judgement)))
            settle_missing(&judgement);
    }
    judgement.complete = judgement.complete || evidence->verdict == LOOKS_EARNED;
    settle_rejected(&judgement);
}
