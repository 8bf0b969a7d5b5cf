/* ownmark missed over a record with many points under one heading. */
#include "program.h"

#include <stdio.h>
#include <string.h>

#include "record/record.h"

#define BANK_FILE "tests/data/cycle.xml"
enum { POINTS_MOST = 13 };

static void append(struct record *record, struct event *event)
{
    struct messages messages = MESSAGES_EMPTY;
    event->bank = "cycle";
    event->at = day_at(day_from_civil(2026, 11, 20), 16, 0);
    cr_assert(record_append(record, event, 1, &messages));
}

/* One question with so many points of a mark, all lost. */
static void lose(const struct home *home, size_t count)
{
    static const char course_lines[] = "topic\twaves\twaves\t50\ntopic\tshore\tshore\t50\nobjective\tAO1\tknow\t100\n";
    struct messages messages = MESSAGES_EMPTY;
    struct record *record = record_open(home->record, RECORD_WRITE, &messages);
    struct event course = event_blank(EVENT_COURSE_SEEN), sitting = event_blank(EVENT_SITTING_OPENED);
    struct event opened = event_blank(EVENT_QUESTION_OPENED), marked = event_blank(EVENT_QUESTION_MARKED);
    struct mark_row marks[POINTS_MOST];
    char hash[33], items[POINTS_MOST][24];
    cr_assert(record && record_keep_content(record, "course", hash, &messages));
    course.text = course_lines;
    course.content = sitting.content = opened.content = hash;
    append(record, &course);
    append(record, &sitting);
    opened.sitting = marked.sitting = sitting.sequence;
    opened.item = "sum";
    opened.number = 0;
    append(record, &opened);
    for (size_t i = 0; i < count; i++) {
        snprintf(items[i], sizeof items[i], "a.%zu", i + 1);
        marks[i] = (struct mark_row){.part = "a", .item = items[i], .topic = "waves", .objective = "AO1", .first = 0, .maximum = 1};
    }
    marked.script = opened.sequence;
    marked.marks = marks;
    marked.mark_count = count;
    append(record, &marked);
    record_close(record);
}

static size_t count_points(const struct buffer *output)
{
    size_t count = 0;
    for (const char *at = buffer_text(output); (at = strstr(at, "- sum (a): ")); at++)
        count++;
    return count;
}

static void expect_points(size_t lost, const char *option, size_t listed, const char *more)
{
    struct home home;
    struct buffer output = BUFFER_EMPTY;
    home_make(&home);
    lose(&home, lost);
    const char *words[] = {"missed", BANK_FILE, "--now", "2026-11-25T18:00", "--record", home.record, option, NULL};
    cr_assert_eq(program_run(&home, words, "", &output), 0, "%s", buffer_text(&output));
    cr_expect_eq(count_points(&output), listed, "%s", buffer_text(&output));
    cr_expect_eq(strstr(buffer_text(&output), "more;") != NULL, more != NULL, "%s", buffer_text(&output));
    cr_expect(!more || strstr(buffer_text(&output), more), "%s", buffer_text(&output));
    buffer_free(&output);
    home_remove(&home);
}

Test(missed, a_heading_lists_six_points_and_says_how_many_more_there_are)
{
    expect_points(6, NULL, 6, NULL);
    expect_points(9, NULL, 6, "- and 3 more; 'ownmark missed --all' lists them.");
    expect_points(9, "--all", 9, NULL);
}

/* A heap of them is no task for one day. */
Test(missed, many_due_points_are_not_all_for_today)
{
    static const struct { size_t lost; bool many; } cases[] = {{12, false}, {13, true}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct home home;
        struct buffer output = BUFFER_EMPTY;
        home_make(&home);
        lose(&home, cases[i].lost);
        const char *words[] = {"missed", BANK_FILE, "--now", "2026-11-25T18:00", "--record", home.record, NULL};
        cr_assert_eq(program_run(&home, words, "", &output), 0, "%s", buffer_text(&output));
        cr_expect_eq(strstr(buffer_text(&output), "A few a day are plenty") != NULL, cases[i].many, "%s", buffer_text(&output));
        buffer_free(&output);
        home_remove(&home);
    }
}
