#include "learner/plan-inner.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include "base/memory.h"

#define SAME_TOPIC_AGAIN 0.05
#define COUNTS_KEPT 16          /* gains are kept for 1 … 16 marks of a topic; more are worked out each time */

/* ---- One topic until the exam ---- */

struct prospect plan_prospect(const struct learner *learner, size_t topic)
{
    return (struct prospect){effect_add_up(learner, topic, LEARNER_NONE, LEARNER_NONE),
                             {0.0, learner->strength[topic], learner->freshness[topic], learner->last[topic]}};
}

double plan_chance(const struct learner *learner, size_t topic, const struct prospect *prospect, double exam)
{
    const struct effect_practice *p = &prospect->practice;
    double mean = prospect->sum.mean + p->level - effect_loss(learner, topic, p->last, p->strength, exam);
    return effect_probability(mean, prospect->sum.variance + effect_growth(learner, topic, p->last, exam));
}

double learner_gain(const struct learner *learner, size_t topic, moment now, moment exam, double marks)
{
    assert(marks > 0.0);
    struct prospect prospect = plan_prospect(learner, topic);
    double day = effect_days(exam), without = plan_chance(learner, topic, &prospect, day);
    effect_practise(&learner->constants, &prospect.practice, effect_days(now), marks);
    return learner->course.share[topic] * (plan_chance(learner, topic, &prospect, day) - without);
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
    return learner_choose_offer_weighted(chooser, candidate, 1.0);
}

bool learner_choose_offer_weighted(struct learner_chooser *chooser, const struct learner_candidate *candidate,
                                   double weight)
{
    if (!can_be_chosen(chooser, candidate))
        return false;
    struct learner_choice choice = choice_of(chooser, candidate);
    choice.score = weight * choice.gain / candidate->minutes;
    if (!isnan(candidate->question_last)) {
        double since = fmax(effect_days(chooser->now) - candidate->question_last, 0.0);
        choice.score *= 1.0 - exp(-since / chooser->learner->constants.repeat_days);
    }
    if (candidate->topics[0] == chooser->previous_topic)
        choice.score *= SAME_TOPIC_AGAIN;
    if (!chooser->best.found || choice.score > chooser->best.score + PLAN_TIE)
        chooser->best = choice;
    return true;
}

struct learner_choice learner_choose_result(const struct learner_chooser *chooser)
{
    return chooser->best;
}
