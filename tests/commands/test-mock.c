/* ownmark mock on a pseudo-terminal and in files: what docs/practice.md, "A whole paper", promises, which is ours. */
#include "program.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "practice/mock.h"
#include "record/record.h"

#define SMALL "tests/data/papers/small.ownmark"

static void answer(struct pty *pty, const char *prompt, const char *line)
{
    pty_expect(pty, prompt);
    pty_expect(pty, "> ");
    pty_send(pty, line);
    pty_send(pty, "\r");
}

/* As if so much time had gone by before the program was closed. */
static void set_clock(const struct home *home, double reading)
{
    struct messages messages = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    struct event *events, event = event_blank(EVENT_STAGE_ENTERED);
    size_t count;
    struct record *record = record_open(home->record, RECORD_WRITE, &messages);
    cr_assert(record != NULL);
    event.sitting = mock_waiting(record);
    cr_assert(record_sitting_events(record, event.sitting, arena, &events, &count, &messages));
    for (size_t i = 0; i < count; i++)
        if (events[i].part) {
            event.script = events[i].script;
            event.part = events[i].part;
        }
    event.detail = "away";
    event.number = reading;
    cr_assert(record_append(record, &event, 1, &messages));
    record_close(record);
    arena_free(arena);
}

Test(mock, the_clock_runs_rests_and_survives_a_kill)
{
    struct home home;
    struct pty pty;
    home_make(&home);
    program_on_pty(&pty, &home, (const char *const[]){"mock", SMALL, NULL});
    answer(&pty, "Enter starts the clock", "");
    pty_expect(&pty, "question, or Enter for the next 0:00 of 8:00> ");
    pty_send(&pty, "3\r");
    pty_expect(&pty, "answer 3 0:0");
    pty_expect(&pty, " of 8:00> ");
    pty_send(&pty, "limpet\r");
    answer(&pty, "answer 3 0:0", ".rest");
    pty_expect(&pty, "The clock stands at ");
    pty_expect(&pty, "Enter ends the break> ");     /* and no clock behind it */
    pty_signal(&pty, SIGKILL);
    cr_assert_eq(pty_wait(&pty), 256 + SIGKILL);
    pty_free(&pty);
    set_clock(&home, 90);
    program_on_pty(&pty, &home, (const char *const[]){"mock", NULL});
    pty_expect(&pty, "The clock stands at 1 minute 30 seconds of 8 minutes.");
    answer(&pty, "Enter starts the clock", "");
    pty_expect(&pty, "      limpet");
    pty_expect(&pty, "answer 3 1:3");
    pty_expect(&pty, "> ");
    pty_send(&pty, "half");
    pty_expect(&pty, "half");
    pty_signal(&pty, SIGHUP);
    cr_assert_eq(pty_wait(&pty), 256 + SIGHUP);
    pty_free(&pty);
    program_on_pty(&pty, &home, (const char *const[]){"mock", NULL});
    answer(&pty, "Enter starts the clock", "");
    pty_expect(&pty, "answer 3 1:3");
    pty_expect(&pty, "half");
    pty_send(&pty, "\x15.leave\r");
    pty_expect(&pty, "the clock stands");
    cr_assert_eq(pty_wait(&pty), 0);
    pty_free(&pty);
    EXPECT(&home, 0, "is sound", "record", "check", "--record", home.record);
    home_remove(&home);
}

Test(mock, the_end_of_the_time_is_told_while_a_line_is_typed)
{
    struct home home;
    struct pty pty;
    struct buffer output = BUFFER_EMPTY;
    home_make(&home);
    RUN(&home, &output, "\n3\nlimpet\n", "mock", SMALL, "--record", home.record);
    set_clock(&home, 479.5);
    program_on_pty(&pty, &home, (const char *const[]){"mock", NULL});
    answer(&pty, "Enter starts the clock", "");
    pty_expect(&pty, "answer 3 ");
    pty_send(&pty, "musse");
    pty_expect(&pty, "musse");
    pty_expect(&pty, "Time is over. What you finish from now on");
    pty_expect(&pty, "musse");
    pty_send(&pty, "l\r");
    pty_expect(&pty, "pen down");
    answer(&pty, "answer 3 8:0", ".answer");
    pty_expect(&pty, "      limpet");
    pty_expect(&pty, "--- time was over; written after it: ---");
    pty_expect(&pty, "      mussel");
    pty_free(&pty);
    buffer_free(&output);
    home_remove(&home);
}

