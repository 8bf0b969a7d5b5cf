#include "report/icalendar.h"

#include <assert.h>
#include <string.h>

#include "base/text.h"

enum { LINE_OCTETS = 75, SEQUENCE_MOST = 2147483647 };

static bool continues_character(char byte)
{
    return ((unsigned char)byte & 0xC0) == 0x80;
}

/* The space that starts a further line counts towards its 75 octets. */
static void add_folded(struct buffer *out, const char *line, size_t length)
{
    size_t room = LINE_OCTETS;
    while (length > room) {
        size_t taken = room;
        while (taken > 1 && continues_character(line[taken]))
            taken--;
        buffer_add_bytes(out, line, taken);
        buffer_add(out, "\r\n ");
        line += taken;
        length -= taken;
        room = LINE_OCTETS - 1;
    }
    buffer_add_bytes(out, line, length);
    buffer_add(out, "\r\n");
}

/* A line break is one, whichever way it was written; what else a reader might obey is made visible. */
static void add_escaped(struct buffer *out, const char *text)
{
    struct buffer broken = BUFFER_EMPTY, safe = BUFFER_EMPTY;
    for (; *text; text++) {
        if (*text == '\r' && text[1] == '\n')
            continue;
        buffer_add_character(&broken, *text == '\r' ? '\n' : *text);
    }
    text_add_safe(&safe, buffer_text(&broken));
    for (const char *at = buffer_text(&safe); *at; at++) {
        if (strchr("\\;,", *at))
            buffer_add_character(out, '\\');
        if (*at == '\n')
            buffer_add(out, "\\n");
        else
            buffer_add_character(out, *at);
    }
    buffer_free(&broken);
    buffer_free(&safe);
}

static void add_text(struct buffer *out, const char *name, const char *text)
{
    struct buffer line = BUFFER_EMPTY;
    buffer_print(&line, "%s:", name);
    add_escaped(&line, text);
    add_folded(out, buffer_text(&line), line.length);
    buffer_free(&line);
}

/* "20260518T133000Z": the ISO form without its separators. */
static void add_moment(struct buffer *out, const char *name, moment when)
{
    struct buffer iso = BUFFER_EMPTY;
    add_iso(&iso, when);
    buffer_print(out, "%s:", name);
    for (const char *at = buffer_text(&iso); *at; at++)
        if (!strchr("-:", *at))
            buffer_add_character(out, *at);
    buffer_add(out, "\r\n");
    buffer_free(&iso);
}

void icalendar_begin(struct buffer *out, const char *product)
{
    buffer_add(out, "BEGIN:VCALENDAR\r\nVERSION:2.0\r\n");
    add_text(out, "PRODID", product);
}

void icalendar_add_event(struct buffer *out, const struct icalendar_event *event)
{
    assert(event->start < event->end);
    assert(event->sequence >= 0 && event->sequence <= SEQUENCE_MOST);
    buffer_add(out, "BEGIN:VEVENT\r\n");
    add_text(out, "UID", event->uid);
    buffer_print(out, "SEQUENCE:%ld\r\n", event->sequence);
    add_moment(out, "DTSTAMP", event->stamp);
    add_moment(out, "LAST-MODIFIED", event->stamp);
    add_moment(out, "DTSTART", event->start);
    add_moment(out, "DTEND", event->end);
    add_text(out, "SUMMARY", event->summary);
    if (event->description)
        add_text(out, "DESCRIPTION", event->description);
    buffer_add(out, "END:VEVENT\r\n");
}

void icalendar_end(struct buffer *out)
{
    buffer_add(out, "END:VCALENDAR\r\n");
}
