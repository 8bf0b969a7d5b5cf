#include "learner/plan.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "base/memory.h"
#include "learner/effects.h"

#define TIE 1e-12
#define SAME_TOPIC_AGAIN 0.05
#define COUNTS_KEPT 16          /* gains are kept for 1 … 16 marks of a topic; more are worked out each time */

/* ---- One topic until the exam ---- */

/* What a topic is now: its average mark, and what visits would change. */
struct prospect {
    struct effect_sum sum;
    struct effect_practice practice;    /* level counts from 0: the gain of planned visits alone */
};

static struct prospect prospect_of(const struct learner *learner, size_t topic)
{
    return (struct prospect){effect_add_up(learner, topic, LEARNER_NONE, LEARNER_NONE),
                             {0.0, learner->strength[topic], learner->freshness[topic], learner->last[topic]}};
}

/* The chance of a mark at the exam. Variance grows from the last visit, planned ones included. */
static double chance_at_exam(const struct learner *learner, size_t topic, const struct prospect *prospect,
                             double exam)
{
    const struct effect_practice *p = &prospect->practice;
    double mean = prospect->sum.mean + p->level - effect_loss(learner, topic, p->last, p->strength, exam);
    return effect_probability(mean, prospect->sum.variance + effect_growth(learner, topic, p->last, exam));
}

double learner_gain(const struct learner *learner, size_t topic, moment now, moment exam, double marks)
{
    assert(marks > 0.0);
    struct prospect prospect = prospect_of(learner, topic);
    double day = effect_days(exam), without = chance_at_exam(learner, topic, &prospect, day);
    effect_practise(&learner->constants, &prospect.practice, effect_days(now), marks);
    return learner->course.share[topic] * (chance_at_exam(learner, topic, &prospect, day) - without);
}

/* ---- The next question ---- */

struct learner_chooser {
    const struct learner *learner;
    moment now, exam;
    size_t previous_topic;
    double *gains;              /* [topics][COUNTS_KEPT], NaN until asked for */
    struct learner_choice best;
};

struct learner_chooser *learner_choose_begin(const struct learner *learner, moment now, moment exam,
                                             size_t previous_topic)
{
    size_t kept = learner->course.topics * COUNTS_KEPT;
    struct learner_chooser *chooser = memory_get_zeroed(1, sizeof *chooser);
    chooser->learner = learner;
    chooser->now = now;
    chooser->exam = exam;
    chooser->previous_topic = previous_topic;
    chooser->gains = memory_get_zeroed(kept, sizeof *chooser->gains);
    for (size_t i = 0; i < kept; i++)
        chooser->gains[i] = NAN;
    return chooser;
}

void learner_choose_free(struct learner_chooser *chooser)
{
    if (!chooser)
        return;
    free(chooser->gains);
    free(chooser);
}

static double kept_gain(struct learner_chooser *chooser, size_t topic, size_t marks)
{
    if (marks > COUNTS_KEPT)
        return learner_gain(chooser->learner, topic, chooser->now, chooser->exam, (double)marks);
    double *gain = &chooser->gains[topic * COUNTS_KEPT + marks - 1];
    if (isnan(*gain))
        *gain = learner_gain(chooser->learner, topic, chooser->now, chooser->exam, (double)marks);
    return *gain;
}

static bool can_be_chosen(const struct learner_chooser *chooser, const struct learner_candidate *candidate)
{
    const struct learner_course *course = &chooser->learner->course;
    if (candidate->marks == 0 || !isfinite(candidate->minutes) || candidate->minutes <= 0.0
        || isinf(candidate->question_last))
        return false;
    for (size_t i = 0; i < candidate->marks; i++) {
        size_t topic = candidate->topics[i];
        if (topic >= course->topics)
            return false;
        if (course->taught[topic] != LEARNER_UNKNOWN && course->taught[topic] > chooser->now)
            return false;
    }
    return true;
}

/* The lowest topic above `after` (LEARNER_NONE: of all) and its marks; 0 marks when there is none. */
static size_t next_topic(const struct learner_candidate *candidate, size_t after, size_t *topic)
{
    size_t marks = 0;
    for (size_t i = 0; i < candidate->marks; i++) {
        size_t here = candidate->topics[i];
        if (after != LEARNER_NONE && here <= after)
            continue;
        if (marks == 0 || here < *topic) {
            *topic = here;
            marks = 1;
        } else if (here == *topic) {
            marks++;
        }
    }
    return marks;
}

