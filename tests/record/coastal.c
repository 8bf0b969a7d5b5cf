#include "coastal.h"

#include <criterion/criterion.h>
#include <math.h>

const char *const topic_ids[] = {"waves", "tides", "dunes"}, *const unit_ids[] = {"water", "land"};
const char *const objective_ids[] = {"AO1", "AO2"}, *const word_ids[] = {"explain", "to what extent"};

/* The course of COURSE_LINES as the learner sees it. */
const struct learner_course coastal = {
    .units = 2, .topics = 3, .objectives = 2, .words = 2, .unit = (const size_t[]){0, 0, 1},
    .share = (const double[]){0.5, 0.3, 0.2}, .mix = (const double[]){0.4, 0.6},
    .kind = (const enum learner_objective_kind[]){LEARNER_KNOW, LEARNER_APPLY}};

struct learner *read_learner(struct record *record, const char *bank, const struct learner_course *course,
                                    const char *const *topics)
{
    struct messages messages = MESSAGES_EMPTY;
    struct learner *learner = record_learner(record, bank, course, unit_ids, topics, objective_ids, word_ids, &messages);
    cr_assert(learner);
    return learner;
}

void expect_same_state(const struct learner *got, const struct learner *want)
{
    cr_assert_eq(got->size, want->size);
    for (size_t i = 0; i < want->size; i++)
        cr_assert(got->state[i] == want->state[i] || (isnan(got->state[i]) && isnan(want->state[i])),
                  "entry %zu: %a, wanted %a", i, got->state[i], want->state[i]);
}
