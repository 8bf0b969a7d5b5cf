/* A bank's written matter as it appears on a page. Expected texts: our own rules. */
#include <criterion/criterion.h>
#include <string.h>

#include "practice/show.h"
#include "report/text.h"

#define RICH(text_) {.runs = (const struct run[]){{RUN_PLAIN, text_}}, .count = 1}

static const char *rendered(const struct page *page, size_t width, struct buffer *out)
{
    struct text_look look = {.width = width};
    buffer_clear(out);
    page_render_text(page, &look, out);
    return buffer_text(out);
}

static void expect_figure(const struct rich caption, const char *shown)
{
    const struct block figure = {.kind = BLOCK_FIGURE, .text = caption, .alternative = "a bar chart"};
    struct page *page = page_new();
    struct buffer out = BUFFER_EMPTY;
    show_blocks(page, &(struct blocks){&figure, 1}, NULL, NULL, 0);
    cr_expect_not_null(strstr(rendered(page, 80, &out), shown), "'%s' in '%s'", shown, buffer_text(&out));
    cr_expect_null(strstr(buffer_text(&out), "Figure: Figure"));
    page_free(page);
    buffer_free(&out);
}

Test(practice, a_figure_is_called_figure_once)
{
    expect_figure((struct rich)RICH("Figure 1: the tide"), "Figure 1: the tide. In words: a bar chart");
    expect_figure((struct rich)RICH("Figure 1"), "Figure 1: a bar chart");
    expect_figure((struct rich)RICH("the tide: one day"), "Figure: the tide: one day. In words: a bar chart");
    expect_figure((struct rich){NULL, 0}, "Figure: a bar chart");
}

/* "[3 marks]" on one line at every width of a terminal. */
Test(practice, marks_of_an_ask_are_never_broken)
{
    const struct block ask = {.kind = BLOCK_PARAGRAPH, .text = RICH("Complete gaps (i), (ii) and (iii) of the forecast below")};
    const struct part parts[] = {{.id = "a", .marks = 3, .ask = {&ask, 1}}, {.id = "b", .marks = 1, .ask = {&ask, 1}}};
    const struct question question = {.parts = parts, .part_count = 2};
    struct page *page = page_new();
    struct buffer out = BUFFER_EMPTY;
    show_ask(page, &question, &parts[0], NULL, NULL);
    show_ask(page, &question, &parts[1], NULL, NULL);
    for (size_t width = 40; width <= 100; width++) {
        cr_expect_not_null(strstr(rendered(page, width, &out), "[3\u00a0marks]"), "at %zu: %s", width, buffer_text(&out));
        cr_expect_not_null(strstr(buffer_text(&out), "[1\u00a0mark]"), "at %zu: %s", width, buffer_text(&out));
    }
    page_free(page);
    buffer_free(&out);
}

Test(practice, drawn_money_stands_at_the_right_with_its_sign_before_it)
{
    const struct bound_value bound[] = {{"R", "950", "\u00a3", 950, false}, {"L", "\u221285", "\u00a3", -85, false}};
    const struct rich head[] = {RICH("Line"), RICH("Amount")}, first[] = {RICH("in"), {(const struct run[]){{RUN_VALUE, "R"}}, 1}},
                      second[] = {RICH("left"), {(const struct run[]){{RUN_VALUE, "L"}}, 1}};
    const struct table_row rows[] = {{head, 2, true}, {first, 2, false}, {second, 2, false}};
    const struct block table = {.kind = BLOCK_TABLE, .rows = rows, .row_count = 3};
    struct page *page = page_new();
    struct buffer out = BUFFER_EMPTY;
    show_blocks(page, &(struct blocks){&table, 1}, &(struct values){bound, 2}, NULL, 0);
    rendered(page, 80, &out);
    cr_expect_not_null(strstr(buffer_text(&out), "in      \u00a3950\n"), "%s", buffer_text(&out));
    cr_expect_not_null(strstr(buffer_text(&out), "left    \u2212\u00a385\n"), "%s", buffer_text(&out));
    page_free(page);
    buffer_free(&out);
}
