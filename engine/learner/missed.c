#include "learner/missed.h"

#include <assert.h>
#include <math.h>

#define PROPORTION 0.15
#define LONGEST_GAP 21
#define FARTHEST_EXAM 36500     /* a century: keeps the sums of days far from overflow */

int missed_gap(int days)
{
    return (int)fmin(fmax(round(days * PROPORTION), 1.0), LONGEST_GAP);
}

static int days_to_exam(day_number day, day_number exam)
{
    if (exam == NO_DAY || exam <= day)
        return MISSED_ASSUMED_DAYS;
    int64_t days = (int64_t)exam - day;
    return days > FARTHEST_EXAM ? FARTHEST_EXAM : (int)days;
}

static struct missed_cycle opened(day_number day, bool confident, day_number exam, int losses)
{
    struct missed_cycle cycle = {.state = MISSED_OPEN, .since = day, .due = day, .step = NO_DAY,
                                 .look = NO_DAY, .success = NO_DAY, .losses = losses};
    if (confident && MISSED_LOOK_DAYS < days_to_exam(day, exam))
        cycle.look = day + MISSED_LOOK_DAYS;
    return cycle;
}

struct missed_cycle missed_begin(day_number day, bool confident, day_number exam)
{
    return opened(day, confident, exam, 1);
}

struct missed_cycle missed_lost(struct missed_cycle cycle, day_number day, bool confident, day_number exam)
{
    assert(cycle.losses >= 1);
    return opened(day, confident, exam, cycle.losses + 1);
}

/* The gap stays what the first success made it, unless what is left of it no longer fits. */
static void plan_step(struct missed_cycle *cycle, day_number day, day_number exam)
{
    int days = days_to_exam(day, exam), left = MISSED_LATER_DAYS - cycle->later;
    if (cycle->gap == 0 || cycle->gap * left > days)
        cycle->gap = missed_gap(days);
    cycle->step = day + cycle->gap;
}

/* A success for the extra look alone: the look has come and the next step has not. */
static bool only_the_look(const struct missed_cycle *cycle, bool looked, day_number day)
{
    return looked && (cycle->step == NO_DAY || day < cycle->step);
}

static void count_later_success(struct missed_cycle *cycle, day_number day, day_number exam)
{
    bool looked = cycle->look != NO_DAY && day >= cycle->look;
    bool counts = !only_the_look(cycle, looked, day) && cycle->later < MISSED_LATER_DAYS;
    if (looked)
        cycle->look = NO_DAY;
    if (!counts)
        return;
    cycle->later++;
    if (cycle->later == MISSED_LATER_DAYS)
        cycle->step = NO_DAY;
    else
        plan_step(cycle, day, exam);
}

static void plan_due(struct missed_cycle *cycle)
{
    bool step = cycle->step != NO_DAY, look = cycle->look != NO_DAY;
    cycle->state = step || look ? MISSED_RECOVERING : MISSED_SECURE;
    cycle->due = step && (!look || cycle->step < cycle->look) ? cycle->step : cycle->look;
}

struct missed_cycle missed_earned(struct missed_cycle cycle, day_number day, day_number exam)
{
    assert(cycle.losses >= 1 && cycle.later >= 0 && cycle.later <= MISSED_LATER_DAYS);
    if (cycle.state == MISSED_SECURE || (cycle.success != NO_DAY && day <= cycle.success))
        return cycle;
    if (cycle.state == MISSED_OPEN) {
        cycle.gap = 0;
        plan_step(&cycle, day, exam);
        if (cycle.look != NO_DAY && day >= cycle.look)
            cycle.look = NO_DAY;    /* put right so late that the success is the look */
    } else {
        count_later_success(&cycle, day, exam);
    }
    cycle.success = day;
    plan_due(&cycle);
    return cycle;
}

day_number missed_due(const struct missed_cycle *cycle, day_number today)
{
    if (cycle->state == MISSED_SECURE)
        return NO_DAY;
    return cycle->due > today ? cycle->due : today;
}
