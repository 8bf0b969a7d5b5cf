/* Reading the standing: topics, the exam, and parts of the course. */
#include "learner/model.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include "base/memory.h"
#include "learner/effects.h"

#define PAPER_SPREAD 1.4         /* variance of a paper's marks, in those of as many independent ones: marks of a question go
                                 * together. Measured in simulation (docs/learner.md) */
#define LOW_BELOW 0.4
#define HIGH_FROM 0.7

/* One topic under a slice's objective and word, growth of variance included. */
struct topic_view { double mean, variance, growth, share; };

static struct topic_view view_topic(const struct learner *learner, size_t topic, size_t objective, size_t word,
                                    double now)
{
    struct effect_sum sum = effect_add_up(learner, topic, objective, word);
    struct topic_view view = {.growth = effect_growth(learner, topic, learner->grown[topic], now)};
    view.mean = sum.mean - effect_loss(learner, topic, learner->last[topic], learner->strength[topic], now);
    view.variance = sum.variance + view.growth;
    view.share = effect_probability(view.mean, view.variance);
    return view;
}

static struct learner_estimate estimate_around(double share, double logit, double sd)
{
    return (struct learner_estimate){share, learner_logistic(logit - LEARNER_Z80 * sd),
                                     learner_logistic(logit + LEARNER_Z80 * sd), logit, sd};
}

struct learner_estimate learner_topic(const struct learner *learner, size_t topic, moment when)
{
    struct topic_view view = view_topic(learner, topic, LEARNER_NONE, LEARNER_NONE, effect_days(when));
    return estimate_around(view.share, view.mean, sqrt(view.variance + learner->constants.model_variance));
}

/* ---- Many topics together ---- */

/* To first order the weighted mean of shares moves with effect i by slopes[i]. Two topics that lean on the
 * same effect move together, which is why slopes are summed before they are squared. */
struct blend { double share, growth_variance; double *slopes; };

static void add_slopes(const struct learner *learner, struct blend *blend, size_t topic,
                       struct learner_slice slice, double slope)
{
    const struct learner_course *course = &learner->course;
    blend->slopes[0] += slope;
    blend->slopes[learner_unit_effect(course, course->unit[topic])] += slope;
    blend->slopes[learner_topic_effect(course, topic)] += slope;
    if (slice.objective != LEARNER_NONE)
        blend->slopes[learner_objective_effect(course, slice.objective)] += slope;
    else
        for (size_t a = 0; a < course->objectives; a++)
            blend->slopes[learner_objective_effect(course, a)] += slope * course->mix[a];
    if (slice.word != LEARNER_NONE)
        blend->slopes[learner_word_effect(course, slice.word)] += slope;
}

static void blend_topic(const struct learner *learner, struct blend *blend, size_t topic,
                        struct learner_slice slice, double now, double weight)
{
    struct topic_view view = view_topic(learner, topic, slice.objective, slice.word, now);
    double slope = weight * view.share * (1.0 - view.share);
    blend->share += weight * view.share;
    add_slopes(learner, blend, topic, slice, slope);
    blend->growth_variance += slope * slope * view.growth;
}

/* Ends the blend: frees the slopes and gives the variance of the share. */
static double blend_variance(const struct learner *learner, struct blend *blend)
{
    double sum = 0.0;
    for (size_t i = 0; i < learner->effects; i++)
        sum += blend->slopes[i] * blend->slopes[i] * learner->variance[i];
    free(blend->slopes);
    blend->slopes = NULL;
    return sum + blend->growth_variance;
}

static struct blend blend_begin(const struct learner *learner)
{
    return (struct blend){0.0, 0.0, memory_get_zeroed(learner->effects, sizeof(double))};
}

static struct learner_total total_around(double share, double sd)
{
    double reach = LEARNER_Z80 * sd;
    return (struct learner_total){share, sd, fmax(share - reach, 0.0), fmin(share + reach, 1.0)};
}

struct learner_total learner_exam(const struct learner *learner, moment when)
{
    const struct learner_slice all = {LEARNER_NONE, LEARNER_NONE, LEARNER_NONE};
    const struct learner_constants *c = &learner->constants;
    double now = effect_days(when), ahead = isnan(*learner->seen) ? 0.0 : effect_gap(*learner->seen, now);
    struct blend blend = blend_begin(learner);
    for (size_t k = 0; k < learner->course.topics; k++)
        blend_topic(learner, &blend, k, all, now, learner->course.share[k]);
    double variance = blend_variance(learner, &blend) + c->exam_error * c->exam_error
                    + c->exam_error_growth * c->exam_error_growth * ahead;
    return total_around(blend.share, sqrt(variance));
}

struct learner_total learner_paper(const struct learner *learner, moment when, double marks)
{
    assert(marks > 0.0);
    struct learner_total exam = learner_exam(learner, when);
    double luck = PAPER_SPREAD * exam.share * (1.0 - exam.share) / marks;
    return total_around(exam.share, sqrt(exam.sd * exam.sd + luck));
}

static bool in_slice(const struct learner *learner, size_t topic, struct learner_slice slice)
{
    return slice.unit == LEARNER_NONE || learner->course.unit[topic] == slice.unit;
}

/* What the topics of a slice weigh together; when that is nothing, how many there are. */
static double slice_weight(const struct learner *learner, struct learner_slice slice, bool *by_count)
{
    double total = 0.0, topics = 0.0;
    for (size_t k = 0; k < learner->course.topics; k++)
        if (in_slice(learner, k, slice)) {
            total += learner->course.share[k];
            topics += 1.0;
        }
    *by_count = total <= 0.0;
    return *by_count ? topics : total;
}

struct learner_estimate learner_across(const struct learner *learner, struct learner_slice slice, moment when)
{
    assert(slice.unit == LEARNER_NONE || slice.unit < learner->course.units);
    bool by_count;
    double now = effect_days(when), total = slice_weight(learner, slice, &by_count);
    struct blend blend = blend_begin(learner);
    for (size_t k = 0; k < learner->course.topics; k++)
        if (in_slice(learner, k, slice))
            blend_topic(learner, &blend, k, slice, now, (by_count ? 1.0 : learner->course.share[k]) / total);
    double variance = blend_variance(learner, &blend);
    if (total <= 0.0)   /* a unit without topics: nothing is known and nothing can be */
        return (struct learner_estimate){NAN, NAN, NAN, NAN, NAN};
    double share = fmin(fmax(blend.share, 1e-12), 1.0 - 1e-12), slope = share * (1.0 - share);
    double sd = sqrt(variance / (slope * slope) + learner->constants.model_variance);
    return estimate_around(share, log(share / (1.0 - share)), sd);
}

struct learner_estimate learner_unit(const struct learner *learner, size_t unit, moment when)
{
    return learner_across(learner, (struct learner_slice){unit, LEARNER_NONE, LEARNER_NONE}, when);
}

struct learner_estimate learner_objective(const struct learner *learner, size_t objective, moment when)
{
    return learner_across(learner, (struct learner_slice){LEARNER_NONE, objective, LEARNER_NONE}, when);
}

struct learner_estimate learner_word(const struct learner *learner, size_t word, moment when)
{
    return learner_across(learner, (struct learner_slice){LEARNER_NONE, LEARNER_NONE, word}, when);
}

enum learner_band learner_band_of(double share, double marks)
{
    if (!(marks >= LEARNER_TOPIC_MARKS) || isnan(share))
        return LEARNER_NO_EVIDENCE;
    if (share < LOW_BELOW)
        return LEARNER_LOW;
    return share < HIGH_FROM ? LEARNER_MIDDLE : LEARNER_HIGH;
}
