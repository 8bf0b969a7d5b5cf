/* Messages to the user about their input: the recoverable error channel.
 *
 * Functions that read input take a `struct messages *`, add what they found, and return false. They
 * never print. A command prints the list once, to standard error. */
#ifndef OWNMARK_BASE_MESSAGE_H
#define OWNMARK_BASE_MESSAGE_H

#include <stdbool.h>
#include <stddef.h>
#include "base/buffer.h"

enum severity { SEVERITY_ERROR, SEVERITY_WARNING };

/* Where something stands. file may be NULL (no place); line and column count from 1, 0 = unknown. */
struct place {
    const char *file;
    unsigned long line;
    unsigned long column;
};

struct message {
    enum severity severity;
    struct place place;     /* place.file belongs to the list */
    char *subject;          /* the question or element concerned ("question w04"), or NULL */
    char *text;             /* failure first, subject quoted, then what was wanted and how to mend it */
};

struct messages {
    struct message *items;
    size_t count;
    size_t capacity;
    size_t errors;          /* how many errors were added, the dropped ones included */
    size_t limit;           /* stop collecting after this many; 0 = no limit */
    size_t dropped;         /* how many came after the limit */
    bool unwritten;         /* a file could not be written: the system failed, not what was typed (exit status 3) */
};

#define MESSAGES_EMPTY ((struct messages){NULL, 0, 0, 0, 0, 0, false})

/* Adds a message; text, subject and file are copied. subject may be NULL. */
void messages_add(struct messages *messages, enum severity severity, struct place place,
                  const char *subject, const char *format, ...) __attribute__((format(printf, 5, 6)));

/* The common case without a place in a file. */
void messages_error(struct messages *messages, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* True once `limit` messages were collected: a reader should stop looking for more. */
bool messages_full(const struct messages *messages);

/* Writes the list as a person reads it: grouped by subject in order of first appearance (a message without
 * a subject stays in its place), each line "file:line:column: subject: text" (parts that are unknown are
 * left out; a warning has "warning: " before its subject), the first `show` of them, then "and N more".
 * show = 0 shows all. Every untrusted byte is made safe for a terminal (text_add_safe); further lines of
 * a text are set in by two spaces. */
void messages_render(const struct messages *messages, size_t show, struct buffer *out);

/* messages_render to standard error, first 20 and a count. */
void messages_print(const struct messages *messages);

/* The same for a terminal of so many columns: continuation lines are set in by two spaces. 0, where standard error is
 * no terminal: every message stays on its line, as a program reads it. */
void messages_print_wrapped(const struct messages *messages, size_t columns);

void messages_free(struct messages *messages);

#endif
