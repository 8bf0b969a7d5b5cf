/* What the plan*.c files share. */
#ifndef OWNMARK_LEARNER_PLAN_INNER_H
#define OWNMARK_LEARNER_PLAN_INNER_H

#include "learner/effects.h"
#include "learner/plan.h"

/* Differences of gain below this are ties. */
#define PLAN_TIE 1e-12

/* What a topic is now: its average mark, and what visits would change. */
struct prospect {
    struct effect_sum sum;
    struct effect_practice practice;    /* level counts from 0: the gain of planned visits alone */
};

struct prospect plan_prospect(const struct learner *learner, size_t topic);

/* The chance of a mark on day `exam`. Variance grows from the last visit, planned ones included. */
double plan_chance(const struct learner *learner, size_t topic, const struct prospect *prospect, double exam);

/* Adds blocks to the days that have room, by turns (learner_timetable_spread). Returns how many there are then. */
size_t plan_fill(const struct learner *learner, const moment *days, const size_t *slots, size_t day_count,
                 struct learner_block *blocks, size_t count);

#endif
