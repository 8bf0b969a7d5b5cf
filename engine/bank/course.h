/* What a course has under an id: the index into its array; -1 for an id it has not, and for NULL. */
#ifndef OWNMARK_BANK_COURSE_H
#define OWNMARK_BANK_COURSE_H

#include "bank/model.h"

int course_topic(const struct course *course, const char *id);
int course_objective(const struct course *course, const char *id);
int course_skill(const struct course *course, const char *id);

#endif
