/* Whole sittings on a pseudo-terminal: typed as a person types, killed in every stage, gone on with. */
#include "program.h"

#include <signal.h>
#include <stdio.h>
#include <string.h>

#define SITTING(question) (const char *const[]){"practise", "tests/data/cycle.xml", "--question", question, NULL}

static void answer(struct pty *pty, const char *prompt, const char *line)
{
    pty_expect(pty, prompt);
    pty_send(pty, line);
    pty_send(pty, "\r");
}

Test(commands, a_sitting_from_first_prompt_to_summary)
{
    struct home home;
    struct pty pty;
    home_make(&home);
    program_on_pty(&pty, &home, SITTING("sum"));
    pty_expect(&pty, "Question 1");
    pty_expect(&pty, "command word> ");
    pty_send(&pty, "calcu\t");
    answer(&pty, "calculate", "");
    answer(&pty, "given", "f = 0.20 Hz");
    answer(&pty, "given", "");
    answer(&pty, "wanted", "the speed in m/s");
    answer(&pty, "marks, 0 to 3", "3");
    answer(&pty, "of 3:00> ", "v = f L");
    answer(&pty, "of 3:00> ", "v = 99 m/s");
    answer(&pty, "of 3:00> ", ".");
    answer(&pty, "earned? y n u b", "y");
    answer(&pty, "earned? y n u b", "n");
    pty_expect(&pty, "Award: 1 of 3");
    answer(&pty, "cause", "10");
    answer(&pty, "rewrite", "");
    answer(&pty, "rewrite", "multiply");
    answer(&pty, "rewrite", ".");
    answer(&pty, "Waves, 1 to 4", "3");
    pty_expect(&pty, "End of the sitting");
    pty_expect(&pty, "1 of 3, on 1 question");
    cr_assert_eq(pty_wait(&pty), 0);
    pty_free(&pty);
    home_remove(&home);
}

/* Plays the sitting up to a prompt, kills the program there, and sees that the next start comes to that prompt. */
static void kill_at(const char *const (*steps)[2], size_t count, size_t at)
{
    struct home home;
    struct pty pty;
    home_make(&home);
    program_on_pty(&pty, &home, SITTING("sum"));
    for (size_t i = 0; i < at; i++)
        answer(&pty, steps[i][0], steps[i][1]);
    pty_expect(&pty, steps[at][0]);
    pty_send(&pty, "half a li");
    pty_expect(&pty, "half a li");
    pty_signal(&pty, SIGKILL);
    cr_assert_eq(pty_wait(&pty), 256 + SIGKILL);
    pty_free(&pty);
    program_on_pty(&pty, &home, SITTING("sum"));
    answer(&pty, "An unfinished sitting waits", "");
    for (size_t i = at; i < count; i++)
        answer(&pty, steps[i][0], steps[i][1]);
    pty_expect(&pty, "1 of 3, on 1 question");
    cr_assert_eq(pty_wait(&pty), 0);
    pty_free(&pty);
    EXPECT(&home, 0, "is sound", "record", "check", "--record", home.record);
    home_remove(&home);
}

Test(commands, killed_in_every_stage_it_goes_on_there)
{
    static const char *const steps[][2] = {
        {"command word", "calculate"}, {"given", "0.2 Hz"}, {"given", ""}, {"wanted", "speed"}, {"marks, 0 to 3", "2"},
        {"answer", "v = f L"}, {"answer", "."}, {"earned", "y"}, {"earned", "n"}, {"cause", "10"}, {"rewrite", ""},
        {"rewrite", "again"}, {"rewrite", "."}, {"Waves, 1 to 4", "2"},
    };
    enum { STEPS = sizeof steps / sizeof *steps };
    for (size_t at = 0; at < STEPS; at++) {
        if (at == STEPS - 3)
            continue;       /* reading before rewriting is offered anew after a restart */
        kill_at(steps, STEPS, at);
    }
}

Test(commands, a_line_half_typed_when_the_terminal_goes_away_comes_back)
{
    struct home home;
    struct pty pty;
    home_make(&home);
    program_on_pty(&pty, &home, SITTING("one"));
    pty_expect(&pty, "answer");
    pty_send(&pty, "a distance of op");
    pty_expect(&pty, "a distance of op");
    pty_signal(&pty, SIGHUP);
    cr_assert_eq(pty_wait(&pty), 256 + SIGHUP);
    pty_free(&pty);
    program_on_pty(&pty, &home, SITTING("one"));
    answer(&pty, "An unfinished sitting waits", "");
    pty_expect(&pty, "answer");
    pty_expect(&pty, "a distance of op");
    pty_send(&pty, "en water\r");
    pty_expect(&pty, "a distance of open water");
    answer(&pty, "earned", "y");
    answer(&pty, "Waves, 1 to 4", "");
    pty_expect(&pty, "1 of 1, on 1 question");
    cr_assert_eq(pty_wait(&pty), 0);
    pty_free(&pty);
    home_remove(&home);
}

Test(commands, ctrl_c_keeps_the_line_and_twice_leaves)
{
    struct home home;
    struct pty pty;
    home_make(&home);
    program_on_pty(&pty, &home, SITTING("one"));
    pty_expect(&pty, "answer");
    pty_send(&pty, "not this");
    pty_expect(&pty, "not this");
    pty_send(&pty, "\x03");
    pty_expect(&pty, "> ");
    pty_send(&pty, "\x1b[A");       /* arrow up */
    pty_expect(&pty, "not this");
    pty_send(&pty, "\x03");
    pty_expect(&pty, "> ");
    pty_send(&pty, "\x03");
    pty_expect(&pty, "once more leaves");
    pty_send(&pty, "\x03");
    pty_expect(&pty, "Everything you entered is saved");
    cr_assert_eq(pty_wait(&pty), 0);
    pty_free(&pty);
    home_remove(&home);
}

