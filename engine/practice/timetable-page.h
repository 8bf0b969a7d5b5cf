/* A timetable for the student to read: today with the first step, then a table for each week. */
#ifndef OWNMARK_PRACTICE_TIMETABLE_PAGE_H
#define OWNMARK_PRACTICE_TIMETABLE_PAGE_H

#include "practice/timetable.h"
#include "report/page.h"

struct timetable_view {
    const struct bank *bank;
    const struct standing *standing;
    const struct timetable *table;
    moment now;
    const char *calendar;       /* the calendar file that was written; NULL */
};

void timetable_show(struct page *page, const struct timetable_view *view);

#endif
