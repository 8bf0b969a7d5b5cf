/* Running a program on a pseudo-terminal and talking to it as a person would: send keys, wait for text. Nothing sleeps;
 * every wait is a poll with a deadline, and a wait that fails ends the test and prints what was on the screen. */
#ifndef OWNMARK_TESTS_SUPPORT_PTY_H
#define OWNMARK_TESTS_SUPPORT_PTY_H

#include <stdbool.h>
#include <stddef.h>
#include <sys/types.h>

struct pty {
    int master;
    pid_t child;
    char *output;       /* all that came, NUL-terminated */
    size_t length, capacity;
    size_t seen;        /* up to here it was waited for */
    bool ended;         /* the program closed the terminal */
};

#define PTY_PATIENCE 10000   /* milliseconds a wait lasts at most */

/* Starts arguments[0] (searched on PATH) with "NAME=VALUE" settings added to the environment, TERM=xterm and a UTF-8
 * locale unless they say otherwise; "NAME" alone takes a variable away. settings ends with NULL, may be NULL. */
void pty_start(struct pty *pty, char *const arguments[], const char *const *settings, int columns, int rows);

void pty_send(struct pty *pty, const char *keys);
void pty_send_bytes(struct pty *pty, const char *bytes, size_t length);   /* reads meanwhile, so that nobody blocks */

/* Waits until the text appears behind what was waited for before; the next wait starts behind it. */
void pty_expect(struct pty *pty, const char *text);
bool pty_appears(struct pty *pty, const char *text, int milliseconds);    /* the same, but may fail */

/* All that came since the last wait, without waiting. */
const char *pty_rest(struct pty *pty);

void pty_resize(struct pty *pty, int columns, int rows);
void pty_signal(struct pty *pty, int number);
bool pty_is_cooked(struct pty *pty);            /* ICANON and ECHO are set */
void pty_expect_cooked(struct pty *pty, bool cooked);   /* waits until it is so */

/* Waits for the end: exit status, or 256 + signal. */
int pty_wait(struct pty *pty);
void pty_free(struct pty *pty);                 /* kills what still runs */

#endif
