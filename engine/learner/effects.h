/* Arithmetic shared inside the room: what a mark is made of, before forgetting and difficulty. */
#ifndef OWNMARK_LEARNER_EFFECTS_H
#define OWNMARK_LEARNER_EFFECTS_H

#include "learner/model.h"

#define LEARNER_Z80 1.2815515655446004          /* 90th percentile of the standard normal */

struct effect_sum { double mean, variance; };

double effect_days(moment when);                                    /* seconds / 86400 */
double effect_gap(double from, double to);                          /* days, held to 0 … 3650 */

/* Course, unit and topic, then one objective (LEARNER_NONE: the exam's mix), then one word if any. */
struct effect_sum effect_add_up(const struct learner *learner, size_t topic, size_t objective, size_t word);

/* Log-odds lost by day `now` since `last` (NaN: since it was taught, or the assumed gap). */
double effect_loss(const struct learner *learner, size_t topic, double last, double strength, double now);

/* Variance the topic has grown by since day `since` (NaN: nothing yet). */
double effect_growth(const struct learner *learner, size_t topic, double since, double now);

/* logistic(mean / sqrt(1 + pi/8 variance)): the mean of a logistic of a normal (MacKay 1992). */
double effect_probability(double mean, double variance);

/* What `marks` marks of practice on day `now` do to a topic. */
struct effect_practice { double level, strength, freshness, last; };
void effect_practise(const struct learner_constants *constants, struct effect_practice *topic, double now,
                     double marks);

/* The same in two steps, for who does it often: the part of the freshness that `marks` marks use, and its effect. */
double effect_used(const struct learner_constants *constants, double marks);
void effect_practise_used(const struct learner_constants *constants, struct effect_practice *topic, double now, double used);

#endif
