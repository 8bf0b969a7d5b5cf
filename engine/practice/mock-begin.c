/* Mocks: begun, gone on with, given up. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/dates.h"
#include "base/memory.h"
#include "base/text.h"
#include "practice/allowance.h"
#include "practice/mock-inner.h"

#define WHOLE_IN_A_DOUBLE (UINT64_C(1) << 53)

void mock_free(struct mock *mock)
{
    if (!mock)
        return;
    for (size_t i = 0; i < mock->count; i++)
        script_free(mock->scripts[i].script);
    free(mock->scripts);
    free(mock);
}

static struct practice *new_mock(struct bank *const *banks, struct record *record, size_t questions)
{
    struct practice *practice = practice_new(banks[0], record);
    practice->mock = memory_get_zeroed(1, sizeof *practice->mock);
    practice->mock->banks = banks;
    practice->mock->scripts = memory_get_zeroed(questions, sizeof *practice->mock->scripts);
    practice->mock->rest_began = practice->mock->handed_in_at = NO_MOMENT;
    practice->mock->predicted = (double)NAN;
    practice->mock->read_at = -1;
    return practice;
}

/* The script in hand becomes the next one of the paper. */
static void add_script(struct practice *practice)
{
    struct mock *mock = practice->mock;
    practice->script->answers_only = true;
    practice->script->number = (int)mock->count + 1;
    mock->scripts[mock->count++] = (struct mock_script){practice->bank, practice->script, false};
    practice->script = NULL;
}

/* ---- Beginning ----------------------------------------------------------------------------------- */

static bool draw_all(struct practice *practice, const struct mock_plan *plan, struct messages *messages)
{
    for (size_t i = 0; i < plan->question_count; i++) {
        const struct mock_question *wanted = &plan->questions[i];
        struct arena *arena = arena_new();
        practice->bank = wanted->bank;
        const struct question *question = bank_question(wanted->bank, wanted->index, arena, messages);
        if (!question || !draw_script(practice, arena, bank_course(wanted->bank), question, wanted->seed, messages)) {
            arena_free(arena);
            return false;
        }
        practice->mock->about.marks += question->marks;
        add_script(practice);
    }
    return true;
}

static void describe(struct practice *practice, const struct mock_plan *plan)
{
    struct mock_about *about = &practice->mock->about;
    about->course = arena_copy_text(practice->arena, plan->course);
    about->paper = arena_copy_text(practice->arena, plan->paper);
    about->allowed = plan->minutes * 60.0 * practice->allowance;
    about->questions = about->opened = plan->question_count;
    about->banks = arena_get_array(practice->arena, plan->bank_count, sizeof *about->banks);
    about->bank_count = plan->bank_count;
}

/* The courses and the sitting. */
static bool note_sitting(struct practice *practice, struct messages *messages)
{
    struct mock_about *about = &practice->mock->about;
    struct event *events = arena_get_array(practice->arena, about->bank_count + 1, sizeof *events);
    struct buffer detail = BUFFER_EMPTY;
    bool good = true;
    for (size_t i = 0; good && i < about->bank_count; i++) {
        char *hash = arena_get(practice->arena, 33);
        struct buffer lines = BUFFER_EMPTY;
        practice->bank = practice->mock->banks[i];
        good = keep_course(practice, hash, &lines, messages);
        events[i] = event_blank(EVENT_COURSE_SEEN);
        events[i].bank = bank_id(practice->bank);
        events[i].content = hash;
        events[i].text = arena_copy_text(practice->arena, buffer_text(&lines));
        about->banks[i] = (struct mock_bank){bank_id(practice->bank), hash, bank_whole_path(practice->bank)};
        buffer_free(&lines);
    }
    mock_write_plan(about, &detail);
    struct event *opened = &events[about->bank_count];
    *opened = event_blank(EVENT_SITTING_OPENED);
    opened->bank = about->banks[0].id;
    opened->content = about->banks[0].course_hash;
    opened->text = about->banks[0].path;
    opened->detail = buffer_text(&detail);
    good = good && record_append(practice->record, events, about->bank_count + 1, messages);
    practice->sitting = opened->sequence;
    buffer_free(&detail);
    return good;
}

