/* The hours a student gives to practice: minutes for each weekday, when the day's first sitting starts, days off.
 *
 * Minutes of a day make sittings of at most 45 minutes with 10 minutes between them, and the last one ends at 21:00 or
 * before. (About 45 minutes and then a break: an examination authority's advice to pupils; the length of the break and
 * the end of the day are common practice, no source.) Minutes of the day count from midnight as the clock shows it. */
#ifndef OWNMARK_PRACTICE_HOURS_H
#define OWNMARK_PRACTICE_HOURS_H

#include <stdbool.h>
#include <stddef.h>
#include "base/arena.h"
#include "base/buffer.h"
#include "base/dates.h"
#include "record/record.h"

enum {
    HOURS_SITTING_MOST = 45,
    HOURS_BREAK = 10,
    HOURS_END = 21 * 60,
    HOURS_START_LEAST = 6 * 60, HOURS_START_MOST = 20 * 60 + 30, HOURS_START_USUAL = 16 * 60 + 30,
    SITTING_MINUTES_USUAL = 30,     /* of practise, when nothing else is said */
    HOURS_SCHOOL_DAY = 20,          /* usual minutes, Monday to Friday; none at the weekend */
    HOURS_MINUTES_MOST = 600,
    HOURS_SITTINGS_MOST = 20        /* a whole day of the longest kind has fewer */
};

#define SETTING_START "start"
#define SETTING_DAYS_OFF "days-off"

struct day_range { day_number first, last; };

struct hours {
    int minutes[7];                 /* 0 Monday … 6 Sunday */
    int start;                      /* minute of the day */
    const struct day_range *off;
    size_t off_count;
};

const char *hours_setting(int weekday);     /* "minutes-monday" */

/* "16:30", from 06:00 to 20:30. */
bool hours_parse_start(const char *text, int *minute);
/* "2027-04-02..2027-04-06 2027-05-03": dates and ranges, each in ISO form, the first not after the last. An empty list is
 * refused. In arena. */
bool hours_parse_days_off(const char *text, struct arena *arena, struct day_range **ranges, size_t *count);
void hours_add_days_off(struct buffer *out, const struct day_range *ranges, size_t count);    /* as it is parsed */

/* By the settings of the bank and the usual values; record NULL: the usual values. A setting that cannot be read counts
 * as not set. */
struct hours hours_read(struct record *record, const char *bank, struct arena *arena);

int hours_on(const struct hours *hours, day_number day);    /* 0 on a day off */

/* The most of `minutes` that ends by 21:00 with its breaks when the first sitting starts at minute `from`. */
int hours_that_fit(int from, int minutes);

/* How few sittings `minutes` (>= 0) make. */
int hours_sitting_count(int minutes);

/* A sitting of a day: where it starts and how long it is, and which of the day's blocks of work it takes. */
struct hours_sitting { int from, minutes; size_t first_block, block_count; };

/* Parts a day's minutes (as given by hours_that_fit, > 0) evenly, whole minutes, into as few sittings as may be, and
 * `blocks` (at least one a sitting) among them. Returns how many. */
size_t hours_sittings(int from, int minutes, size_t blocks, struct hours_sitting sittings[HOURS_SITTINGS_MOST]);

#endif
