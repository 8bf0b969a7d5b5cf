/* Questions written and read again are the same questions. The layout is the program's own. */
#include <criterion/criterion.h>
#include <string.h>
#include <sys/resource.h>

#include "bank/bank.h"
#include "bank/write.h"
#include "base/text.h"
#include "support/same.h"

static void try_question(struct bank *bank, const char *course_text, size_t index)
{
    struct messages messages = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    struct buffer first = BUFFER_EMPTY, second = BUFFER_EMPTY;
    const struct course *course;
    const struct question *question = bank_question(bank, index, arena, &messages), *again = NULL;
    const char *where = "reading";
    cr_assert(question != NULL);
    question_write(bank_course(bank), question, &first);
    bool read = bank_from_text(course_text, buffer_text(&first), arena, &course, &again, &messages);
    messages_print(&messages);
    cr_expect(read && same_question(question, again, &where), "%s differs in %s:\n%s", question->id, where, buffer_text(&first));
    if (read)
        question_write(course, again, &second);
    cr_expect_str_eq(buffer_text(&first), buffer_text(&second));
    buffer_free(&first), buffer_free(&second);
    messages_free(&messages);
    arena_free(arena);
}

static void try_bank(const char *path)
{
    struct messages messages = MESSAGES_EMPTY;
    struct buffer course = BUFFER_EMPTY;
    struct bank *bank = bank_open(path, false, &messages);
    cr_assert(bank != NULL, "%s", path);
    bank_course_text(bank, &course);
    for (size_t i = 0; i < bank_question_count(bank); i++)
        try_question(bank, buffer_text(&course), i);
    buffer_free(&course);
    bank_close(bank);
    messages_free(&messages);
}

Test(bank, write_gives_back_every_element)
{
    try_bank("tests/data/every-element.xml");
}

Test(bank, write_gives_back_the_shipped_banks, .timeout = 120)
{
    try_bank("banks/coastal-science.xml");
    try_bank("banks/settlement-study.xml");
    try_bank("banks/small-business.xml");
}

static void expect_minutes(double minutes, const char *attribute)
{
    struct messages messages = MESSAGES_EMPTY;
    struct bank *bank = bank_open("tests/data/cycle.xml", false, &messages);
    struct arena *memory = arena_new();
    struct question question = *bank_question(bank, 0, memory, &messages);
    struct buffer text = BUFFER_EMPTY;
    question.minutes = minutes;
    question_write(bank_course(bank), &question, &text);
    cr_expect(strstr(buffer_text(&text), attribute), "%s", buffer_text(&text));
    buffer_free(&text);
    arena_free(memory);
    bank_close(bank);
}

Test(bank, write_gives_numbers_as_a_person_writes_them)
{
    expect_minutes(10, "minutes=\"10\"");
    expect_minutes(7.5, "minutes=\"7.5\"");
    expect_minutes(0.1, "minutes=\"0.1\"");
    expect_minutes(7.12345678, "minutes=\"7.12345678\"");     /* more digits than %g has */
}

/* ---- Layout --------------------------------------------------------------------------------------- */

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

static const char *render(const struct markup *element, int depth)
{
    buffer_clear(&out);
    markup_render(element, depth, &out);
    return buffer_text(&out);
}

Test(bank, markup_escapes_what_xml_would_read, .init = set_up, .fini = tear_down)
{
    struct markup *element = markup_new(arena, "p");
    markup_attribute(element, "a", "<\"&\n>");
    markup_attribute(element, "none", NULL);
    markup_text(element, "1 < 2 & ]]> 3");
    markup_inline(element, "em", "a<b");
    markup_value(element, "H");
    cr_expect_str_eq(render(element, 1),
                     "  <p a=\"&lt;&quot;&amp; &gt;\">1 &lt; 2 &amp; ]]&gt; 3<em>a&lt;b</em><value of=\"H\"/></p>\n");
}

Test(bank, markup_keeps_short_points_on_a_line, .init = set_up, .fini = tear_down)
{
    struct markup *point = markup_new(arena, "point");
    markup_text(point, "limpet");
    markup_text(markup_child(point, "key"), "limpet");
    cr_expect_str_eq(render(point, 0), "<point>limpet <key>limpet</key></point>\n");
    markup_text(markup_child(point, "reject"), "crab");
    cr_expect_str_eq(render(point, 0), "<point>limpet\n  <key>limpet</key>\n  <reject>crab</reject>\n</point>\n");
}

Test(bank, markup_fills_long_text_and_breaks_no_tag, .init = set_up, .fini = tear_down)
{
    struct markup *paragraph = markup_new(arena, "p");
    for (int i = 0; i < 60; i++) {
        markup_text(paragraph, "wave ");
        markup_value(paragraph, "H");
        markup_text(paragraph, " ");
    }
    const char *line = render(paragraph, 3);
    size_t lines = 0;
    for (; *line; lines++) {
        size_t length = strcspn(line, "\n");
        cr_expect_leq(text_width_bytes(line, length), MARKUP_WIDTH);
        line += length + (line[length] == '\n');
    }
    cr_expect_gt(lines, 5);
    cr_expect(strstr(buffer_text(&out), "<value\n") == NULL);
}

/* A paragraph of many bits takes no more room than they do. */
Test(bank, markup_takes_many_bits, .init = set_up, .fini = tear_down)
{
    enum { BITS = 20000 };
    struct markup *paragraph = markup_new(arena, "p");
    for (int i = 0; i < BITS; i++) {
        markup_inline(paragraph, "em", "a");
        markup_text(paragraph, " ");
    }
    cr_expect_gt(strlen(render(paragraph, 0)), BITS * strlen("<em>a</em> ") - 1);
    struct rusage usage;
    cr_assert_eq(getrusage(RUSAGE_SELF, &usage), 0);
    cr_expect_lt(usage.ru_maxrss, 512L * 1024, "%ld KiB", usage.ru_maxrss);
}

Test(bank, markup_puts_a_blank_line_before_a_question_and_its_comment, .init = set_up, .fini = tear_down)
{
    struct markup *bank = markup_new(arena, "bank");
    markup_child(bank, "course");
    markup_comment(bank, " waves ");
    markup_child(bank, "question");
    markup_child(bank, "question");
    cr_expect_str_eq(render(bank, 0), "<bank>\n  <course/>\n\n  <!-- waves -->\n  <question/>\n\n  <question/>\n</bank>\n");
}
