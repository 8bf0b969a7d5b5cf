/* The plan of a sitting as a text in the record: "minutes=30", "topic=waves" …, one a line. */
#ifndef OWNMARK_PRACTICE_PLAN_H
#define OWNMARK_PRACTICE_PLAN_H

#include "base/arena.h"
#include "practice/practice.h"

void plan_write(const struct practice_plan *plan, struct buffer *out);

/* Reads it back; the words hang in arena. Lines that are not understood are passed over, names that the bank no longer
 * has give a message and leave the wish at anything. */
void plan_read(const struct bank *bank, const char *text, struct arena *arena, struct practice_plan *plan,
               struct messages *messages);

#endif
