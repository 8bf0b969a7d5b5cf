/* One simulated student who practises by one way of choosing from the first day to the exam. Every way is given the same
 * minutes on the same days; a question costs its marks' minutes, and one that does not fit into what is left of them waits
 * for the next day, which then has more. */
#ifndef OWNMARK_TOOLS_SIMULATE_RUN_H
#define OWNMARK_TOOLS_SIMULATE_RUN_H

#include "learner/plan.h"
#include "simulate-theory.h"

enum { DAYS_MOST = 200 };

struct calendar {
    const char *name;
    size_t days;                    /* the exam is at 9 in the morning of this day; day 0 is a Monday */
    double minutes;                 /* of a study day */
    double missed;                  /* part of the study days on which nothing is done, the same for every way of choosing */
};

struct run;

/* A way of choosing. */
struct policy {
    const char *name;
    bool ours;
    void (*day_begins)(struct run *run);                /* NULL: nothing to do */
    size_t (*choose)(struct run *run);                  /* a question; LEARNER_NONE: stop for today */
};

struct run {
    const struct world *world;
    const struct person *person;
    const struct calendar *calendar;
    const struct policy *policy;
    struct memory memory;
    struct learner *learner;        /* what the program makes of the student's own marks */
    bool planned[DAYS_MOST];        /* days meant for study */
    bool studied[DAYS_MOST];        /* days on which it comes to pass */
    double exam;                    /* day */

    size_t today;
    double day;                     /* now */
    double balance;                 /* minutes left today */
    double used;                    /* minutes so far */
    double marks;                   /* marks met so far */
    size_t previous_topic;          /* today's question before this one, LEARNER_NONE */
    size_t done, done_today;        /* questions */
    double last[QUESTIONS_MOST];    /* day each was last answered, NaN never */
    unsigned times[QUESTIONS_MOST];
    bool asked[QUESTIONS_MOST];     /* today */
    double topic_last[TOPICS];      /* day a main topic was last met, NaN never */
    double claimed[TOPICS], offered[TOPICS];    /* marks by main topic, as the student ticks them */
    bool met_today[TOPICS];

    size_t *order;                  /* [questions]: shuffled */
    struct learner_block *blocks;   /* of the timetable, in order; day is a day of the calendar */
    size_t block_count, next_block;
    size_t planned_on;              /* day the timetable was made, LEARNER_NONE never */
};

/* Seconds for the learner: day 0 begins on a Monday. */
moment run_moment(double day);

void run_begin(struct run *run, const struct world *world, const struct person *person, const struct theory *theory,
               const struct calendar *calendar, const struct policy *policy);
bool run_day(struct run *run);              /* the next day, with its practice; false when the exam has come */
void run_answer(struct run *run, size_t question);
double run_minutes(const struct question *question);
void run_end(struct run *run);

/* Minutes all study days together gave. */
double run_allotted(const struct run *run);

/* Nobody may use more minutes than were given, nor leave as many as a question takes. */
bool run_minutes_are_fair(const struct run *run);

/* Expected marks at the exam, per cent. */
double run_marks(const struct run *run);

enum { POLICIES = 9, POLICY_NOTHING = 0, POLICY_GAIN = 1, POLICY_TIMETABLE = 2, FIRST_RIVAL = 3 };
extern const struct policy policies[POLICIES];
extern const struct policy policy_mixed;    /* for the forecast: by turns as the program chooses and in random order */

#endif
