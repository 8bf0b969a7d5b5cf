/* The checks of sense as a teacher meets them: the bank that uses every element, with one thing changed in its text.
 * Lines and columns are counted in that text by the test itself. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include <criterion/criterion.h>

#include "bank/check.h"
#include "base/buffer.h"
#include "base/files.h"

struct change {
    const char *from, *to;      /* from stands once in the bank */
    const char *element;        /* the start of the tag where the fault is shown, found backwards from the change */
    const char *wanted;
};

static const struct change changes[] = {
    {"topic=\"shore\" demand", "topic=\"shores\" demand", "<question", "question w02: the topic 'shores' is not declared in the "
     "course; did you mean 'shore'?"},
    {"topic=\"shore\" demand", "topic=\"waves\" demand", "<question", "question w02: the topic 'waves' has sub-topics"},
    {"enemies=\"w02\"", "enemies=\"w03\"", "<question", "question w01: its enemy 'w03' is no question of this bank"},
    {"<question id=\"w02\"", "<question id=\"w01\"", "<question", "the id 'w01' is taken by the question at line 41"},
    {"command=\"show that\"", "command=\"shew that\"", "<part", "question w01: the command word 'shew that' is not known; did you "
     "mean 'show that'?"},
    {"<part id=\"a\" objective=\"AO2\" command=\"calculate\" marks=\"3\" skills=\"maths\"",
     "<part id=\"a\" objective=\"AO2\" command=\"calculate\" marks=\"3\" skills=\"math\"", "<part", "the skill 'math' is not declared "
     "in the course; did you mean 'maths'?"},
    {"command=\"explain\" marks=\"4\"", "command=\"explain\" marks=\"5\"", "<part", "question w02: part b: the scheme can give 4 marks "
     "at most, but the part says marks=\"5\""},
    {"<any take=\"2\">", "<any take=\"4\">", "<any", "question w02: part b: <any> says take=\"4\" but holds 3 choices"},
    {"needs=\"sub\"", "needs=\"subs\"", "<point", "question w01: part a: point 'value' needs 'subs', which is no point that stands "
     "before it in this question; did you mean 'sub'?"},
    {"<point kind=\"independent\"", "<point id=\"value\" kind=\"independent\"", "<point", "the id 'value' stands twice"},
    {"rho*g^2*H^2*T", "rho*g^2*H^2*TT", "<point", "part a: the formula 'rho*g^2*H^2*TT/(32*pi)' uses 'TT', which is no constant "
     "and no earlier given or number; did you mean 'T'?"},
    {"unit=\"W/m\"", "unit=\"Watts per wave\"", "<point", "the unit 'Watts per wave' of the number 'P' is not known"},
    {"<level marks=\"3-4\">", "<level marks=\"4-4\">", "<levels", "part c: level 2 starts at 4 marks but must start at 3"},
    {"<cap level=\"2\">", "<cap level=\"9\">", "<levels", "part c: the cap 'no judgement' names level 9"},
    {"<at level=\"3\">", "<at level=\"4\">", "<at", "the strand 'Use of the data' describes level 4"},
    {"<value of=\"P\"/> for each", "<value of=\"Q\"/> for each", "<part", "part a: a text shows the value of 'Q'"},
    {"the period is about <value of=\"T\"/>", "the wave has <value of=\"X\"/>", "<part", "part c: a text shows the value of 'X'"},
    {"file=\"figures/profile.svg\"", "file=\"figures/../../x.svg\"", "<question", "the figure 'figures/../../x.svg' is no file"},
    {"formula=\"n*T\"", "formula=\"n*(T-6)\"", "<question", "the given 't' comes out as 0 with H = "},
    {"to=\"20\"", "to=\"8\"", "<point", "part c: a number comes out as "},
    {"share=\"40\" kind=\"apply\"", "share=\"30\" kind=\"apply\"", "<course", "course: the shares of the objectives add up to 90"},
};

static char folder[] = "/tmp/ownmark-sense-XXXXXX";

static void make_folder(void)
{
    struct messages messages = MESSAGES_EMPTY;
    struct buffer name = BUFFER_EMPTY;
    cr_assert(mkdtemp(folder));
    buffer_print(&name, "%s/figures", folder);
    cr_assert_eq(mkdir(buffer_text(&name), 0700), 0);
    buffer_add(&name, "/profile.svg");
    cr_assert(file_write(buffer_text(&name), "<svg/>", 6, 0600, false, &messages));
    buffer_free(&name);
}

static void remove_folder(void)
{
    char name[96];
    snprintf(name, sizeof name, "%s/b.xml", folder);
    unlink(name);
    snprintf(name, sizeof name, "%s/figures/profile.svg", folder);
    unlink(name);
    snprintf(name, sizeof name, "%s/figures", folder);
    rmdir(name);
    rmdir(folder);
}

/* "line:column" of the last `element` that starts at or before `at`. */
static void place_of(const char *text, size_t at, const char *element, char place[32])
{
    size_t length = strlen(element);
    while (strncmp(text + at, element, length) != 0) {
        cr_assert(at > 0, "%s", element);
        at--;
    }
    unsigned long line = 1, column = 1;
    for (size_t i = 0; i < at; i++) {
        column = text[i] == '\n' ? 1 : column + 1;
        line += text[i] == '\n';
    }
    snprintf(place, 32, ":%lu:%lu: ", line, column);
}

static void check_text_of(const char *bank, size_t length, struct buffer *report)
{
    struct messages messages = MESSAGES_EMPTY;
    char *path = path_join(folder, "b.xml");
    cr_assert(file_write(path, bank, length, 0600, true, &messages));
    struct bank_check found = bank_check(path, &messages, NULL, NULL);
    cr_expect_eq(found.sound, messages.errors == 0);
    messages_render(&messages, 0, report);
    messages_free(&messages);
    free(path);
}

static void expect_change(const char *bank, const struct change *change)
{
    struct buffer changed = BUFFER_EMPTY, report = BUFFER_EMPTY;
    const char *at = strstr(bank, change->from);
    cr_assert(at, "%s", change->from);
    cr_assert_null(strstr(at + 1, change->from), "%s stands twice", change->from);
    buffer_add_bytes(&changed, bank, (size_t)(at - bank));
    buffer_add(&changed, change->to);
    buffer_add(&changed, at + strlen(change->from));
    check_text_of(changed.text, changed.length, &report);

    char place[32];
    place_of(changed.text, (size_t)(at - bank), change->element, place);
    const char *found = strstr(buffer_text(&report), change->wanted);
    cr_expect(found, "[%s] is not in\n%s", change->wanted, buffer_text(&report));
    cr_expect(strstr(buffer_text(&report), place), "[%s] is not the place in\n%s", place, buffer_text(&report));
    cr_expect_eq(strchr(buffer_text(&report), '\n') + 1, buffer_text(&report) + report.length, "one fault only:\n%s",
                 buffer_text(&report));
    buffer_free(&changed);
    buffer_free(&report);
}

Test(bank, sense_through_xml, .init = make_folder, .fini = remove_folder)
{
    struct buffer bank = BUFFER_EMPTY, report = BUFFER_EMPTY;
    struct messages messages = MESSAGES_EMPTY;
    cr_assert(file_read("tests/data/every-element.xml", 1 << 20, &bank, &messages));
    check_text_of(bank.text, bank.length, &report);
    cr_expect_str_eq(buffer_text(&report), "");
    for (size_t i = 0; i < sizeof changes / sizeof *changes; i++)
        expect_change(bank.text, &changes[i]);
    buffer_free(&bank);
    buffer_free(&report);
}
