/* A small course of Coastal Science and a seeded log of attempts, shared by the tests of this room. */
#ifndef TESTS_LEARNER_FIXTURE_H
#define TESTS_LEARNER_FIXTURE_H

#include "base/dates.h"
#include "base/random.h"
#include "learner/model.h"

#define DAY ((moment)86400)
#define START ((moment)1700000000)
#define QUESTIONS 20

/* 2 units, 4 topics (waves, beaches | tides, defences), 3 objectives, 3 command words. */
struct learner_course small_course(void);
struct learner *small_learner(void);

struct logged {
    moment when;
    size_t question;
    struct learner_mark marks[4];
    size_t count;
};

/* The next attempt of a seeded log: any order of topics, part marks, some moderated, the clock now and then
 * going back. */
struct logged random_attempt(struct random_source *source, moment *clock);

/* Applies log[from] … log[to - 1]; questions holds a last day for each of QUESTIONS. */
void apply(struct learner *learner, const struct logged *log, size_t from, size_t to, double *questions);
void no_questions(double *questions);   /* all NaN */

#endif
