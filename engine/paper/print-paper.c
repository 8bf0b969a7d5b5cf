/* The question paper. */
#include <string.h>

#include "bank/scheme.h"
#include "base/text.h"
#include "paper/print-inner.h"
#include "practice/show.h"
#include "quantity/unit.h"

enum { ROWS_OF_GRID = 15, ROWS_OF_LARGE_GRID = 12 };

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
    print_fact(printing, "Paper", buffer_text(&text));
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

static void print_data_sheet(struct printing *printing)
{
    if (!has_data_sheet(printing))
        return;
    print_tags(printing, "<section class=\"sheet\">\n");
    show_data_sheet(printing->scratch, bank_course(printing->opened->banks[0]));
    print_scratch(printing, 0);
    print_tags(printing, "</section>\n");
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

static void print_times(struct printing *printing, const char *tags, int times)
{
    for (int i = 0; i < times; i++)
        print_tags(printing, "%s", tags);
}

static void print_result_line(struct printing *printing, const struct number_key *key)
{
    print_tags(printing, "<p class=\"result\">Answer <span></span>");
    if (key->unit_printed && *key->unit) {
        struct buffer unit = BUFFER_EMPTY;
        unit_print(&unit, key->unit);
        print_words(printing, buffer_text(&unit));
        buffer_free(&unit);
    }
    print_tags(printing, "</p>\n");
}

/* Lines for words; for a number working space and a line for the result; for a drawing space. */
static void print_room(struct printing *printing, const struct part *part)
{
    const struct node *number = scheme_answer_point(&part->scheme.root);
    print_tags(printing, "<div class=\"room\" aria-hidden=\"true\">\n");
    if (wants_drawing(printing, part) || (number && is_word(printing, part, "show that"))) {
        print_times(printing, "<div class=\"space\"></div>\n", part->lines);
    } else if (number && !scheme_has_levels(&part->scheme.root)) {
        print_times(printing, "<div class=\"space\"></div>\n", part->lines - 1);
        print_result_line(printing, number->number);
    } else {
        print_times(printing, "<div class=\"line\"></div>\n", part->lines);
    }
    print_tags(printing, "</div>\n");
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
        print_tags(printing, "<div class=\"stem\">\n");
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
    struct printing printing = {.opened = opened, .look = look, .out = out};
    print_begin(&printing, "practice paper");
    print_cover(&printing);
    print_data_sheet(&printing);
    print_tags(&printing, "<section class=\"questions\">\n");
    for (size_t i = 0; i < opened->paper.question_count; i++)
        print_question(&printing, i);
    print_tags(&printing, "<p class=\"end\">End of questions</p>\n</section>\n");
    print_end(&printing);
}
