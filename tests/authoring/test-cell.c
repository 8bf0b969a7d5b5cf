/* Written matter in cells, there and back. Values: our own, from cell.h and docs/bank-format.md. */
#include <criterion/criterion.h>
#include <string.h>

#include "authoring/cell.h"
#include "bank/bank.h"
#include "base/arena.h"

static struct arena *arena;
static struct buffer out;

static void set_up(void)
{
    arena = arena_new();
}

static void tear_down(void)
{
    arena_free(arena);
    buffer_free(&out);
}

#define CELL(name) Test(cell, name, .init = set_up, .fini = tear_down)

static void expect_rich(const char *cell, const char *xml)
{
    struct markup *element = markup_new(arena, "p");
    cell_read_rich(element, cell);
    buffer_clear(&out);
    markup_render(element, 0, &out);
    cr_expect(strstr(buffer_text(&out), xml) != NULL, "'%s' gives %s and not %s", cell, buffer_text(&out), xml);
}

CELL(marks_of_style_become_elements)
{
    expect_rich("plain", "<p>plain</p>");
    expect_rich("a {H} b", "<p>a <value of=\"H\"/> b</p>");
    expect_rich("CO_{2}", "<p>CO<sub>2</sub></p>");
    expect_rich("m^{-3}", "<p>m<sup>-3</sup></p>");
    expect_rich("*{so}", "<p><em>so</em></p>");
    expect_rich("{H}{T}", "<value of=\"H\"/><value of=\"T\"/>");
    expect_rich("<b> & \"q\"", "&lt;b");
}

CELL(what_is_no_mark_of_style_stays_as_it_is)
{
    expect_rich("2 * 3 ^ 4 _ 5", "<p>2 * 3 ^ 4 _ 5</p>");
    expect_rich("snake_case a^b *c*", "<p>snake_case a^b *c*</p>");
}

CELL(a_line_is_a_paragraph)
{
    struct markup *question = markup_new(arena, "question");
    cell_read_blocks(question, "stem", "one\n\n  two  \n");
    cell_read_blocks(question, "note", " \n ");
    markup_render(question, 0, &out);
    cr_expect(strstr(buffer_text(&out), "<p>one</p>") && strstr(buffer_text(&out), "<p>two</p>"), "%s", buffer_text(&out));
    cr_expect_eq(strstr(buffer_text(&out), "note"), NULL, "an empty cell is nothing");
}

struct heard {
    char text[128];
};

static void hear(const char *wording, void *context)
{
    struct heard *heard = context;
    strncat(heard->text, "[", sizeof heard->text - strlen(heard->text) - 1);
    strncat(heard->text, wording, sizeof heard->text - strlen(heard->text) - 1);
    strncat(heard->text, "]", sizeof heard->text - strlen(heard->text) - 1);
}

static void expect_wordings(const char *cell, const char *wanted)
{
    struct heard heard = {""};
    cell_each_wording(cell, hear, &heard);
    cr_expect_str_eq(heard.text, wanted, "'%s'", cell);
}

CELL(wordings_stand_between_bars)
{
    expect_wordings("", "");
    expect_wordings(" | |", "");
    expect_wordings("a", "[a]");
    expect_wordings(" a |b c| d ", "[a][b c][d]");
}

static const char *givens_of(const char *cell)
{
    struct markup *question = markup_new(arena, "question");
    const char *fault = NULL;
    buffer_clear(&out);
    if (!cell_read_givens(question, cell, &fault)) {
        cr_assert(fault != NULL, "%s", cell);
        return NULL;
    }
    markup_render(question, 0, &out);
    return buffer_text(&out);
}

static void expect_given(const char *cell, const char *xml)
{
    const char *found = givens_of(cell);
    cr_expect(found && strstr(found, xml), "'%s' gives %s and not %s", cell, found ? found : "a fault", xml);
}

CELL(givens_are_a_number_several_a_range_or_a_formula)
{
    expect_given("H = 1.2 [m] wave height", "<given symbol=\"H\" unit=\"m\" value=\"1.2\">wave height</given>");
    expect_given("H = 1.2 1.5 [m] wave height", "choices=\"1.2 1.5\"");
    expect_given("T=6.0 to 9.0 by 0.5 [s] period", "from=\"6.0\" to=\"9.0\" step=\"0.5\"");
    expect_given("N = : n*T to 0 places", "formula=\"n*T\"");
    expect_given("n = 3 waves", ">waves</given>");
    expect_given("a = 1 [m] x | b = 2 [s] y", "symbol=\"b\"");
    cr_expect(givens_of("") != NULL);
}

CELL(what_is_no_given_has_a_fault)
{
    static const char *const wrong[] = {"H", "H =", "= 2", "a height", "H is 1.2 m", "H = tall", "H = 1 [m", "H = 1 to [m] x", "H = 1 to 2 by [m] x"};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++)
        cr_expect_eq(givens_of(wrong[i]), NULL, "'%s' was taken: %s", wrong[i], buffer_text(&out));
}
