/* What a mock came to: marks, where the time went, what to do next. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/dates.h"
#include "base/json.h"
#include "base/text.h"
#include "marking/cause.h"
#include "practice/mock-inner.h"

/* A question took much more than its share: half as much again, and a minute at least. Our own, no source. */
#define MUCH_MORE 1.5
#define WORTH_NAMING 60.0

struct sat {
    double got, seconds, share;
    int marks, blank_marks;     /* on offer; of them in parts left blank */
    int late_parts;
    double late_got;            /* in parts with something written after time was called */
    bool marked;
};

struct outcome {
    struct sat *questions;      /* mock->count */
    struct sat all;
    double between;             /* seconds in no question's part */
    int lost_time;              /* questions that took much more than their share */
};

static void add_part(const struct part_facts *facts, struct sat *sat)
{
    double got = isnan(facts->awarded) ? 0 : facts->awarded;
    sat->got += got;
    sat->seconds += facts->seconds;
    sat->blank_marks += mock_part_written(facts) ? 0 : facts->part->marks;
    if (facts_is_late(facts)) {
        sat->late_parts++;
        sat->late_got += got;
    }
}

static bool took_much_more(const struct sat *sat)
{
    return sat->seconds > MUCH_MORE * sat->share && sat->seconds - sat->share >= WORTH_NAMING;
}

/* The rows came in the order of the questions. */
static void put_in_course_order(const struct practice *practice)
{
    const struct course *course = bank_course(practice->bank);
    const struct totals *totals = &practice->totals;
    size_t next = 0;
    for (size_t i = 0; i < course->objective_count; i++)
        for (size_t j = next; j < totals->objective_count; j++)
            if (strcmp(totals->objectives[j].name, course->objectives[i].id) == 0) {
                struct total_row row = totals->objectives[j];
                totals->objectives[j] = totals->objectives[next];
                totals->objectives[next++] = row;
                break;
            }
}

static struct outcome outcome_of(struct practice *practice)
{
    const struct mock *mock = practice->mock;
    put_in_course_order(practice);
    struct outcome outcome = {.questions = arena_get_array(practice->arena, mock->count, sizeof *outcome.questions)};
    for (size_t i = 0; i < mock->count; i++) {
        const struct script *script = mock->scripts[i].script;
        struct sat *sat = &outcome.questions[i];
        *sat = (struct sat){.marks = script->question->marks, .marked = script->marked,
                            .share = question_allowed(practice, script->question)};
        for (size_t j = 0; j < script->question->part_count; j++)
            add_part(&script->parts[j], sat);
        outcome.all.marks += sat->marks;
        outcome.all.seconds += sat->seconds;
        outcome.all.blank_marks += sat->blank_marks;
        outcome.all.late_parts += sat->late_parts;
        if (sat->marked)
            outcome.all.late_got += sat->late_got;
        outcome.lost_time += took_much_more(sat);
    }
    outcome.between = fmax(mock->used - outcome.all.seconds, 0);
    return outcome;
}

/* ---- As a page ----------------------------------------------------------------------------------- */

/* "4:05" */
static void add_minutes(struct buffer *out, double seconds)
{
    long whole = lround(seconds);
    buffer_print(out, "%ld:%02ld", whole / 60, whole % 60);
}

static void cell_minutes(struct practice *practice, double seconds)
{
    struct buffer text = BUFFER_EMPTY;
    add_minutes(&text, seconds);
    page_cell(practice->page, "%s", buffer_text(&text));
    buffer_free(&text);
}

static void tell_prediction(struct practice *practice)
{
    const struct mock *mock = practice->mock;
    double miss = mock->predicted - practice->totals.got;
    if (isnan(mock->predicted) || practice->totals.left)
        return;
    page_fact(practice->page, "Predicted", "%g, earned %g: %s", mock->predicted, practice->totals.got,
              fabs(miss) <= 0.05 * mock->about.marks ? "a good judgement"
              : miss > 0                             ? "you hoped for more"
                                                     : "you did better than you thought");
}

static void tell_marks(struct practice *practice, const struct outcome *outcome)
{
    const struct totals *totals = &practice->totals;
    page_fact(practice->page, "Marks", "%g of %g", totals->got, totals->maximum);
    if (outcome->all.late_parts)
        page_fact(practice->page, "In time", "%g at least; %g more in %s also written in after time was over",
                  totals->got - outcome->all.late_got, outcome->all.late_got,
                  text_count(outcome->all.late_parts, "part", "parts"));
    if (totals->left)
        page_fact(practice->page, "Not marked", "%s, out of %d marks", text_count(totals->left, "question", "questions"),
                  outcome->all.marks);
    tell_prediction(practice);
}

