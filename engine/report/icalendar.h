/* Writing a calendar file (RFC 5545), appended to a buffer: begin, events, end.
 *
 * Times are written as UTC instants (form 2 of section 3.3.5), so that no table of time zones is needed and a reader
 * shows them on its own clock, before and after a change of the clocks. Text is made safe first (text_add_safe), then
 * escaped (3.3.11), and lines are folded at 75 octets (3.1), never inside a UTF-8 character. Lines end with CR LF. */
#ifndef OWNMARK_REPORT_ICALENDAR_H
#define OWNMARK_REPORT_ICALENDAR_H

#include "base/buffer.h"
#include "base/dates.h"

struct icalendar_event {
    const char *uid;            /* the same for the same event in every file: a reader then replaces what it has */
    long sequence;              /* 0 … 2147483647, rising when the event is written anew */
    moment stamp;               /* when the file is made */
    moment start, end;          /* start < end; years 1970 to 9999 */
    const char *summary;        /* one line; a newline in it is kept as such */
    const char *description;    /* NULL: none */
};

void icalendar_begin(struct buffer *out, const char *product);     /* "-//maker//product version//EN" */
void icalendar_add_event(struct buffer *out, const struct icalendar_event *event);
void icalendar_end(struct buffer *out);

#endif
