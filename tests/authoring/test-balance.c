/* A bank's balance. Marks are counted by hand in the data files; the tolerance is ours (balance.h). */
#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "authoring/balance.h"
#include "report/text.h"

static struct messages messages;
static struct arena *arena;
static struct bank *bank;
static char path[] = "/tmp/ownmark-balance-XXXXXX";

static void write_bank(const char *questions)
{
    int descriptor = mkstemp(path);
    cr_assert_geq(descriptor, 0);
    FILE *file = fdopen(descriptor, "w");
    fprintf(file, "<bank xmlns=\"urn:ownmark:bank:1\" id=\"b\"><course name=\"Coastal Science\" paper-marks=\"60\" "
            "paper-minutes=\"60\"><objective id=\"AO1\" share=\"50\" kind=\"know\">Know</objective>"
            "<objective id=\"AO2\" share=\"50\" kind=\"apply\">Apply</objective>"
            "<skill id=\"maths\" share=\"20\">Mathematics</skill>"
            "<topic id=\"sea\" name=\"The sea\"><topic id=\"waves\" name=\"Waves\" share=\"30\"/>"
            "<topic id=\"tides\" name=\"Tides\" share=\"30\"/></topic><topic id=\"shore\" name=\"Shore\" share=\"40\"/></course>"
            "%s</bank>", questions);
    fclose(file);
    bank = bank_open(path, false, &messages);
    messages_print(&messages);
    cr_assert(bank != NULL);
    arena = arena_new();
}

static void tear_down(void)
{
    bank_close(bank);
    arena_free(arena);
    messages_free(&messages);
    unlink(path);
}

#define PART(objective, word, marks, more) \
    "<part objective=\"" objective "\" command=\"" word "\" marks=\"" marks "\" " more "><ask><p>Go.</p></ask><scheme>" \
    "<any take=\"" marks "\"><point>one</point><point>two</point><point>three</point><point>four</point></any></scheme></part>"

static const struct balance_line *line_of(const struct balance *balance, enum balance_by by, const char *id)
{
    for (size_t i = 0; i < balance->tables[by].count; i++)
        if (strcmp(balance->tables[by].lines[i].id, id) == 0)
            return &balance->tables[by].lines[i];
    cr_assert(false, "no line %s", id);
    return NULL;
}

static void expect_line(const struct balance *balance, enum balance_by by, const char *id, double marks, double share, bool off)
{
    const struct balance_line *line = line_of(balance, by, id);
    cr_expect_eq(line->marks, marks, "%s: %g marks", id, line->marks);
    cr_expect_float_eq(line->share, share, 1e-9, "%s: %g per cent", id, line->share);
    cr_expect_eq(line->off, off, "%s", id);
}

Test(authoring, balance_counts_marks_under_every_heading, .fini = tear_down)
{
    write_bank("<question id=\"q1\" topic=\"waves\" demand=\"low\">" PART("AO1", "state", "3", "id=\"a\"") PART("AO2", "explain", "2", "id=\"b\"")
               "</question><question id=\"q2\" topic=\"shore\" demand=\"high\">" PART("AO2", "explain", "3", "skills=\"maths\"")
               "</question>");
    const struct balance *balance = balance_of(bank, arena);
    cr_expect_eq(balance->marks, 8);
    /* 2 marks of 8 are 25 points: nothing is off by more than that but Tides, which lack 30, and the sea, by 2.5. */
    expect_line(balance, BALANCE_OBJECTIVE, "AO1", 3, 37.5, false);
    expect_line(balance, BALANCE_OBJECTIVE, "AO2", 5, 62.5, false);
    expect_line(balance, BALANCE_SKILL, "maths", 3, 37.5, false);
    expect_line(balance, BALANCE_TOPIC, "sea", 5, 62.5, false);
    expect_line(balance, BALANCE_TOPIC, "waves", 5, 62.5, true);
    expect_line(balance, BALANCE_TOPIC, "tides", 0, 0, true);
    expect_line(balance, BALANCE_TOPIC, "shore", 3, 37.5, false);
    expect_line(balance, BALANCE_DEMAND, "low", 5, 62.5, false);
    expect_line(balance, BALANCE_DEMAND, "high", 3, 37.5, false);
    cr_expect_eq(balance->off, 2);
    cr_expect_eq(balance->tables[BALANCE_WORD].count, 2);
    cr_expect_str_eq(balance->tables[BALANCE_WORD].lines[0].id, "explain");
    cr_expect_eq(balance->tables[BALANCE_WORD].lines[0].questions, 2);
    /* (0 + x) / (8 + x) = 0.30 */
    cr_expect_float_eq(line_of(balance, BALANCE_TOPIC, "tides")->missing, 2.4 / 0.7, 1e-9);
    cr_expect_eq(line_of(balance, BALANCE_TOPIC, "waves")->missing, 0);
}

Test(authoring, a_skill_is_off_only_when_it_has_too_little, .fini = tear_down)
{
    write_bank("<question id=\"q1\" topic=\"waves\">" PART("AO1", "state", "3", "") "</question>");
    expect_line(balance_of(bank, arena), BALANCE_SKILL, "maths", 0, 0, true);
}

Test(authoring, balance_wishes_for_what_lacks_most, .fini = tear_down)
{
    write_bank("<question id=\"q1\" topic=\"waves\">" PART("AO1", "state", "4", "") "</question>"
               "<question id=\"q2\" topic=\"shore\">" PART("AO1", "name", "4", "") "</question>");
    struct balance_wish wishes[3];
    const struct balance *balance = balance_of(bank, arena);
    cr_assert_eq(balance_wishes(balance, wishes, 3), 3);
    cr_expect_str_eq(wishes[0].topic, "Tides");
    cr_expect_str_eq(wishes[0].objective, "AO2");
    cr_expect_str_eq(wishes[0].skill, "Mathematics");
    cr_expect_leq(wishes[0].marks, 6);
    cr_expect_geq(wishes[0].marks, 2);
    cr_assert(wishes[0].words[0] != NULL);
    const struct command_word *words = bank_course(bank)->words;
    for (size_t i = 0; i < bank_course(bank)->word_count; i++)
        if (strcmp(words[i].word, wishes[0].words[0]) == 0)
            cr_expect_eq(words[i].objective, 1, "%s signals another objective", words[i].word);
    cr_expect_str_neq(wishes[1].topic, "Tides", "the first wish is taken as written");
}

Test(authoring, an_empty_looking_bank_is_shown_with_bars_and_advice, .fini = tear_down)
{
    write_bank("<question id=\"q1\" topic=\"waves\">" PART("AO1", "state", "4", "") "</question>");
    struct page *page = page_new();
    struct buffer out = BUFFER_EMPTY;
    const struct text_look look = {.width = 80};
    balance_show(page, "b.xml", balance_of(bank, arena));
    page_render_text(page, &look, &out);
    cr_expect(strstr(buffer_text(&out), "#####|#####"), "%s", buffer_text(&out));
    cr_expect(strstr(buffer_text(&out), "too few"));
    cr_expect(strstr(buffer_text(&out), "What to write next"));
    buffer_free(&out);
    page_free(page);
}