/* All questions in one transaction: a paper is there whole or not at all. The record's numbers are doubles: a seed that
 * one cannot hold stands in the text. */
static bool note_questions(struct practice *practice, const struct mock_plan *plan, struct messages *messages)
{
    struct mock *mock = practice->mock;
    struct event *events = arena_get_array(practice->arena, mock->count, sizeof *events);
    for (size_t i = 0; i < mock->count; i++) {
        uint64_t seed = plan->questions[i].seed;
        char *hash = arena_get(practice->arena, 33);
        practice->bank = mock->scripts[i].bank;
        if (!keep_question(practice, plan->questions[i].index, hash, messages))
            return false;
        events[i] = event_blank(EVENT_QUESTION_OPENED);
        events[i].sitting = practice->sitting;
        events[i].bank = bank_id(practice->bank);
        events[i].item = mock->scripts[i].script->question->id;
        events[i].content = hash;
        events[i].number = (double)(seed % WHOLE_IN_A_DOUBLE);
        if (seed >= WHOLE_IN_A_DOUBLE)
            events[i].text = arena_print(practice->arena, "%llu", (unsigned long long)seed);
    }
    if (!record_append(practice->record, events, mock->count, messages))
        return false;
    for (size_t i = 0; i < mock->count; i++)
        mock->scripts[i].script->sequence = events[i].sequence;
    return true;
}

static void show_cover(struct practice *practice)
{
    const struct mock_about *about = &practice->mock->about;
    struct buffer time = BUFFER_EMPTY;
    add_duration(&time, about->allowed);
    page_heading(practice->page, 1, "%s: the whole paper", about->course);
    page_fact(practice->page, "Questions", "%zu", about->questions);
    page_fact(practice->page, "Marks", "%d", about->marks);
    page_fact(practice->page, "Time", "%s%s", buffer_text(&time), practice->allowance > 1 ? ", your extra time included" : "");
    page_paragraph(practice->page, "As in the examination: one clock, the questions in any order, and nothing is marked before you "
                                   "hand the paper in. Have paper, pen and calculator ready, and no notes.");
    page_item(practice->page, 0, "-", "A full stop alone on a line goes on to the next part; .list shows all questions.");
    page_item(practice->page, 0, "-", ".later marks a question as one to come back to.");
    page_item(practice->page, 0, "-", ".rest takes a rest break if you are allowed them. The clock stands in a break, and while the "
                                      "program is closed.");
    page_item(practice->page, 0, "-", ".hand-in hands the paper in; ? helps everywhere.");
    buffer_free(&time);
}

struct practice *mock_begin(const struct mock_plan *plan, struct record *record, struct messages *messages)
{
    struct practice *practice = new_mock(plan->banks, record, plan->question_count);
    describe(practice, plan);
    if (draw_all(practice, plan, messages) && note_sitting(practice, messages) && note_questions(practice, plan, messages)) {
        mock_hold(practice, 0, 0);
        show_cover(practice);
        mock_pause(practice);
        mock_present(practice);
        return practice;
    }
    practice_free(practice);
    return NULL;
}

/* ---- Going on ------------------------------------------------------------------------------------ */

static bool reopen(struct practice *practice, const struct event *event, struct messages *messages)
{
    const struct mock *mock = practice->mock;
    size_t i = 0;
    while (i < mock->about.bank_count && !text_equal(mock->about.banks[i].id, event->bank))
        i++;
    if (i == mock->about.bank_count || mock->count == mock->about.opened)
        return true;
    practice->bank = mock->banks[i];
    struct arena *arena = arena_new();
    const char *course_text = record_content(practice->record, mock->about.banks[i].course_hash, arena);
    bool good = course_text && reopen_script(practice, event, course_text, messages);
    if (!course_text)
        messages_error(messages, "the record has lost the course of this paper; ownmark record check tells more");
    if (good)
        add_script(practice);
    arena_free(arena);
    return good;
}

