/* Whole conversations on a pseudo-terminal, with tests/programs/pty-session.c. What is expected follows from the
 * contract (terminal/terminal.h); escape sequences are those of ECMA-48 and of xterm's bracketed paste. */
#include <criterion/criterion.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <stdio.h>
#include <unistd.h>

#include "../support/pty.h"

static const char *program(void)
{
    const char *path = getenv("PTY_SESSION");
    return path ? path : "build/pty-session";
}

static void start_sized(struct pty *pty, const char *argument, const char *const *settings, int columns, int rows)
{
    char *arguments[] = {(char *)(size_t)program(), (char *)(size_t)argument, NULL};
    pty_start(pty, arguments, settings, columns, rows);
    pty_expect(pty, "> ");
}

static void start(struct pty *pty, const char *argument)
{
    start_sized(pty, argument, NULL, 80, 24);
}

static void quit(struct pty *pty)
{
    pty_send(pty, "quit\r");
    pty_expect(pty, "got line quit;");
    cr_expect(pty_wait(pty) == 0);
    pty_free(pty);
}

Test(terminal, session_edits_a_line)
{
    struct pty pty;
    start(&pty, NULL);
    pty_send(&pty, "sad\x02\x02\x7ft\x05\x7fnds\r"); /* back, back, delete back, t, end, delete back */
    pty_expect(&pty, "got line tands;");
    quit(&pty);
}

Test(terminal, session_takes_wide_and_combining_characters)
{
    struct pty pty;
    start(&pty, NULL);
    pty_send(&pty, "na\u00efve e\u0301 \u6d77x\x7f\x7f\u5cb8\r");
    pty_expect(&pty, "got line na\u00efve e\u0301 \u5cb8;");
    quit(&pty);
}

Test(terminal, session_completes_from_the_given_words_only)
{
    struct pty pty;
    start(&pty, "words");
    pty_send(&pty, "ex\t\r");
    pty_expect(&pty, "got line explain;");
    pty_send(&pty, "first DES\t\r");
    pty_expect(&pty, "got line first describe;");
    pty_send(&pty, "/et\t\r");
    pty_expect(&pty, "got line /et;");
    quit(&pty);
}

Test(terminal, session_tab_does_nothing_without_words)
{
    struct pty pty;
    start(&pty, NULL);
    pty_send(&pty, "/et\t\tx\r");
    pty_expect(&pty, "got line /etx;");
    quit(&pty);
}

Test(terminal, session_starts_from_the_prefill)
{
    struct pty pty;
    start(&pty, "prefill");
    pty_expect(&pty, "start");
    pty_send(&pty, "ed\r");
    pty_expect(&pty, "got line started;");
    pty_expect(&pty, "> start");
    pty_send(&pty, "\x15quit\r");
    pty_expect(&pty, "got line quit;");
    cr_expect(pty_wait(&pty) == 0);
    pty_free(&pty);
}

Test(terminal, session_interrupt_keeps_the_line)
{
    struct pty pty;
    start(&pty, NULL);
    pty_send(&pty, "half a line");
    pty_expect(&pty, "half a line");
    pty_send(&pty, "\x03");
    pty_expect(&pty, "^C");
    pty_expect(&pty, "arrow up");
    pty_expect(&pty, "answer> ");
    pty_send(&pty, "\033[A\r");
    pty_expect(&pty, "got line half a line;");
    quit(&pty);
}

Test(terminal, session_interrupt_of_an_empty_line_twice_leaves)
{
    struct pty pty;
    start(&pty, NULL);
    pty_send(&pty, "\x03");
    pty_expect(&pty, "once more leaves");
    pty_expect(&pty, "answer> ");
    pty_send(&pty, "a\x7f");         /* something typed between does not count as twice */
    pty_expect(&pty, "a");
    pty_send(&pty, "\x03");
    pty_expect(&pty, "once more leaves");
    pty_expect(&pty, "answer> ");
    pty_send(&pty, "\x03");
    pty_expect(&pty, "got interrupted ;");
    cr_expect(pty_wait(&pty) == 0);
    pty_free(&pty);
}

Test(terminal, session_ends_by_the_end_of_input_on_an_empty_line)
{
    struct pty pty;
    start(&pty, NULL);
    pty_send(&pty, "ab\x01\x04\r"); /* on a line with text Ctrl-D deletes a character */
    pty_expect(&pty, "got line b;");
    pty_expect(&pty, "answer> ");
    pty_send(&pty, "\x04");
    pty_expect(&pty, "got end ;");
    cr_expect(pty_wait(&pty) == 0);
    pty_free(&pty);
}

