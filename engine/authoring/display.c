#include "authoring/display.h"

#include <math.h>

#include "base/buffer.h"
#include "base/text.h"
#include "bank/scheme.h"
#include "bank/values.h"
#include "practice/show.h"
#include "quantity/unit.h"

static const char *const demand_names[] = {"low", "standard", "high"};

/* ---- All of them ---------------------------------------------------------------------------------- */

static void add_words_used(struct page *page, const struct course *course, const struct question_summary *question)
{
    page_cell(page, "%s", "");
    for (size_t i = 0; i < question->part_count; i++)
        page_add(page, STYLE_PLAIN, "%s%s", i ? ", " : "", course->words[question->parts[i].word].word);
}

void display_list(struct page *page, const struct bank *bank)
{
    const struct course *course = bank_course(bank);
    page_heading(page, 1, "%s: %s", course->name,
                 text_count((long)bank_question_count(bank), "question", "questions"));
    page_table(page, NULL, "llrll", true);
    static const char *const heads[] = {"id", "topic", "marks", "demand", "command words"};
    for (size_t i = 0; i < sizeof heads / sizeof *heads; i++)
        page_cell(page, "%s", heads[i]);
    for (size_t i = 0; i < bank_question_count(bank); i++) {
        const struct question_summary *question = bank_summary(bank, i);
        page_cell(page, "%s", question->id);
        page_cell(page, "%s", course->topics[question->topic].name);
        page_cell(page, "%d", question->marks);
        page_cell(page, "%s", demand_names[question->demand]);
        add_words_used(page, course, question);
    }
    page_gap(page);
    page_paragraph(page, "'ownmark bank show %s ID' shows one of them.", bank_path(bank));
}

/* ---- One of them ---------------------------------------------------------------------------------- */

static void add_tags(struct page *page, const struct course *course, const struct question *question,
                     const struct part *part)
{
    page_heading(page, 3, "Marking%s%s%s", question->part_count > 1 ? " (" : "",
                 question->part_count > 1 ? part->id : "", question->part_count > 1 ? ")" : "");
    page_paragraph(page, "%s, %s, %s", course->words[part->word].word, course->objectives[part->objective].id,
                   text_count(part->marks, "mark", "marks"));
    for (size_t i = 0; i < part->skill_count; i++)
        page_add(page, STYLE_PLAIN, ", %s", course->skills[part->skills[i]].name);
}

static void add_marking(struct page *page, const struct bank *bank, const struct question *question,
                        const struct part *part, const struct values *values)
{
    const struct scheme_view view = {bank_course(bank), part, values, true};
    add_tags(page, bank_course(bank), question, part);
    show_scheme(page, &view);
    if (part->model.count) {
        page_note(page, "Model answer", "%s", "");
        show_blocks(page, &part->model, values, bank_folder(bank), 1);
    }
    if (part->note.count) {
        page_note(page, "Note", "%s", "");
        show_blocks(page, &part->note, values, bank_folder(bank), 1);
    }
}

/* ---- Drawn variants ------------------------------------------------------------------------------- */

enum { COLUMNS_MOST = 12 };

struct columns {
    const struct given *givens[COLUMNS_MOST];
    const struct number_key *answers[COLUMNS_MOST];
    size_t given_count, answer_count;
};

static void take_givens(struct columns *columns, const struct given *givens, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (givens[i].form != GIVEN_FIXED && columns->given_count < COLUMNS_MOST)
            columns->givens[columns->given_count++] = &givens[i];
}

static bool take_answer(const struct node *point, void *context)
{
    struct columns *columns = context;
    if (point->number && !(point->number->has_interval && !point->number->formula) &&
        columns->answer_count < COLUMNS_MOST)
        columns->answers[columns->answer_count++] = point->number;
    return true;
}

static struct columns columns_of(const struct question *question)
{
    struct columns columns = {.given_count = 0};
    take_givens(&columns, question->givens, question->given_count);
    for (size_t i = 0; i < question->part_count; i++) {
        take_givens(&columns, question->parts[i].givens, question->parts[i].given_count);
        scheme_each_point(&question->parts[i].scheme.root, take_answer, &columns);
    }
    return columns;
}

static void add_head(struct page *page, const char *name, const char *unit)
{
    struct buffer text = BUFFER_EMPTY;
    if (*unit)
        unit_print(&text, unit);
    page_cell(page, "%s%s%s%s", name, *unit ? " (" : "", buffer_text(&text), *unit ? ")" : "");
    buffer_free(&text);
}

static void add_answer(struct page *page, const struct number_key *key, const struct values *values)
{
    struct buffer text = BUFFER_EMPTY;
    double expected = values_expected(values, key);
    if (isfinite(expected))
        values_show_answer(&text, key, expected);
    page_cell(page, "%s", buffer_text(&text));
    buffer_free(&text);
}

static void open_variants(struct page *page, const struct columns *columns)
{
    char alignments[2 * COLUMNS_MOST + 2];
    size_t count = 1 + columns->given_count + columns->answer_count;
    for (size_t i = 0; i < count; i++)
        alignments[i] = 'r';
    alignments[count] = '\0';
    page_table(page, "Numbers as they may be drawn", alignments, true);
    page_cell(page, "seed");
    for (size_t i = 0; i < columns->given_count; i++)
        add_head(page, columns->givens[i]->symbol, columns->givens[i]->unit);
    for (size_t i = 0; i < columns->answer_count; i++)
        add_head(page, columns->answers[i]->symbol ? columns->answers[i]->symbol : "answer", columns->answers[i]->unit);
}

static bool add_variants(struct page *page, const struct course *course, const struct question *question, size_t count,
                         struct arena *arena, struct messages *messages)
{
    struct columns columns = columns_of(question);
    open_variants(page, &columns);
    for (size_t seed = 1; seed <= count; seed++) {
        struct values values;
        if (!values_draw(course, question, seed, arena, &values, messages))
            return false;
        page_cell(page, "%zu", seed);
        for (size_t i = 0; i < columns.given_count; i++)
            page_cell(page, "%s", values_find(&values, columns.givens[i]->symbol)->text);
        for (size_t i = 0; i < columns.answer_count; i++)
            add_answer(page, columns.answers[i], &values);
    }
    return true;
}

static bool add_question(struct page *page, struct bank *bank, size_t index, const struct display *display,
                         struct arena *arena, struct messages *messages)
{
    const struct course *course = bank_course(bank);
    const struct question *question = bank_question(bank, index, arena, messages);
    struct values values;
    if (!question || !values_draw(course, question, display->seed, arena, &values, messages))
        return false;
    show_question(page, course, question, &values, bank_folder(bank), 0, question->minutes * 60);
    for (size_t i = 0; i < question->part_count; i++)
        show_ask(page, question, &question->parts[i], &values, bank_folder(bank));
    for (size_t i = 0; display->scheme && i < question->part_count; i++)
        add_marking(page, bank, question, &question->parts[i], &values);
    if (display->scheme && question->note.count) {
        page_heading(page, 3, "Note");
        show_blocks(page, &question->note, &values, bank_folder(bank), 0);
    }
    page_gap(page);
    return !display->variants || !question->varied ||
           add_variants(page, course, question, display->variants, arena, messages);
}

bool display_question(struct page *page, struct bank *bank, size_t index, const struct display *display,
                      struct messages *messages)
{
    struct arena *arena = arena_new();
    bool shown = add_question(page, bank, index, display, arena, messages);
    arena_free(arena);
    return shown;
}