Test(mock, without_a_terminal_it_is_sat_from_a_file_of_lines)
{
    struct home home;
    struct buffer output = BUFFER_EMPTY;
    home_make(&home);
    static const char *const lines = "\n\na distance of open water\n6 m/s\n.\nlimpet, mussel\n.\n.hand-in\ny\n\ny\n\n.skip\n\n1\n2\n";
    cr_expect_eq(RUN(&home, &output, lines, "mock", SMALL, "--plain", "--record", home.record), 0);
    cr_expect(strstr(buffer_text(&output), "Coastal Science: the result") != NULL, "%s", buffer_text(&output));
    cr_expect(strchr(buffer_text(&output), '\x1b') == NULL);
    EXPECT(&home, 0, "\"earned\":3,\"of\":3,\"paper_marks\":6", "mock", "--json", "--record", home.record);
    EXPECT(&home, 0, "\"number\":2,\"bank\":\"cycle\",\"question\":\"sum\",\"earned\":null,\"of\":3", "mock", "--json", "--record",
           home.record);
    buffer_free(&output);
    home_remove(&home);
}

/* Killed while it began, a mock has a sitting and not all of its questions. */
static void check_closed_without_asking(const char *plan)
{
    struct home home;
    struct buffer output = BUFFER_EMPTY;
    struct messages messages = MESSAGES_EMPTY;
    home_make(&home);
    struct record *record = record_open(home.record, RECORD_WRITE, &messages);
    struct event event = event_blank(EVENT_SITTING_OPENED);
    event.bank = "cycle";
    event.detail = plan;
    cr_assert(record && record_append(record, &event, 1, &messages));
    record_close(record);
    cr_expect_eq(RUN(&home, &output, "\n", "mock", SMALL, "--record", home.record), 0);
    cr_expect(strstr(buffer_text(&output), "unfinished") == NULL);
    cr_expect(strstr(buffer_text(&output), "Enter starts the clock") != NULL, "%s: %s", plan, buffer_text(&output));
    EXPECT(&home, 0, "is sound", "record", "check", "--record", home.record);
    buffer_free(&output);
    home_remove(&home);
}

#define PLAN "mock=yes\ncourse=C\npaper=p\n"
#define PLAN_BANK "bank=cycle 0123456789abcdef0123456789abcdef /no/such/bank.xml\n"

Test(mock, one_that_never_began_is_closed_without_asking)
{
    check_closed_without_asking(PLAN "allowed=480\nmarks=6\nquestions=3\n" PLAN_BANK);
    check_closed_without_asking(PLAN "allowed=480\nmarks=6\nquestions=0\n" PLAN_BANK);
    check_closed_without_asking(PLAN "allowed=480\nmarks=6\nquestions=3\n");
    check_closed_without_asking(PLAN "allowed=nan\nmarks=6\nquestions=3\n" PLAN_BANK);
    check_closed_without_asking(PLAN "allowed=480\nmarks=6\nquestions=3\nbank=cycle\n");
    check_closed_without_asking("mock=yes\n");
}

Test(mock, declined_it_is_given_up_and_the_new_one_begins)
{
    struct home home;
    struct buffer output = BUFFER_EMPTY;
    home_make(&home);
    RUN(&home, &output, "\n1\nx\n", "mock", SMALL, "--record", home.record);
    buffer_clear(&output);
    cr_expect_eq(RUN(&home, &output, "n\n\n", "mock", SMALL, "--record", home.record), 0);
    cr_expect(strstr(buffer_text(&output), "the whole paper") != NULL, "%s", buffer_text(&output));
    EXPECT(&home, 2, "'ownmark mock' goes on with it", "practise", "tests/data/cycle.xml", "--record", home.record);
    EXPECT(&home, 0, "The mock is closed", "mock", "--give-up", "--record", home.record);
    EXPECT(&home, 0, "is sound", "record", "check", "--record", home.record);
    buffer_clear(&output);
    cr_expect_eq(RUN(&home, &output, ".leave\n", "practise", "tests/data/cycle.xml", "--record", home.record), 0);
    EXPECT(&home, 2, "'ownmark practise", "mock", SMALL, "--record", home.record);
    buffer_free(&output);
    home_remove(&home);
}

