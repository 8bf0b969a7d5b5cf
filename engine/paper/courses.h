/* One course in several banks: the same ids, maybe in another order. Private to this room. */
#ifndef OWNMARK_PAPER_COURSES_H
#define OWNMARK_PAPER_COURSES_H

#include "bank/bank.h"
#include "bank/course.h"
#include "base/message.h"

/* Are all banks of the first one's course, and is no bank there twice? A message if not. */
bool courses_go_together(struct bank *const *banks, size_t count, struct messages *messages);

#endif
