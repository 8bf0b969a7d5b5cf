/* What an author sees of a question. Texts are this program's own; numbers follow from the formulae in cycle.xml. */
#include <criterion/criterion.h>
#include <string.h>

#include "authoring/display.h"
#include "report/text.h"

static struct messages messages;
static struct bank *bank;
static struct buffer out;

static void set_up(void)
{
    bank = bank_open("tests/data/cycle.xml", false, &messages);
    cr_assert(bank != NULL);
}

static void tear_down(void)
{
    buffer_free(&out);
    bank_close(bank);
    messages_free(&messages);
}

static void render(struct page *page)
{
    const struct text_look look = {.width = 100};
    buffer_clear(&out);
    page_render_text(page, &look, &out);
    page_free(page);
}

static void show(const char *id, struct display display)
{
    struct page *page = page_new();
    cr_assert(display_question(page, bank, (size_t)bank_find(bank, id), &display, &messages));
    render(page);
}

#define EXPECT(words) cr_expect(strstr(buffer_text(&out), words), "[%s] is not in\n%s", words, buffer_text(&out))
#define EXPECT_NOT(words) cr_expect_not(strstr(buffer_text(&out), words), "[%s] is in\n%s", words, buffer_text(&out))

Test(authoring, the_list_has_every_question, .init = set_up, .fini = tear_down)
{
    struct page *page = page_new();
    display_list(page, bank);
    render(page);
    EXPECT("sum    Waves      3  standard  calculate");
    EXPECT("essay");
}

Test(authoring, a_question_is_shown_with_its_marking_and_drawn_numbers, .init = set_up, .fini = tear_down)
{
    show("sum", (struct display){.seed = 1, .variants = 3, .scheme = true});
    EXPECT("Calculate the speed of the wave.  [3\u00a0marks]");
    EXPECT("multiplies frequency by wavelength  [method, 1 mark]");
    EXPECT("[accuracy, 2 marks]");
    EXPECT("within 1 %");
    EXPECT("Model answer");
    EXPECT("seed  L (m)  v (m/s)");
    /* v = f L with f = 0.20 Hz: the only pairs there can be. */
    cr_expect(strstr(buffer_text(&out), "     20     4.00") || strstr(buffer_text(&out), "     30     6.00") ||
              strstr(buffer_text(&out), "     40     8.00"), "%s", buffer_text(&out));
}

Test(authoring, the_ask_alone_hides_the_marking, .init = set_up, .fini = tear_down)
{
    show("sum", (struct display){.seed = 1});
    EXPECT("Calculate the speed of the wave.");
    EXPECT_NOT("method");
    EXPECT_NOT("Model");
    EXPECT_NOT("seed");
}

Test(authoring, lists_and_levels_say_how_they_are_marked, .init = set_up, .fini = tear_down)
{
    show("list", (struct display){.seed = 1, .scheme = true});
    EXPECT("2 items asked for. When there are more, each wrong one cancels a right one.");
    EXPECT("reject: crab");
    EXPECT("key words: limpet");
    show("essay", (struct display){.seed = 1, .scheme = true});
    EXPECT("level 3 Both sides and a judgement.  [5 to 6 marks]");
    EXPECT("level 2 when: no judgement");
    cr_expect_lt(strstr(buffer_text(&out), "level 3"), strstr(buffer_text(&out), "level 1"), "highest level first");
}
