/* One course in several banks: the same ids, maybe in another order. Private to this room. */
#ifndef OWNMARK_PAPER_COURSES_H
#define OWNMARK_PAPER_COURSES_H

#include "bank/bank.h"
#include "base/message.h"

/* The index of the thing with this id, or -1. */
int course_topic(const struct course *course, const char *id);
int course_objective(const struct course *course, const char *id);
int course_skill(const struct course *course, const char *id);

/* Are all banks of the first one's course, and is no bank there twice? A message if not. */
bool courses_go_together(struct bank *const *banks, size_t count, struct messages *messages);

#endif