static void check_hand_over(int number)
{
    struct pty pty;
    start(&pty, NULL);
    pty_expect_cooked(&pty, false);
    pty_send(&pty, "half an answer");
    pty_expect(&pty, "half an answer");
    pty_signal(&pty, number);
    pty_expect(&pty, "got hangup half an answer;");
    cr_expect(pty_wait(&pty) == 256 + number, "ends by the signal");
    cr_expect(pty_is_cooked(&pty));
    pty_free(&pty);
}

Test(terminal, session_hands_the_line_over_when_told_to_end)
{
    check_hand_over(SIGTERM);
    check_hand_over(SIGHUP);
    check_hand_over(SIGQUIT);
}

Test(terminal, session_stops_and_goes_on_with_the_line)
{
    struct pty pty;
    char *arguments[] = {"bash", "--norc", "--noprofile", "-i", NULL};
    const char *settings[] = {"PS1=shell: ", "PTY_SESSION", NULL};
    pty_start(&pty, arguments, settings, 80, 24);
    pty_expect(&pty, "shell: ");
    pty_send(&pty, program());
    pty_send(&pty, "\r");
    pty_expect(&pty, "answer> ");
    pty_send(&pty, "half a line");
    pty_expect(&pty, "half a line");
    pty_send(&pty, "\x1a");
    pty_expect(&pty, "Stopped");
    pty_expect(&pty, "shell: ");
    pty_resize(&pty, 60, 20);
    pty_send(&pty, "stty -a\r");
    pty_expect(&pty, " icanon");
    pty_expect(&pty, " echo ");
    pty_expect(&pty, "shell: ");
    pty_send(&pty, "fg\r");
    pty_expect(&pty, "answer> half a line");
    pty_send(&pty, " and more\r");
    pty_expect(&pty, "got line half a line and more;");
    pty_send(&pty, "quit\r");
    pty_expect(&pty, "got line quit;");
    pty_expect(&pty, "shell: ");
    pty_send(&pty, "exit\r");
    pty_wait(&pty);
    pty_free(&pty);
}

Test(terminal, session_keeps_the_line_in_a_storm_of_resizes)
{
    struct pty pty;
    static const char words[] = "the sand moves along the shore because waves meet it at an angle and run straight back";
    start(&pty, NULL);
    for (size_t i = 0; words[i]; i++) {
        pty_resize(&pty, 20 + (int)(i * 37 % 100), 5 + (int)(i % 30));
        pty_send_bytes(&pty, words + i, 1);
    }
    pty_resize(&pty, 1, 1);
    pty_resize(&pty, 0, 0);
    pty_resize(&pty, 100, 24);
    pty_send(&pty, "\r");
    pty_expect(&pty, "got line the sand moves along the shore because waves meet it at an angle and run straight back;");
    quit(&pty);
}

Test(terminal, session_takes_a_bracketed_paste_as_one_text)
{
    struct pty pty;
    start(&pty, "several");
    pty_send(&pty, "\033[200~first\r.\r?\r\nlast\033[201~");
    pty_expect(&pty, "last");
    cr_expect(strstr(pty_rest(&pty), "got") == NULL, "a paste waits for Enter");
    pty_send(&pty, "\r");
    pty_expect(&pty, "got line pasted first|.|?|last;");
    pty_send(&pty, "\033[200~.\n\033[201~\r");
    pty_expect(&pty, "got line pasted .;");
    quit(&pty);
}

Test(terminal, session_makes_spaces_of_newlines_where_one_line_is_asked)
{
    struct pty pty;
    start(&pty, NULL);
    pty_send(&pty, "\033[200~y\ry\033[201~\r");
    pty_expect(&pty, "got line y y;");
    quit(&pty);
}

Test(terminal, session_takes_a_burst_of_lines_as_a_paste)
{
    struct pty pty;
    start(&pty, "several");
    pty_send(&pty, "first line of it\rsecond line\rthird");
    pty_expect(&pty, "third");
    cr_expect(strstr(pty_rest(&pty), "got") == NULL);
    pty_send(&pty, "\r");
    pty_expect(&pty, "got line pasted first line of it|second line|third;");
    quit(&pty);
}

static double seconds_since(const struct timespec *start_time)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)(now.tv_sec - start_time->tv_sec) + (double)(now.tv_nsec - start_time->tv_nsec) / 1e9;
}

static void check_long_paste(size_t length, bool bracketed, const char *term)
{
    struct pty pty;
    struct timespec before;
    const char *settings[] = {term, NULL};
    char *words = malloc(length);
    for (size_t i = 0; i < length; i++)
        words[i] = i % 80 == 79 ? '\r' : i % 7 == 6 ? ' ' : 'w';
    start_sized(&pty, "several", settings, 80, 24);
    clock_gettime(CLOCK_MONOTONIC, &before);
    pty_send(&pty, bracketed ? "\033[200~" : "");
    pty_send_bytes(&pty, words, length);
    pty_send(&pty, bracketed ? "\033[201~" : "");
    pty_expect(&pty, "was not taken");
    cr_expect(seconds_since(&before) < 5, "%zu bytes took %.1f s", length, seconds_since(&before));
    quit(&pty);
    free(words);
}

