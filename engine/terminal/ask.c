/* Asking: what is the same whether a person types or a file is read. */
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/memory.h"
#include "base/text.h"
#include "terminal/charset.h"
#include "terminal/state.h"

void terminal_entry_free(struct terminal_entry *entry)
{
    free(entry->text);
    *entry = (struct terminal_entry){0};
}

/* A half-typed line that is handed over is worth saving even where it holds a stray byte. */
static void take_draft(struct terminal_entry *entry)
{
    struct buffer text = BUFFER_EMPTY;
    if (!charset_add_inward(&text, entry->text, strlen(entry->text)))
        text_add_safe(&text, entry->text);
    free(entry->text);
    entry->text = buffer_take(&text);
}

/* False: refused and said so. */
static bool take_line(struct terminal_entry *entry)
{
    struct buffer text = BUFFER_EMPTY;
    size_t length = strlen(entry->text);
    if (length > TERMINAL_ENTRY_LIMIT) {
        output_message("That line was not taken: it is longer than %zu bytes. Please split it.", TERMINAL_ENTRY_LIMIT);
        return false;
    }
    if (!charset_add_inward(&text, entry->text, length)) {
        output_message("That line was not taken: it holds bytes that are not text in UTF-8. Please type it again.");
        buffer_free(&text);
        return false;
    }
    free(entry->text);
    entry->pasted = strchr(buffer_text(&text), '\n') != NULL;
    while (text.length > 0 && text.text[text.length - 1] == '\n')
        buffer_shorten(&text, text.length - 1);
    entry->text = buffer_take(&text);
    return true;
}

void terminal_ask(const struct terminal_ask *ask, struct terminal_entry *entry)
{
    for (;;) {
        *entry = (struct terminal_entry){.text = NULL};
        if (terminal_is_interactive())
            line_ask(ask, entry);
        else
            transcript_ask(ask, entry);
        if (entry->outcome == TERMINAL_ENTERED) {
            if (take_line(entry))
                return;
            free(entry->text);
            continue;
        }
        take_draft(entry);
        return;
    }
}

void terminal_flush_input(void)
{
    if (!terminal_is_interactive())
        return;
    tcflush(STDIN_FILENO, TCIFLUSH);
    line_flush();
}
