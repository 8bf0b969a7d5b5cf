/* The whole question before it is written: as a student will meet it, as it will be marked, every line of it to be changed. */
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "answer/model-answer.h"
#include "authoring/interview-inner.h"
#include "authoring/warnings.h"
#include "bank/change.h"
#include "bank/values.h"
#include "base/text.h"
#include "practice/show.h"

/* ---- Shown ----------------------------------------------------------------------------------------- */

static void show_part(struct page *page, const struct course *course, const struct question *question, size_t index,
                      const struct values *values, struct arena *arena)
{
    const struct part *part = &question->parts[index];
    const struct scheme_view view = {course, part, values, true};
    page_heading(page, 3, "Marking%s%s%s", question->part_count > 1 ? " (" : "", question->part_count > 1 ? part->id : "",
                 question->part_count > 1 ? ")" : "");
    show_scheme(page, &view);
    const struct model_result result = model_answer_earns(course, question, index, values, NULL, arena);
    if (result.written && !result.for_a_person)
        page_item(page, 0, "model answer", "seen to earn %d of %d", result.marks, result.maximum);
    for (size_t i = 0; result.written && i < result.evidence->point_count; i++)
        if (!model_recognises(&result.evidence->points[i]))
            page_item(page, 1, "not seen", "%s: %s", result.evidence->points[i].point->id, result.evidence->points[i].reason);
}

static void show_question_whole(struct page *page, const struct course *course, const struct question *question,
                                struct arena *arena)
{
    struct messages messages = MESSAGES_EMPTY;
    struct values values;
    if (values_draw(course, question, 1, arena, &values, &messages)) {
        show_question(page, course, question, &values, NULL, 0, question->minutes * 60);
        for (size_t i = 0; i < question->part_count; i++)
            show_ask(page, question, &question->parts[i], &values, NULL);
        for (size_t i = 0; i < question->part_count; i++)
            show_part(page, course, question, i, &values, arena);
    }
    messages_free(&messages);
}

static void show_warnings(struct page *page, const struct course *course, const struct question *question)
{
    struct messages messages = MESSAGES_EMPTY;
    warnings_of_question(course, question, NULL, NULL, &messages);
    if (messages.count)
        page_heading(page, 3, "Worth a look");
    for (size_t i = 0; i < messages.count; i++)
        page_item(page, 0, "-", "%s", messages.items[i].text);
    messages_free(&messages);
}

struct lines {
    struct page *page;
    int number;
    int wanted;                 /* the line looked for; 0: all are shown */
    struct step found;
};

static bool show_line(struct interview *interview, struct step step, void *context)
{
    struct lines *lines = context;
    const char *part = draft_get(&interview->draft, step.row, SHEET_PART), *text = answer_text(interview, step);
    if (step.kind == STEP_PARTS)
        return true;
    if (step.kind == SHEET_ASK && *part)
        page_item(lines->page, 0, "", "part (%s)", part);
    page_item(lines->page, 0, arena_print(interview->arena, "%2d", ++lines->number), "%s: %s", step_rule_for(step.kind)->name,
              *text ? text : "-");
    return true;
}

void review_show(struct interview *interview)
{
    struct arena *arena = arena_new();
    const struct course *course;
    struct lines lines = {.page = interview->page};
    const struct question *question = trial_whole(interview, arena, &course);
    page_gap(interview->page);
    if (question)
        show_question_whole(interview->page, course, question, arena);
    if (question)
        show_warnings(interview->page, course, question);
    if (strstr(buffer_text(&interview->original), "<!--"))
        page_paragraph(interview->page, "The comments inside this question's XML are lost when it is saved; to keep them, change it in "
                       "an editor.");
    page_heading(interview->page, 3, "Its lines");
    steps_each(interview, show_line, &lines);
    arena_free(arena);
}

/* ---- Changed ---------------------------------------------------------------------------------------- */

