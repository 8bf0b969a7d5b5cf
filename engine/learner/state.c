/* The state: one array of doubles, windows into it, and the list of entries touched. */
#include "learner/state.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "base/memory.h"

const struct learner_constants learner_standard_constants = {
    .course_mean = 0.1,
    .know_mean = 0.25,
    .apply_mean = 0.0,
    .analyse_mean = -0.55,
    .course_variance = 0.4,
    .unit_variance = 0.15,
    .topic_variance = 0.2,
    .objective_variance = 0.04,
    .word_variance = 0.1,
    .model_variance = 0.25,
    .growth = 0.001,
    .forgetting = 0.36,
    .forgetting_scale = 1.0,
    .slowing = 0.1,
    .practice_gain = 0.5,
    .freshness_used = 0.15,
    .freshness_days = 3.0,
    .unseen_gap = 60.0,
    .difficulty_weight = 0.9,
    .repeat_gain = 1.1,
    .repeat_days = 15.0,
    .over_marks = 4.0,
    .over_of = 20.0,
    .under_marks = 0.6,
    .under_of = 30.0,
    .exam_error = 0.045,
    .exam_error_growth = 0.011,
};

#define BIAS_ENTRIES 4
#define LARGEST_COUNT 1000000u      /* of anything in a course: keeps the sizes far from overflow */

/* ---- Numbering ---- */

size_t learner_unit_effect(const struct learner_course *course, size_t unit)
{
    assert(unit < course->units);
    return 1 + unit;
}

size_t learner_topic_effect(const struct learner_course *course, size_t topic)
{
    assert(topic < course->topics);
    return 1 + course->units + topic;
}

size_t learner_objective_effect(const struct learner_course *course, size_t objective)
{
    assert(objective < course->objectives);
    return 1 + course->units + course->topics + objective;
}

size_t learner_word_effect(const struct learner_course *course, size_t word)
{
    assert(word < course->words);
    return 1 + course->units + course->topics + course->objectives + word;
}

/* How many entries each field has; fields stand in the state in the order of the enumeration. */
static size_t field_length(const struct learner *learner, enum learner_field field)
{
    if (field <= LEARNER_EVIDENCE)
        return learner->effects;
    return field <= LEARNER_FRESHNESS ? learner->course.topics : 1;
}

static size_t scope_start(const struct learner_course *course, enum learner_scope scope)
{
    const size_t lengths[] = {1, course->units, course->topics, course->objectives};
    size_t start = 0;
    for (unsigned i = 0; i < (unsigned)scope; i++)
        start += lengths[i];
    return start;
}

struct learner_entry learner_entry_at(const struct learner *learner, size_t index)
{
    assert(index < learner->size);
    enum learner_field field = LEARNER_MEAN;
    while (index >= field_length(learner, field))
        index -= field_length(learner, field++);
    if (field > LEARNER_FRESHNESS)
        return (struct learner_entry){field, LEARNER_COURSE, 0};
    if (field > LEARNER_EVIDENCE)
        return (struct learner_entry){field, LEARNER_TOPIC, index};
    enum learner_scope scope = LEARNER_WORD;
    while (index < scope_start(&learner->course, scope))
        scope--;
    return (struct learner_entry){field, scope, index - scope_start(&learner->course, scope)};
}

size_t learner_entry_index(const struct learner *learner, struct learner_entry entry)
{
    if (entry.field > LEARNER_ATTEMPTS || entry.scope > LEARNER_WORD || entry.which >= LARGEST_COUNT)
        return LEARNER_NONE;
    size_t start = 0, within = entry.which;
    for (enum learner_field field = LEARNER_MEAN; field < entry.field; field++)
        start += field_length(learner, field);
    if (entry.field <= LEARNER_EVIDENCE)
        within += scope_start(&learner->course, entry.scope);
    if (within >= field_length(learner, entry.field))
        return LEARNER_NONE;
    struct learner_entry back = learner_entry_at(learner, start + within);
    return back.scope == entry.scope ? start + within : LEARNER_NONE;   /* which may run on into the next scope */
}

