/* Sittings: begun, gone on with, given up; one question after another. */
#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/dates.h"
#include "base/memory.h"
#include "base/random.h"
#include "base/text.h"
#include "practice/machine.h"
#include "practice/due.h"
#include "practice/mark.h"
#include "practice/plan.h"
#include "practice/show.h"
#include "practice/standing.h"

static double allowance_of(struct record *record, const char *bank, struct arena *arena)
{
    const char *extra = record_setting(record, bank, "extra-time", arena);
    double per_cent = extra ? strtod(extra, NULL) : 0.0;
    return per_cent >= 0 && per_cent <= 200 ? 1.0 + per_cent / 100.0 : 1.0;
}

static int compare_words(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static struct practice *new_practice(struct bank *bank, struct record *record)
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
    script_free(practice->script);
    totals_free(&practice->totals);
    page_free(practice->page);
    buffer_free(&practice->prompt);
    buffer_free(&practice->prefill);
    arena_free(practice->arena);
    free(practice->asked);
    free(practice->completions);
    free(practice);
}

double minutes_practised(const struct practice *practice)
{
    return practice->minutes_before + (clock_elapsed() - practice->began) / 60.0;
}

/* ---- Questions ----------------------------------------------------------------------------------- */

static bool draw_script(struct practice *practice, struct arena *arena, const struct course *course,
                        const struct question *question, uint64_t seed, struct messages *messages)
{
    struct values values;
    if (!values_draw(course, question, seed, arena, &values, messages))
        return false;
    practice->script = script_new(arena, course, question, seed, &values);
    return true;
}

static bool note_question(struct practice *practice, size_t index, struct messages *messages)
{
    struct buffer text = BUFFER_EMPTY;
    char hash[33];
    bool kept = bank_question_text(practice->bank, index, &text, messages) &&
                record_keep_content(practice->record, buffer_text(&text), hash, messages);
    buffer_free(&text);
    if (!kept)
        return false;
    struct event event = event_blank(EVENT_QUESTION_OPENED);
    event.sitting = practice->sitting;
    event.bank = bank_id(practice->bank);
    event.item = practice->script->question->id;
    event.content = hash;
    event.number = (double)practice->script->seed;
    if (!record_append(practice->record, &event, 1, messages))
        return false;
    practice->script->sequence = event.sequence;
    return true;
}

static void show_opened(struct practice *practice)
{
    const struct script *script = practice->script;
    show_question(practice->page, script->course, script->question, &script->values, bank_folder(practice->bank),
                  practice->number, script->question->minutes * 60.0 * practice->allowance);
}

static void drop_script(struct practice *practice)
{
    script_free(practice->script);
    practice->script = NULL;
}

/* A seed that a double holds exactly, for the record keeps numbers as doubles. */
static uint64_t fresh_seed(const struct question_summary *summary)
{
    return summary->varied ? random_fresh_seed() >> 12 : 0;
}

static bool open_question(struct practice *practice, int index, struct messages *messages)
{
    struct arena *arena = arena_new();
    const struct question *question = bank_question(practice->bank, (size_t)index, arena, messages);
    const struct question_summary *summary = bank_summary(practice->bank, (size_t)index);
    if (!question || !draw_script(practice, arena, bank_course(practice->bank), question, fresh_seed(summary), messages)) {
        arena_free(arena);
        return false;
    }
    practice->asked[index] = true;
    if (!note_question(practice, (size_t)index, messages)) {
        drop_script(practice);
        return false;
    }
    practice->number++;
    practice->previous_topic = question->topic;
    practice->position = AT_STEP;
    practice->step_is_new = true;
    practice->step = (struct step){STEP_DONE, 0, NULL, 0, NULL};
    practice->answer_clock = -1;
    show_opened(practice);
    return true;
}

static bool time_is_up(const struct practice *practice)
{
    return (practice->minutes > 0 && practice->number > 0 && minutes_practised(practice) >= practice->minutes) ||
           (practice->questions > 0 && practice->number >= practice->questions);
}

static void tell_choice(struct practice *practice, const struct choosing *choosing, const struct chosen *best, size_t count)
{
    struct buffer reason = BUFFER_EMPTY;
    choose_reason(choosing, &best[0], &reason);
    page_paragraph(practice->page, "%s", "");
    page_add(practice->page, STYLE_QUIET, "%s", buffer_text(&reason));
    buffer_free(&reason);
    if (!practice->why)
        return;
    const struct course *course = bank_course(practice->bank);
    page_table(practice->page, "The best five now", "llrrr", true);
    page_cell(practice->page, "Question");
    page_cell(practice->page, "Topic");
    page_cell(practice->page, "of 100 today");
    page_cell(practice->page, "gain");
    page_cell(practice->page, "a minute");
    for (size_t i = 0; i < count; i++) {
        const struct question_summary *summary = bank_summary(practice->bank, (size_t)best[i].question);
        page_cell(practice->page, "%s", summary->id);
        page_cell(practice->page, "%s", course->topics[summary->topic].name);
        if (best[i].topic_marks > 0)
            page_cell(practice->page, "%ld", lround(best[i].share * 100));
        else
            page_cell(practice->page, "not met");
        page_cell(practice->page, "%.2f", best[i].gain * course->paper_marks);
        page_cell(practice->page, "%.3f", best[i].score * course->paper_marks);
    }
    page_paragraph(practice->page, "Gain: marks of the paper that a few minutes on the topic should win.");
}

