/* Running the built program, on a pseudo-terminal or by pipes, with a home of its own. */
#ifndef OWNMARK_TESTS_COMMANDS_PROGRAM_H
#define OWNMARK_TESTS_COMMANDS_PROGRAM_H

#include <criterion/criterion.h>

#include "base/buffer.h"
#include "support/pty.h"

struct home {
    char folder[64];
    char record[96];
    char data[96], cache[96];       /* "XDG_DATA_HOME=…" */
};

void home_make(struct home *home);
void home_remove(struct home *home);

/* Starts "ownmark WORDS… --record RECORD" on a pseudo-terminal of 80 by 30. words end with NULL. */
void program_on_pty(struct pty *pty, const struct home *home, const char *const *words);

/* Runs "ownmark WORDS…" with `typed` on standard input; gives the exit status (256 + signal) and both outputs in one. */
int program_run(const struct home *home, const char *const *words, const char *typed, struct buffer *output);
#define RUN(home, output, typed, ...) program_run(home, (const char *const[]){__VA_ARGS__, NULL}, typed, output)

/* Runs it and checks that it ends with `status` and that its output holds `text`. */
void program_expect(const struct home *home, const char *const *words, int status, const char *text);
#define EXPECT(home, status, text, ...) program_expect(home, (const char *const[]){__VA_ARGS__, NULL}, status, text)

#endif
