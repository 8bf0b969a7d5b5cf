#include "fixture.h"

#include <criterion/criterion.h>
#include <math.h>

struct learner_course small_course(void)
{
    static const size_t unit[] = {0, 0, 1, 1};
    static const double share[] = {0.4, 0.3, 0.2, 0.1}, mix[] = {0.4, 0.4, 0.2};
    static const enum learner_objective_kind kind[] = {LEARNER_KNOW, LEARNER_APPLY, LEARNER_ANALYSE};
    return (struct learner_course){.units = 2, .topics = 4, .objectives = 3, .words = 3, .unit = unit,
                                   .share = share, .mix = mix, .kind = kind};
}

struct learner *small_learner(void)
{
    struct learner_course course = small_course();
    struct learner *learner = learner_new(&course, NULL);
    cr_assert_not_null(learner);
    return learner;
}

struct logged random_attempt(struct random_source *source, moment *clock)
{
    *clock += (moment)random_below(source, 20) * DAY / 4;
    struct logged attempt = {.when = *clock, .question = (size_t)random_below(source, QUESTIONS)};
    if (random_below(source, 25) == 0)
        attempt.when -= 40 * DAY;
    attempt.count = (size_t)random_below(source, 5);
    for (size_t i = 0; i < attempt.count; i++) {
        double maximum = (double)(1 + random_below(source, 6));
        double moderated = random_below(source, 8) == 0 ? maximum * random_unit(source) : NAN;
        size_t word = (size_t)random_below(source, 4);
        attempt.marks[i] = (struct learner_mark){
            .topic = (size_t)random_below(source, 4), .objective = (size_t)random_below(source, 3),
            .word = word == 3 ? LEARNER_NONE : word, .difficulty = 4.0 * random_unit(source) - 2.0,
            .got = floor(random_unit(source) * (maximum + 1.0)), .maximum = maximum, .moderated = moderated};
    }
    return attempt;
}

void apply(struct learner *learner, const struct logged *log, size_t from, size_t to, double *questions)
{
    for (size_t i = from; i < to; i++)
        cr_assert(learner_attempt(learner, log[i].when, &questions[log[i].question], log[i].marks, log[i].count));
}

void no_questions(double *questions)
{
    for (size_t q = 0; q < QUESTIONS; q++)
        questions[q] = NAN;
}
