/* The question paper. */
#include <string.h>

#include "bank/scheme.h"
#include "base/text.h"
#include "paper/print-inner.h"
#include "quantity/unit.h"

enum { ROWS_OF_GRID = 15, ROWS_OF_LARGE_GRID = 16 };

/* ---- Cover -------------------------------------------------------------------------------------------------- */

static void print_fact(struct printing *printing, const char *name, const char *value)
{
    print_tags(printing, "<div><dt>%s</dt><dd>", name);
    print_words(printing, value);
    print_tags(printing, "</dd></div>\n");
}

static void print_facts(struct printing *printing)
{
    const struct paper *paper = &printing->opened->paper;
    struct buffer text = BUFFER_EMPTY;
    print_tags(printing, "<dl class=\"facts\">\n");
    if (paper->minutes >= 60) {
        buffer_print(&text, "%s", text_count(paper->minutes / 60, "hour", "hours"));
        if (paper->minutes % 60)
            buffer_print(&text, " %s", text_count(paper->minutes % 60, "minute", "minutes"));
    } else {
        buffer_print(&text, "%s", text_count(paper->minutes, "minute", "minutes"));
    }
    print_fact(printing, "Time", buffer_text(&text));
    print_fact(printing, "Marks", text_count(paper->marks, "mark in all", "marks in all"));
    print_fact(printing, "Questions", text_count((long)paper->question_count, "question", "questions"));
    buffer_clear(&text);
    buffer_print(&text, "%llu", (unsigned long long)paper->seed);
    print_fact(printing, "Paper number", buffer_text(&text));
    print_tags(printing, "</dl>\n");
    buffer_free(&text);
}

static bool has_data_sheet(const struct printing *printing)
{
    const struct course *course = bank_course(printing->opened->banks[0]);
    return course->constant_count || course->formula_count;
}

static void print_instructions(struct printing *printing)
{
    print_tags(printing,
               "<h2>Instructions</h2>\n<ul>\n"
               "<li>Answer all questions in the spaces provided.</li>\n"
               "<li>The marks for each part are in square brackets: plan a point for each mark.</li>\n"
               "<li>Show your working in calculations; a right method earns marks even when the value is wrong.</li>\n"
               "%s"
               "<li>Extra time, rest breaks and other arrangements are as usual for you.</li>\n"
               "</ul>\n"
               "<p>This is a practice paper. Its marks are practice figures, not grades; in an examination the rules and "
               "the mark scheme of the awarding body prevail.</p>\n",
               has_data_sheet(printing) ? "<li>The data sheet follows this page. You may detach it.</li>\n" : "");
}

static void print_grid(struct printing *printing, size_t from, size_t to)
{
    const struct paper *paper = &printing->opened->paper;
    print_tags(printing, "<table class=\"grid\">\n<thead><tr><th scope=\"col\">Question</th><th scope=\"col\">Out of</th>"
                         "<th scope=\"col\">Mark</th></tr></thead>\n<tbody>\n");
    for (size_t i = from; i < to; i++)
        print_tags(printing, "<tr><th scope=\"row\">%zu</th><td>%d</td><td></td></tr>\n", i + 1, paper->questions[i].marks);
    if (to == paper->question_count)
        print_tags(printing, "<tr><th scope=\"row\" class=\"total\">Total</th><td class=\"total\">%d</td>"
                             "<td class=\"total\"></td></tr>\n", paper->marks);
    print_tags(printing, "</tbody>\n</table>\n");
}

static void print_grids(struct printing *printing)
{
    size_t count = printing->opened->paper.question_count;
    size_t most = printing->look->large ? ROWS_OF_LARGE_GRID : ROWS_OF_GRID;
    size_t grids = (count + most) / most, rows = (count + grids) / grids;   /* the total takes a row too */
    print_tags(printing, "<div class=\"grids\"><h2>For the marker</h2>\n");
    for (size_t from = 0; from < count; from += rows)
        print_grid(printing, from, from + rows < count ? from + rows : count);
    print_tags(printing, "</div>\n");
}

static void print_cover(struct printing *printing)
{
    print_tags(printing, "<section class=\"cover\">\n<p class=\"kind\">Practice paper</p>\n<h1>");
    print_words(printing, printing->opened->paper.course);
    print_tags(printing, "</h1>\n");
    print_facts(printing);
    if (printing->look->name_lines)
        print_tags(printing, "<div class=\"names\"><p>Name <span></span></p><p>Date <span></span></p></div>\n");
    print_instructions(printing);
    print_grids(printing);
    print_tags(printing, "</section>\n");
}

