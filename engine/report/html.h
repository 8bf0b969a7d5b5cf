/* The HTML renderer: a page as one document that needs nothing else. No scripts, nothing fetched (a content security
 * policy in the head forbids both), styles of our own inside it; headings, lists, table heads and the language are
 * marked as such for screen readers; every meaning that has a colour is in the words as well. Everything untrusted is
 * made safe as for a terminal (text_add_safe) and then escaped. */
#ifndef OWNMARK_REPORT_HTML_H
#define OWNMARK_REPORT_HTML_H

#include "base/buffer.h"
#include "report/page.h"

struct html_look {
    const char *title;      /* NULL: the page's first heading */
    const char *language;   /* a language tag ("en", "cy"); NULL: "en" */
    double points;          /* size of the text, 6 to 72: 11 to read, 18 large print, 28 for a projector; 0: 11 */
};

/* Appends the whole document. */
void page_render_html(const struct page *page, const struct html_look *look, struct buffer *out);

/* ---- For documents with a layout of their own --------------------------------------------------------------- */

/* Head and opening of the body. `style` is CSS of the program's own that follows the common one; NULL: none. */
void html_begin(struct buffer *out, const struct html_look *look, const char *style);
void html_end(struct buffer *out);

/* The page's blocks, to stand inside a body. Headings go down by `deeper` levels (0: level 1 is h1). */
void html_add_page(struct buffer *out, const struct page *page, int deeper);

/* The runs of one text, with their styles. */
void html_add_text(struct buffer *out, const struct page_text *text);

/* Untrusted words: made safe, then & < > " ' escaped, so that they may stand between tags and in a quoted value. */
void html_add_words(struct buffer *out, const char *words);

/* Bytes of any kind as base64 (RFC 4648, section 4), for data: addresses. */
void html_add_base64(struct buffer *out, const void *bytes, size_t length);

#endif