/* ---- Touched entries ---- */

void state_set(struct learner *learner, double *entry, double value)
{
    size_t index = (size_t)(entry - learner->state);
    assert(index < learner->size);
    *entry = value;
    if (!learner->is_touched[index]) {
        learner->is_touched[index] = 1;
        learner->touched[learner->touched_count++] = index;
    }
}

void learner_forget_touched(struct learner *learner)
{
    for (size_t i = 0; i < learner->touched_count; i++)
        learner->is_touched[learner->touched[i]] = 0;
    learner->touched_count = 0;
}

/* ---- Making and taking back ---- */

static bool all_shares(const double *values, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (!isfinite(values[i]) || values[i] < 0.0)
            return false;
    return true;
}

static bool course_is_usable(const struct learner_course *course)
{
    const size_t counts[] = {course->units, course->topics, course->objectives, course->words};
    for (size_t i = 0; i < 4; i++)
        if (counts[i] > LARGEST_COUNT || (counts[i] == 0 && i < 3))
            return false;
    for (size_t k = 0; k < course->topics; k++)
        if (course->unit[k] >= course->units)
            return false;
    for (size_t a = 0; a < course->objectives; a++)
        if (course->kind[a] > LEARNER_ANALYSE)
            return false;
    return all_shares(course->share, course->topics) && all_shares(course->mix, course->objectives);
}

/* Beyond being finite: what the formulae divide by, or take a root or a power of. */
static bool constants_are_usable(const struct learner_constants *c)
{
    double values[sizeof *c / sizeof(double)];
    memcpy(values, c, sizeof values);
    for (size_t i = 0; i < sizeof values / sizeof *values; i++)
        if (!isfinite(values[i]))
            return false;
    return c->course_variance > 0.0 && c->unit_variance > 0.0 && c->topic_variance > 0.0
        && c->objective_variance > 0.0 && c->word_variance > 0.0 && c->model_variance >= 0.0
        && c->growth >= 0.0 && c->slowing >= 0.0 && c->forgetting_scale > 0.0 && c->unseen_gap >= 0.0
        && c->freshness_used >= 0.0 && c->freshness_used <= 1.0 && c->freshness_days > 0.0
        && c->repeat_days > 0.0 && c->over_marks >= 0.0 && c->over_of > 0.0 && c->under_marks >= 0.0
        && c->under_of > 0.0;
}

static void *copy_of(const void *from, size_t count, size_t size)
{
    void *copy = memory_get_zeroed(count, size);
    memcpy(copy, from, count * size);
    return copy;
}

static struct learner_course course_copy(const struct learner_course *course)
{
    struct learner_course copy = *course;
    copy.unit = copy_of(course->unit, course->topics, sizeof *course->unit);
    copy.share = copy_of(course->share, course->topics, sizeof *course->share);
    copy.mix = copy_of(course->mix, course->objectives, sizeof *course->mix);
    copy.kind = copy_of(course->kind, course->objectives, sizeof *course->kind);
    moment *taught = memory_get_zeroed(course->topics, sizeof *taught);
    for (size_t k = 0; k < course->topics; k++)
        taught[k] = course->taught ? course->taught[k] : LEARNER_UNKNOWN;
    copy.taught = taught;
    return copy;
}

static void open_windows(struct learner *learner)
{
    double *next = learner->state;
    double **const windows[] = {&learner->mean, &learner->variance, &learner->evidence, &learner->last,
                                &learner->grown, &learner->strength, &learner->freshness, &learner->seen};
    for (unsigned i = 0; i < sizeof windows / sizeof *windows; i++) {
        *windows[i] = next;
        next += field_length(learner, (enum learner_field)i);
    }
    learner->bias = next;
    learner->attempts = next + BIAS_ENTRIES;
    assert(learner->attempts + 1 == learner->state + learner->size);
}

