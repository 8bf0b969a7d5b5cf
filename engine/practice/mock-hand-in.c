/* A mock handed in, and marked question by question with the check of the cycle. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/dates.h"
#include "base/text.h"
#include "practice/mock-inner.h"

/* ---- Handing in ---------------------------------------------------------------------------------- */

static void add_place(struct buffer *out, const struct mock *mock, size_t question, size_t part)
{
    const struct script *script = mock->scripts[question].script;
    buffer_print(out, "%s%zu", out->length ? ", " : "", question + 1);
    if (script->question->part_count > 1)
        buffer_print(out, "(%s)", script->parts[part].part->id);
}

void mock_offer_hand_in(struct practice *practice)
{
    const struct mock *mock = practice->mock;
    struct buffer blank = BUFFER_EMPTY, later = BUFFER_EMPTY, used = BUFFER_EMPTY, allowed = BUFFER_EMPTY;
    for (size_t i = 0; i < mock->count; i++) {
        for (size_t j = 0; j < mock->scripts[i].script->question->part_count; j++)
            if (!mock_part_written(&mock->scripts[i].script->parts[j]))
                add_place(&blank, mock, i, j);
        if (mock->scripts[i].come_back)
            buffer_print(&later, "%s%zu", later.length ? ", " : "", i + 1);
    }
    page_heading(practice->page, 3, "Hand in?");
    if (blank.length)
        page_fact(practice->page, "Blank", "%s (a blank never earns a mark; a first thought may)", buffer_text(&blank));
    if (later.length)
        page_fact(practice->page, "To come back to", "%s", buffer_text(&later));
    add_duration(&used, mock_used(practice));
    add_duration(&allowed, mock->about.allowed);
    page_fact(practice->page, "Time", "%s of %s", buffer_text(&used), buffer_text(&allowed));
    page_paragraph(practice->page, "Handed in, nothing can be added. Then you mark it.");
    buffer_free(&blank);
    buffer_free(&later);
    buffer_free(&used);
    buffer_free(&allowed);
}

struct handing_in {
    struct event *events;
    size_t *questions;          /* of each event */
    size_t count;
};

static void add_finished(const struct practice *practice, struct handing_in *all, size_t question, size_t part)
{
    const struct mock_script *sat = &practice->mock->scripts[question];
    const struct part_facts *facts = &sat->script->parts[part];
    struct event *event = &all->events[all->count];
    *event = event_blank(EVENT_ANSWER_FINISHED);
    event->script = sat->script->sequence;
    event->bank = bank_id(sat->bank);
    event->part = facts->part->id;
    event->number = facts->seconds;
    event->detail = mock_part_written(facts) ? "response" : "no-response";
    event->text = arena_print(practice->arena, "%.0f", facts->part->marks * seconds_a_mark(practice, sat->script->question));
    all->questions[all->count++] = question;
}

static struct handing_in gather(struct practice *practice)
{
    const struct mock *mock = practice->mock;
    size_t most = 1;
    for (size_t i = 0; i < mock->count; i++)
        most += mock->scripts[i].script->question->part_count;
    struct handing_in all = {
        arena_get_array(practice->arena, most, sizeof *all.events), arena_get_array(practice->arena, most, sizeof *all.questions), 1,
    };
    for (size_t i = 0; i < mock->count; i++)
        for (size_t j = 0; j < mock->scripts[i].script->question->part_count; j++)
            add_finished(practice, &all, i, j);
    all.events[0] = event_blank(EVENT_STAGE_ENTERED);
    all.events[0].script = all.events[1].script;
    all.events[0].bank = all.events[1].bank;
    all.events[0].part = all.events[1].part;
    all.events[0].detail = stage_name(STAGE_CHECK);
    all.events[0].number = mock_used(practice);
    all.questions[0] = 0;
    for (size_t i = 0; i < all.count; i++)
        all.events[i].sitting = practice->sitting;
    return all;
}

/* One transaction: a paper is handed in whole or not at all. */
static bool hand_in(struct practice *practice, struct messages *messages)
{
    struct handing_in all = gather(practice);
    if (!record_append(practice->record, all.events, all.count, messages))
        return false;
    for (size_t i = 0; i < all.count; i++) {
        mock_take(practice, &all.events[i]);
        script_apply(practice->mock->scripts[all.questions[i]].script, &all.events[i]);
    }
    mock_stop_clock(practice);
    return true;
}

enum practice_result mock_enter_hand_in(struct practice *practice, const char *line, struct messages *messages)
{
    if (!text_equal_ignoring_case(line, "y") && !text_equal_ignoring_case(line, "yes")) {
        page_paragraph(practice->page, "y hands the paper in; Enter goes back to it.");
        return PRACTICE_ON;
    }
    if (!hand_in(practice, messages))
        return PRACTICE_FAILED;
    mock_ask_prediction(practice);
    return PRACTICE_ON;
}

/* ---- The prediction ------------------------------------------------------------------------------ */

void mock_ask_prediction(struct practice *practice)
{
    practice->mock->place = MOCK_PREDICTING;
    practice->position = AT_MOCK;
    practice->clear_screen = true;
    page_heading(practice->page, 2, "Handed in");
    page_paragraph(practice->page, "Before you see a mark scheme: how many of the %d marks do you expect? (Enter: no prediction)",
                   practice->mock->about.marks);
}

static void say_marking(struct practice *practice)
{
    page_heading(practice->page, 2, "The marking");
    page_paragraph(practice->page, "Now you mark the whole paper, point by point, as an examiner would. Take a few minutes away from it "
                                   "first; .leave stops and comes back at any prompt.");
}

enum practice_result mock_enter_prediction(struct practice *practice, const char *line, struct messages *messages)
{
    const struct mock *mock = practice->mock;
    char *end;
    double marks = strtod(line, &end);
    bool none = text_is_blank(line);
    if (!none && (end == line || !text_is_blank(end) || !(marks >= 0 && marks <= mock->about.marks))) {
        page_paragraph(practice->page, "Please type a number from 0 to %d, or Enter for no prediction.", mock->about.marks);
        return PRACTICE_ON;
    }
    struct event event = event_blank(EVENT_TEXT_SAVED);
    char typed[32];
    snprintf(typed, sizeof typed, "%g", marks);
    event.detail = MOCK_PREDICTED;
    event.text = none ? "" : typed;
    mock_hold(practice, 0, 0);
    if (!note(practice, event, messages))
        return PRACTICE_FAILED;
    say_marking(practice);
    mock_mark_next(practice);
    return PRACTICE_ON;
}

/* ---- The marking --------------------------------------------------------------------------------- */

size_t mock_next_unmarked(const struct mock *mock)
{
    size_t i = 0;
    while (i < mock->count && mock->scripts[i].script->closed)
        i++;
    return i;
}

void mock_mark_next(struct practice *practice)
{
    practice->mock->place = MOCK_MARKING;
    mock_hold(practice, mock_next_unmarked(practice->mock), 0);
    practice->step = (struct step){STEP_DONE, 0, NULL, 0, NULL};
    practice->step_is_new = true;
    practice->position = AT_STEP;
    show_opened(practice);
}