Test(terminal, session_refuses_a_paste_over_the_limit_in_time)
{
    check_long_paste(100000, false, "TERM=xterm");
    check_long_paste(100000, false, "TERM=dumb");
    check_long_paste(1000000, true, "TERM=xterm");
}

Test(terminal, session_takes_a_long_paste_under_the_limit_in_time)
{
    struct pty pty;
    struct timespec before;
    char words[30000];
    memset(words, 'w', sizeof words);
    start(&pty, "several");
    clock_gettime(CLOCK_MONOTONIC, &before);
    pty_send(&pty, "half ");
    pty_send_bytes(&pty, words, sizeof words);
    pty_send(&pty, "\r");
    pty_expect(&pty, "got line (30005 bytes);");
    cr_expect(seconds_since(&before) < 5);
    quit(&pty);
}

Test(terminal, session_keeps_the_half_line_when_a_paste_is_refused)
{
    struct pty pty;
    start(&pty, NULL);
    pty_send(&pty, "half");
    pty_expect(&pty, "half");
    pty_send(&pty, "\033[200~\xff\xfe\033[201~");
    pty_expect(&pty, "not text in UTF-8");
    pty_expect(&pty, "answer> half");
    pty_send(&pty, " whole\r");
    pty_expect(&pty, "got line half whole;");
    quit(&pty);
}

Test(terminal, session_refuses_bytes_that_are_not_text)
{
    struct pty pty;
    start(&pty, NULL);
    pty_send(&pty, "\xff\xfe\x80\r");
    pty_expect(&pty, "not text in UTF-8");
    pty_expect(&pty, "answer> ");
    quit(&pty);
}

Test(terminal, session_clock_ticks_without_disturbing_the_line)
{
    struct pty pty;
    char *arguments[] = {(char *)(size_t)program(), "clock", NULL};
    pty_start(&pty, arguments, NULL, 40, 10);
    pty_expect(&pty, "answer 0:00 of 6:00> ");
    pty_send(&pty, "half a line"); /* 21 + 11 of 40 columns */
    pty_expect(&pty, "half a line");
    pty_expect(&pty, "1");          /* only the digit is rewritten, and the cursor put back */
    pty_send(&pty, ", x");
    pty_expect(&pty, ", x");
    pty_expect(&pty, "2");
    cr_expect(strchr(pty_rest(&pty), '\n') == NULL, "no new line is begun");
    pty_send(&pty, "\r");
    pty_expect(&pty, "got line half a line, x;");
    quit(&pty);
}

/* The first: a terminal that moves its cursor; then those of people who listen, or whose terminal is a log. */
Test(terminal, session_notice_is_said_once_and_keeps_the_line)
{
    static const char *const ways[][2] = {{"TERM=xterm", "several"}, {"TERM=dumb", "several"}, {"TERM=xterm", "plain"}};
    for (size_t i = 0; i < sizeof ways / sizeof *ways; i++) {
        struct pty pty;
        const char *settings[] = {ways[i][0], NULL};
        char *arguments[] = {(char *)(size_t)program(), "notice", "prefill", (char *)(size_t)ways[i][1], NULL};
        pty_start(&pty, arguments, settings, 80, 24);
        pty_expect(&pty, "answer> start");
        pty_expect(&pty, "Time is up; finish your sentence.\r\n");
        pty_expect(&pty, "answer> start");
        pty_send(&pty, " more\r");
        pty_expect(&pty, "got line start more;");
        cr_expect(!strstr(pty_rest(&pty), "got line"));
        pty_expect(&pty, "Time is up");     /* each question has its own */
        pty_send(&pty, "\025quit\r");
        pty_expect(&pty, "got line quit;");
        cr_assert_eq(pty_wait(&pty), 0);
        pty_free(&pty);
    }
}

Test(terminal, session_dumb_terminals_get_no_escapes)
{
    static const char *const terms[] = {"TERM=dumb", "TERM", "TERM=no-such-terminal", "TERM="};
    for (size_t i = 0; i < sizeof terms / sizeof *terms; i++) {
        struct pty pty;
        char *arguments[] = {(char *)(size_t)program(), "show", "clock", NULL};
        const char *settings[] = {terms[i], NULL};
        pty_start(&pty, arguments, settings, 80, 24);
        pty_expect(&pty, "earned \u2265 1");
        pty_expect(&pty, "> ");
        pty_send(&pty, "a line\x02\x7f\r");
        pty_expect(&pty, "got line a lie;");
        pty_send(&pty, "quit\r");
        cr_expect(pty_wait(&pty) == 0);
        cr_expect(strchr(pty.output, '\033') == NULL, "%s: escape sequence written", terms[i]);
        pty_free(&pty);
    }
}

