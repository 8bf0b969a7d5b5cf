/* What the record says of a mock: its plan as a text, which one waits, and closing one without its banks. */
#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "practice/mock-inner.h"

/* ---- The plan as a text in the record ------------------------------------------------------------ */

void mock_write_plan(const struct mock_about *about, struct buffer *out)
{
    buffer_print(out, MOCK_PLAN "course=%s\npaper=%s\nallowed=%.17g\nmarks=%d\nquestions=%zu\n", about->course, about->paper,
                 about->allowed, about->marks, about->questions);
    for (size_t i = 0; i < about->bank_count; i++)
        buffer_print(out, "bank=%s %s %s\n", about->banks[i].id, about->banks[i].course_hash, about->banks[i].path);
}

static void read_bank(char *value, struct mock_bank *bank)
{
    char *rest = NULL;
    bank->id = strtok_r(value, " ", &rest);
    bank->course_hash = strtok_r(NULL, " ", &rest);
    bank->path = rest ? rest : "";
}

static size_t lines_of(const char *text, const char *start)
{
    size_t count = 0;
    for (const char *at = text; at; at = strchr(at, '\n'), at += at != NULL)
        count += text_starts_with(at, start);
    return count;
}

/* False when this is no plan of a mock that can be gone on with. */
static bool read_plan(const char *text, struct arena *arena, struct mock_about *about)
{
    char *rest = NULL;
    *about = (struct mock_about){.course = "", .paper = ""};
    if (!text || !text_starts_with(text, MOCK_PLAN))
        return false;
    about->banks = arena_get_array(arena, lines_of(text, "bank="), sizeof *about->banks);
    for (char *line = strtok_r(arena_copy_text(arena, text), "\n", &rest); line; line = strtok_r(NULL, "\n", &rest)) {
        char *value = strchr(line, '=');
        if (!value++)
            continue;
        if (text_starts_with(line, "course="))
            about->course = value;
        if (text_starts_with(line, "paper="))
            about->paper = value;
        if (text_starts_with(line, "allowed="))
            about->allowed = strtod(value, NULL);
        if (text_starts_with(line, "marks="))
            about->marks = (int)strtol(value, NULL, 10);
        if (text_starts_with(line, "questions="))
            about->questions = strtoul(value, NULL, 10);
        if (text_starts_with(line, "bank="))
            read_bank(value, &about->banks[about->bank_count++]);
    }
    for (size_t i = 0; i < about->bank_count; i++)
        if (!about->banks[i].id || !about->banks[i].course_hash)
            return false;
    return about->bank_count && about->questions && about->marks > 0 && about->allowed > 0;
}

bool mock_read(struct record *record, int64_t sitting, struct arena *arena, struct mock_about *about,
               struct messages *messages)
{
    struct event *events;
    size_t count;
    bool is_mock = false;
    if (!record_sitting_events(record, sitting, arena, &events, &count, messages))
        return false;
    for (size_t i = 0; i < count; i++) {
        if (events[i].kind == EVENT_SITTING_OPENED)
            is_mock = read_plan(events[i].detail, arena, about);
        about->opened += is_mock && events[i].kind == EVENT_QUESTION_OPENED;
    }
    return is_mock;
}

/* ---- In the record --------------------------------------------------------------------------------- */

int64_t mock_waiting(struct record *record)
{
    return record_latest_sitting(record, MOCK_PLAN, SITTING_IS_OPEN);
}

int64_t mock_latest(struct record *record)
{
    return record_latest_sitting(record, MOCK_PLAN, SITTING_IS_FINISHED);
}

static bool is_closed(const struct event *events, size_t count, int64_t script)
{
    for (size_t i = 0; i < count; i++)
        if (events[i].script == script && (events[i].kind == EVENT_QUESTION_MARKED || events[i].kind == EVENT_QUESTION_LEFT))
            return true;
    return false;
}

bool mock_drop(struct record *record, int64_t sitting, struct messages *messages)
{
    struct arena *arena = arena_new();
    struct event *events, *closing;
    size_t count, closings = 0;
    bool good = record_sitting_events(record, sitting, arena, &events, &count, messages);
    if (good) {
        closing = arena_get_array(arena, count + 1, sizeof *closing);
        for (size_t i = 0; i < count; i++)
            if (events[i].kind == EVENT_QUESTION_OPENED && !is_closed(events, count, events[i].sequence)) {
                closing[closings] = event_blank(EVENT_QUESTION_LEFT);
                closing[closings].script = events[i].sequence;
                closing[closings++].sitting = sitting;
            }
        closing[closings] = event_blank(EVENT_SITTING_CLOSED);
        closing[closings].detail = "left";
        closing[closings++].sitting = sitting;
        good = record_append(record, closing, closings, messages);
    }
    arena_free(arena);
    return good;
}