/* Topics in rising order, so that the sum does not depend on the order of a question's points. */
static struct learner_choice choice_of(struct learner_chooser *chooser, const struct learner_candidate *candidate)
{
    struct learner_choice choice = {.found = true, .id = candidate->id};
    double most = -INFINITY;
    size_t topic = LEARNER_NONE, marks;
    while ((marks = next_topic(candidate, topic, &topic)) > 0) {
        double gain = kept_gain(chooser, topic, marks);
        choice.gain += gain;
        if (gain > most) {
            most = gain;
            choice.topic = topic;
        }
    }
    return choice;
}

bool learner_choose_offer(struct learner_chooser *chooser, const struct learner_candidate *candidate)
{
    if (!can_be_chosen(chooser, candidate))
        return false;
    struct learner_choice choice = choice_of(chooser, candidate);
    choice.score = choice.gain / candidate->minutes;
    if (!isnan(candidate->question_last)) {
        double since = fmax(effect_days(chooser->now) - candidate->question_last, 0.0);
        choice.score *= 1.0 - exp(-since / chooser->learner->constants.repeat_days);
    }
    if (candidate->topics[0] == chooser->previous_topic)
        choice.score *= SAME_TOPIC_AGAIN;
    if (!chooser->best.found || choice.score > chooser->best.score + TIE)
        chooser->best = choice;
    return true;
}

struct learner_choice learner_choose_result(const struct learner_chooser *chooser)
{
    return chooser->best;
}

/* ---- The timetable ---- */

struct plan {
    const struct learner *learner;
    const moment *days;
    size_t day_count;
    double exam, marks;
    struct prospect *prospects;     /* [topics] */
    size_t *visits;                 /* [topics][days]: blocks placed */
    double *gains;                  /* [topics][days]: of one block more there */
    size_t *left;                   /* [days] */
};

/* Exam share of the topic after its visits, with one block more on day `extra`. */
static double value_with(const struct plan *plan, size_t topic, size_t extra)
{
    struct prospect prospect = plan->prospects[topic];
    const size_t *visits = &plan->visits[topic * plan->day_count];
    for (size_t d = 0; d < plan->day_count; d++) {
        size_t blocks = visits[d] + (d == extra ? 1 : 0);
        if (blocks > 0)
            effect_practise(&plan->learner->constants, &prospect.practice, effect_days(plan->days[d]),
                            plan->marks * (double)blocks);
    }
    return plan->learner->course.share[topic] * chance_at_exam(plan->learner, topic, &prospect, plan->exam);
}

static void work_out_gains(struct plan *plan, size_t topic)
{
    moment taught = plan->learner->course.taught[topic];
    double now = value_with(plan, topic, LEARNER_NONE);
    for (size_t d = 0; d < plan->day_count; d++) {
        bool open = plan->left[d] > 0 && (taught == LEARNER_UNKNOWN || taught <= plan->days[d]);
        plan->gains[topic * plan->day_count + d] = open ? value_with(plan, topic, d) - now : -INFINITY;
    }
}

/* False when no block on a day with room would gain anything. */
static bool best_block(const struct plan *plan, struct learner_block *best)
{
    double most = TIE;
    bool found = false;
    for (size_t k = 0; k < plan->learner->course.topics; k++)
        for (size_t d = 0; d < plan->day_count; d++) {
            double gain = plan->gains[k * plan->day_count + d];
            if (plan->left[d] > 0 && gain > most + TIE) {
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
    struct plan plan = {.learner = learner, .days = days, .day_count = day_count, .exam = effect_days(exam),
                        .marks = marks};
    plan.prospects = memory_get_zeroed(topics, sizeof *plan.prospects);
    plan.visits = memory_get_zeroed(topics * day_count, sizeof *plan.visits);
    plan.gains = memory_get_zeroed(topics * day_count, sizeof *plan.gains);
    plan.left = memory_get_zeroed(day_count, sizeof *plan.left);
    memcpy(plan.left, slots, day_count * sizeof *slots);
    for (size_t k = 0; k < topics; k++)
        plan.prospects[k] = prospect_of(learner, k);
    return plan;
}

size_t learner_timetable(const struct learner *learner, const moment *days, const size_t *slots, size_t day_count,
                         moment exam, double marks, struct learner_block *blocks)
{
    assert(marks > 0.0);
    if (day_count == 0)
        return 0;
    struct plan plan = plan_begin(learner, days, slots, day_count, exam, marks);
    for (size_t k = 0; k < learner->course.topics; k++)
        work_out_gains(&plan, k);
    size_t count = 0;
    struct learner_block best;
    while (best_block(&plan, &best)) {
        plan.visits[best.topic * day_count + best.day]++;
        plan.left[best.day]--;
        blocks[count++] = best;
        work_out_gains(&plan, best.topic);
    }
    free(plan.prospects);
    free(plan.visits);
    free(plan.gains);
    free(plan.left);
    return count;
}
