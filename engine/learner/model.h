/* The learner model: from self-marked points to the marks a student would earn now, or on the exam day.
 *
 * A diagonal logistic filter with power-law forgetting. Every effect (the course, a unit, a topic, an
 * objective, a command word) has a mean and a variance on the log-odds scale; a marking point is the sum
 * of five effects, less what was forgotten, less its difficulty. The formulae, the source of every
 * constant and the limits are in docs/learner.md.
 *
 * Pure arithmetic: the same calls in the same order give the same bits. Cost of an attempt does not grow
 * with the length of the log. Time is a `moment` (whole seconds) at the doors and days (seconds / 86400)
 * in the state. Gaps are held to 0 … 3650 days, so a clock that went back gives a gap of 0. */
#ifndef OWNMARK_LEARNER_MODEL_H
#define OWNMARK_LEARNER_MODEL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "base/dates.h"

#define LEARNER_UNKNOWN NO_MOMENT  /* a topic whose taught date nobody gave */
#define LEARNER_NONE SIZE_MAX      /* no command word; no filter; no previous topic */

/* What a standing may be shown for (docs/learner.md, "What is shown when"). */
#define LEARNER_TOPIC_MARKS 3.0       /* below: "too little evidence" for a topic */
#define LEARNER_TOTAL_ATTEMPTS 20.0   /* below: no total for the course */

/* ---- What is known before the first mark --------------------------------------------------------- */

/* What an objective asks in general terms; its number is not portable between subjects. */
enum learner_objective_kind { LEARNER_KNOW, LEARNER_APPLY, LEARNER_ANALYSE };

/* The course as the model sees it. Topics are the examined leaves; a unit is a main topic. */
struct learner_course {
    size_t units, topics, objectives, words;    /* units, topics, objectives >= 1; words may be 0 */
    const size_t *unit;             /* [topics]: 0 … units - 1 */
    const double *share;            /* [topics]: part of the exam's marks, >= 0; normally add up to 1 */
    const double *mix;              /* [objectives]: part of the exam's marks, >= 0; normally add up to 1 */
    const enum learner_objective_kind *kind;    /* [objectives] */
    const moment *taught;           /* [topics]: when it was or will be taught, or LEARNER_UNKNOWN; NULL: all unknown */
};

/* The constants are a field of the learner, so that a student can have their own (phi first: it is the one
 * that matters, and forgetting differs between people). L: literature or judgement. S: tuned on simulated
 * students, rounded. Variances and means are in log-odds, times in days. */
struct learner_constants {
    double course_mean;             /* S  m0: just after practice */
    double know_mean;               /* S  ao1: prior mean of an objective of kind KNOW */
    double apply_mean;              /* S  ao2 */
    double analyse_mean;            /* S  ao3 */
    double course_variance;         /* S  vC */
    double unit_variance;           /* S  vU */
    double topic_variance;          /* S  vT */
    double objective_variance;      /* S  vA */
    double word_variance;           /* S  vW */
    double model_variance;          /* S  vM: misfit of the model itself, in intervals only */
    double growth;                  /* S  q: topic variance a day without practice, capped at 1.5 vT */
    double forgetting;              /* S  phi: log-odds lost for each factor e of 1 + gap / tau */
    double forgetting_scale;        /* L  tau (power law: Wixted; Anderson & Schooler) */
    double slowing;                 /* S  gam: a unit of strength slows forgetting by this much */
    double practice_gain;           /* S  g: log-odds for a unit of effective practice */
    double freshness_used;          /* S  kap: part of the freshness that one mark uses up */
    double freshness_days;          /* S  ts: recovery */
    double unseen_gap;              /* L  d0: assumed for an unseen topic without a taught date */
    double difficulty_weight;       /* S  wd: of the author's rating */
    double repeat_gain;             /* S  rb: meeting the very same question again */
    double repeat_days;             /* L  rt: how long that memory lasts */
    double over_marks, over_of;     /* L  oa / on: Beta prior, unearned marks claimed */
    double under_marks, under_of;   /* L  ua / un: Beta prior, earned marks not claimed */
    double exam_error;              /* S  e0: model error of the exam share */
    double exam_error_growth;       /* S  e1: times the square root of days ahead */
};