static void keep_half_line(struct practice *practice, const struct event *event)
{
    practice->mock->draft = event->kind == EVENT_TEXT_SAVED && text_equal(event->detail, "draft");
    if (!practice->mock->draft)
        return;
    buffer_clear(&practice->prefill);
    buffer_add(&practice->prefill, event->text ? event->text : "");
}

static bool replay_event(struct practice *practice, const struct event *event, struct messages *messages)
{
    struct mock *mock = practice->mock;
    if (event->kind == EVENT_QUESTION_OPENED)
        return reopen(practice, event, messages);
    size_t question = mock_script_of(mock, event->script);
    if (question == mock->count)
        return true;
    keep_half_line(practice, event);
    mock_take(practice, event);
    mock_hold(practice, question, 0);
    script_apply(practice->script, event);
    if (practice->script->closed)
        close_replayed(practice, event);
    return true;
}

struct practice *mock_gather(struct bank *const *banks, struct record *record, int64_t sitting, struct messages *messages)
{
    struct arena *arena = arena_new();
    struct event *events;
    size_t count;
    struct mock_about about;
    struct practice *practice = NULL;
    bool good = mock_read(record, sitting, arena, &about, messages) &&
                record_sitting_events(record, sitting, arena, &events, &count, messages);
    if (good) {
        practice = new_mock(banks, record, about.opened);
        practice->sitting = sitting;
        good = mock_read(record, sitting, practice->arena, &practice->mock->about, messages);
    }
    for (size_t i = 0; good && i < count; i++)
        good = replay_event(practice, &events[i], messages);
    arena_free(arena);
    if (good)
        return practice;
    practice_free(practice);
    return NULL;
}

static bool is_marking(const struct practice *practice)
{
    return practice->mock->handed_in && practice->mock->predicted_settled;
}

/* Between the last question's mark and the closing of the sitting a kill may have come. */
static bool go_on_marking(struct practice *practice, struct messages *messages)
{
    practice->mock->place = MOCK_MARKING;
    practice->script = NULL;
    if (mock_next_unmarked(practice->mock) == practice->mock->count)
        return end_sitting(practice, messages);
    mock_mark_next(practice);
    practice->has_prefill = practice->mock->draft;
    return present(practice, messages);
}

struct practice *mock_resume(struct bank *const *banks, struct record *record, int64_t sitting, struct messages *messages)
{
    struct practice *practice = mock_gather(banks, record, sitting, messages);
    if (!practice || !practice->mock->count) {
        practice_free(practice);
        return NULL;
    }
    struct mock *mock = practice->mock;
    page_paragraph(practice->page, "Going on where you stopped.");
    if (is_marking(practice)) {
        if (go_on_marking(practice, messages))
            return practice;
        practice_free(practice);
        return NULL;
    }
    mock_hold(practice, mock->question, mock->part);
    if (mock->handed_in)
        mock_ask_prediction(practice);
    else if (mock->begun)
        mock_pause(practice);
    else {
        show_cover(practice);
        mock_pause(practice);
    }
    mock_present(practice);
    return practice;
}

bool mock_abandon(struct bank *const *banks, struct record *record, int64_t sitting, struct messages *messages)
{
    struct practice *practice = mock_gather(banks, record, sitting, messages);
    bool good = practice != NULL;
    for (size_t i = 0; good && i < practice->mock->count; i++)
        if (!practice->mock->scripts[i].script->closed) {
            mock_hold(practice, i, 0);
            good = give_up_script(practice, messages);
        }
    struct event event = event_blank(EVENT_SITTING_CLOSED);
    event.detail = "left";
    good = good && note(practice, event, messages);
    practice_free(practice);
    return good;
}
