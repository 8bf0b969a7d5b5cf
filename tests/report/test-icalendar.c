/* The writer of calendar files. What is expected follows RFC 5545, sections 3.1 (folding at 75 octets), 3.3.11 (escapes)
 * and 3.3.5 (UTC times); the lines were written down by hand from there. */
#include <criterion/criterion.h>
#include <libical/ical.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "base/random.h"
#include "base/text.h"
#include "report/icalendar.h"

static void write_event(struct buffer *out, const char *summary, const char *description)
{
    icalendar_add_event(out, &(struct icalendar_event){
        .uid = "a-1@test", .sequence = 7, .stamp = 0, .start = 1774800000, .end = 1774801200,
        .summary = summary, .description = description});
}

static void expect_summary(const char *summary, const char *line)
{
    struct buffer out = BUFFER_EMPTY;
    write_event(&out, summary, NULL);
    const char *from = strstr(buffer_text(&out), "SUMMARY:"), *to = strstr(from, "\r\nEND:VEVENT") + 2;
    size_t length = (size_t)(to - from);
    cr_expect(length == strlen(line) && strncmp(from, line, length) == 0, "got\n%.*s\nwant\n%s", (int)length, from, line);
    buffer_free(&out);
}

/* 1774800000 is 2026-03-29T16:00:00Z: computed by GNU date 9.1. */
Test(report, icalendar_file_as_a_whole)
{
    struct buffer out = BUFFER_EMPTY;
    icalendar_begin(&out, "-//test//a, b//EN");
    write_event(&out, "Waves", "8 minutes");
    icalendar_end(&out);
    cr_expect_str_eq(buffer_text(&out), "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//test//a\\, b//EN\r\nBEGIN:VEVENT\r\n"
                                        "UID:a-1@test\r\nSEQUENCE:7\r\nDTSTAMP:19700101T000000Z\r\n"
                                        "LAST-MODIFIED:19700101T000000Z\r\n"
                                        "DTSTART:20260329T160000Z\r\nDTEND:20260329T162000Z\r\nSUMMARY:Waves\r\n"
                                        "DESCRIPTION:8 minutes\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n");
    buffer_free(&out);
}

Test(report, icalendar_escapes_what_has_a_meaning)
{
    expect_summary("a, b; c\\d: \"e\"", "SUMMARY:a\\, b\\; c\\\\d: \"e\"\r\n");
    expect_summary("one\ntwo\r\nthree\rfour", "SUMMARY:one\\ntwo\\nthree\\nfour\r\n");
    expect_summary("", "SUMMARY:\r\n");
}

Test(report, icalendar_hostile_text_starts_no_line_of_its_own)
{
    expect_summary("x\r\nEND:VEVENT\r\nATTACH:file:///etc/passwd", "SUMMARY:x\\nEND:VEVENT\\nATTACH:file:///etc/passwd\r\n");
    expect_summary("\033[2J\177\302\233", "SUMMARY:<U+001B>[2J<U+007F><U+009B>\r\n");
    expect_summary("\342\200\250\342\200\256\377", "SUMMARY:<U+2028><U+202E><0xFF>\r\n");
}

Test(report, icalendar_folds_at_seventy_five_octets)
{
    char text[] = "0123456789012345678901234567890123456789012345678901234567890123456";     /* 67 and "SUMMARY:" are 75 */
    char line[128];
    snprintf(line, sizeof line, "SUMMARY:%s\r\n", text);
    expect_summary(text, line);
    snprintf(line, sizeof line, "SUMMARY:%s\r\n x\r\n", text);
    expect_summary("0123456789012345678901234567890123456789012345678901234567890123456x", line);
}

/* The two octets of U+00E9 would be the 75th and 76th: the character goes to the next line whole. */
Test(report, icalendar_folds_no_character_in_two)
{
    expect_summary("012345678901234567890123456789012345678901234567890123456789012345\303\251z",
                   "SUMMARY:012345678901234567890123456789012345678901234567890123456789012345\r\n \303\251z\r\n");
    expect_summary("0123456789012345678901234567890123456789012345678901234567890123\360\237\214\212",
                   "SUMMARY:0123456789012345678901234567890123456789012345678901234567890123\r\n \360\237\214\212\r\n");
}