static bool choose_next(struct practice *practice, int *index, struct messages *messages)
{
    struct arena *arena = arena_new();
    struct standing standing = {0};
    struct question_history *history;
    struct chosen best[CHOOSE_BEST];
    bool known;
    struct choosing choosing = {
        .bank = practice->bank, .wish = practice->wish, .asked = practice->asked, .standing = &standing, .now = moment_now(),
        .previous_topic = practice->previous_topic,
        .minutes_left = practice->minutes > 0 ? practice->minutes - minutes_practised(practice) : 1e9,
    };
    bool read = standing_read(practice->record, practice->bank, arena, &standing, messages) &&
                record_question_history(practice->record, bank_id(practice->bank), arena, &history,
                                        &choosing.history_count, messages);
    if (read) {
        choosing.history = history;
        choosing.exam = standing_exam(practice->record, bank_id(practice->bank), choosing.now, &known);
        size_t count = choose_questions(&choosing, best, practice->why ? CHOOSE_BEST : 1);
        *index = count ? best[0].question : CHOOSE_NOTHING;
        if (count)
            tell_choice(practice, &choosing, best, count);
    }
    standing_release(&standing);
    arena_free(arena);
    return read;
}

bool open_next_question(struct practice *practice, struct messages *messages)
{
    int index = CHOOSE_NOTHING;
    if (time_is_up(practice))
        return finish_sitting(practice, messages);
    if (!choose_next(practice, &index, messages))
        return false;
    return index == CHOOSE_NOTHING ? finish_sitting(practice, messages) : open_question(practice, index, messages);
}

static void tell_progress(struct practice *practice)
{
    struct buffer time = BUFFER_EMPTY;
    add_duration(&time, minutes_practised(practice) * 60.0);
    if (practice->minutes > 0)
        page_paragraph(practice->page, "%s done in %s; this sitting is planned for %g minutes.",
                       text_count(practice->number, "question", "questions"), buffer_text(&time), practice->minutes);
    else
        page_paragraph(practice->page, "%s done in %s.", text_count(practice->number, "question", "questions"),
                       buffer_text(&time));
    buffer_free(&time);
}

static double seconds_a_mark(const struct practice *practice, const struct question *question)
{
    return question->minutes * 60.0 * practice->allowance / (question->marks > 0 ? question->marks : 1);
}

static bool any_check_skipped(const struct script *script)
{
    for (size_t i = 0; i < script->question->part_count; i++)
        if (script->parts[i].skipped[STAGE_CHECK])
            return true;
    return false;
}

/* A question with an unchecked part says nothing reliable about the student: it is left, not marked. */
static bool note_closed(struct practice *practice, struct messages *messages)
{
    struct script *script = practice->script;
    practice->step = (struct step){STEP_DONE, 0, NULL, 0, NULL};
    if (any_check_skipped(script)) {
        if (!note(practice, event_blank(EVENT_QUESTION_LEFT), messages))
            return false;
        practice->totals.left++;
        return true;
    }
    struct event event = event_blank(EVENT_QUESTION_MARKED);
    event.marks = mark_rows_of(script, &event.mark_count);
    if (!note(practice, event, messages))
        return false;
    totals_add_script(&practice->totals, script, event.marks, event.mark_count,
                      seconds_a_mark(practice, script->question), practice->arena);
    return true;
}

bool close_question(struct practice *practice, struct messages *messages)
{
    if (!note_closed(practice, messages))
        return false;
    if (practice->script->question->note.count) {
        page_heading(practice->page, 3, "To take away");
        show_blocks(practice->page, &practice->script->question->note, &practice->script->values,
                    bank_folder(practice->bank), 0);
    }
    drop_script(practice);
    practice->position = AT_NEXT;
    if (time_is_up(practice))
        return finish_sitting(practice, messages);
    page_gap(practice->page);
    tell_progress(practice);
    return true;
}

bool finish_sitting(struct practice *practice, struct messages *messages)
{
    struct event event = event_blank(EVENT_SITTING_CLOSED);
    event.detail = "finished";
    if (!note(practice, event, messages))
        return false;
    practice->position = AT_END;
    show_summary(practice);
    return true;
}

/* Narrows the wish to what is due; says when the next is when nothing is. */
static bool take_due(struct practice *practice, struct messages *messages)
{
    struct due due;
    day_number today = day_of(moment_now());
    if (!due_read(practice->record, practice->bank, today, practice->arena, &due, messages))
        return false;
    practice->wish.only = due.questions;
    practice->wish.only_count = due.count;
    return true;
}

