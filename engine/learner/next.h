/* Which question of a bank comes next: first the topic, then the question in it.
 *
 * A topic is as good as what a block of LEARNER_NEXT_MARKS marks on it gains a minute by the exam (learner/plan.h). Comparing
 * questions of different size by gain a minute would always pick the one-mark ones, because the first mark of a sitting
 * wins most, and a sitting of one-mark questions is no practice for a paper. A topic that has rested counts for more, and the
 * longer until the exam the longer it should rest. From further off than LEARNER_NEXT_FORESEEN days gains are reckoned as if
 * the exam were so far away: every topic will be met again before, and over half a year a single visit seems to be worth
 * nothing, or less than nothing for a weak topic, which would then be left weak. Within a topic comes the question not met
 * yet, else the one left longest.
 * Pure: the caller says which questions are open. */
#ifndef OWNMARK_LEARNER_NEXT_H
#define OWNMARK_LEARNER_NEXT_H

#include "learner/plan.h"

#define LEARNER_NEXT_MARKS 3
#define LEARNER_NEXT_FORESEEN 28

/* A question that may be asked now. */
struct learner_open {
    size_t id;              /* the caller's number for the question */
    size_t topic;           /* its main topic, < topics of the course */
    moment met;             /* when it was last marked or left; NO_MOMENT neither */
    double attempted;       /* day (seconds / 86400) it was last marked, NaN never */
};

/* Of each topic, the question to ask. */
struct learner_next;
struct learner_next *learner_next_begin(const struct learner *learner);     /* which must outlive it */
void learner_next_free(struct learner_next *next);                          /* NULL is let through */

/* Of two questions of a topic that were met at the same time the one offered first stays. */
void learner_next_offer(struct learner_next *next, const struct learner_open *open);
void learner_next_forget(struct learner_next *next);        /* as if nothing had been offered */

struct learner_setting {
    moment now, exam;
    size_t previous_topic;      /* of the question before, LEARNER_NONE: none. Never twice running while another has something */
    double minutes_per_mark;    /* > 0 */
};
/* What the gain of a topic met `rested` days ago counts for, with `left` days to the exam: 1 - e^(-rested / T), T half of
 * them but at least a day; 1 when it was never met (rested NaN). The best wait grows with the time to the exam (Cepeda et al.
 * 2008); the half is tuned by simulation (docs/learner.md). */
double learner_next_rest(double rested, double left);

/* The topic where a block gains most, rest counted, and its question in `id`. Not found: nothing was offered, or only topics that are
 * not taught yet. */
struct learner_choice learner_next_choose(const struct learner_next *next, const struct learner_setting *setting);

/* The question kept for the lowest topic that has one, taught or not; LEARNER_NONE when nothing was offered. */
size_t learner_next_any(const struct learner_next *next);

#endif