struct learner *learner_new(const struct learner_course *course, const struct learner_constants *constants)
{
    if (!constants)
        constants = &learner_standard_constants;
    if (!course_is_usable(course) || !constants_are_usable(constants))
        return NULL;
    struct learner *learner = memory_get_zeroed(1, sizeof *learner);
    learner->course = course_copy(course);
    learner->constants = *constants;
    learner->effects = 1 + course->units + course->topics + course->objectives + course->words;
    learner->size = 3 * learner->effects + 4 * course->topics + 2 + BIAS_ENTRIES;
    learner->state = memory_get_zeroed(learner->size, sizeof *learner->state);
    learner->touched = memory_get_zeroed(learner->size, sizeof *learner->touched);
    learner->is_touched = memory_get_zeroed(learner->size, 1);
    open_windows(learner);
    learner_reset(learner);
    return learner;
}

void learner_free(struct learner *learner)
{
    if (!learner)
        return;
    free((void *)learner->course.unit);
    free((void *)learner->course.share);
    free((void *)learner->course.mix);
    free((void *)learner->course.kind);
    free((void *)learner->course.taught);
    free(learner->state);
    free(learner->touched);
    free(learner->is_touched);
    free(learner);
}

/* ---- Priors ---- */

static double prior_mean(const struct learner *learner, struct learner_entry entry)
{
    const struct learner_constants *c = &learner->constants;
    if (entry.scope == LEARNER_COURSE)
        return c->course_mean;
    if (entry.scope != LEARNER_OBJECTIVE)
        return 0.0;
    const double means[] = {c->know_mean, c->apply_mean, c->analyse_mean};
    return means[learner->course.kind[entry.which]];
}

static double prior_variance(const struct learner_constants *c, enum learner_scope scope)
{
    const double variances[] = {c->course_variance, c->unit_variance, c->topic_variance,
                                c->objective_variance, c->word_variance};
    return variances[scope];
}

static double prior_of(const struct learner *learner, struct learner_entry entry)
{
    const struct learner_constants *c = &learner->constants;
    switch (entry.field) {
    case LEARNER_MEAN: return prior_mean(learner, entry);
    case LEARNER_VARIANCE: return prior_variance(c, entry.scope);
    case LEARNER_LAST: case LEARNER_GROWN: case LEARNER_SEEN: return NAN;
    case LEARNER_FRESHNESS: return 1.0;
    case LEARNER_OVER: return c->over_marks;
    case LEARNER_OVER_OF: return c->over_of;
    case LEARNER_UNDER: return c->under_marks;
    case LEARNER_UNDER_OF: return c->under_of;
    case LEARNER_EVIDENCE: case LEARNER_STRENGTH: case LEARNER_ATTEMPTS: break;
    }
    return 0.0;
}

void learner_reset(struct learner *learner)
{
    for (size_t i = 0; i < learner->size; i++)
        state_set(learner, &learner->state[i], prior_of(learner, learner_entry_at(learner, i)));
}

bool learner_load(struct learner *learner, size_t index, double value)
{
    if (index >= learner->size || isinf(value))
        return false;
    bool possible = !isnan(value);
    switch (learner_entry_at(learner, index).field) {
    case LEARNER_MEAN: break;
    case LEARNER_LAST: case LEARNER_GROWN: case LEARNER_SEEN: possible = true; break;
    case LEARNER_VARIANCE: case LEARNER_OVER_OF: case LEARNER_UNDER_OF: possible = value > 0.0; break;
    case LEARNER_FRESHNESS: possible = value >= 0.0 && value <= 1.0; break;
    case LEARNER_EVIDENCE: case LEARNER_STRENGTH: case LEARNER_OVER: case LEARNER_UNDER: case LEARNER_ATTEMPTS:
        possible = value >= 0.0;
        break;
    }
    if (possible)
        learner->state[index] = value;
    return possible;
}