extern const struct learner_constants learner_standard_constants;

/* ---- The state ----------------------------------------------------------------------------------- */

/* Effects are numbered: 0 the course; units; topics; objectives; command words, each in course order. */
size_t learner_unit_effect(const struct learner_course *course, size_t unit);
size_t learner_topic_effect(const struct learner_course *course, size_t topic);
size_t learner_objective_effect(const struct learner_course *course, size_t objective);
size_t learner_word_effect(const struct learner_course *course, size_t word);

/* All that was learnt is in `state`, one array of `size` doubles; the other pointers are windows into it,
 * in this order. Read freely; write through the functions. An index keeps its meaning as long as the
 * course keeps its counts and order; after a change of course, rebuild from the log. */
struct learner {
    struct learner_course course;       /* the learner's own copy */
    struct learner_constants constants; /* set at learner_new; after a change, reset and replay */
    size_t effects;                     /* 1 + units + topics + objectives + words */
    double *state;
    size_t size;                        /* 3 effects + 4 topics + 6 */

    double *mean;                       /* [effects] log-odds */
    double *variance;                   /* [effects] > 0 */
    double *evidence;                   /* [effects] marks on offer seen so far that bore on this effect */
    double *last;                       /* [topics] day of the last practice; NaN never */
    double *grown;                      /* [topics] day up to which variance growth is counted; NaN never */
    double *strength;                   /* [topics] effective practice so far, >= 0 */
    double *freshness;                  /* [topics] 0 … 1, as left by the last practice */
    double *seen;                       /* [1] day of the latest attempt; NaN none */
    double *bias;                       /* [4] oa, on, ua, un: prior and moderated pairs */
    double *attempts;                   /* [1] how many attempts were taken in */

    size_t *touched;                    /* indices of state written since the last learner_forget_touched, */
    size_t touched_count;               /* each once, in order of first writing */
    unsigned char *is_touched;          /* [size] */
};

/* A learner at the priors; the course is copied; constants NULL means the standard ones. NULL when the
 * course cannot be used (a count of 0, an index out of range, a share that is negative or not finite) or a
 * constant is not finite. Freed by learner_free (NULL is let through). */
struct learner *learner_new(const struct learner_course *course, const struct learner_constants *constants);
void learner_free(struct learner *learner);

/* Back to the priors, moderated pairs included; everything counts as touched. To rebuild: reset, then
 * every learner_moderated_pair in log order, then every learner_attempt in log order. */
void learner_reset(struct learner *learner);

/* Puts a stored entry back. False, and nothing changed, when the index or the value is impossible. Does
 * not touch: after loading every entry the learner goes on bit for bit as the one that was stored. */
bool learner_load(struct learner *learner, size_t index, double value);

/* Starts a new list of touched entries: call it once they are stored. */
void learner_forget_touched(struct learner *learner);

/* What an index of state stands for, for a store that keys entries by the ids of the course instead of by
 * number. Fields LAST to FRESHNESS have scope TOPIC; from SEEN on the scope is COURSE; the first three have
 * any scope. `which` is the number within the scope, 0 for COURSE. */
enum learner_field {
    LEARNER_MEAN, LEARNER_VARIANCE, LEARNER_EVIDENCE,
    LEARNER_LAST, LEARNER_GROWN, LEARNER_STRENGTH, LEARNER_FRESHNESS,
    LEARNER_SEEN, LEARNER_OVER, LEARNER_OVER_OF, LEARNER_UNDER, LEARNER_UNDER_OF, LEARNER_ATTEMPTS
};
enum learner_scope { LEARNER_COURSE, LEARNER_UNIT, LEARNER_TOPIC, LEARNER_OBJECTIVE, LEARNER_WORD };
struct learner_entry {
    enum learner_field field;
    enum learner_scope scope;
    size_t which;
};
struct learner_entry learner_entry_at(const struct learner *learner, size_t index);       /* index < size */
size_t learner_entry_index(const struct learner *learner, struct learner_entry entry);    /* LEARNER_NONE: no such entry */

