/* Asking without a terminal: lines as they come, each written behind its prompt. */
#include <stdio.h>
#include <string.h>

#include "base/memory.h"
#include "base/text.h"
#include "terminal/state.h"

/* Reads to the end of the line; keeps one byte more than may be entered, so that the limit is noticed. False at the
 * end of the input. */
static bool read_line(struct buffer *line)
{
    int byte;
    bool any = false;
    while ((byte = getc(stdin)) != EOF && byte != '\n') {
        any = true;
        if (line->length <= TERMINAL_ENTRY_LIMIT)
            buffer_add_character(line, byte ? (char)byte : '\xff'); /* NUL: not text, to be refused */
    }
    if (line->length > 0 && line->text[line->length - 1] == '\r')
        buffer_shorten(line, line->length - 1);
    return any || byte == '\n';
}

static void write_behind_prompt(const struct terminal_ask *ask, const char *line)
{
    struct buffer words = BUFFER_EMPTY;
    text_add_safe(&words, ask->prompt);
    buffer_add(&words, "> ");
    if (!terminal_state.input_is_terminal) {
        text_add_safe(&words, line);
        buffer_add_character(&words, '\n');
    }
    output_words(buffer_text(&words));
    buffer_free(&words);
}

void transcript_ask(const struct terminal_ask *ask, struct terminal_entry *entry)
{
    struct buffer line = BUFFER_EMPTY;
    if (terminal_state.input_is_terminal)
        write_behind_prompt(ask, "");
    entry->outcome = read_line(&line) ? TERMINAL_ENTERED : TERMINAL_ENDED;
    if (!terminal_state.input_is_terminal)
        write_behind_prompt(ask, buffer_text(&line));
    entry->text = buffer_take(&line);
}
