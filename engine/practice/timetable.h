/* Which topics on which day until the examination, made anew each time from the record.
 *
 * The learner fills the days' minutes with blocks of about 4 minutes so that most marks are gained on the exam day
 * (learner/plan.h). Each day then begins with the weakest of its topics, and no topic follows itself while there is
 * another. Nothing is kept of earlier timetables: a day that was missed is simply not there any more. But when study days
 * were missed in the last four weeks, what should not wait goes to today and to as many of the days to come as are likely to
 * be kept; the others are then filled too. */
#ifndef OWNMARK_PRACTICE_TIMETABLE_H
#define OWNMARK_PRACTICE_TIMETABLE_H

#include "bank/bank.h"
#include "learner/plan.h"
#include "practice/hours.h"
#include "practice/standing.h"

enum {
    TIMETABLE_PLANNED_DAYS = 200,   /* half a year and some weeks: an exam further away is planned for as if it were this far */
    TIMETABLE_WHOLE_DAYS = 35,      /* up to this far from the exam every day is laid out … */
    TIMETABLE_NEXT_DAYS = 28,       /* … and from further away these, unless all are asked for */
    TIMETABLE_BLOCK_MINUTES = 4
};

struct timetable_part { size_t topic; int minutes; };   /* a learner topic */

struct timetable_sitting {
    moment start, end;
    const struct timetable_part *parts;     /* each topic once, in the order it is first met */
    size_t part_count;
};

struct timetable_day {
    day_number day;
    int minutes;                            /* > 0; without the breaks */
    size_t missed;                          /* missed points to look at again: due by this day and not placed on one before;
                                             * one, or as many as take half of the minutes */
    const struct timetable_part *parts;     /* of the whole day */
    size_t part_count;
    const struct timetable_sitting *sittings;
    size_t sitting_count;
    size_t sittings_before;                 /* of today: those that are done, so that the others keep their numbers */
};

struct timetable {
    moment began;                           /* the record's beginning, NO_MOMENT when there is none: tells students apart */
    day_number today, exam;
    day_number last;                        /* the last day that was looked at: the day before the exam, or earlier */
    const struct timetable_day *days;       /* only those with work, ascending */
    size_t count;
    int wanted_today;                       /* minutes set for today */
    int done_today;                         /* minutes' worth of marks answered today, 4 minutes for 2.4 marks */
    long later_days, later_minutes;         /* study after `last` */
    size_t untold;                          /* the topic met first whose taught date would help most: never practised and
                                             * no date known; LEARNER_NONE */
};

/* The exam's day by the settings; NO_DAY when none is set. May have passed. */
day_number timetable_exam(struct record *record, const char *bank, struct arena *arena);

/* Lays out the days from `now` to the day before `exam`, which is not before today; `all`: every day that is planned. All in
 * arena. False with a message when the record cannot be read. */
bool timetable_make(struct record *record, const struct bank *bank, const struct standing *standing, moment now,
                    day_number exam, bool all, struct arena *arena, struct timetable *timetable, struct messages *messages);

/* Minutes of each topic in a run of blocks that share `minutes` as evenly as whole minutes go: each topic once, in the
 * order it is first met. parts holds block_count entries. Returns how many were used. */
size_t timetable_parts(const struct learner_block *blocks, size_t block_count, int minutes, struct timetable_part *parts);

/* Whole minutes of the day's first sitting that its missed points take, reckoned as one mark each. */
long timetable_missed_minutes(const struct timetable_day *day);

/* The topic of the course behind a part. */
const struct topic *timetable_topic(const struct bank *bank, const struct standing *standing, size_t topic);

/* "Waves 12 min; Shore 8 min", with `unit` " min". */
void timetable_add_parts(struct buffer *out, const struct bank *bank, const struct standing *standing,
                         const struct timetable_part *parts, size_t count, const char *unit);

#endif
