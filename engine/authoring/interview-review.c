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
    buffer_clear(&interview->prefill);
    buffer_add(&interview->prefill, answer_text(interview, step));
    interview->has_prefill = interview->prefill.length > 0 && !strchr(buffer_text(&interview->prefill), '\n');
    page_paragraph(interview->page, "%s is now: %s", step_rule_for(step.kind)->name,
                   interview->prefill.length ? buffer_text(&interview->prefill) : "-");
}

static void drop_point(struct interview *interview, const char *text)
{
    struct step step;
    if (!line_meant(interview, text, &step) || step.kind != SHEET_POINT) {
        page_paragraph(interview->page, "Please name the line of a point, such as 'drop 9'.");
        return;
    }
    if (draft_part_first(&interview->draft, step.row) == step.row) {
        page_paragraph(interview->page, "The first point of a part cannot be taken out; change it instead.");
        return;
    }
    steps_remove_row(interview, step.row);
    interview->taken_count = 0;
    interview->place = INTERVIEW_AT_STEP;
}

/* ---- Written ---------------------------------------------------------------------------------------- */

/* The first question of a new bank brings the bank with it. */
static bool write_new_bank(struct interview *interview, const char *xml, struct messages *messages)
{
    struct buffer out = BUFFER_EMPTY;
    buffer_print(&out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<bank xmlns=\"urn:ownmark:bank:1\" id=\"%s\">\n%s\n%s</bank>\n",
                 interview->new_id, buffer_text(&interview->course_text), xml);
    bool written = bank_create(interview->path, buffer_text(&out), out.length, messages);
    buffer_free(&out);
    return written;
}

static bool write_question(struct interview *interview, struct messages *messages)
{
    struct buffer xml = BUFFER_EMPTY;
    draft_xml(&interview->draft, &xml);
    const struct bank_change change = {interview->replaces, buffer_text(&xml)};
    bool written = interview->bank ? bank_change(interview->path, &change, 1, messages)
                                   : write_new_bank(interview, buffer_text(&xml), messages);
    buffer_free(&xml);
    return written;
}

static void say_unwritten(struct interview *interview, const struct messages *messages)
{
    page_paragraph(interview->page, "It cannot be written:");
    for (size_t i = 0; i < messages->count; i++)
        page_item(interview->page, 0, "-", "%s", messages->items[i].text);
}

static void save_question(struct interview *interview)
{
    struct messages messages = MESSAGES_EMPTY;
    if (!write_question(interview, &messages)) {
        say_unwritten(interview, &messages);
    } else {
        page_paragraph(interview->page, "Written to %s: %s.", interview->path, draft_get(&interview->draft, 0, SHEET_QUESTION));
        unlink(interview->draft_path);
        interview->place = interview->replaces ? INTERVIEW_OVER : INTERVIEW_ANOTHER;
    }
    messages_free(&messages);
}

enum practice_result review_enter(struct interview *interview, const char *line, struct messages *messages)
{
    struct step step;
    (void)messages;
    if (text_is_blank(line) || text_equal_ignoring_case(line, "save"))
        save_question(interview);
    else if (text_equal_ignoring_case(line, "show") || strcmp(line, ".back") == 0)
        review_show(interview);
    else if (text_equal_ignoring_case(line, "part"))
        steps_add_part(interview), interview->place = INTERVIEW_AT_STEP;
    else if (text_starts_with(line, "drop"))
        drop_point(interview, line + 4);
    else if (line_meant(interview, line, &step))
        begin_change(interview, step);
    else
        page_paragraph(interview->page, "Please type save, the number of a line to change it, part, drop and a number, or show.");
    return PRACTICE_ON;
}
