/* The terminal: everything about a tty, so that no other room touches one. A process has one terminal, so there is
 * no handle. Used between terminal_open and terminal_close; not thread-safe.
 *
 * "Interactive" means that standard input and standard output are both terminals. Otherwise nothing is drawn: lines
 * are read as they come, each is written behind its prompt so that the output reads like a transcript, and no escape
 * sequence is ever written. */
#ifndef OWNMARK_TERMINAL_TERMINAL_H
#define OWNMARK_TERMINAL_TERMINAL_H

#include <stdbool.h>
#include <stddef.h>
#include "base/buffer.h"
#include "base/message.h"
#include "report/page.h"
#include "report/text.h"

/* The longest entry, typed or pasted, in bytes; a longer one is refused with a message and asked again. */
#define TERMINAL_ENTRY_LIMIT ((size_t)64 * 1024)

/* Looks at the environment (locale, TERM, NO_COLOR, the descriptors) and registers what puts the terminal back when
 * the program ends, aborts or runs out of memory. plain: no colour, no escape sequences, no ticking clock, ASCII
 * ornaments; for screen readers and log files. */
void terminal_open(bool plain);
void terminal_close(void);   /* puts everything back; may be called twice */

bool terminal_is_interactive(void);
size_t terminal_width(void);             /* columns to write in, 40 to 100, as of now; 80 when unknown */
size_t terminal_error_width(void);       /* the same of standard error; 0 when it is no terminal */
struct text_look terminal_look(void);    /* for page_render_text */

/* Draws the page on standard output. Characters that the locale cannot show appear as <U+2265>, common punctuation
 * as its ASCII neighbour. False when the output failed, now or before (see terminal_output_failed). */
bool terminal_show(const struct page *page);

/* Moves all that stands on the screen out of sight, by as many empty lines as the terminal has rows (scrolling back
 * still finds it). Does nothing unless interactive. */
void terminal_move_out_of_sight(void);

/* Exact bytes to standard output: for JSON, CSV and other machine-readable results. */
bool terminal_write(const char *bytes, size_t length);

/* Did any write to standard output fail (full disk, closed pipe)? Flushes first. terminal_output_reason gives the
 * system's words for the first failure, "" if there was none. To be asked once at the end: the exit status is 3. */
bool terminal_output_failed(void);
const char *terminal_output_reason(void);

/* What to ask. Texts stay the caller's; only prompt is needed, the rest may be zero. */
struct terminal_ask {
    const char *prompt;                 /* without the final "> "; made safe; a long one is wrapped */
    bool several_lines;                 /* a paste keeps its newlines; else they become spaces */
    const char *const *completions;     /* what Tab completes; without them Tab does nothing. Never file names */
    size_t completion_count;
    const char *prefill;                /* a line to start from, or NULL; non-interactive: not used */
    /* Adds a short text ("3:12 of 6:00") that follows the prompt; called again each second. NULL: no clock. On a
     * terminal that cannot move its cursor, with plain, and without a terminal the prompt shows it as of the asking
     * (not at all without a terminal). */
    void (*clock)(void *context, struct buffer *out);
    void *clock_context;
    /* One sentence said once, on a line of its own with the half-typed line kept below it, when notice_after seconds
     * have passed; not without a terminal. NULL: none. */
    const char *notice;
    double notice_after;
};

enum terminal_outcome {
    TERMINAL_ENTERED,       /* a line, or a pasted text */
    TERMINAL_ENDED,         /* Ctrl-D on an empty line, or the end of the input */
    TERMINAL_INTERRUPTED,   /* Ctrl-C twice on an empty line: the user wants to leave */
    TERMINAL_HUNG_UP        /* SIGTERM, SIGHUP, SIGQUIT or the terminal went away; text holds the half-typed line.
                             * Save it, then call terminal_end_by_signal */
};

struct terminal_entry {
    enum terminal_outcome outcome;
    char *text;     /* valid UTF-8 without a final newline, "" when there is none; terminal_entry_free frees it */
    bool pasted;    /* came as one paste of several lines (text may hold newlines): nothing in it is an instruction */
};

/* Asks one line. Ctrl-C on a half-typed line puts the line into this sitting's history (arrow up brings it back) and
 * asks again; Ctrl-Z stops the program and redraws on return; text that is not UTF-8 is refused and asked again.
 * The history is in memory only. A paste of several lines, bracketed or not, is shown and waits for Enter. */
void terminal_ask(const struct terminal_ask *ask, struct terminal_entry *entry);
void terminal_entry_free(struct terminal_entry *entry);

/* Throws away what was typed ahead: before a question that cannot be undone. Does nothing unless interactive. */
void terminal_flush_input(void);

/* Opens $VISUAL or $EDITOR (split at spaces, no shell), else nano or vi, on a private temporary file that holds text
 * and is removed afterwards. */
enum terminal_edit_result {
    TERMINAL_EDITED,        /* out holds the new text, without final newlines */
    TERMINAL_UNCHANGED,     /* the text was left as it was */
    TERMINAL_NOT_EDITED,    /* no editor, it failed, or its result was refused: messages say why */
    TERMINAL_EDIT_HUNG_UP   /* as TERMINAL_HUNG_UP; out holds what the file held */
};
enum terminal_edit_result terminal_edit(const char *text, struct buffer *out, struct messages *messages);

/* After a hang-up: puts the terminal back and ends the program by the signal that came. */
_Noreturn void terminal_end_by_signal(void);

#endif
