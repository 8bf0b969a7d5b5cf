/* Laying out prompts. */
#include "terminal/prompt.h"

#include <string.h>

#include "base/text.h"

static void add_clock(const struct terminal_ask *ask, struct buffer *out)
{
    struct buffer words = BUFFER_EMPTY;
    if (ask->clock)
        ask->clock(ask->clock_context, &words);
    text_add_safe(out, buffer_text(&words));
    buffer_free(&words);
}

static void add_prompt(const struct terminal_ask *ask, struct buffer *out)
{
    struct buffer folded = BUFFER_EMPTY;
    text_add_folded_space(&folded, ask->prompt);
    text_add_safe(out, buffer_text(&folded));
    buffer_free(&folded);
}

/* Moves all lines but the last of `words` to `above`. */
static void split(const struct buffer *words, struct buffer *above, struct buffer *last)
{
    const char *end = strrchr(buffer_text(words), '\n');
    if (end)
        buffer_add_bytes(above, words->text, (size_t)(end + 1 - words->text));
    buffer_add(last, end ? end + 1 : buffer_text(words));
}

void prompt_lay_out(const struct terminal_ask *ask, size_t width, struct buffer *above, struct buffer *last)
{
    struct buffer words = BUFFER_EMPTY, clock = BUFFER_EMPTY, wrapped = BUFFER_EMPTY;
    size_t room = width - width / 4;
    add_prompt(ask, &words);
    add_clock(ask, &clock);
    size_t tail = text_width(buffer_text(&clock)) + 3; /* " " and "> " */
    if (text_width(buffer_text(&words)) + tail <= room) {
        buffer_add(last, buffer_text(&words));
    } else {
        text_add_wrapped(&wrapped, buffer_text(&words), width, 0, 0);
        split(&wrapped, above, last);
        if (text_width(buffer_text(last)) + tail > room) {
            buffer_print(above, "%s\n", last->text);
            buffer_clear(last);
        }
    }
    if (clock.length > 0)
        buffer_print(last, "%s%s", last->length > 0 ? " " : "", clock.text);
    buffer_add(last, "> ");
    buffer_free(&words);
    buffer_free(&clock);
    buffer_free(&wrapped);
}
