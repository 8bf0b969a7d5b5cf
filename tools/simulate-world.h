/* The simulated course, its bank and its students. Nothing here is a real student: distributions are judgement, named in
 * docs/learner.md. Every draw is a hash of a seed and of what is drawn, so that two ways of practising meet the same luck. */
#ifndef OWNMARK_TOOLS_SIMULATE_WORLD_H
#define OWNMARK_TOOLS_SIMULATE_WORLD_H

#include <stddef.h>
#include <stdint.h>

#include "learner/model.h"

enum { UNITS = 8, TOPICS = 40, OBJECTIVES = 3, WORDS = 8, FACETS = 4, QUESTIONS_MOST = 480, POINTS_MOST = 4 };

#define MINUTES_PER_MARK (4.0 / 2.4)        /* the block of learner/plan.h: 4 minutes, 2.4 marks */
#define QUESTION_SPREAD 0.8                 /* sd of a question's difficulty, log-odds */
#define POINT_SPREAD 0.5                    /* sd of a point's own difficulty, which no author rates */

/* A one-mark point. */
struct point { size_t topic, facet; double difficulty; };

struct question {
    size_t topic, objective, word;          /* topic: the main one */
    double rating;                          /* the author's, in log-odds as the program counts the three demands */
    size_t count;
    struct point points[POINTS_MOST];
};

struct world {
    size_t unit[TOPICS];
    double share[TOPICS];
    double mix[OBJECTIVES];
    double word_difficulty[WORDS];
    double taught[TOPICS];                  /* day; practice starts on day 0 */
    struct question questions[QUESTIONS_MOST];
    size_t question_count;
    size_t first[TOPICS + 1];               /* questions stand topic by topic */
};

struct person {
    uint64_t seed;
    double level[TOPICS];                   /* log-odds: ability, unit and topic together */
    double objective[OBJECTIVES], word[WORDS];
    double speed;                           /* of learning, 1 is usual */
    double over;                            /* chance that an unearned mark is claimed, at first */
};

/* By the keys: the same keys give the same draw. */
double draw_unit(uint64_t seed, uint64_t what, uint64_t which, uint64_t time);      /* [0, 1) */
double draw_normal(uint64_t seed, uint64_t what, uint64_t which, uint64_t time);
size_t draw_topic(const struct world *world, double unit);                          /* by exam share */
size_t draw_objective(const struct world *world, double unit);                      /* by the exam's mix */

void world_make(struct world *world, uint64_t seed);
void person_make(struct person *person, const struct world *world, uint64_t seed);

/* Chance that this person claims a mark that was not earned, after so many marks: it falls to a half. */
double person_over(const struct person *person, double marks);

/* The course as the program would be told of it: no topic's date is given. */
struct learner_course world_course(const struct world *world);

#endif
