/* How much of the course has been met, and by when the rest will be. */
#ifndef OWNMARK_PRACTICE_COVERAGE_H
#define OWNMARK_PRACTICE_COVERAGE_H

#include "bank/model.h"
#include "base/arena.h"
#include "record/record.h"
#include "report/page.h"

/* So many days have to pass from the first marked question before a pace is told (judgement, no source). */
enum { COVERAGE_PACE_DAYS = 14 };

/* Topics are the leaves of the course. Met: a question on it was marked. Twice: on two different days. */
struct coverage {
    size_t topics, once, twice;
    double share_once, share_twice;     /* their part of the paper's marks, 0 to 1 */
    const int *never;                   /* course topics not met yet, in course order */
    size_t never_count;
    day_number once_by, twice_by;       /* all topics, at the pace so far; NO_DAY: done, or too early to say */
};

/* tallies: of TALLY_TOPIC; those of topics the course no longer has are passed over. In arena. */
void coverage_of(const struct course *course, const struct tally *tallies, size_t count, day_number today,
                 struct arena *arena, struct coverage *coverage);

/* A short section. exam: NO_DAY when it is not known or over. */
void coverage_show(struct page *page, const struct course *course, const struct coverage *coverage, day_number today,
                   day_number exam);

/* "in 25 weeks", "in 9 days", "tomorrow", "today": as far off as it helps to know. */
void add_days_ahead(struct buffer *out, day_number day, day_number today);

#endif