Test(terminal, session_plain_gets_no_escapes)
{
    struct pty pty;
    start(&pty, "plain");
    pty_send(&pty, "line\r");
    pty_expect(&pty, "got line line;");
    pty_send(&pty, "quit\r");
    pty_wait(&pty);
    cr_expect(strchr(pty.output, '\033') == NULL);
    pty_free(&pty);
}

Test(terminal, session_colours_unless_told_not_to)
{
    struct pty pty;
    const char *settings[] = {"NO_COLOR=1", NULL};
    start_sized(&pty, "show", NULL, 80, 24);
    cr_expect(strstr(pty.output, "\033[32mearned") != NULL);
    quit(&pty);
    start_sized(&pty, "show", settings, 80, 24);
    cr_expect(strstr(pty.output, "It is earned") != NULL && strstr(pty.output, "\033[32m") == NULL);
    quit(&pty);
}

Test(terminal, session_shows_escapes_where_the_locale_has_no_character)
{
    struct pty pty;
    const char *settings[] = {"LC_ALL=C", NULL};
    start_sized(&pty, "show", settings, 80, 24);
    cr_expect(strstr(pty.output, "<U+2265> 1") != NULL);
    pty_send(&pty, "na\u00efve\r");
    pty_expect(&pty, "got line na\u00efve;"); /* what was typed is not changed */
    quit(&pty);
}

Test(terminal, session_obeys_the_users_inputrc_but_keeps_pastes_whole)
{
    char path[] = "/tmp/ownmark-inputrc-XXXXXX", setting[64];
    int file = mkstemp(path);
    static const char rules[] = "set editing-mode vi\nset convert-meta on\n\"\\C-o\": \"typed by a rule\"\n";
    cr_assert(file >= 0 && write(file, rules, sizeof rules - 1) == sizeof rules - 1);
    close(file);
    snprintf(setting, sizeof setting, "INPUTRC=%s", path);
    struct pty pty;
    const char *settings[] = {setting, NULL};
    start_sized(&pty, "several", settings, 80, 24);
    pty_send(&pty, "\x0f\r");
    pty_expect(&pty, "got line typed by a rule;");
    pty_send(&pty, "word\033");          /* command mode: the paste is inserted all the same */
    pty_expect(&pty, "word");
    pty_send(&pty, "\033[200~ x\ry\033[201~");
    pty_expect(&pty, "y");
    pty_send(&pty, "\r");
    pty_expect(&pty, "x|y");
    pty_send(&pty, "\u00e9t\u00e9\r");
    pty_expect(&pty, "got line \u00e9t\u00e9;");
    quit(&pty);
    remove(path);
}

Test(terminal, session_wraps_a_long_prompt)
{
    struct pty pty;
    start_sized(&pty, "long", NULL, 60, 24);
    cr_expect(strstr(pty.output, "Did you earn the point") != NULL);
    pty_send(&pty, "yes\r");
    pty_expect(&pty, "got line yes;");
    quit(&pty);
}

Test(terminal, session_survives_tiny_terminals)
{
    struct pty pty;
    static const int sizes[][2] = {{20, 5}, {1, 1}, {0, 0}, {1000, 3}};
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        start_sized(&pty, "clock", NULL, sizes[i][0], sizes[i][1]);
        pty_send(&pty, "a line that is longer than twenty columns\r");
        if (sizes[i][0] >= 20) {
            pty_expect(&pty, "got line a line that is longer than twenty columns;");
        } else {
            pty_expect(&pty, "got");
        }
        quit(&pty);
    }
}

Test(terminal, session_flush_forgets_what_was_typed_ahead)
{
    struct pty pty;
    start(&pty, "flush");
    pty_send(&pty, "a\rb\rc\r"); /* below the size of a burst: three lines typed ahead */
    pty_expect(&pty, "got line a;");
    pty_expect(&pty, "answer> ");
    pty_send(&pty, "quit\r");
    pty_expect(&pty, "got line quit;");
    cr_expect(strstr(pty.output, "got line b") == NULL);
    cr_expect(pty_wait(&pty) == 0);
    pty_free(&pty);
}

Test(terminal, session_puts_the_terminal_back_when_it_crashes)
{
    struct pty pty;
    start(&pty, NULL);
    pty_expect_cooked(&pty, false);
    pty_signal(&pty, SIGABRT);
    cr_expect(pty_wait(&pty) == 256 + SIGABRT);
    cr_expect(pty_is_cooked(&pty));
    pty_free(&pty);
}