static void tell_time(struct practice *practice)
{
    const struct mock *mock = practice->mock;
    struct buffer used = BUFFER_EMPTY, allowed = BUFFER_EMPTY, rested = BUFFER_EMPTY;
    add_duration(&used, mock->used);
    add_duration(&allowed, mock->about.allowed);
    add_duration(&rested, mock->rested);
    page_fact(practice->page, "Time", "%s of %s", buffer_text(&used), buffer_text(&allowed));
    if (mock->rests)
        page_fact(practice->page, "Rest breaks", "%d, %s in all", mock->rests, buffer_text(&rested));
    buffer_free(&used);
    buffer_free(&allowed);
    buffer_free(&rested);
}

static void show_pace(struct practice *practice, const struct outcome *outcome)
{
    static const char *const head[] = {"No.", "earned", "of", "time", "its share", "a mark"};
    page_table(practice->page, "Pace, in minutes", "rrrrrr", true);
    for (size_t i = 0; i < sizeof head / sizeof *head; i++)
        page_cell(practice->page, "%s", head[i]);
    for (size_t i = 0; i < practice->mock->count; i++) {
        const struct sat *sat = &outcome->questions[i];
        page_cell(practice->page, "%zu", i + 1);
        if (sat->marked)
            page_cell(practice->page, "%g", sat->got);
        else
            page_cell(practice->page, "not marked");
        page_cell(practice->page, "%d", sat->marks);
        cell_minutes(practice, sat->seconds);
        cell_minutes(practice, sat->share);
        cell_minutes(practice, sat->seconds / sat->marks);
    }
}

static void name_lost_time(struct practice *practice, const struct outcome *outcome)
{
    for (size_t i = 0; i < practice->mock->count; i++) {
        const struct sat *sat = &outcome->questions[i];
        struct buffer took = BUFFER_EMPTY, over = BUFFER_EMPTY;
        if (!took_much_more(sat))
            continue;
        add_duration(&took, sat->seconds);
        add_duration(&over, sat->seconds - sat->share);
        page_item(practice->page, 0, "-", "Question %zu took %s for %s: %s more than its share.", i + 1, buffer_text(&took),
                  text_count(sat->marks, "mark", "marks"), buffer_text(&over));
        buffer_free(&took);
        buffer_free(&over);
    }
}

static void tell_pace(struct practice *practice, const struct outcome *outcome)
{
    const struct mock *mock = practice->mock;
    double left = mock->about.allowed - mock->used;
    struct buffer time = BUFFER_EMPTY;
    show_pace(practice, outcome);
    if (outcome->between >= WORTH_NAMING) {
        add_duration(&time, outcome->between);
        page_item(practice->page, 0, "-", "%s went by at the list of questions.", buffer_text(&time));
    }
    if (outcome->lost_time)
        name_lost_time(practice, outcome);
    else
        page_item(practice->page, 0, "-", "No question took much more than its share.");
    if (outcome->all.blank_marks)
        page_item(practice->page, 0, "-", "%s stood in parts left blank.%s",
                  text_count(outcome->all.blank_marks, "mark", "marks"),
                  outcome->lost_time ? " When a question's share is used up, mark it with .later and go on." : "");
    if (left >= WORTH_NAMING && left > 0.1 * mock->about.allowed && practice->totals.got < practice->totals.maximum) {
        buffer_clear(&time);
        buffer_add(&time, text_count(lround(left / 60.0), "minute", "minutes"));
        page_item(practice->page, 0, "-", "You handed in about %s early. Reading through what is written is worth that time.",
                  buffer_text(&time));
    }
    buffer_free(&time);
}

static void tell_next(struct practice *practice)
{
    page_heading(practice->page, 3, "Next");
    page_item(practice->page, 0, "-", "Take a proper break first; nothing more needs doing today.");
    if (practice->totals.missed_count)
        page_item(practice->page, 0, "-", "Then: ownmark practise --missed brings the missed points back, from tomorrow on; ownmark "
                                          "missed lists them.");
    page_item(practice->page, 0, "-", "ownmark standing shows where you stand now, and what to practise next.");
    page_item(practice->page, 0, "-", "ownmark mock --result shows this page again.");
}