static bool find_line(struct interview *interview, struct step step, void *context)
{
    struct lines *lines = context;
    (void)interview;
    if (step.kind == STEP_PARTS || ++lines->number != lines->wanted)
        return true;
    lines->found = step;
    return false;
}

static bool line_meant(struct interview *interview, const char *text, struct step *step)
{
    char *end;
    long wanted = strtol(text, &end, 10);
    struct lines lines = {.wanted = wanted > 0 && wanted < INT_MAX ? (int)wanted : 0};
    if (end == text || !text_is_blank(end) || !lines.wanted || steps_each(interview, find_line, &lines))
        return false;
    *step = lines.found;
    return true;
}

static void begin_change(struct interview *interview, struct step step)
{
    interview->step = step;
    interview->place = INTERVIEW_CHANGE;
    const char *now = answer_text(interview, step);
    if (step_rule_for(step.kind)->lines && *now)
        text_say_now(interview);
    else
        page_paragraph(interview->page, "The %s is %s%s. Enter keeps it so%s.", step_rule_for(step.kind)->name, *now ? "now: " : "empty",
                       now, *now && !step_rule_for(step.kind)->required ? ", - takes it out" : "");
}

/* The part's own cells stay on its first row: what belongs to the point moves up. */
static void drop_row(struct interview *interview, size_t row)
{
    struct draft *draft = &interview->draft;
    if (draft_part_first(draft, row) == row) {
        for (size_t i = 0; i < SHEET_COLUMNS; i++)
            if (sheet_headings[i].scope == SHEET_OF_POINT)
                draft_set(draft, row, (enum sheet_column)i, draft_get(draft, row + 1, (enum sheet_column)i));
        row++;
    }
    steps_remove_row(interview, row);
}

/* The question's own cells stay on the first row of all. */
static bool drop_part(struct interview *interview, size_t row)
{
    struct draft *draft = &interview->draft;
    size_t end = draft_part_end(draft, row);
    if (end - row == draft->count)
        return false;
    for (size_t i = 0; row == 0 && i < SHEET_COLUMNS; i++)
        if (sheet_headings[i].scope == SHEET_OF_QUESTION)
            draft_set(draft, end, (enum sheet_column)i, draft_get(draft, 0, (enum sheet_column)i));
    for (int kind = 0; row == 0 && kind < STEP_KINDS; kind++)
        interview->rows[end].asked[kind] |= interview->rows[0].asked[kind];
    while (end-- > row)
        steps_remove_row(interview, end);
    return true;
}

static void drop(struct interview *interview, const char *text)
{
    struct step step;
    if (!line_meant(interview, text, &step) || (step.kind != SHEET_POINT && step.kind != SHEET_ASK)) {
        page_paragraph(interview->page, "Please name the line of a point, such as 'drop 9', or the line of the ask of a part.");
        return;
    }
    size_t first = draft_part_first(&interview->draft, step.row), rows = draft_part_end(&interview->draft, first) - first;
    if (step.kind == SHEET_POINT && rows == 1) {
        page_paragraph(interview->page, "A part needs a point; change this one instead, or drop the part by the line of its ask.");
        return;
    }
    if (step.kind == SHEET_POINT)
        drop_row(interview, step.row);
    else if (!drop_part(interview, first)) {
        page_paragraph(interview->page, "A question needs a part; change its lines instead.");
        return;
    }
    interview->taken_count = 0;
    interview->place = INTERVIEW_AT_STEP;
}

/* "point" for the last part, "point b" for another. */
static void add_point(struct interview *interview, const char *text)
{
    const struct draft *draft = &interview->draft;
    const char *part = text_trim(arena_copy_text(interview->arena, text));
    size_t row = draft->count - 1;
    while (*part && row > 0 && !text_equal_ignoring_case(draft_get(draft, row, SHEET_PART), part))
        row--;
    if (*part && !text_equal_ignoring_case(draft_get(draft, row, SHEET_PART), part))
        page_paragraph(interview->page, "There is no part '%s'.", part);
    else if (!steps_reopen(interview, row))
        page_paragraph(interview->page, "There is a point for each mark: change the marks, or the marking to any or list, first.");
    else
        interview->place = INTERVIEW_AT_STEP;
}

