/* Each question of weak.xml has the weakness that its id names, "strong", "how-to", "denied" and "minus" have none. The limits are
 * common practice, no source; the reading age is by the formula of Senter and Smith (1967), from memory. */
#include <criterion/criterion.h>
#include <string.h>

#include "authoring/warnings.h"

static const struct { const char *id, *words; } wanted[] = {
    {"other-word", "the ask says 'describe', but its command word is 'state'"},
    {"no-word", "does not say its command word 'state'"},
    {"two-words", "gives two commands, 'state' and 'explain'"},
    {"long-ask", "the ask has 77 words"},
    {"hard-to-read", "reads like a text for adults"},
    {"heavy-point", "point a.1 carries 3 marks at once"},
    {"many-points", "5 points for 1 mark"},
    {"one-judgement", "one mark for 'evaluate'"},
    {"shared-keys", "points a.1 and a.2 have the same key words"},
    {"at-odds", "'distance over the water' is credited and holds the rejected words 'over the water'"},
    {"no-model", "no model answer"},
    {"short-model", "seen to earn 0 of 1; not found in it: a.1 (nothing like 'distance')"},
    {"short-and-written-well", "seen to earn 0 of 2; not found in it: a.1"},
    {"needs", "lacks what its command word asks"},
    {"wide", "v lies anywhere from 0.0002 to 4"},
    {"two-signs", "v is positive with some drawn numbers and negative with others"},
    {"colour", "'the red line' can be found by its colour only"},
    {"short-text", "the text of figure figures/profile.svg is too short"},
    {"colour-only", "figure figures/colours.svg tells its parts apart by colour only"},
    {"tight", "f is asked for to 2 significant figures, which may round it out of its tolerance"},    /* 0.17 is 2 % above 1/6 */
    {"tight", "seen to earn 0 of 1"},
    {"tighter", "f is asked for to 1 decimal place"},                                                  /* 0.2 is 0.033 above 1/6 */
    {"tighter", "seen to earn 0 of 1"},
};

static size_t calls;

static void count_calls(size_t done, size_t total, void *context)
{
    (void)context;
    cr_expect_lt(done, total);
    calls++;
}

Test(authoring, each_weak_question_gets_its_warning_and_no_other)
{
    struct messages messages = MESSAGES_EMPTY;
    struct bank *bank = bank_open("tests/data/weak.xml", false, &messages);
    cr_assert(bank != NULL);
    cr_assert(warnings_of_bank(bank, &messages, count_calls, NULL));
    size_t count = sizeof wanted / sizeof *wanted;
    cr_assert_eq(messages.count, count, "%zu warnings", messages.count);
    for (size_t i = 0; i < count; i++) {
        const struct message *message = &messages.items[i];
        cr_expect_eq(message->severity, SEVERITY_WARNING);
        cr_expect(strstr(message->subject, wanted[i].id), "%s instead of %s", message->subject, wanted[i].id);
        cr_expect(strstr(message->text, wanted[i].words), "%s: %s", wanted[i].id, message->text);
        cr_expect_str_eq(message->place.file, "tests/data/weak.xml");
        cr_expect_gt(message->place.line, 0);
    }
    cr_expect_gt(calls, 0);
    cr_expect_eq(messages.errors, 0);
    bank_close(bank);
    messages_free(&messages);
}

/* The shipped banks are examples: what they were warned of was looked at, and mended. */
static void expect_none(const char *path)
{
    struct messages messages = MESSAGES_EMPTY;
    struct bank *bank = bank_open(path, false, &messages);
    cr_assert(bank != NULL);
    cr_assert(warnings_of_bank(bank, &messages, NULL, NULL));
    messages_print(&messages);
    cr_expect_eq(messages.count, 0, "%s: %zu warnings", path, messages.count);
    bank_close(bank);
    messages_free(&messages);
}

Test(authoring, shipped_banks_have_no_warnings, .timeout = 120)
{
    expect_none("banks/coastal-science.xml");
    expect_none("banks/settlement-study.xml");
    expect_none("banks/small-business.xml");
}
