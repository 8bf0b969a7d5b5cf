/* The prompt of a question, laid out. Private to this room. */
#ifndef OWNMARK_TERMINAL_PROMPT_H
#define OWNMARK_TERMINAL_PROMPT_H

#include "base/buffer.h"
#include "terminal/terminal.h"

/* Adds to `above` the lines, each ended, that a prompt too long for one line starts with, and to `last` the line that
 * is typed behind: "answer 3:12 of 6:00> ". At least a quarter of `width` is left for typing. Both are safe UTF-8
 * without any escape sequence: line editing loses its place in a coloured prompt that changes. */
void prompt_lay_out(const struct terminal_ask *ask, size_t width, struct buffer *above, struct buffer *last);

#endif