static const char *const greek[][2] = {
    {"alpha", "α"}, {"beta", "β"}, {"gamma", "γ"}, {"delta", "δ"}, {"epsilon", "ε"}, {"eta", "η"}, {"theta", "θ"},
    {"lambda", "λ"}, {"mu", "μ"}, {"pi", "π"}, {"rho", "ρ"}, {"sigma", "σ"}, {"tau", "τ"}, {"phi", "φ"}, {"omega", "ω"},
};

/* "c_sea" as c with an index, "rho" as ρ: as formulae have them. */
static void print_symbol(struct printing *printing, const char *symbol)
{
    size_t length = strcspn(symbol, "_");
    struct buffer base = BUFFER_EMPTY;
    buffer_add_bytes(&base, symbol, length);
    for (size_t i = 0; i < sizeof greek / sizeof *greek; i++) {
        if (strcmp(buffer_text(&base), greek[i][0]) != 0)
            continue;
        buffer_clear(&base);
        buffer_add(&base, greek[i][1]);
    }
    print_tags(printing, "<em>");
    print_words(printing, buffer_text(&base));
    print_tags(printing, "</em>");
    if (symbol[length] && symbol[length + 1]) {
        print_tags(printing, "<sub>");
        print_words(printing, symbol + length + 1);
        print_tags(printing, "</sub>");
    }
    buffer_free(&base);
}

static void print_unit(struct printing *printing, const char *unit)
{
    struct buffer printed = BUFFER_EMPTY;
    unit_print(&printed, unit);
    print_words(printing, buffer_text(&printed));
    buffer_free(&printed);
}

static void print_constant(struct printing *printing, const struct constant *constant)
{
    print_tags(printing, "<tr><th scope=\"row\">");
    print_words(printing, constant->name);
    print_tags(printing, "</th><td>");
    print_symbol(printing, constant->symbol);
    print_tags(printing, " = ");
    print_words(printing, constant->value);
    print_tags(printing, "\u00a0");
    if (*constant->unit)
        print_unit(printing, constant->unit);
    print_tags(printing, "</td></tr>\n");
}

static void print_data_sheet(struct printing *printing)
{
    if (!has_data_sheet(printing))
        return;
    const struct course *course = bank_course(printing->opened->banks[0]);
    print_tags(printing, "<section class=\"sheet\">\n<h2>Data sheet</h2>\n<table>\n<tbody>\n");
    for (size_t i = 0; i < course->constant_count; i++)
        print_constant(printing, &course->constants[i]);
    for (size_t i = 0; i < course->formula_count; i++) {
        print_tags(printing, "<tr><th scope=\"row\">");
        print_words(printing, course->formulae[i].name);
        print_tags(printing, "</th><td>");
        print_rich(printing, &course->formulae[i].text);
        print_tags(printing, "</td></tr>\n");
    }
    print_tags(printing, "</tbody>\n</table>\n</section>\n");
}

/* ---- Room for answers --------------------------------------------------------------------------------------- */

static bool is_word(const struct printing *printing, const struct part *part, const char *word)
{
    return strcmp(bank_course(printing->question->bank)->words[part->word].word, word) == 0;
}

static bool wants_drawing(const struct printing *printing, const struct part *part)
{
    return is_word(printing, part, "draw") || is_word(printing, part, "sketch") || is_word(printing, part, "plot");
}

static bool wants_value(const struct printing *printing, const struct part *part)
{
    return is_word(printing, part, "calculate") || is_word(printing, part, "determine") ||
           is_word(printing, part, "estimate") || is_word(printing, part, "convert");
}

static void print_times(struct printing *printing, const char *tags, int times)
{
    for (int i = 0; i < times; i++)
        print_tags(printing, "%s", tags);
}

static void print_result_line(struct printing *printing, const struct number_key *key)
{
    print_tags(printing, "<p class=\"result\">Answer <span></span>");
    if (key->unit_printed && *key->unit)
        print_unit(printing, key->unit);
    print_tags(printing, "</p>\n");
}

/* Lines for words; for a number working space and a line for the result; for a drawing space. */
static void print_room(struct printing *printing, const struct part *part)
{
    const struct node *number = scheme_answer_point(&part->scheme.root);
    print_tags(printing, "<div class=\"room\" aria-hidden=\"true\">\n");
    if (wants_drawing(printing, part) || (number && is_word(printing, part, "show that"))) {
        print_times(printing, "<div class=\"space\"></div>\n", part->lines);
    } else if (number && wants_value(printing, part)) {
        print_times(printing, "<div class=\"space\"></div>\n", part->lines - 1);
        print_result_line(printing, number->number);
    } else {
        print_times(printing, "<div class=\"line\"></div>\n", part->lines);
    }
    print_tags(printing, "</div>\n");
}