/* ---- Written ---------------------------------------------------------------------------------------- */

/* The first question of a new bank brings the bank with it. */
static bool write_new_bank(struct interview *interview, const char *xml, struct messages *messages)
{
    struct buffer out = BUFFER_EMPTY;
    bank_new_text(&out, interview->new_id, buffer_text(&interview->course_text), &xml, 1);
    bool written = bank_create(interview->path, buffer_text(&out), out.length, messages);
    buffer_free(&out);
    return written;
}

static bool write_question(struct interview *interview, const char *xml, struct messages *messages)
{
    const struct bank_change change = {interview->replaces, xml};
    return interview->bank ? bank_change(interview->path, &change, 1, messages) : write_new_bank(interview, xml, messages);
}

static void say_unwritten(struct interview *interview, const struct messages *messages)
{
    page_paragraph(interview->page, "It cannot be written:");
    trial_show_faults(interview->page, messages);
    page_paragraph(interview->page, "The question is kept; mend it and save again, or .leave.");
}

/* Somebody may have changed the very question in an editor. The second save writes over it. */
static bool was_changed_meanwhile(struct interview *interview)
{
    struct messages messages = MESSAGES_EMPTY;
    struct buffer now = BUFFER_EMPTY;
    struct bank *bank = interview->replaces ? bank_open(interview->path, true, &messages) : NULL;
    int index = bank ? bank_find(bank, interview->replaces) : -1;
    bool changed = index >= 0 && bank_question_text(bank, (size_t)index, &now, &messages) &&
                   !text_equal(buffer_text(&now), buffer_text(&interview->original));
    if (changed) {
        buffer_clear(&interview->original);
        buffer_add(&interview->original, buffer_text(&now));
        page_paragraph(interview->page, "Question '%s' was changed in %s meanwhile. Saving once more writes over that; .leave keeps yours "
                       "for later.", interview->replaces, interview->path);
    }
    bank_close(bank);
    buffer_free(&now);
    messages_free(&messages);
    return changed;
}

static void end_question(struct interview *interview)
{
    unlink(interview->draft_path);
    interview->place = interview->replaces ? INTERVIEW_OVER : INTERVIEW_ANOTHER;
}

static void save_question(struct interview *interview)
{
    struct messages messages = MESSAGES_EMPTY;
    struct buffer xml = BUFFER_EMPTY;
    draft_xml(&interview->draft, &xml);
    if (interview->replaces && text_equal(buffer_text(&xml), buffer_text(&interview->original_xml))) {
        page_paragraph(interview->page, "Nothing was changed; %s is as it was.", interview->path);
        end_question(interview);
    } else if (!was_changed_meanwhile(interview)) {
        if (write_question(interview, buffer_text(&xml), &messages)) {
            page_paragraph(interview->page, "Written to %s: %s.", interview->path, draft_get(&interview->draft, 0, SHEET_QUESTION));
            end_question(interview);
        } else {
            say_unwritten(interview, &messages);
        }
    }
    buffer_free(&xml);
    messages_free(&messages);
}

void review_enter(struct interview *interview, const char *line)
{
    struct step step;
    const char *text = text_trim(arena_copy_text(interview->arena, line));
    if (!*text || text_equal_ignoring_case(text, "save"))
        save_question(interview);
    else if (text_equal_ignoring_case(text, "show") || strcmp(text, ".back") == 0)
        review_show(interview);
    else if (text_equal_ignoring_case(text, "part"))
        steps_add_part(interview), interview->place = INTERVIEW_AT_STEP;
    else if (text_starts_with(text, "point"))
        add_point(interview, text + 5);
    else if (text_starts_with(text, "drop"))
        drop(interview, text + 4);
    else if (line_meant(interview, text, &step))
        begin_change(interview, step);
    else
        page_paragraph(interview->page, "Please type save, the number of a line to change it, or ? for more.");
}
