/* Which topics on which day: the timetable. */
#include "learner/plan-inner.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "base/memory.h"

struct plan {
    const struct learner *learner;
    const moment *days;
    size_t day_count;
    double exam;
    struct prospect *prospects;     /* [topics] */
    size_t *visits;                 /* [topics][days]: blocks placed */
    double *gains;                  /* [topics][days]: of one block more there */
    size_t *left;                   /* [days] */
    const size_t *most;             /* [days]: blocks one topic may have */
    double *used;                   /* [most blocks of a day + 2]: freshness used by so many blocks on one day */
    size_t *visited;                /* [days]: days the topic in hand is visited on */
};

static void visit(const struct plan *plan, struct effect_practice *practice, size_t day, size_t blocks)
{
    effect_practise_used(&plan->learner->constants, practice, effect_days(plan->days[day]), plan->used[blocks]);
}

/* Exam share of the topic when `prospect` goes on with the visits from visited[from] to the last. */
static double value_after(const struct plan *plan, size_t topic, struct prospect prospect, size_t from, size_t visited_count)
{
    const size_t *visits = &plan->visits[topic * plan->day_count];
    for (size_t i = from; i < visited_count; i++)
        visit(plan, &prospect.practice, plan->visited[i], visits[plan->visited[i]]);
    return plan->learner->course.share[topic] * plan_chance(plan->learner, topic, &prospect, plan->exam);
}

static size_t list_visited(struct plan *plan, size_t topic)
{
    size_t count = 0;
    for (size_t d = 0; d < plan->day_count; d++)
        if (plan->visits[topic * plan->day_count + d] > 0)
            plan->visited[count++] = d;
    return count;
}

/* Of one block more on each day. What was before a day is the same whatever is added on it, so it is gone through once
 * for all days; only what comes after is worked out for each. */
static void work_out_gains(struct plan *plan, size_t topic)
{
    moment taught = plan->learner->course.taught[topic];
    size_t count = list_visited(plan, topic), next = 0;
    struct prospect before = plan->prospects[topic];
    double now = value_after(plan, topic, before, 0, count);
    for (size_t d = 0; d < plan->day_count; d++) {
        size_t blocks = plan->visits[topic * plan->day_count + d], after = next + (blocks > 0);
        double *gain = &plan->gains[topic * plan->day_count + d];
        *gain = -INFINITY;
        if (plan->left[d] > 0 && blocks < plan->most[d] && (taught == LEARNER_UNKNOWN || taught <= plan->days[d])) {
            struct prospect more = before;
            visit(plan, &more.practice, d, blocks + 1);
            *gain = value_after(plan, topic, more, after, count) - now;
        }
        if (blocks > 0)
            visit(plan, &before.practice, d, blocks);
        next = after;
    }
}

/* False when no block on a day with room would gain anything. */
static bool best_block(const struct plan *plan, struct learner_block *best)
{
    double most = PLAN_TIE;
    bool found = false;
    for (size_t k = 0; k < plan->learner->course.topics; k++)
        for (size_t d = 0; d < plan->day_count; d++) {
            double gain = plan->gains[k * plan->day_count + d];
            if (plan->left[d] > 0 && gain > most + PLAN_TIE) {
                most = gain;
                *best = (struct learner_block){d, k};
                found = true;
            }
        }
    return found;
}

static struct plan plan_begin(const struct learner *learner, const moment *days, const size_t *slots,
                              size_t day_count, moment exam, double marks)
{
    size_t topics = learner->course.topics;
    struct plan plan = {.learner = learner, .days = days, .day_count = day_count, .exam = effect_days(exam)};
    plan.prospects = memory_get_zeroed(topics, sizeof *plan.prospects);
    plan.visits = memory_get_zeroed(topics * day_count, sizeof *plan.visits);
    plan.gains = memory_get_zeroed(topics * day_count, sizeof *plan.gains);
    plan.left = memory_get_zeroed(day_count, sizeof *plan.left);
    memcpy(plan.left, slots, day_count * sizeof *slots);
    for (size_t k = 0; k < topics; k++)
        plan.prospects[k] = plan_prospect(learner, k);
    size_t most = 0;
    for (size_t d = 0; d < day_count; d++)
        most = slots[d] > most ? slots[d] : most;
    plan.visited = memory_get_zeroed(day_count, sizeof *plan.visited);
    plan.used = memory_get_zeroed(most + 2, sizeof *plan.used);
    for (size_t blocks = 0; blocks < most + 2; blocks++)
        plan.used[blocks] = effect_used(&learner->constants, marks * (double)blocks);
    return plan;
}

static void plan_end(struct plan *plan)
{
    free(plan->prospects);
    free(plan->visits);
    free(plan->gains);
    free(plan->left);
    free(plan->used);
    free(plan->visited);
}

/* Uses up what is left of the days; adds to the blocks and returns how many there are then. */
static size_t use_what_is_left(struct plan *plan, struct learner_block *blocks, size_t count)
{
    struct learner_block best;
    for (size_t k = 0; k < plan->learner->course.topics; k++)
        work_out_gains(plan, k);
    while (best_block(plan, &best)) {
        plan->visits[best.topic * plan->day_count + best.day]++;
        plan->left[best.day]--;
        blocks[count++] = best;
        work_out_gains(plan, best.topic);
    }
    return count;
}

size_t learner_timetable(const struct learner *learner, const moment *days, const size_t *slots, size_t day_count,
                         moment exam, double marks, struct learner_block *blocks)
{
    assert(marks > 0.0);
    if (day_count == 0)
        return 0;
    struct plan plan = plan_begin(learner, days, slots, day_count, exam, marks);
    plan.most = slots;
    size_t count = use_what_is_left(&plan, blocks, 0);
    plan_end(&plan);
    return count;
}

/* First as if there were no more than the likely slots, then the others too. */
static size_t spread_blocks(struct plan *plan, const size_t *slots, const size_t *likely, struct learner_block *blocks)
{
    memcpy(plan->left, likely, plan->day_count * sizeof *likely);
    size_t count = use_what_is_left(plan, blocks, 0);
    for (size_t d = 0; d < plan->day_count; d++) {
        assert(likely[d] <= slots[d]);
        plan->left[d] += slots[d] - likely[d];
    }
    return use_what_is_left(plan, blocks, count);
}

size_t learner_timetable_spread(const struct learner *learner, const moment *days, const size_t *slots,
                                const size_t *likely, size_t day_count, moment exam, double marks,
                                struct learner_block *blocks)
{
    assert(marks > 0.0);
    if (day_count == 0)
        return 0;
    size_t *most = memory_get_zeroed(day_count, sizeof *most);
    for (size_t d = 0; d < day_count; d++)
        most[d] = learner_timetable_most(learner, days[d], slots[d]);
    struct plan plan = plan_begin(learner, days, slots, day_count, exam, marks);
    plan.most = most;
    size_t count = spread_blocks(&plan, slots, likely ? likely : slots, blocks);
    plan_end(&plan);
    free(most);
    return plan_fill(learner, days, slots, day_count, blocks, count);
}
