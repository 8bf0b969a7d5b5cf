#include "learner/effects.h"

#include <assert.h>
#include <math.h>

#define LONGEST_GAP 3650.0
#define SECONDS_A_DAY 86400.0
#define PI_EIGHTHS 0.39269908169872414
#define TOPIC_VARIANCE_LIMIT 1.5                /* of the prior variance */

double learner_logistic(double x)
{
    if (x >= 0.0)
        return 1.0 / (1.0 + exp(-fmin(x, 700.0)));
    double e = exp(fmax(x, -700.0));
    return e / (1.0 + e);
}

double effect_days(moment when)
{
    return (double)when / SECONDS_A_DAY;
}

double effect_gap(double from, double to)
{
    return fmin(fmax(to - from, 0.0), LONGEST_GAP);
}

static void add_effect(const struct learner *learner, struct effect_sum *sum, size_t effect, double weight)
{
    sum->mean += learner->mean[effect] * weight;
    sum->variance += learner->variance[effect] * weight * weight;
}

struct effect_sum effect_add_up(const struct learner *learner, size_t topic, size_t objective, size_t word)
{
    const struct learner_course *course = &learner->course;
    struct effect_sum sum = {0.0, 0.0};
    assert(topic < course->topics);
    add_effect(learner, &sum, 0, 1.0);
    add_effect(learner, &sum, learner_unit_effect(course, course->unit[topic]), 1.0);
    add_effect(learner, &sum, learner_topic_effect(course, topic), 1.0);
    if (objective != LEARNER_NONE)
        add_effect(learner, &sum, learner_objective_effect(course, objective), 1.0);
    else
        for (size_t a = 0; a < course->objectives; a++)
            add_effect(learner, &sum, learner_objective_effect(course, a), course->mix[a]);
    if (word != LEARNER_NONE)
        add_effect(learner, &sum, learner_word_effect(course, word), 1.0);
    return sum;
}

double effect_loss(const struct learner *learner, size_t topic, double last, double strength, double now)
{
    const struct learner_constants *c = &learner->constants;
    if (isnan(last) && learner->course.taught[topic] != LEARNER_UNKNOWN)
        last = effect_days(learner->course.taught[topic]);
    double gap = isnan(last) ? c->unseen_gap : effect_gap(last, now);
    return c->forgetting * log(1.0 + gap / c->forgetting_scale) / (1.0 + c->slowing * strength);
}

double effect_growth(const struct learner *learner, size_t topic, double since, double now)
{
    const struct learner_constants *c = &learner->constants;
    if (isnan(since))
        return 0.0;
    double variance = learner->variance[learner_topic_effect(&learner->course, topic)];
    double room = fmax(TOPIC_VARIANCE_LIMIT * c->topic_variance - variance, 0.0);
    return fmin(c->growth * effect_gap(since, now), room);
}

double effect_probability(double mean, double variance)
{
    return learner_logistic(mean / sqrt(1.0 + PI_EIGHTHS * variance));
}

double effect_used(const struct learner_constants *constants, double marks)
{
    return 1.0 - pow(1.0 - constants->freshness_used, marks);
}

void effect_practise(const struct learner_constants *constants, struct effect_practice *topic, double now,
                     double marks)
{
    effect_practise_used(constants, topic, now, effect_used(constants, marks));
}

void effect_practise_used(const struct learner_constants *constants, struct effect_practice *topic, double now, double used)
{
    double fresh = 1.0;
    if (!isnan(topic->last))
        fresh -= (1.0 - topic->freshness) * exp(-effect_gap(topic->last, now) / constants->freshness_days);
    double effective = fresh * used;
    topic->level += constants->practice_gain * effective / (1.0 + topic->strength);
    topic->strength += effective;
    topic->freshness = fresh - effective;
    topic->last = isnan(topic->last) ? now : fmax(topic->last, now);
}
