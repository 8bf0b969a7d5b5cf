/* A timetable over a bank and a record of its own, for tests. */
#ifndef OWNMARK_TESTS_PRACTICE_PLAN_TRIAL_H
#define OWNMARK_TESTS_PRACTICE_PLAN_TRIAL_H

#include <criterion/criterion.h>

#include "practice/timetable.h"

struct plan_trial {
    char folder[64], path[96];
    struct bank *bank;
    struct record *record;
    struct standing standing;
    struct arena *arena;
    struct messages messages;
    struct timetable table;
    moment now;
};

/* zone: as in TZ. The bank is banks/coastal-science.xml unless another is named. */
void plan_begin(struct plan_trial *trial, const char *bank, const char *zone);
void plan_set(struct plan_trial *trial, const char *name, const char *value);       /* a setting */
void plan_every_day(struct plan_trial *trial, const char *minutes);
/* Makes the timetable as of that local day and minute. */
void plan_make(struct plan_trial *trial, day_number day, int minute, bool all);
/* `marks` points of one mark on the bank's first question, all earned or all lost, on that day and minute. */
void plan_practise(struct plan_trial *trial, day_number day, int minute, size_t marks);
void plan_miss(struct plan_trial *trial, day_number day, int minute, size_t marks);
const struct timetable_day *plan_day(const struct plan_trial *trial, day_number day);    /* NULL: nothing on it */
void plan_end(struct plan_trial *trial);

#endif
