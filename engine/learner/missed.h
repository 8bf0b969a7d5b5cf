/* The cycle of a missed point: open, recovering, secure.
 *
 * One success now and successes on three later, separate days make it secure; a failure at any time opens
 * it again. A point lost in confidence (predicted or first ticked, then lost) gets one extra look seven days
 * after the loss, because confident mistakes mend well and come back unless met again (Butler, Fazio & Marsh
 * 2011). One success now is enough, as further ones on the same day wash out (Vaughn, Dunlosky & Rawson
 * 2016). Pure: state, event and day give the next state. Days are civil days of the student. */
#ifndef OWNMARK_LEARNER_MISSED_H
#define OWNMARK_LEARNER_MISSED_H

#include <stdbool.h>
#include "base/dates.h"

#define MISSED_LATER_DAYS 3         /* successes on later days until secure */
#define MISSED_LOOK_DAYS 7          /* extra look after a confident loss */
#define MISSED_ASSUMED_DAYS 60      /* to the exam, when no exam date is known or it has passed */

enum missed_state { MISSED_OPEN, MISSED_RECOVERING, MISSED_SECURE };

struct missed_cycle {
    enum missed_state state;
    day_number since;       /* day of the latest loss */
    day_number due;         /* day of the next look as planned; NO_DAY when secure. Show missed_due instead */
    day_number step;        /* day the next of the three successes is planned for; NO_DAY unless recovering */
    day_number look;        /* day of the extra look, NO_DAY when none is outstanding */
    day_number success;     /* day of the latest success since the loss, NO_DAY when none */
    int later;              /* successes on later days so far, 0 … 3 */
    int gap;                /* days between the successes, fixed by the first one; 0 while open */
    int losses;             /* how often it was lost, >= 1 */
};

/* The days between successes with `days` to the exam: days x 0.15, rounded, held to 1 … 21; 60 days give 9.
 * The rule also says: where three gaps do not fit, divide the days by four. In whole days that never differs:
 * from 3 days on three gaps fit, and below that a quarter is less than the least gap, one day. The proportion
 * follows Cepeda et al. 2008; the clamp is common practice, no source. */
int missed_gap(int days);

/* A point lost for the first time: open, due the same day. exam may be NO_DAY. */
struct missed_cycle missed_begin(day_number day, bool confident, day_number exam);

/* Lost again, in any state: open, due the same day, everything earned so far is void. */
struct missed_cycle missed_lost(struct missed_cycle cycle, day_number day, bool confident, day_number exam);

/* Earned. The first success makes it recovering; each on a later day counts, early or late, but no two on
 * one day (nor on a day before the latest). A success on or after the day of the extra look ends that; when
 * no success was planned by then it counts as nothing else. Secure once three are counted and no look is
 * outstanding; a look that cannot come before the exam is not planned. */
struct missed_cycle missed_earned(struct missed_cycle cycle, day_number day, day_number exam);

/* When to meet it next, seen from `today`: never in the past, so a missed day is simply due today. NO_DAY
 * when secure. */
day_number missed_due(const struct missed_cycle *cycle, day_number today);

#endif
