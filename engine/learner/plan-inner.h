/* What the plan*.c files share. */
#ifndef OWNMARK_LEARNER_PLAN_INNER_H
#define OWNMARK_LEARNER_PLAN_INNER_H

#include "learner/plan.h"

/* Adds blocks to the days that have room, by turns (learner_timetable_spread). Returns how many there are then. */
size_t plan_fill(const struct learner *learner, const moment *days, const size_t *slots, size_t day_count,
                 struct learner_block *blocks, size_t count);

#endif
