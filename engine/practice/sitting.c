/* The questions of a sitting, one after another, to its end. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/dates.h"
#include "base/random.h"
#include "base/text.h"
#include "practice/due.h"
#include "practice/mark.h"
#include "practice/mock-inner.h"
#include "practice/show.h"
#include "practice/standing.h"

double minutes_practised(const struct practice *practice)
{
    return practice->minutes_before + (clock_elapsed() - practice->began) / 60.0;
}

/* ---- Questions ----------------------------------------------------------------------------------- */

bool draw_script(struct practice *practice, struct arena *arena, const struct course *course,
                        const struct question *question, uint64_t seed, struct messages *messages)
{
    struct values values;
    if (!values_draw(course, question, seed, arena, &values, messages))
        return false;
    practice->script = script_new(arena, course, question, seed, &values);
    return true;
}

bool keep_question(struct practice *practice, size_t index, char hash[33], struct messages *messages)
{
    struct buffer text = BUFFER_EMPTY;
    bool kept = bank_question_text(practice->bank, index, &text, messages) &&
                record_keep_content(practice->record, buffer_text(&text), hash, messages);
    buffer_free(&text);
    return kept;
}

static bool note_question(struct practice *practice, size_t index, struct messages *messages)
{
    char hash[33];
    if (!keep_question(practice, index, hash, messages))
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

void show_opened(struct practice *practice)
{
    const struct script *script = practice->script;
    show_question(practice->page, script->course, script->question, &script->values, bank_folder(practice->bank),
                  practice->number, question_allowed(practice, script->question));
}

void drop_script(struct practice *practice)
{
    if (!practice->mock)
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
    if (practice->mock)
        return mock_next_unmarked(practice->mock) == practice->mock->count;
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
        if (best[i].topic_marks >= LEARNER_TOPIC_MARKS)
            page_cell(practice->page, "%ld", lround(best[i].share * 100));
        else
            page_cell(practice->page, best[i].topic_marks > 0 ? "too little" : "not met");
        page_cell(practice->page, "%.2f", best[i].gain * course->paper_marks);
        page_cell(practice->page, "%.3f", best[i].score * course->paper_marks);
    }
    page_paragraph(practice->page, "Gain: marks of the paper that a few minutes on the topic should win, seen four weeks ahead at "
                                   "most. A minute: the same for each minute; a topic just met counts for less there, one that rested for more.");
}

/* In a sitting that mixes, every third question asks again for a missed point that is due, while there is one: missed points
 * come back without being asked for, and do not crowd out the rest of the course. */
enum { MISSED_EVERY = 3 };

static bool is_turn_of_missed(const struct practice *practice)
{
    return practice->wish.question == CHOOSE_ANY && !practice->wish.only && practice->number % MISSED_EVERY == MISSED_EVERY - 1;
}

/* Narrows the choice to what is due, unless that leaves nothing. */
static bool narrow_to_missed(const struct practice *practice, struct choosing *choosing, struct arena *arena,
                             struct messages *messages)
{
    struct due due = {0};
    size_t fresh = 0;
    if (!due_read(practice->record, practice->bank, &practice->wish, day_of(choosing->now), arena, &due, messages))
        return false;
    for (size_t i = 0; i < due.count; i++)
        if (!practice->asked[due.questions[i]])
            due.questions[fresh++] = due.questions[i];
    if (fresh) {
        choosing->wish.only = due.questions;
        choosing->wish.only_count = fresh;
    }
    return true;
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
                                        &choosing.history_count, messages) &&
                (!is_turn_of_missed(practice) || narrow_to_missed(practice, &choosing, arena, messages));
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
    if (practice->mock) {
        mock_mark_next(practice);
        return true;
    }
    if (!choose_next(practice, &index, messages))
        return false;
    return index == CHOOSE_NOTHING ? finish_sitting(practice, messages) : open_question(practice, index, messages);
}

static void tell_progress(struct practice *practice)
{
    struct buffer time = BUFFER_EMPTY;
    if (practice->mock) {
        page_paragraph(practice->page, "%d of %zu questions marked.", practice->number, practice->mock->count);
        return;
    }
    add_duration(&time, minutes_practised(practice) * 60.0);
    if (practice->minutes > 0)
        page_paragraph(practice->page, "%s done in %s; this sitting is planned for %g minutes.",
                       text_count(practice->number, "question", "questions"), buffer_text(&time), practice->minutes);
    else
        page_paragraph(practice->page, "%s done in %s.", text_count(practice->number, "question", "questions"),
                       buffer_text(&time));
    buffer_free(&time);
}

/* A mock's clock is one for all of it: every mark has the same share. */
double seconds_a_mark(const struct practice *practice, const struct question *question)
{
    if (practice->mock)
        return practice->mock->about.allowed / practice->mock->about.marks;
    return question->minutes * 60.0 * practice->allowance / (question->marks > 0 ? question->marks : 1);
}

double question_allowed(const struct practice *practice, const struct question *question)
{
    return practice->mock ? question->marks * seconds_a_mark(practice, question) : question->minutes * 60.0 * practice->allowance;
}

static bool any_check_skipped(const struct script *script)
{
    for (size_t i = 0; i < script->question->part_count; i++)
        if (script->parts[i].skipped[STAGE_CHECK])
            return true;
    return false;
}

void remember_marked(struct practice *practice, int64_t script, const struct event *event)
{
    practice->last_script = script;
    if (event->mark_count)
        practice->last_part = arena_copy_text(practice->arena, event->marks[event->mark_count - 1].part);
}

/* A question with an unchecked part says nothing reliable about the student: it is left, not marked. */
bool note_closed(struct practice *practice, struct messages *messages)
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
    remember_marked(practice, script->sequence, &event);
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
    return !practice->mock && rating_is_due(practice) ? rating_begin(practice, messages) : end_sitting(practice, messages);
}

bool end_sitting(struct practice *practice, struct messages *messages)
{
    struct event event = event_blank(EVENT_SITTING_CLOSED);
    event.detail = "finished";
    if (!note(practice, event, messages))
        return false;
    practice->position = AT_END;
    show_summary(practice);
    return true;
}
