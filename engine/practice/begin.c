/* Sittings: begun, gone on with, given up. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/dates.h"
#include "base/memory.h"
#include "base/text.h"
#include "practice/allowance.h"
#include "practice/due.h"
#include "practice/mock-inner.h"
#include "practice/plan.h"

static int compare_words(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

struct practice *practice_new(struct bank *bank, struct record *record)
{
    struct practice *practice = memory_get_zeroed(1, sizeof *practice);
    const struct course *course = bank_course(bank);
    practice->bank = bank;
    practice->record = record;
    practice->wish = WISH_ANYTHING;
    practice->began = clock_elapsed();
    practice->arena = arena_new();
    practice->asked = memory_get_zeroed(bank_question_count(bank), sizeof *practice->asked);
    practice->previous_topic = CHOOSE_ANY;
    practice->allowance = allowance_of(record, bank_id(bank), practice->arena);
    practice->answer_clock = -1;
    practice->page = page_new();
    practice->completions = memory_get_zeroed(course->word_count + 1, sizeof *practice->completions);
    for (size_t i = 0; i < course->word_count; i++)
        practice->completions[i] = course->words[i].word;
    qsort(practice->completions, course->word_count, sizeof *practice->completions, compare_words);
    return practice;
}

void practice_free(struct practice *practice)
{
    if (!practice)
        return;
    drop_script(practice);
    mock_free(practice->mock);
    totals_free(&practice->totals);
    page_free(practice->page);
    buffer_free(&practice->prompt);
    buffer_free(&practice->prefill);
    arena_free(practice->arena);
    free(practice->asked);
    free(practice->completions);
    free(practice);
}

/* Narrows the wish to what is due. */
static bool take_due(struct practice *practice, struct due *due, struct messages *messages)
{
    if (!due_read(practice->record, practice->bank, &practice->wish, day_of(moment_now()), practice->arena, due, messages))
        return false;
    practice->wish.only = due->questions;
    practice->wish.only_count = due->count;
    return true;
}

/* Nothing is due: no sitting is opened, and the page says when the next is. */
static void end_with_nothing_due(struct practice *practice, const struct due *due)
{
    day_number today = day_of(moment_now());
    struct buffer next = BUFFER_EMPTY;
    practice->position = AT_END;
    if (due->next == NO_DAY) {
        page_paragraph(practice->page, "No missed point is due: none is on record. 'ownmark practise' goes on with the course.");
        return;
    }
    add_day_long(&next, due->next);
    buffer_add(&next, ", ");
    add_day_relative(&next, due->next, today);
    page_paragraph(practice->page, "No missed point is due today. The next is due on %s. Until then 'ownmark practise' goes on "
                                   "with the course.", buffer_text(&next));
    buffer_free(&next);
}

/* ---- Beginning ----------------------------------------------------------------------------------- */

bool keep_course(struct practice *practice, char hash[33], struct buffer *lines, struct messages *messages)
{
    struct buffer text = BUFFER_EMPTY;
    bank_course_text(practice->bank, &text);
    record_course_lines(bank_course(practice->bank), lines);
    bool kept = record_keep_content(practice->record, buffer_text(&text), hash, messages);
    buffer_free(&text);
    return kept;
}

static bool note_opened(struct practice *practice, const struct practice_plan *plan, struct messages *messages)
{
    struct event course = event_blank(EVENT_COURSE_SEEN), opened = event_blank(EVENT_SITTING_OPENED);
    struct buffer lines = BUFFER_EMPTY, detail = BUFFER_EMPTY;
    char hash[33];
    bool good = keep_course(practice, hash, &lines, messages);
    plan_write(plan, &detail);
    course.bank = opened.bank = bank_id(practice->bank);
    course.text = buffer_text(&lines);
    opened.text = bank_whole_path(practice->bank);
    opened.detail = buffer_text(&detail);
    course.content = opened.content = hash;
    struct event both[2] = {course, opened};
    good = good && record_append(practice->record, both, 2, messages);
    practice->sitting = both[1].sequence;
    buffer_free(&lines);
    buffer_free(&detail);
    return good;
}

struct practice *practice_begin(struct bank *bank, struct record *record, const struct practice_plan *plan,
                                struct messages *messages)
{
    if (!choose_count(bank, &plan->wish)) {
        messages_error(messages, "no question of %s fits all that was asked for; ask for one thing less",
                       bank_path(bank));
        return NULL;
    }
    struct practice *practice = practice_new(bank, record);
    practice->wish = plan->wish;
    practice->minutes = plan->minutes;
    practice->questions = plan->questions;
    practice->why = plan->why;
    struct due due = {0};
    bool good = !plan->missed || take_due(practice, &due, messages);
    if (good && plan->missed && !due.count) {
        end_with_nothing_due(practice, &due);
        return practice;
    }
    if (good && note_opened(practice, plan, messages) && open_next_question(practice, messages) &&
        (practice->position == AT_END || present(practice, messages)))
        return practice;
    practice_free(practice);
    return NULL;
}

/* ---- Going on ------------------------------------------------------------------------------------ */

