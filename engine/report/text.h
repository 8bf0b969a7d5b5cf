/* The plain renderer: a page as lines of at most `width` columns (40 to 100; outside that it is clamped). */
#ifndef OWNMARK_REPORT_TEXT_H
#define OWNMARK_REPORT_TEXT_H

#include <stdbool.h>
#include <stddef.h>
#include "base/buffer.h"
#include "report/page.h"

struct text_look {
    size_t width;
    bool colour;      /* SGR sequences around styled runs; every meaning is in the words as well */
    bool ascii;       /* no character beyond ASCII of our own making (rules, bullets); text stays as it is */
};

/* Appends the page to out, each line ended by a newline, everything untrusted made safe. Wraps by Unicode rules,
 * aligns tables (columns shrink and wrap cells when the table is too wide; when not even that fits, each row becomes a
 * block of "heading: cell" lines), writes sub- and superscripts in Unicode where every character has a form (m⁻³,
 * CO₂) and as _(…) and ^(…) where not. */
void page_render_text(const struct page *page, const struct text_look *look, struct buffer *out);

#endif