void mock_show_result(struct practice *practice)
{
    const struct totals *totals = &practice->totals;
    struct outcome outcome = outcome_of(practice);
    page_heading(practice->page, 1, "%s: the result", practice->mock->about.course);
    tell_marks(practice, &outcome);
    tell_time(practice);
    show_marks_table(practice, "By objective", totals->objectives, totals->objective_count);
    show_marks_table(practice, "By command word", totals->words, totals->word_count);
    tell_pace(practice, &outcome);
    show_missed_list(practice);
    show_habits(practice);
    tell_next(practice);
    show_caution(practice);
}

/* ---- Asked for later ----------------------------------------------------------------------------- */

bool mock_show(struct bank *const *banks, struct record *record, int64_t sitting, struct page *page,
               struct messages *messages)
{
    struct practice *practice = mock_gather(banks, record, sitting, messages);
    if (!practice)
        return false;
    mock_show_result(practice);
    page_append(page, practice->page);
    practice_free(practice);
    return true;
}

static void json_rows(struct json *json, const char *name, const struct total_row *rows, size_t count)
{
    json_array(json, name);
    for (size_t i = 0; i < count; i++) {
        json_object(json, NULL);
        json_text(json, "name", rows[i].name);
        json_number(json, "earned", rows[i].got);
        json_number(json, "of", rows[i].maximum);
        json_close_object(json);
    }
    json_close_array(json);
}

static void json_questions(struct json *json, const struct mock *mock, const struct outcome *outcome)
{
    json_array(json, "questions");
    for (size_t i = 0; i < mock->count; i++) {
        const struct sat *sat = &outcome->questions[i];
        json_object(json, NULL);
        json_whole(json, "number", (long)i + 1);
        json_text(json, "bank", bank_id(mock->scripts[i].bank));
        json_text(json, "question", mock->scripts[i].script->question->id);
        json_number(json, "earned", sat->marked ? sat->got : (double)NAN);
        json_whole(json, "of", sat->marks);
        json_number(json, "seconds", round(sat->seconds));
        json_number(json, "share_seconds", round(sat->share));
        json_truth(json, "much_more_time", took_much_more(sat));
        json_whole(json, "blank_marks", sat->blank_marks);
        json_whole(json, "parts_written_in_after_time", sat->late_parts);
        json_close_object(json);
    }
    json_close_array(json);
}

static void json_missed(struct json *json, const struct totals *totals)
{
    json_array(json, "missed");
    for (size_t i = 0; i < totals->missed_count; i++) {
        const struct missed_line *missed = &totals->missed[i];
        json_object(json, NULL);
        json_whole(json, "number", missed->number);
        json_text(json, "question", missed->question);
        json_text(json, "part", missed->part);
        json_text(json, "point", missed->text);
        json_number(json, "marks", missed->lost);
        json_text(json, "cause", missed->cause);
        json_close_object(json);
    }
    json_close_array(json);
}

static void json_result(struct practice *practice, struct json *json)
{
    const struct mock *mock = practice->mock;
    const struct totals *totals = &practice->totals;
    struct outcome outcome = outcome_of(practice);
    struct buffer when = BUFFER_EMPTY;
    add_iso(&when, mock->handed_in_at);
    json_object(json, NULL);
    json_text(json, "course", mock->about.course);
    json_text(json, "paper", mock->about.paper);
    json_text(json, "handed_in", buffer_text(&when));
    json_number(json, "earned", totals->got);
    json_number(json, "of", totals->maximum);
    json_whole(json, "paper_marks", mock->about.marks);
    json_number(json, "earned_in_time_at_least", totals->got - outcome.all.late_got);
    json_number(json, "predicted", mock->predicted);
    json_number(json, "seconds", round(mock->used));
    json_number(json, "allowed_seconds", round(mock->about.allowed));
    json_whole(json, "rest_breaks", mock->rests);
    json_number(json, "rest_seconds", mock->rested);
    json_rows(json, "objectives", totals->objectives, totals->objective_count);
    json_rows(json, "command_words", totals->words, totals->word_count);
    json_questions(json, mock, &outcome);
    json_missed(json, totals);
    json_text(json, "note", "practice figures from the student's own marking, not grades");
    json_close_object(json);
    buffer_free(&when);
}

bool mock_json(struct bank *const *banks, struct record *record, int64_t sitting, struct buffer *out,
               struct messages *messages)
{
    struct practice *practice = mock_gather(banks, record, sitting, messages);
    struct json json;
    if (!practice)
        return false;
    json_begin(&json, out);
    json_result(practice, &json);
    buffer_add(out, "\n");
    practice_free(practice);
    return true;
}
