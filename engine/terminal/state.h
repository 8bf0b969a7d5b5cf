/* What the files of this room share. Private to this room. */
#ifndef OWNMARK_TERMINAL_STATE_H
#define OWNMARK_TERMINAL_STATE_H

#include <stdbool.h>
#include <termios.h>

#include "terminal/terminal.h"

struct terminal_state {
    bool open;
    bool input_is_terminal, output_is_terminal;
    bool plain;
    bool moves_cursor;          /* TERM names a terminal that is known and not dumb */
    bool colour;
    bool modes_known;           /* `modes` holds what the terminal was found in */
    struct termios modes;
    int output_error;           /* errno of the first failed write, 0 */
    int signal;                 /* that asked us to end, 0 */
};

extern struct terminal_state terminal_state;

bool output_words(const char *words);                   /* safe UTF-8, as the locale shows it */
void output_message(const char *format, ...) __attribute__((format(printf, 1, 2)));   /* a line of ours */

/* One line from a terminal by line editing (line.c), or from whatever standard input is (transcript.c). The entry's
 * text is what was typed, in the locale's encoding and not yet checked. */
void line_ask(const struct terminal_ask *ask, struct terminal_entry *entry);
void line_flush(void);          /* forgets what was read ahead */
void line_close(void);
void transcript_ask(const struct terminal_ask *ask, struct terminal_entry *entry);

#endif
