/* Marked text: how the plain renderer carries styles through wrapping and padding. It is safe text in which a byte
 * below 9 (1 + enum style) says how what follows is styled; text_add_safe lets no such byte through, and they take no
 * column, so that text_width and text_add_wrapped need not know of them. Private to this room. */
#ifndef OWNMARK_REPORT_MARKED_H
#define OWNMARK_REPORT_MARKED_H

#include <stdbool.h>
#include "base/buffer.h"
#include "report/page.h"

void marked_switch(struct buffer *out, enum style style);

/* Runs made safe and marked, in style `base` where a run is plain; ends in STYLE_PLAIN. Sub- and superscripts become
 * Unicode characters where each has one and ascii is false, else _(…) and ^(…). */
void marked_add(struct buffer *out, const struct page_text *text, enum style base, bool ascii);

/* One untrusted text in one style. */
void marked_add_words(struct buffer *out, const char *words, enum style style);

/* Lines that stand by themselves: a style that runs over a newline is closed before and opened after it. Caller frees
 * each line and the array. */
char **marked_lines(const char *marked, size_t *count);

/* Marked text as it is written: SGR sequences, which never run over a line's end, or nothing in place of the marks. */
void marked_write(struct buffer *out, const char *marked, bool colour);

/* The superscript or subscript form, or false and nothing added when a character has none. */
bool script_add(struct buffer *out, const char *text, bool raised);

#endif
