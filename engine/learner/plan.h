/* What to practise next, and when to practise what until the exam.
 *
 * The measure is always the same: marks gained on the exam day, in parts of the whole exam. It keeps the
 * two rules that matter most, spread over the whole course and weight by exam share, because a topic just
 * practised gains little more and a topic with a small share gains little at all. Only the most likely path
 * is followed. docs/learner.md, "What to practise next". */
#ifndef OWNMARK_LEARNER_PLAN_H
#define OWNMARK_LEARNER_PLAN_H

#include <stdbool.h>
#include <stddef.h>
#include "learner/model.h"

/* A block of about 4 minutes: 2.4 marks, the mean size of a question in the simulation. */
#define LEARNER_BLOCK_MARKS 2.4

/* Exam share gained by `marks` (> 0) marks of practice of the topic now, against leaving it until the exam.
 * Can be a little below 0 for a topic that is nearly lost. */
double learner_gain(const struct learner *learner, size_t topic, moment now, moment exam, double marks);

/* ---- The next question --------------------------------------------------------------------------- */

struct learner_candidate {
    size_t id;              /* the caller's number for the question */
    double minutes;         /* expected, > 0 */
    const size_t *topics;   /* [marks]: topic of each mark; the first is the question's main topic */
    size_t marks;           /* >= 1 */
    double question_last;   /* day (seconds / 86400) of its last attempt, NaN never */
};

struct learner_choice {
    bool found;
    size_t id;
    double score;           /* exam share gained a minute, after the two reductions */
    double gain;            /* exam share gained by the whole question, before them */
    size_t topic;           /* the topic that contributes most of the gain (lowest on a tie): why it was chosen */
};

/* A choice among candidates offered one at a time, in rising order of id. The score is the sum of the gains
 * of its topics / minutes, x (1 - e^(-days since / repeat_days)) if seen before, x 0.05 if its main topic is
 * `previous_topic` (LEARNER_NONE: none). The highest wins; within 1e-12 the one offered first. Gains are kept
 * by topic and number of marks, so that 10,000 candidates cost little more than reading them.
 * The learner must outlive the chooser and stay unchanged meanwhile. */
struct learner_chooser;
struct learner_chooser *learner_choose_begin(const struct learner *learner, moment now, moment exam,
                                             size_t previous_topic);
/* False: not a candidate, because a topic is unknown or not taught yet (taught date after now), there are
 * no marks, the minutes are not a number above 0 or the last day is infinite. */
bool learner_choose_offer(struct learner_chooser *chooser, const struct learner_candidate *candidate);
/* The same with the score multiplied by weight (>= 0). */
bool learner_choose_offer_weighted(struct learner_chooser *chooser, const struct learner_candidate *candidate,
                                   double weight);
struct learner_choice learner_choose_result(const struct learner_chooser *chooser);
void learner_choose_free(struct learner_chooser *chooser);   /* NULL is let through */

/* ---- The timetable ------------------------------------------------------------------------------- */

struct learner_block { size_t day, topic; };    /* day: index into days */

/* Fills slots[d] blocks of `marks` marks on each study day, always adding the (topic, day) that raises the
 * expected exam share most (ties within 1e-12: lowest topic, then day) and stopping when nothing gains. A
 * topic is not placed before its taught date. days ascend. Writes to blocks, in order of choosing, at most
 * sum(slots) of them, and returns how many. Plan again weekly and after a missed day.
 * Found to lose 0.24 % of the achievable gain on average against exhaustive search on small cases. */
size_t learner_timetable(const struct learner *learner, const moment *days, const size_t *slots, size_t day_count,
                         moment exam, double marks, struct learner_block *blocks);

/* The timetable a student is given: as learner_timetable, but no topic gets more than learner_timetable_most blocks of a day,
 * and where nothing gains any more the days are filled all the same, from the first on and by turns: each time with the
 * topic that has the fewest blocks up to that day for its exam share (lowest on a tie). The reckoning is not exact enough to
 * call a student's time useless. Only where nothing is taught yet does room stay.
 * likely, when not NULL: so many of each day's slots (at most all) are filled first, as if there were no others, and the
 * rest after them. A student who misses some days then finds on the days that are kept what should not wait. */
size_t learner_timetable_spread(const struct learner *learner, const moment *days, const size_t *slots,
                                const size_t *likely, size_t day_count, moment exam, double marks,
                                struct learner_block *blocks);

/* Of planned study days, the part that was kept, reckoned as if four more had been kept besides: 1 at first. */
double learner_timetable_kept(size_t kept, size_t planned);

/* What is likely of the slots: all of the first day's, of the others the kept part, rounded so that fractions add up. */
void learner_timetable_likely(double kept, const size_t *slots, size_t day_count, size_t *likely);

/* How many of a day's slots one topic may have: four (a quarter of an hour; by then most of its freshness is used), and at
 * most half of them, rounded up, so that it need not follow itself. More only where the topics taught by then could not
 * fill the day. */
size_t learner_timetable_most(const struct learner *learner, moment day, size_t slots);

/* Puts blocks in the order to work in: by day, and within a day never the same topic twice running unless
 * there is no other way. Otherwise the order of choosing is kept. */
void learner_timetable_arrange(struct learner_block *blocks, size_t count);

/* The same, but each day begins with the topic that is weakest at `now`, as far as no topic follows itself. */
void learner_timetable_order(const struct learner *learner, moment now, struct learner_block *blocks, size_t count);

#endif