/* ---- Learning ------------------------------------------------------------------------------------ */

/* One marking point as marked. */
struct learner_mark {
    size_t topic, objective;
    size_t word;            /* LEARNER_NONE: the part has no command word */
    double difficulty;      /* the author's rating in log-odds, 0 average, + harder; 0 if unrated */
    double got, maximum;    /* marks; got is held to 0 … maximum */
    double moderated;       /* the teacher's mark, NaN if none: it replaces got and is taken as right */
};

/* Takes in one attempt at one question: all evidence first, then all practice, points in order.
 * *question_last is the day (seconds / 86400) this very question was last attempted, NaN never; it is
 * moved forward to this attempt and the caller keeps it. False, and nothing changed at all, when a number
 * is not finite, a maximum is not above 0 or a tag is unknown. count 0 counts as an attempt without marks. */
bool learner_attempt(struct learner *learner, moment when, double *question_last,
                     const struct learner_mark *marks, size_t count);

/* Counts one moderated point towards the marking bias, from now on; for the past, replay. Marks outside
 * 0 … maximum are held to it. False when a number is not finite or maximum is not above 0. */
bool learner_moderated_pair(struct learner *learner, double own, double teacher, double maximum);

/* The chance that an unearned mark is claimed (0 … 0.6) and that an earned one is not (0 … 0.2). */
void learner_marking_bias(const struct learner *learner, double *over, double *under);

/* ---- Reading the standing ------------------------------------------------------------------------ */

/* Reading changes nothing. Tags must be in range (a bug otherwise). */
struct learner_estimate {
    double share;           /* expected part of the marks, in (0, 1) */
    double low80, high80;   /* 80 % interval of the share */
    double logit, sd;       /* centre and standard deviation behind the interval, log-odds */
};

struct learner_total {
    double share, sd;       /* expected part of the exam's marks, and its standard deviation */
    double low80, high80;   /* share -/+ 1.2816 sd, held to 0 … 1 */
};

/* The chance of earning a marking point (got, maximum and moderated are not read). */
double learner_point(const struct learner *learner, const struct learner_mark *mark, moment when,
                     double question_last);

/* An average mark of a topic: objectives in the exam's mix, no command word, average difficulty. */
struct learner_estimate learner_topic(const struct learner *learner, size_t topic, moment when);

/* The whole exam as if sat at `when`, past or future: what all papers that could be set would bring on average. */
struct learner_total learner_exam(const struct learner *learner, moment when);

/* One paper of `marks` (> 0) marks: the same share, and an interval that allows for the luck of the paper too. */
struct learner_total learner_paper(const struct learner *learner, moment when, double marks);

/* A part of the whole course; LEARNER_NONE leaves that side open. Topics (of the unit) weigh by their
 * shares (equally when these add up to 0); with an objective every mark is of that objective, otherwise
 * the exam's mix; with a word its effect is added. The share is the weighted mean of the topics' shares;
 * its variance comes from the same first-order approximation as the exam's and is carried to the log-odds
 * by the slope p(1 - p), where the topic's whole model variance is added: rather too wide than too narrow,
 * for nobody measured it. low80 < share < high80 always. */
struct learner_slice { size_t unit, objective, word; };
struct learner_estimate learner_across(const struct learner *learner, struct learner_slice slice, moment when);
struct learner_estimate learner_unit(const struct learner *learner, size_t unit, moment when);
struct learner_estimate learner_objective(const struct learner *learner, size_t objective, moment when);
struct learner_estimate learner_word(const struct learner *learner, size_t word, moment when);

/* Three bands for a share, and none where the evidence is too thin to name one. The limits, 40 % and 70 %,
 * are common practice, no source. `marks` is the evidence behind the estimate. */
enum learner_band { LEARNER_NO_EVIDENCE, LEARNER_LOW, LEARNER_MIDDLE, LEARNER_HIGH };
enum learner_band learner_band_of(double share, double marks);

/* 1 / (1 + e^-x) without overflow, for any x. */
double learner_logistic(double x);

#endif
