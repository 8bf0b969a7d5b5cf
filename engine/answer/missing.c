/* No key word, or not all of them: is the point missing, or said in another way? */
#include "answer/judgement.h"

#include <string.h>

#include "base/text.h"

/* Fewer of all the words the scheme offers than this, and no key word: nothing of the point is there. */
static const double NEARLY_NOTHING = 0.34;

/* Words that neither the course nor the question uses may say the point in another way, or misspelt. Only an answer in the
 * course's own words shows that the point is not among them. */
static bool is_in_known_words(const struct judgement *judgement)
{
    const struct words *words = &judgement->reading->words;
    size_t known = 0, carrying = 0;
    for (size_t i = 0; i < words->count; i++) {
        if (!word_carries(&words->items[i]) || words->items[i].number)
            continue;
        carrying++;
        known += vocabulary_holds(judgement->reading->vocabulary, &words->items[i]);
    }
    return carrying >= 1 && (double)known >= 0.5 * (double)carrying;
}

/* A word that nobody knows may be one of the point's, spelt by ear: "troff", "rane". */
static bool may_be_by_ear(const struct judgement *judgement, const struct word *typed, const char *wording)
{
    struct words wanted = reading_words(judgement->reading, wording);
    for (size_t i = 0; i < wanted.count; i++) {
        const struct word *word = &wanted.items[i];
        size_t length = strlen(word->folded), allowed = length < 8 ? length / 2 : 3;
        if (word_carries(word) && !word->number && word->folded[0] == typed->folded[0]
            && text_distance(typed->folded, word->folded, allowed) <= allowed)
            return true;
    }
    return false;
}

static bool has_word_by_ear(const struct judgement *judgement)
{
    const struct reading *reading = judgement->reading;
    const struct node *point = judgement->point;
    for (size_t i = 0; i < reading->words.count; i++) {
        const struct word *typed = &reading->words.items[i];
        if (!word_carries(typed) || typed->number || word_is_known(typed->folded)
            || vocabulary_holds(reading->vocabulary, typed))
            continue;
        for (size_t k = 0; k < point->accepts.count; k++)
            if (may_be_by_ear(judgement, typed, point->accepts.items[k]))
                return true;
        for (size_t k = 0; k < point->key_count; k++)
            for (size_t a = 0; a < point->keys[k].count; a++)
                if (may_be_by_ear(judgement, typed, point->keys[k].alternatives[a]))
                    return true;
    }
    return false;
}

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
    double share = share_of_words(judgement, &any);
    if (there && judgement->evidence->missing)
        settle(judgement, CANT_TELL, GROUND_SOME_WORDS,
               with_quotes(judgement, "", arena_print(judgement->reading->arena, " is there, but nothing like \"%s\"",
                                                      judgement->evidence->missing)));
    else if (there)
        settle(judgement, CANT_TELL, GROUND_FAR_APART, with_quotes(judgement, "look at how you say ", ""));
    else if (share > 0 && (share >= NEARLY_NOTHING || !worded))
        settle(judgement, CANT_TELL, GROUND_SOME_WORDS, "some of its words are there");
    else if (!settle_ignored(judgement)) {
        bool plain = worded && is_in_known_words(judgement) && !has_word_by_ear(judgement);
        settle(judgement, plain ? LOOKS_NOT_EARNED : CANT_TELL, worded || any ? GROUND_NO_WORDS : GROUND_NONE,
               worded || any ? "none of its words is in your answer" : "there are no words to look for");
    }
}