/* ---- What fits on a page ------------------------------------------------------------------------------------- */

/* Millimetres, roughly and rather too many; what matters is whether a stem and its first part can share a page at all.
 * If they cannot, a browser that must keep them together breaks the part. */
enum { LINE_OF_TEXT = 6, CHARACTERS_A_LINE = 85, HEIGHT_OF_FIGURE = 110, HEIGHT_OF_PAGE = 245 };

static int height_of_text(const struct printing *printing, const struct rich *text)
{
    size_t characters = 0;
    for (size_t i = 0; i < text->count; i++)
        characters += strlen(text->runs[i].text);
    int across = printing->look->large ? CHARACTERS_A_LINE * 11 / 18 : CHARACTERS_A_LINE;
    return ((int)(characters / (size_t)across) + 2) * (printing->look->large ? LINE_OF_TEXT * 18 / 11 : LINE_OF_TEXT);
}

static int height_of_blocks(const struct printing *printing, const struct blocks *blocks)
{
    int height = 0;
    for (size_t i = 0; i < blocks->count; i++) {
        const struct block *block = &blocks->items[i];
        const struct blocks inside = {block->blocks, block->block_count};
        height += height_of_text(printing, &block->text) + height_of_blocks(printing, &inside);
        height += (int)block->row_count * (printing->look->large ? 14 : 8);
        for (size_t item = 0; item < block->item_count; item++)
            height += height_of_text(printing, &block->items[item]);
        if (block->kind == BLOCK_FIGURE)
            height += printing->look->large ? HEIGHT_OF_FIGURE * 18 / 11 : HEIGHT_OF_FIGURE;
    }
    return height;
}

static bool fits_together(const struct printing *printing, const struct question *question)
{
    const struct part *part = &question->parts[0];
    int line = printing->look->large ? 13 : 9, height = 3 * LINE_OF_TEXT + (question->caution ? 4 * LINE_OF_TEXT : 0);
    height += height_of_blocks(printing, &question->stem) + height_of_blocks(printing, &part->ask);
    return height < HEIGHT_OF_PAGE && part->lines < HEIGHT_OF_PAGE / line && height + part->lines * line < HEIGHT_OF_PAGE;
}

/* ---- Questions ---------------------------------------------------------------------------------------------- */

static void print_part(struct printing *printing, const struct question *question, const struct part *part)
{
    bool lettered = question->part_count > 1;
    print_tags(printing, "<div class=\"part\">\n<div class=\"asked%s\">\n", lettered ? "" : " whole");
    if (lettered) {
        print_tags(printing, "<h3 class=\"letter\">(");
        print_words(printing, part->id);
        print_tags(printing, ")</h3>\n");
    }
    print_tags(printing, "<div>\n");
    print_blocks(printing, &part->ask);
    print_tags(printing, "</div>\n<p class=\"marks\">[%s]</p>\n</div>\n", text_count(part->marks, "mark", "marks"));
    print_room(printing, part);
    print_tags(printing, "</div>\n");
}

static void print_question(struct printing *printing, size_t number)
{
    const struct question *question = printing->opened->questions[number].question;
    printing->question = &printing->opened->questions[number];
    print_tags(printing, "<section class=\"question\">\n<h2>Question %zu</h2>\n", number + 1);
    if (question->stem.count || question->caution) {
        print_tags(printing, "<div class=\"stem%s\">\n", fits_together(printing, question) ? " kept" : "");
        if (question->caution) {
            print_tags(printing, "<p class=\"note\" role=\"note\"><strong>Caution:</strong> ");
            print_words(printing, question->caution);
            print_tags(printing, "</p>\n");
        }
        print_blocks(printing, &question->stem);
        print_tags(printing, "</div>\n");
    }
    for (size_t i = 0; i < question->part_count; i++)
        print_part(printing, question, &question->parts[i]);
    print_tags(printing, "<p class=\"total\">Total for question %zu: %s</p>\n</section>\n", number + 1,
               text_count(question->marks, "mark", "marks"));
}

void print_question_paper(const struct opened_paper *opened, const struct print_look *look, struct buffer *out)
{
    struct printing printing = {.opened = opened, .look = look, .out = out, .small_points = 11};
    print_begin(&printing, "practice paper");
    print_cover(&printing);
    print_data_sheet(&printing);
    print_tags(&printing, "<section class=\"questions\">\n");
    for (size_t i = 0; i < opened->paper.question_count; i++)
        print_question(&printing, i);
    print_tags(&printing, "<p class=\"end\">End of questions</p>\n</section>\n");
    print_end(&printing);
}
