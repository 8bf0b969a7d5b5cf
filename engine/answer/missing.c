/* No key word, or not all of them. Whether the point is then missing or said in another way is settled when all points were
 * judged: absent.c. */
#include "answer/judgement.h"

/* Fewer of all the words the scheme offers than this, and no key word: nothing of the point is there. */
static const double NEARLY_NOTHING = 0.34;

void settle_missing(struct judgement *judgement)
{
    size_t sentences = judgement->reading->words.sentences, there = 0;
    for (size_t i = 0; i < judgement->group_count; i++) {
        struct group *group = &judgement->groups[i];
        const struct hit *hit = hit_in(judgement, group, SAID, 0, sentences);
        if (!hit)
            hit = hit_in(judgement, group, DOUBTFUL, 0, sentences);
        there += hit != NULL;
        if (hit)
            add_hit(judgement, hit);
        else if (!judgement->evidence->missing && group->key->count)
            judgement->evidence->missing = group->key->alternatives[0];
        judgement->evidence->essential_missing = judgement->evidence->essential_missing || (!hit && group->key->essential);
    }
    bool any, worded = judgement->group_count || judgement->point->accepts.count;
    double share = share_of_words(judgement, COUNT_WORDS, &any);
    if (worded && only_repeats_the_ask(judgement->reading))
        settle(judgement, LOOKS_NOT_EARNED, GROUND_FROM_THE_ASK, "the answer only repeats the question");
    else if (there && judgement->evidence->missing)
        settle(judgement, CANT_TELL, GROUND_SOME_WORDS,
               with_quotes(judgement, "", arena_print(judgement->reading->arena, " is there, but nothing like \"%s\"",
                                                      judgement->evidence->missing)));
    else if (there)
        settle(judgement, CANT_TELL, GROUND_FAR_APART, with_quotes(judgement, "look at how you say ", ""));
    else if (share > 0 && (share >= NEARLY_NOTHING || !worded))
        settle(judgement, CANT_TELL, GROUND_SOME_WORDS, "some of its words are there");
    else if (!settle_ignored(judgement))
        settle(judgement, CANT_TELL, worded || any ? GROUND_NO_WORDS : GROUND_NONE,
               worded || any ? "none of its words is in your answer" : "there are no words to look for");
}
