/* Learning from marks. Evidence comes before practice: what an answer shows is what was known before it. */
#include "learner/model.h"

#include <assert.h>
#include <math.h>
#include "learner/effects.h"
#include "learner/state.h"

#define LOWEST_P 0.005
#define HIGHEST_P 0.995
#define LOWEST_VARIANCE 1e-6
#define HIGHEST_OVER 0.6
#define HIGHEST_UNDER 0.2

static double clamp(double value, double low, double high)
{
    return fmin(fmax(value, low), high);
}

static bool mark_is_usable(const struct learner_course *course, const struct learner_mark *mark)
{
    return mark->topic < course->topics && mark->objective < course->objectives
        && (mark->word == LEARNER_NONE || mark->word < course->words) && isfinite(mark->difficulty)
        && isfinite(mark->got) && isfinite(mark->maximum) && mark->maximum > 0.0 && !isinf(mark->moderated);
}

void learner_marking_bias(const struct learner *learner, double *over, double *under)
{
    const double *b = learner->bias;
    *over = fmin(b[0] / b[1], HIGHEST_OVER);
    *under = fmin(b[2] / b[3], HIGHEST_UNDER);
}

bool learner_moderated_pair(struct learner *learner, double own, double teacher, double maximum)
{
    if (!isfinite(own) || !isfinite(teacher) || !isfinite(maximum) || maximum <= 0.0)
        return false;
    double z = clamp(own / maximum, 0.0, 1.0), y = clamp(teacher / maximum, 0.0, 1.0);
    double *b = learner->bias;
    state_set(learner, &b[0], b[0] + fmax(0.0, z - y));
    state_set(learner, &b[1], b[1] + (1.0 - y));
    state_set(learner, &b[2], b[2] + fmax(0.0, y - z));
    state_set(learner, &b[3], b[3] + y);
    return true;
}

static double repeat_boost(const struct learner_constants *c, double question_last, double now)
{
    if (isnan(question_last))
        return 0.0;
    return c->repeat_gain * exp(-fmax(now - question_last, 0.0) / c->repeat_days);
}

/* The log-odds of a mark and their variance, growth not included. */
static struct effect_sum mark_sum(const struct learner *learner, const struct learner_mark *mark, double now,
                                  double boost)
{
    struct effect_sum sum = effect_add_up(learner, mark->topic, mark->objective, mark->word);
    double loss = effect_loss(learner, mark->topic, learner->last[mark->topic], learner->strength[mark->topic], now);
    sum.mean += boost - loss - learner->constants.difficulty_weight * mark->difficulty;
    return sum;
}

double learner_point(const struct learner *learner, const struct learner_mark *mark, moment when,
                     double question_last)
{
    double now = effect_days(when);
    struct effect_sum sum = mark_sum(learner, mark, now, repeat_boost(&learner->constants, question_last, now));
    double growth = effect_growth(learner, mark->topic, learner->grown[mark->topic], now);
    return effect_probability(sum.mean, sum.variance + growth);
}

/* ---- Evidence ---- */

struct evidence {
    double push;            /* weighted surprise: earned, as far as a self-mark tells, minus expected */
    double information;     /* J: what the mark is worth */
};

/* A claimed mark may be unearned and an earned one unclaimed; Bayes' rule gives the part that was earned. */
static struct evidence evidence_of(const struct learner *learner, const struct learner_mark *mark, double p)
{
    double over = 0.0, under = 0.0, got = mark->moderated;
    if (isnan(mark->moderated)) {
        learner_marking_bias(learner, &over, &under);
        got = mark->got;
    }
    double z = clamp(got / mark->maximum, 0.0, 1.0);
    double weight = sqrt(mark->maximum);    /* marks inside one point go together */
    double claimed = (1.0 - under) * p + over * (1.0 - p);
    double earned = z * ((1.0 - under) * p / claimed) + (1.0 - z) * (under * p / (1.0 - claimed));
    double slope = p * (1.0 - p) * (1.0 - under - over);
    return (struct evidence){weight * (earned - p), weight * slope * slope / (claimed * (1.0 - claimed))};
}

static void move_effect(struct learner *learner, size_t effect, struct evidence evidence, double variance,
                        double marks)
{
    double *v = &learner->variance[effect], scale = 1.0 + evidence.information * variance;
    assert(*v > 0.0 && scale >= 1.0);
    state_set(learner, &learner->mean[effect], learner->mean[effect] + *v * evidence.push / scale);
    state_set(learner, v, fmax(*v - *v * *v * evidence.information / scale, LOWEST_VARIANCE));
    state_set(learner, &learner->evidence[effect], learner->evidence[effect] + marks);
}

static void take_evidence(struct learner *learner, const struct learner_mark *mark, double now, double boost)
{
    const struct learner_course *course = &learner->course;
    size_t topic = mark->topic, effect = learner_topic_effect(course, topic);
    double *grown = &learner->grown[topic], *variance = &learner->variance[effect];
    state_set(learner, variance, *variance + effect_growth(learner, topic, *grown, now));
    state_set(learner, grown, isnan(*grown) ? now : fmax(*grown, now));

    struct effect_sum sum = mark_sum(learner, mark, now, boost);
    double p = clamp(effect_probability(sum.mean, sum.variance), LOWEST_P, HIGHEST_P);
    struct evidence evidence = evidence_of(learner, mark, p);
    const size_t effects[] = {0, learner_unit_effect(course, course->unit[topic]), effect,
                              learner_objective_effect(course, mark->objective)};
    for (size_t i = 0; i < sizeof effects / sizeof *effects; i++)
        move_effect(learner, effects[i], evidence, sum.variance, mark->maximum);
    if (mark->word != LEARNER_NONE)
        move_effect(learner, learner_word_effect(course, mark->word), evidence, sum.variance, mark->maximum);
}

/* ---- Practice ---- */

/* Each point counts once, whatever it is worth: what is practised is the idea. */
static void take_practice(struct learner *learner, size_t topic, double now)
{
    double *level = &learner->mean[learner_topic_effect(&learner->course, topic)];
    struct effect_practice practice = {*level, learner->strength[topic], learner->freshness[topic],
                                       learner->last[topic]};
    effect_practise(&learner->constants, &practice, now, 1.0);
    state_set(learner, level, practice.level);
    state_set(learner, &learner->strength[topic], practice.strength);
    state_set(learner, &learner->freshness[topic], practice.freshness);
    state_set(learner, &learner->last[topic], practice.last);
}

bool learner_attempt(struct learner *learner, moment when, double *question_last,
                     const struct learner_mark *marks, size_t count)
{
    if (when == NO_MOMENT || isinf(*question_last))
        return false;
    for (size_t i = 0; i < count; i++)
        if (!mark_is_usable(&learner->course, &marks[i]))
            return false;
    double now = effect_days(when), boost = repeat_boost(&learner->constants, *question_last, now);
    for (size_t i = 0; i < count; i++)
        take_evidence(learner, &marks[i], now, boost);
    for (size_t i = 0; i < count; i++)
        take_practice(learner, marks[i].topic, now);
    *question_last = isnan(*question_last) ? now : fmax(*question_last, now);
    state_set(learner, learner->seen, isnan(*learner->seen) ? now : fmax(*learner->seen, now));
    state_set(learner, learner->attempts, *learner->attempts + 1.0);
    return true;
}
