/* Moments and days. A moment is int64 seconds since 1970-01-01T00:00:00Z; a day is a civil date in the
 * user's time zone, as days since 1970-01-01 (so day + 1 is always tomorrow, whatever the clocks do). */
#ifndef OWNMARK_BASE_DATES_H
#define OWNMARK_BASE_DATES_H

#include <stdbool.h>
#include <stdint.h>
#include "base/buffer.h"

typedef int64_t moment;
typedef int32_t day_number;

#define NO_MOMENT INT64_MIN
#define NO_DAY INT32_MIN

/* The present: the system's clock, or the moment set by --now plus the time elapsed since it was set. */
moment moment_now(void);
void moment_set_now(moment now);

/* Monotonic seconds for measuring how long something took; never goes back, counts while suspended. */
double clock_elapsed(void);

/* Reads "2026-05-18", "2026-05-18 14:30", "2026-05-18T14:30:05", with optional "Z" or "+01:00"
 * (default: local time; a date alone means 12:00 local). Years 1970 to 9999. False: not understood. */
bool moment_parse(const char *text, moment *result);
bool day_parse(const char *text, day_number *result);        /* "2026-05-18" or "18 May 2026" */

day_number day_of(moment when);                               /* the local civil date */
moment day_at(day_number day, int hour, int minute);          /* local; a time skipped by summer time moves on */
day_number day_from_civil(int year, int month, int day);      /* proleptic Gregorian */
void day_to_civil(day_number day, int *year, int *month, int *day_of_month);
int day_weekday(day_number day);                              /* 0 Monday … 6 Sunday */
const char *weekday_name(int weekday);                        /* "Monday" */

/* As a person writes them, in English: "Monday 18 May 2026", "18 May", "today", "tomorrow",
 * "in 3 days", "yesterday", "14:30", "6 minutes", "1 minute 30 seconds", "2 h 5 min". */
void add_day_long(struct buffer *out, day_number day);
void add_day_short(struct buffer *out, day_number day, day_number today);   /* names the year if not this one */
void add_day_relative(struct buffer *out, day_number day, day_number today);
void add_time_of_day(struct buffer *out, moment when);
void add_duration(struct buffer *out, double seconds);        /* rounded to what matters */
void add_day_iso(struct buffer *out, day_number day);         /* "2026-05-18" */
void add_iso(struct buffer *out, moment when);                /* "2026-05-18T13:30:00Z" */

#endif
