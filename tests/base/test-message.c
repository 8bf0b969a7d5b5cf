#include <stdio.h>
#include <string.h>

#include "base/message.h"
#include "trial.h"

static const struct place nowhere = {NULL, 0, 0};

static struct place at(const char *file, unsigned long line, unsigned long column)
{
    return (struct place){file, line, column};
}

static void check_rendered(const struct messages *messages, size_t show, const char *expected)
{
    struct buffer out = BUFFER_EMPTY;
    messages_render(messages, show, &out);
    check_text(buffer_text(&out), expected);
    buffer_free(&out);
}

Test(base, message_parts_that_are_unknown_are_left_out)
{
    struct messages messages = MESSAGES_EMPTY;
    check_rendered(&messages, 0, "");
    messages_add(&messages, SEVERITY_ERROR, at("coast.xml", 12, 7), "question w04", "marks '%d' found", 5);
    messages_add(&messages, SEVERITY_WARNING, at("coast.xml", 13, 0), "question w05", "no model answer");
    messages_add(&messages, SEVERITY_ERROR, at("coast.xml", 0, 9), NULL, "empty");
    messages_add(&messages, SEVERITY_WARNING, nowhere, "topic 3", "has no questions");
    messages_error(&messages, "cannot open '%s'", "x");
    check_rendered(&messages, 0, "coast.xml:12:7: question w04: marks '5' found\n"
                                 "coast.xml:13: warning: question w05: no model answer\n"
                                 "coast.xml: empty\n"
                                 "warning: topic 3: has no questions\n"
                                 "cannot open 'x'\n");
    cr_assert(messages.count == 5 && messages.errors == 3);
    messages_free(&messages);
    cr_assert(messages.items == NULL && messages.count == 0 && messages.errors == 0);
}

Test(base, message_copies_what_it_is_given)
{
    struct messages messages = MESSAGES_EMPTY;
    char file[] = "a.xml", subject[] = "question q1", text[] = "bad";
    messages_add(&messages, SEVERITY_ERROR, at(file, 1, 1), subject, "%s", text);
    file[0] = subject[0] = text[0] = 'X';
    check_rendered(&messages, 0, "a.xml:1:1: question q1: bad\n");
    messages_free(&messages);
}

Test(base, message_groups_by_subject_in_order_of_appearance)
{
    struct messages messages = MESSAGES_EMPTY;
    static const char *const subjects[] = {"q2", "q1", NULL, "q2", NULL, "q1", "q2"};
    for (unsigned long i = 0; i < 7; i++)
        messages_add(&messages, SEVERITY_ERROR, at("f", i + 1, 0), subjects[i], "t");
    check_rendered(&messages, 0, "f:1: q2: t\nf:4: q2: t\nf:7: q2: t\nf:2: q1: t\nf:6: q1: t\nf:3: t\nf:5: t\n");
    check_rendered(&messages, 4, "f:1: q2: t\nf:4: q2: t\nf:7: q2: t\nf:2: q1: t\nand 3 more\n");
    check_rendered(&messages, 7, "f:1: q2: t\nf:4: q2: t\nf:7: q2: t\nf:2: q1: t\nf:6: q1: t\nf:3: t\nf:5: t\n");
    messages_free(&messages);
}

Test(base, message_limit_drops_but_still_counts_errors)
{
    struct messages messages = MESSAGES_EMPTY;
    cr_assert(!messages_full(&messages));
    messages.limit = 2;
    messages_add(&messages, SEVERITY_WARNING, nowhere, NULL, "one");
    cr_assert(!messages_full(&messages));
    messages_add(&messages, SEVERITY_WARNING, nowhere, NULL, "two");
    cr_assert(messages_full(&messages));
    messages_error(&messages, "three");
    cr_assert(messages.count == 2 && messages.dropped == 1 && messages.errors == 1);
    check_rendered(&messages, 0, "warning: one\nwarning: two\nand 1 more\n");
    check_rendered(&messages, 1, "warning: one\nand 2 more\n");
    messages_free(&messages);
}

Test(base, message_makes_every_part_safe)
{
    struct messages messages = MESSAGES_EMPTY;
    messages_add(&messages, SEVERITY_ERROR, at("a\033[2J\nb.xml", 1, 0), "q\n1\x80", "odd \u202e text\xc2\x9b");
    check_rendered(&messages, 0, "a<U+001B>[2J<U+000A>b.xml:1: q<U+000A>1<0x80>: odd <U+202E> text<U+009B>\n");
    messages_free(&messages);
}

Test(base, message_of_several_lines_cannot_pose_as_another)
{
    struct messages messages = MESSAGES_EMPTY;
    messages_error(&messages, "first\nx.xml:1: forged\n\nlast\n\n");
    messages_error(&messages, "\n");
    check_rendered(&messages, 0, "first\n  x.xml:1: forged\n  \n  last\n\n");
    messages_free(&messages);
}

static void print_25(void)
{
    struct messages messages = MESSAGES_EMPTY;
    for (int i = 1; i <= 25; i++)
        messages_error(&messages, "fault %d", i);
    messages_print(&messages);
    messages_free(&messages);
}

static void print_wrapped(void)
{
    struct messages messages = MESSAGES_EMPTY;
    messages_add(&messages, SEVERITY_ERROR, (struct place){"coast.xml", 57, 5}, "question w01",
                 "the scheme can give 2 marks at most, but the part says marks=\"3\"");
    messages_error(&messages, "short");
    messages_print_wrapped(&messages, 40);
    messages_print_wrapped(&messages, 0);
    messages_free(&messages);
}

/* The place stays at the start of a line; without a terminal nothing is broken. */
Test(base, message_print_wraps_for_a_terminal_only)
{
    struct buffer output = BUFFER_EMPTY;
    cr_assert(trial_in_child(print_wrapped, &output) == 0);
    cr_expect_str_eq(buffer_text(&output),
                     "coast.xml:57:5: question w01: the scheme\n"
                     "  can give 2 marks at most, but the part\n"
                     "  says marks=\"3\"\n"
                     "short\n"
                     "coast.xml:57:5: question w01: the scheme can give 2 marks at most, but the part says marks=\"3\"\n"
                     "short\n", "got [%s]", buffer_text(&output));
    buffer_free(&output);
}

Test(base, message_print_shows_20_on_standard_error)
{
    struct buffer output = BUFFER_EMPTY;
    cr_assert(trial_in_child(print_25, &output) == 0);
    const char *text = buffer_text(&output);
    cr_expect(strncmp(text, "fault 1\nfault 2\n", 16) == 0);
    cr_expect(strstr(text, "fault 20\nand 5 more\n") && !strstr(text, "fault 21"), "got [%s]", text);
    buffer_free(&output);
}
