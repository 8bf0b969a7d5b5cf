/* What many sittings together say about the student's habits, in plain sentences. */
#ifndef OWNMARK_PRACTICE_HABITS_H
#define OWNMARK_PRACTICE_HABITS_H

#include "bank/bank.h"
#include "base/arena.h"
#include "base/message.h"
#include "record/record.h"
#include "report/page.h"

/* How well the student judges their own marks: bias, size of a usual miss, whether it shrinks. Adds one paragraph, or
 * nothing while fewer than three questions say anything. */
bool habits_of_judging(struct record *record, const struct bank *bank, struct page *page, struct messages *messages);

/* How a teacher's marks compare with the student's own, in one sentence. Adds nothing while nothing was moderated. */
bool habits_of_moderation(struct record *record, const struct bank *bank, struct page *page, struct messages *messages);

/* The cause that cost most marks so far, and the habit that would win them back. Adds nothing when no cause was given. */
bool habits_of_losing(struct record *record, const struct bank *bank, struct page *page, struct messages *messages);

/* A missed point in the scheme's words, from the question as it was answered; in arena, never NULL. *asked (if asked is
 * not NULL): what follows it where those words alone tell too little (show_add_asked), else "". */
const char *habits_point_words(struct record *record, const struct bank *bank, const struct missed_point *missed,
                               const char **asked, struct arena *arena);

#endif
