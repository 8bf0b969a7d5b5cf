/* Givens that show more figures than a student can be asked to read, and those that only look long. At most 8 figures:
 * common practice, no source; how each number is shown was counted by hand. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "trial.h"

static const struct {
    const char *given;
    const char *fault;          /* NULL: sound */
} cases[] = {
    {"choices=\"1.2345678 2\"", NULL},
    {"choices=\"12345678e-7 2\"", NULL},
    {"choices=\"1000000000000 2\"", NULL},
    {"choices=\"1.23456789 2\"", "comes out as 1.23456789"},
    {"from=\"1.00000000\" to=\"1.00000010\" step=\"0.00000001\"", "comes out as 1.0000000"},
    {"from=\"0.12345670\" to=\"0.12345679\" step=\"0.00000001\"", NULL},
    {"from=\"100000000\" to=\"900000000\" step=\"100000000\"", NULL},
    {"from=\"100000001\" to=\"100000009\" step=\"1\"", "comes out as 10000000"},
    {"formula=\"1/7\" places=\"8\"", NULL},
    {"formula=\"1/7\" places=\"9\"", "comes out as 0.142857143"},
    {"formula=\"123456789.4\" places=\"0\"", "comes out as 123456789"},
};

Test(bank, figures_of_drawn_numbers, .init = trial_begin, .fini = trial_end)
{
    char *text = trial_generated("2 7");        /* the second varies */
    const char *start = strstr(text, "<given symbol=\"n\"");
    cr_assert(start);
    size_t length = strcspn(start, ">");
    char given[64];
    snprintf(given, sizeof given, "%.*s", (int)length, start);
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct messages messages = MESSAGES_EMPTY;
        struct buffer wanted = BUFFER_EMPTY;
        buffer_print(&wanted, "<given symbol=\"n\" %s", cases[i].given);
        char *changed = trial_replaced(text, given, buffer_text(&wanted), NULL);
        bool sound = trial_check(changed, strlen(changed), &messages);
        cr_expect_eq(sound, !cases[i].fault, "%s", cases[i].given);
        cr_expect(sound || (messages.count == 1 && strstr(messages.items[0].text, cases[i].fault) &&
                            strstr(messages.items[0].text, "more than 8 figures")),
                  "%s: %s", cases[i].given, messages.count ? messages.items[0].text : "nothing");
        messages_free(&messages);
        buffer_free(&wanted);
        free(changed);
    }
    free(text);
}