/* ---- Whatever the text -------------------------------------------------------------------------- */

static void add_random_text(struct buffer *text, struct random_source *source)
{
    static const char *const pieces[] = {"a", " ", ",", ";", "\\", "\n", "\303\251", "\342\202\254", "\360\237\214\212"};
    size_t length = random_below(source, 400);
    for (size_t i = 0; i < length; i++)
        buffer_add(text, pieces[random_below(source, sizeof pieces / sizeof *pieces)]);
}

/* A reader's side, written from the RFC: lines are joined, each checked on the way, and escapes undone. */
static void read_back(const char *from, const char *to, struct buffer *text)
{
    struct buffer joined = BUFFER_EMPTY;
    while (from < to) {
        const char *end = strstr(from, "\r\n");
        cr_assert(end && end - from <= 75, "a line of %d octets", (int)(end - from));
        cr_assert(text_is_valid(from, (size_t)(end - from)), "a character was cut");
        const char *content = joined.length ? from + 1 : from;
        buffer_add_bytes(&joined, content, (size_t)(end - content));
        from = end + 2;
        cr_assert(from == to || *from == ' ');
    }
    for (const char *at = buffer_text(&joined) + strlen("SUMMARY:"); *at; at++) {
        bool escaped = *at == '\\';
        at += escaped;
        buffer_add_character(text, escaped && *at == 'n' ? '\n' : *at);
    }
    buffer_free(&joined);
}

Test(report, icalendar_any_text_reads_back)
{
    const char *asked = getenv("OWNMARK_SEED");
    uint64_t seed = asked ? strtoull(asked, NULL, 10) : 5545;
    struct random_source source = {seed};
    cr_log_info("seed %llu", (unsigned long long)seed);
    for (int round = 0; round < 300; round++) {
        struct buffer text = BUFFER_EMPTY, out = BUFFER_EMPTY, again = BUFFER_EMPTY;
        add_random_text(&text, &source);
        write_event(&out, buffer_text(&text), NULL);
        const char *from = strstr(buffer_text(&out), "SUMMARY:");
        read_back(from, buffer_text(&out) + out.length - strlen("END:VEVENT\r\n"), &again);
        cr_assert_str_eq(buffer_text(&again), buffer_text(&text), "OWNMARK_SEED=%llu", (unsigned long long)seed);
        buffer_free(&text);
        buffer_free(&out);
        buffer_free(&again);
    }
}

static void add_framed_text(struct buffer *text, struct random_source *source)
{
    buffer_add(text, "<");
    add_random_text(text, source);
    buffer_add(text, ">");
}

/* The same by an independent reader: libical 3.0.16, which drops spaces at both ends of a value, hence the frame. */
Test(report, icalendar_any_text_is_read_by_libical)
{
    const char *asked = getenv("OWNMARK_SEED");
    uint64_t seed = asked ? strtoull(asked, NULL, 10) : 2445;
    struct random_source source = {seed};
    for (int round = 0; round < 100; round++) {
        struct buffer summary = BUFFER_EMPTY, description = BUFFER_EMPTY, out = BUFFER_EMPTY;
        add_framed_text(&summary, &source);
        add_framed_text(&description, &source);
        icalendar_begin(&out, "-//test//a, b//EN");
        write_event(&out, buffer_text(&summary), buffer_text(&description));
        icalendar_end(&out);
        icalcomponent *calendar = icalparser_parse_string(buffer_text(&out));
        cr_assert(calendar && icalcomponent_count_errors(calendar) == 0, "OWNMARK_SEED=%llu", (unsigned long long)seed);
        icalcomponent *event = icalcomponent_get_first_component(calendar, ICAL_VEVENT_COMPONENT);
        cr_assert_str_eq(icalcomponent_get_summary(event), buffer_text(&summary));
        cr_assert_str_eq(icalcomponent_get_description(event), buffer_text(&description));
        cr_assert_eq((int64_t)icaltime_as_timet(icalcomponent_get_dtstart(event)), 1774800000);
        icalcomponent_free(calendar);
        buffer_free(&summary);
        buffer_free(&description);
        buffer_free(&out);
    }
}
