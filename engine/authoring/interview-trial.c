/* Trying what was typed at once: the draft so far, made whole for the moment, goes through the reader and its checks. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "authoring/interview-inner.h"
#include "bank/scheme.h"
#include "bank/values.h"
#include "base/text.h"
#include "quantity/unit.h"

static void copy_draft(const struct draft *from, struct draft *to)
{
    *to = (struct draft){NULL, 0, 0};
    for (size_t row = 0; row < from->count; row++) {
        draft_add_row(to);
        for (size_t i = 0; i < SHEET_COLUMNS; i++)
            draft_set(to, row, (enum sheet_column)i, draft_get(from, row, (enum sheet_column)i));
    }
}

static void fill(struct draft *draft, size_t row, enum sheet_column column, const char *text)
{
    if (!*draft_get(draft, row, column))
        draft_set(draft, row, column, text);
}

static const char *first_leaf(const struct course *course)
{
    for (size_t i = 0; i < course->topic_count; i++)
        if (course->topics[i].is_leaf)
            return course->topics[i].id;
    return "";
}

/* Groups and kinds are checked when the scheme is whole; until then each row is a plain point of one mark, so that its
 * numbers and words can be tried. */
static void flatten_part(struct draft *draft, size_t first)
{
    char marks[16];
    for (size_t row = draft_part_end(draft, first); row-- > first + 1;)
        if (*draft_get(draft, row, SHEET_GROUP) && strchr("lci", *draft_get(draft, row, SHEET_GROUP)) &&
            !text_starts_with(draft_get(draft, row, SHEET_GROUP), "list"))
            draft_remove_row(draft, row);
    size_t end = draft_part_end(draft, first);
    for (size_t row = first; row < end; row++) {
        static const enum sheet_column emptied[] = {SHEET_GROUP, SHEET_KIND, SHEET_NEEDS, SHEET_POINT_MARKS, SHEET_LIST_IGNORE,
                                                    SHEET_LIST_REJECT};
        for (size_t i = 0; i < sizeof emptied / sizeof *emptied; i++)
            draft_set(draft, row, emptied[i], NULL);
        fill(draft, row, SHEET_POINT, "a point");
    }
    snprintf(marks, sizeof marks, "%zu", end - first);
    draft_set(draft, first, SHEET_MARKS, marks);
}

static void make_whole(const struct interview *interview, struct draft *draft, struct step step)
{
    const struct course *course = interview->course;
    const struct interview_row *asked = &interview->rows[0];
    fill(draft, 0, SHEET_QUESTION, "draft");
    fill(draft, 0, SHEET_TOPIC, first_leaf(course));
    fill(draft, 0, SHEET_CAUTION, "caution");
    if (step.kind == SHEET_GIVENS && !asked->asked[SHEET_STEM])
        draft_set(draft, 0, SHEET_STEM, NULL);
    for (size_t first = 0; first < draft->count; first = draft_part_end(draft, first)) {
        fill(draft, first, SHEET_ASK, "State.");
        fill(draft, first, SHEET_COMMAND, course->words[0].word);
        fill(draft, first, SHEET_OBJECTIVE, course->objectives[0].id);
        flatten_part(draft, first);
    }
}

void trial_show_faults(struct page *page, const struct messages *messages)
{
    for (size_t i = 0; i < messages->count; i++)
        page_item(page, 0, "-", "%s", messages->items[i].text);
}

/* The draft made whole, read. NULL: its faults are in messages. */
static const struct question *try_made_whole(struct interview *interview, struct step step, struct arena *arena,
                                             const struct course **course, struct messages *messages)
{
    struct draft draft;
    copy_draft(&interview->draft, &draft);
    make_whole(interview, &draft, step);
    const struct question *question = draft_try(&draft, buffer_text(&interview->course_text), arena, course, messages);
    draft_free(&draft);
    return question;
}

void trial_faults(struct interview *interview, struct step step, struct messages *faults)
{
    struct arena *arena = arena_new();
    const struct course *course;
    if (try_made_whole(interview, step, arena, &course, faults)) {
        messages_free(faults);
        *faults = MESSAGES_EMPTY;
    }
    arena_free(arena);
}

const struct question *trial_whole(struct interview *interview, struct arena *arena, const struct course **course)
{
    struct messages messages = MESSAGES_EMPTY;
    const struct question *question = draft_try(&interview->draft, buffer_text(&interview->course_text), arena, course, &messages);
    if (!question) {
        page_heading(interview->page, 3, "Not sound yet");
        trial_show_faults(interview->page, &messages);
    }
    messages_free(&messages);
    return question;
}

/* ---- The number of a row ---------------------------------------------------------------------------- */

struct search {
    size_t left;
    const struct number_key *found;
};

static bool count_point(const struct node *point, void *context)
{
    struct search *search = context;
    if (search->left-- > 0)
        return true;
    search->found = point->number;
    return false;
}

static void say_number(struct page *page, const struct question *question, const struct number_key *key,
                       const struct values *values)
{
    struct buffer text = BUFFER_EMPTY;
    double expected = values_expected(values, key);
    if (!isfinite(expected))
        return;
    struct buffer number = BUFFER_EMPTY;
    values_show_answer(&number, key, expected);
    quantity_print(&text, buffer_text(&number), key->unit);
    page_paragraph(page, "That makes %s", buffer_text(&text));
    for (size_t i = 0; i < question->given_count; i++) {
        const struct bound_value *given = values_find(values, question->givens[i].symbol);
        buffer_clear(&text);
        quantity_print(&text, given->text, given->unit);
        page_add(page, STYLE_PLAIN, "%s%s = %s", i ? ", " : " with ", given->symbol, buffer_text(&text));
    }
    page_add(page, STYLE_PLAIN, "%s", ".");
    buffer_free(&number), buffer_free(&text);
}

void trial_show_number(struct interview *interview, size_t row)
{
    struct messages messages = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    const struct course *course;
    struct values values;
    const struct question *question = try_made_whole(interview, (struct step){row, STEP_NUMBER}, arena, &course, &messages);
    size_t first = draft_part_first(&interview->draft, row), part = 0;
    for (size_t at = 0; at < first; at = draft_part_end(&interview->draft, at))
        part++;
    struct search search = {row - first, NULL};
    if (question && part < question->part_count)
        scheme_each_point(&question->parts[part].scheme.root, count_point, &search);
    if (search.found && values_draw(course, question, 1, arena, &values, &messages))
        say_number(interview->page, question, search.found, &values);
    messages_free(&messages);
    arena_free(arena);
}