static bool refuse_nothing_due(struct practice *practice, struct messages *messages)
{
    struct due due;
    struct buffer next = BUFFER_EMPTY;
    day_number today = day_of(moment_now());
    if (practice->wish.only_count || !due_read(practice->record, practice->bank, today, practice->arena, &due, messages))
        return practice->wish.only_count > 0;
    if (due.next != NO_DAY)
        add_day_relative(&next, due.next, today);
    messages_error(messages, "no missed point is due today; %s%s%s", due.next == NO_DAY ? "none is on record, so " : "the next is due ",
                   buffer_text(&next), due.next == NO_DAY ? "practise without --missed" : ", and 'ownmark practise' goes on with the course");
    buffer_free(&next);
    return false;
}

/* ---- Beginning ----------------------------------------------------------------------------------- */

static bool note_opened(struct practice *practice, const struct practice_plan *plan, struct messages *messages)
{
    struct event course = event_blank(EVENT_COURSE_SEEN), opened = event_blank(EVENT_SITTING_OPENED);
    struct buffer text = BUFFER_EMPTY, lines = BUFFER_EMPTY, detail = BUFFER_EMPTY;
    char hash[33];
    bank_course_text(practice->bank, &text);
    record_course_lines(bank_course(practice->bank), &lines);
    plan_write(plan, &detail);
    course.bank = opened.bank = bank_id(practice->bank);
    course.text = buffer_text(&lines);
    opened.text = bank_path(practice->bank);
    opened.detail = buffer_text(&detail);
    bool good = record_keep_content(practice->record, buffer_text(&text), hash, messages);
    course.content = opened.content = hash;
    struct event both[2] = {course, opened};
    good = good && record_append(practice->record, both, 2, messages);
    practice->sitting = both[1].sequence;
    buffer_free(&text);
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
    struct practice *practice = new_practice(bank, record);
    practice->wish = plan->wish;
    practice->minutes = plan->minutes;
    practice->questions = plan->questions;
    practice->why = plan->why;
    bool due = !plan->missed || (take_due(practice, messages) && refuse_nothing_due(practice, messages));
    if (due && note_opened(practice, plan, messages) && open_next_question(practice, messages) &&
        (practice->position == AT_END || present(practice, messages)))
        return practice;
    practice_free(practice);
    return NULL;
}

/* ---- Going on ------------------------------------------------------------------------------------ */

static bool reopen_question(struct practice *practice, const struct event *event, struct messages *messages)
{
    struct arena *arena = arena_new();
    const char *question_text = event->content ? record_content(practice->record, event->content, arena) : NULL;
    struct buffer course_text = BUFFER_EMPTY;
    const struct course *course = NULL;
    const struct question *question = NULL;
    bank_course_text(practice->bank, &course_text);
    bool read = question_text && bank_from_text(buffer_text(&course_text), question_text, arena, &course, &question, messages);
    buffer_free(&course_text);
    if (!read || !draw_script(practice, arena, course, question, (uint64_t)event->number, messages)) {
        arena_free(arena);
        if (!question_text)
            messages_error(messages, "the record has lost the text of question '%s'; ownmark record check tells more",
                           event->item ? event->item : "?");
        return false;
    }
    practice->script->sequence = event->sequence;
    practice->number++;
    practice->previous_topic = question->topic;
    int index = bank_find(practice->bank, question->id);
    if (index >= 0)
        practice->asked[index] = true;
    return true;
}

static void close_replayed(struct practice *practice, const struct event *event)
{
    struct script *script = practice->script;
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
    struct messages unheeded = MESSAGES_EMPTY;
    plan_read(practice->bank, text, practice->arena, &plan, &unheeded);
    practice->wish = plan.wish;
    practice->minutes = plan.minutes;
    practice->questions = plan.questions;
    if (plan.missed)
        take_due(practice, &unheeded);
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
    if (!practice->script || event->script != practice->script->sequence)
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
    struct practice *practice = new_practice(bank, record);
    practice->sitting = sitting;
    bool good = replay(practice, sitting, messages);
    if (good && practice->script) {
        practice->position = AT_STEP;
        practice->step_is_new = true;
        practice->step = (struct step){STEP_DONE, 0, NULL, 0, NULL};
        page_paragraph(practice->page, "Going on where you stopped.");
        show_opened(practice);
    } else if (good) {
        good = open_next_question(practice, messages);
    }
    if (good && (practice->position == AT_END || present(practice, messages)))
        return practice;
    practice_free(practice);
    return NULL;
}

bool practice_abandon(struct bank *bank, struct record *record, int64_t sitting, struct messages *messages)
{
    struct practice *practice = new_practice(bank, record);
    practice->sitting = sitting;
    bool good = replay(practice, sitting, messages);
    if (good && practice->script) {
        bool awarded = true;
        for (size_t i = 0; i < practice->script->question->part_count; i++)
            awarded = awarded && !isnan(practice->script->parts[i].awarded);
        practice->step = (struct step){STEP_DONE, 0, NULL, 0, NULL};
        good = awarded ? note_closed(practice, messages) : note(practice, event_blank(EVENT_QUESTION_LEFT), messages);
        drop_script(practice);
    }
    struct event event = event_blank(EVENT_SITTING_CLOSED);
    event.detail = "left";
    good = good && note(practice, event, messages);
    practice_free(practice);
    return good;
}