Test(commands, resizing_and_stopping_do_not_disturb)
{
    struct home home;
    struct pty pty;
    home_make(&home);
    program_on_pty(&pty, &home, SITTING("one"));
    pty_expect(&pty, "answer");
    pty_send(&pty, "kept");
    pty_expect(&pty, "kept");
    for (int columns = 60; columns <= 100; columns += 5)
        pty_resize(&pty, columns, 30);
    pty_send(&pty, " whole\r");
    pty_expect(&pty, "kept whole");
    pty_expect(&pty, "earned");
    pty_send(&pty, ".leave\r");
    cr_assert_eq(pty_wait(&pty), 0);
    pty_free(&pty);
    home_remove(&home);
}

/* ---- Notes and explanations ------------------------------------------------------------------------- */

#define CONDENSE(...) (const char *const[]){"condense", "waves", "tests/data/topics.xml", __VA_ARGS__, NULL}
#define EXPLAIN (const char *const[]){"explain", "waves", "tests/data/topics.xml", NULL}

Test(commands, notes_killed_while_a_line_is_typed_go_on_behind_the_last_one)
{
    struct home home;
    struct pty pty;
    home_make(&home);
    program_on_pty(&pty, &home, CONDENSE("--stage", "outline"));
    answer(&pty, "notes> ", "wind, fetch");
    pty_expect(&pty, "notes> ");
    pty_send(&pty, "half a li");
    pty_expect(&pty, "half a li");
    pty_signal(&pty, SIGKILL);
    cr_assert_eq(pty_wait(&pty), 256 + SIGKILL);
    pty_free(&pty);
    program_on_pty(&pty, &home, CONDENSE("--plain"));
    answer(&pty, "A draft of the stage \"outline\" waits", "");
    pty_expect(&pty, "wind, fetch");
    pty_expect(&pty, "notes> ");
    pty_send(&pty, "energy");
    pty_expect(&pty, "energy");
    pty_signal(&pty, SIGTERM);          /* the half line is kept */
    cr_assert_eq(pty_wait(&pty), 256 + SIGTERM);
    pty_free(&pty);
    program_on_pty(&pty, &home, CONDENSE("--stage", "3"));
    pty_expect(&pty, "notes> energy");
    pty_send(&pty, "\r");
    answer(&pty, "notes> ", ".");
    pty_expect(&pty, "Kept: outline, 3 words.");
    answer(&pty, "add> ", "");
    pty_expect(&pty, "Next: one line");
    cr_assert_eq(pty_wait(&pty), 0);
    pty_free(&pty);
    EXPECT(&home, 0, "wind, fetch\n      energy\n", "condense", "waves", "tests/data/topics.xml", "--show", "--record", home.record);
    home_remove(&home);
}

Test(commands, an_explanation_runs_a_clock_and_its_checklist_survives_a_kill)
{
    struct home home;
    struct pty pty;
    home_make(&home);
    program_on_pty(&pty, &home, EXPLAIN);
    answer(&pty, "Enter starts the clock> ", "");
    pty_expect(&pty, "speak 0:00 of 2:00> ");
    pty_send(&pty, "xx");
    pty_expect(&pty, "1");              /* only the digit of the clock is rewritten */
    pty_send(&pty, "\r");
    answer(&pty, "stumbles (Enter: 2)> ", "");
    answer(&pty, "covered? y h n b> ", "y");
    pty_expect(&pty, "Key point 2 of 3");
    pty_signal(&pty, SIGKILL);
    cr_assert_eq(pty_wait(&pty), 256 + SIGKILL);
    pty_free(&pty);
    program_on_pty(&pty, &home, EXPLAIN);
    answer(&pty, "A checklist was not finished", "");
    pty_expect(&pty, "Key point 2 of 3");
    answer(&pty, "covered? y h n b> ", "y");
    answer(&pty, "covered? y h n b> ", "n");
    answer(&pty, "how sure, 1 to 4 (Enter: 3 unaided)> ", "");
    pty_expect(&pty, "Kept: unaided.");
    cr_assert_eq(pty_wait(&pty), 0);
    pty_free(&pty);
    EXPECT(&home, 0, "\"stumbles\":2", "explain", "waves", "tests/data/topics.xml", "--json", "--record", home.record);
    EXPECT(&home, 0, "is sound", "record", "check", "--record", home.record);
    home_remove(&home);
}

Test(commands, without_a_clock_on_the_screen_an_explanation_is_timed_all_the_same)
{
    struct home home;
    struct pty pty;
    home_make(&home);
    program_on_pty(&pty, &home, (const char *const[]){"explain", "waves", "tests/data/topics.xml", "--plain", NULL});
    answer(&pty, "Enter starts the clock> ", "");
    answer(&pty, "speak 0:00 of 2:00> ", "");
    pty_expect(&pty, "of 2 minutes.");
    pty_expect(&pty, "stumbles (Enter: 0)> ");
    pty_send(&pty, "\004");
    pty_expect(&pty, "goes on with the checklist");
    cr_assert_eq(pty_wait(&pty), 0);
    cr_expect(strchr(pty.output, '\033') == NULL, "no escape sequence");
    pty_free(&pty);
    home_remove(&home);
}