/* "p" of look.xml (4 marks, AO2), then "one" of cycle.xml (1 mark, AO1). */
Test(mock, a_paper_may_come_from_several_banks)
{
    struct home home;
    struct buffer output = BUFFER_EMPTY;
    home_make(&home);
    RUN(&home, &output, "\n1a\n2.5 kW * 40 s = 100 kJ\n", "mock", "tests/data/papers/two.ownmark", "--record", home.record);
    EXPECT(&home, 2, "'ownmark mock' goes on with it", "practise", "tests/data/look.xml", "--record", home.record);
    EXPECT(&home, 2, "'ownmark mock' goes on with it", "practise", "tests/data/cycle.xml", "--record", home.record);
    buffer_clear(&output);
    cr_expect_eq(RUN(&home, &output, "\n.\n11.9 K\n.\na distance\n.hand-in\ny\n\ny\ny\ny\ny\n\nn\nn\n\n.skip\n", "mock", "--record",
                     home.record), 0);
    cr_expect(strstr(buffer_text(&output), "Marks: 4 of 5\n") != NULL, "%s", buffer_text(&output));
    cr_expect(strstr(buffer_text(&output), "AO1       0   1\nAO2       4   4\n") != NULL);
    cr_expect(strstr(buffer_text(&output), "- question 2: distance of open water") != NULL);
    EXPECT(&home, 0, "distance of open water", "missed", "tests/data/cycle.xml", "--record", home.record);
    EXPECT(&home, 0, "No missed point is on record", "missed", "tests/data/look.xml", "--record", home.record);
    EXPECT(&home, 0, "is sound", "record", "check", "--record", home.record);
    buffer_free(&output);
    home_remove(&home);
}

static void copy_file(const char *from, const char *to, const char *drop)
{
    char line[4096];
    FILE *in = fopen(from, "r"), *out = fopen(to, "w");
    cr_assert(in && out);
    while (fgets(line, sizeof line, in))
        if (!drop || !strstr(line, drop))
            fputs(line, out);
    fclose(in);
    fclose(out);
}

/* The bank a mock was begun with may move; the one who sits it names it, and goes on. */
Test(mock, a_bank_that_was_moved_is_named)
{
    struct home home;
    struct buffer output = BUFFER_EMPTY;
    char bank[128], moved[128], paper[128];
    home_make(&home);
    snprintf(bank, sizeof bank, "%s/cycle.xml", home.folder);
    snprintf(moved, sizeof moved, "%s/moved.xml", home.folder);
    snprintf(paper, sizeof paper, "%s/paper.ownmark", home.folder);
    copy_file("tests/data/cycle.xml", moved, NULL);
    copy_file(SMALL, paper, NULL);
    EXPECT(&home, 2, "name its file behind the paper's", "mock", paper, "--record", home.record);
    cr_assert(access(home.record, F_OK) != 0, "what is refused writes nothing");
    cr_expect_eq(RUN(&home, &output, "\n1\nx\n", "mock", paper, moved, "--record", home.record), 0);
    rename(moved, bank);
    EXPECT(&home, 2, "ownmark mock BANK.xml", "mock", "--record", home.record);
    buffer_clear(&output);
    cr_expect_eq(RUN(&home, &output, "\n", "mock", bank, "--record", home.record), 0);
    cr_expect(strstr(buffer_text(&output), "So far you wrote:") == NULL);
    cr_expect(strstr(buffer_text(&output), "answer 2") != NULL, "%s", buffer_text(&output));
    unlink(bank);
    EXPECT(&home, 0, "The mock is closed", "mock", "--give-up", "--record", home.record);
    EXPECT(&home, 0, "is sound", "record", "check", "--record", home.record);
    unlink(paper);
    buffer_free(&output);
    home_remove(&home);
}
