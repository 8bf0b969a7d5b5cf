/* A timetable as a calendar file (report/icalendar.h): an event a sitting. The uid is made of the bank, the day, the
 * sitting's number in it and the record's beginning (two students may share a calendar), and the sequence rises with the
 * minutes since 1970, so that importing a newer file puts the sittings in the place of the older ones. */
#ifndef OWNMARK_PRACTICE_CALENDAR_H
#define OWNMARK_PRACTICE_CALENDAR_H

#include "practice/timetable.h"

/* Appended to out; the timetable has at least one day. */
void calendar_write(const struct bank *bank, const struct standing *standing, const struct timetable *timetable, moment now,
                    struct buffer *out);

#endif