bool reopen_script(struct practice *practice, const struct event *event, const char *course_text, struct messages *messages)
{
    struct arena *arena = arena_new();
    const char *question_text = event->content ? record_content(practice->record, event->content, arena) : NULL;
    const struct course *course = NULL;
    const struct question *question = NULL;
    uint64_t seed = event->text ? strtoull(event->text, NULL, 10) : (uint64_t)event->number;
    bool read = question_text && bank_from_text(course_text, question_text, arena, &course, &question, messages);
    if (!read || !draw_script(practice, arena, course, question, seed, messages)) {
        arena_free(arena);
        if (!question_text)
            messages_error(messages, "the record has lost the text of question '%s'; ownmark record check tells more",
                           event->item ? event->item : "?");
        return false;
    }
    practice->script->sequence = event->sequence;
    return true;
}

static bool reopen_question(struct practice *practice, const struct event *event, struct messages *messages)
{
    struct buffer course_text = BUFFER_EMPTY;
    bank_course_text(practice->bank, &course_text);
    bool read = reopen_script(practice, event, buffer_text(&course_text), messages);
    buffer_free(&course_text);
    if (!read)
        return false;
    const struct question *question = practice->script->question;
    practice->number++;
    practice->previous_topic = question->topic;
    int index = bank_find(practice->bank, question->id);
    if (index >= 0)
        practice->asked[index] = true;
    return true;
}

void close_replayed(struct practice *practice, const struct event *event)
{
    struct script *script = practice->script;
    if (script->marked)
        remember_marked(practice, script->sequence, event);
    if (script->marked)
        totals_add_script(&practice->totals, script, event->marks, event->mark_count,
                          seconds_a_mark(practice, script->question), practice->arena);
    else
        practice->totals.left++;
    drop_script(practice);
}

/* The plan as it was; a wish for something the bank no longer has is dropped. */
static void take_plan(struct practice *practice, const char *text)
{
    struct practice_plan plan;
    struct due due;
    struct messages unheeded = MESSAGES_EMPTY;
    plan_read(practice->bank, text, practice->arena, &plan, &unheeded);
    practice->wish = plan.wish;
    practice->minutes = plan.minutes;
    practice->questions = plan.questions;
    if (plan.missed)
        take_due(practice, &due, &unheeded);
    messages_free(&unheeded);
}

static bool replay_event(struct practice *practice, const struct event *event, struct messages *messages)
{
    if (event->kind == EVENT_SITTING_OPENED && event->detail)
        take_plan(practice, event->detail);
    if (event->kind == EVENT_QUESTION_OPENED) {
        drop_script(practice);
        return reopen_question(practice, event, messages);
    }
    if (rating_replay(practice, event) || !practice->script || event->script != practice->script->sequence)
        return true;
    practice->has_prefill = event->kind == EVENT_TEXT_SAVED && text_equal(event->detail, "draft");
    if (practice->has_prefill) {
        buffer_clear(&practice->prefill);
        buffer_add(&practice->prefill, event->text ? event->text : "");
    }
    script_apply(practice->script, event);
    if (practice->script->closed)
        close_replayed(practice, event);
    return true;
}

/* Minutes at work: gaps of more than ten minutes between two events were no practice. */
static double minutes_at_work(const struct event *events, size_t count)
{
    double seconds = 0;
    for (size_t i = 1; i < count; i++) {
        double gap = (double)(events[i].at - events[i - 1].at);
        if (gap > 0 && gap <= 600)
            seconds += gap;
    }
    return seconds / 60.0;
}

static bool replay(struct practice *practice, int64_t sitting, struct messages *messages)
{
    struct event *events;
    size_t count;
    struct arena *arena = arena_new();
    bool good = record_sitting_events(practice->record, sitting, arena, &events, &count, messages);
    for (size_t i = 0; good && i < count; i++)
        good = replay_event(practice, &events[i], messages);
    if (good)
        practice->minutes_before = minutes_at_work(events, count);
    arena_free(arena);
    return good;
}

struct practice *practice_resume(struct bank *bank, struct record *record, int64_t sitting,
                                 struct messages *messages)
{
    struct practice *practice = practice_new(bank, record);
    practice->sitting = sitting;
    bool good = replay(practice, sitting, messages);
    if (good && practice->script) {
        practice->position = AT_STEP;
        practice->step_is_new = true;
        practice->step = (struct step){STEP_DONE, 0, NULL, 0, NULL};
        page_paragraph(practice->page, "Going on where you stopped.");
        show_opened(practice);
    } else if (good) {
        good = practice->rating_begun ? finish_sitting(practice, messages) : open_next_question(practice, messages);
    }
    if (good && (practice->position == AT_END || present(practice, messages)))
        return practice;
    practice_free(practice);
    return NULL;
}

bool give_up_script(struct practice *practice, struct messages *messages)
{
    bool awarded = true;
    for (size_t i = 0; i < practice->script->question->part_count; i++)
        awarded = awarded && !isnan(practice->script->parts[i].awarded);
    practice->step = (struct step){STEP_DONE, 0, NULL, 0, NULL};
    bool closed = awarded ? note_closed(practice, messages) : note(practice, event_blank(EVENT_QUESTION_LEFT), messages);
    drop_script(practice);
    return closed;
}

bool practice_abandon(struct bank *bank, struct record *record, int64_t sitting, struct messages *messages)
{
    struct practice *practice = practice_new(bank, record);
    practice->sitting = sitting;
    bool good = replay(practice, sitting, messages);
    if (good && practice->script)
        good = give_up_script(practice, messages);
    struct event event = event_blank(EVENT_SITTING_CLOSED);
    event.detail = "left";
    good = good && note(practice, event, messages);
    practice_free(practice);
    return good;
}
