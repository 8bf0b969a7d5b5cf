/* The clock of a mock, the part in hand, and what the record says of both: live and after a resume the same. */
#include <math.h>
#include <stdlib.h>

#include "base/dates.h"
#include "base/text.h"
#include "practice/mock-inner.h"

double mock_used(const struct practice *practice)
{
    const struct mock *mock = practice->mock;
    return mock->read_at < 0 ? mock->used : mock->used + clock_elapsed() - mock->read_at;
}

void mock_start_clock(struct practice *practice)
{
    practice->mock->read_at = clock_elapsed();
}

void mock_stop_clock(struct practice *practice)
{
    practice->mock->read_at = -1;
    practice->answer_clock = -1;
}

void mock_hold(struct practice *practice, size_t question, size_t part)
{
    struct mock_script *held = &practice->mock->scripts[question];
    practice->script = held->script;
    practice->bank = held->bank;
    practice->number = (int)question + 1;
    practice->step = (struct step){STEP_ANSWER, part, NULL, 0, NULL};
}

size_t mock_script_of(const struct mock *mock, int64_t sequence)
{
    size_t i = 0;
    while (i < mock->count && mock->scripts[i].script->sequence != sequence)
        i++;
    return i;
}

/* ---- What an event says -------------------------------------------------------------------------- */

/* Time that passed since the last reading belongs to the part that was in hand. */
static void advance(struct practice *practice, double reading)
{
    struct mock *mock = practice->mock;
    double passed = reading - mock->used;
    if (mock->running && mock->at_part)
        mock->scripts[mock->question].script->parts[mock->part].seconds += passed;
    mock->used = reading;
    if (mock->read_at >= 0)
        practice->answer_clock = mock->read_at += passed;
}

static void rest(struct mock *mock, bool begins, moment at)
{
    if (mock->rest_began != NO_MOMENT && at > mock->rest_began)
        mock->rested += (double)(at - mock->rest_began);
    mock->rest_began = begins ? at : NO_MOMENT;
    mock->rests += begins;
}

static void go_to(struct mock *mock, const struct event *event)
{
    size_t question = mock_script_of(mock, event->script);
    struct script *script = question < mock->count ? mock->scripts[question].script : NULL;
    const struct part_facts *facts = script ? script_part(script, event->part) : NULL;
    if (!facts)
        return;
    mock->question = question;
    mock->part = (size_t)(facts - script->parts);
    mock->at_part = true;
}

static void call_time(struct mock *mock)
{
    mock->time_over = true;
    for (size_t i = 0; i < mock->count; i++)
        script_call_time(mock->scripts[i].script);
}

static void take_stage(struct practice *practice, const struct event *event)
{
    struct mock *mock = practice->mock;
    if (isnan(event->number) || mock->handed_in)
        return;
    advance(practice, event->number);
    if (text_equal(event->detail, MOCK_TIME_OVER)) {
        call_time(mock);
        return;
    }
    bool resting = text_equal(event->detail, MOCK_AT_REST);
    rest(mock, resting, event->at);
    mock->begun = true;
    mock->running = !resting && !text_equal(event->detail, MOCK_AWAY);
    if (text_equal(event->detail, stage_name(STAGE_ANSWER)))
        go_to(mock, event);
    else if (text_equal(event->detail, MOCK_AT_LIST))
        mock->at_part = false;
}

static void take_text(struct practice *practice, const struct event *event)
{
    struct mock *mock = practice->mock;
    size_t question = mock_script_of(mock, event->script);
    if (question < mock->count && text_equal(event->detail, MOCK_COME_BACK))
        mock->scripts[question].come_back = text_equal(event->text, "yes");
    if (text_equal(event->detail, MOCK_PREDICTED)) {
        mock->predicted_settled = true;
        mock->predicted = text_is_blank(event->text) ? (double)NAN : strtod(event->text, NULL);
    }
    if (!mock->handed_in && mock->at_part && !isnan(event->number))
        advance(practice, mock->used + event->number - mock->scripts[mock->question].script->parts[mock->part].seconds);
}

void mock_take(struct practice *practice, const struct event *event)
{
    if (event->kind == EVENT_STAGE_ENTERED)
        take_stage(practice, event);
    if (event->kind == EVENT_TEXT_SAVED)
        take_text(practice, event);
    if (event->kind == EVENT_ANSWER_FINISHED) {
        practice->mock->handed_in = true;
        practice->mock->handed_in_at = event->at;
        practice->mock->running = false;
    }
}

/* ---- Noted --------------------------------------------------------------------------------------- */

bool mock_note(struct practice *practice, const char *what, struct messages *messages)
{
    struct event event = event_blank(EVENT_STAGE_ENTERED);
    event.detail = what;
    event.number = mock_used(practice);
    return note(practice, event, messages);
}

bool mock_call_time(struct practice *practice, struct messages *messages)
{
    struct mock *mock = practice->mock;
    if (mock->handed_in || mock->time_over || mock->read_at < 0 || mock_used(practice) < mock->about.allowed)
        return true;
    if (!mock_note(practice, MOCK_TIME_OVER, messages))
        return false;
    page_note(practice->page, "Time is over", "In the examination you would put your pen down now. You may write on: what you "
              "write from here on is kept below a line, so that you see afterwards what it would have changed. .hand-in hands "
              "the paper in.");
    return true;
}

void mock_fill_ask(struct practice *practice)
{
    const struct mock *mock = practice->mock;
    bool runs = mock->read_at >= 0;
    practice->ask.clock = runs && !practice->clock_hidden;
    practice->ask.used = mock_used(practice);
    practice->ask.allowed = mock->about.allowed;
    practice->ask.notice = runs && !mock->time_over ? "Time is over. What you finish from now on counts as written after it." : NULL;
}
