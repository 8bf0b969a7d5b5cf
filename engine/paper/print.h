/* A paper as pages to print: HTML documents that need nothing else (report/html.h), made for A4. */
#ifndef OWNMARK_PAPER_PRINT_H
#define OWNMARK_PAPER_PRINT_H

#include <stdbool.h>
#include "base/buffer.h"
#include "paper/opened.h"
#include "report/page.h"

struct print_look {
    bool large;                 /* 18 points instead of 11, and figures with their words */
    bool name_lines;            /* lines for a name and a date on the cover */
};

/* Cover with the grid of marks, data sheet, questions with room for answers. */
void print_question_paper(const struct opened_paper *opened, const struct print_look *look, struct buffer *out);

/* The scheme of every part, point by point, with the numbers of this paper; then the blueprint (may be NULL). */
void print_mark_scheme(const struct opened_paper *opened, const struct print_look *look, const struct page *blueprint,
                       struct buffer *out);

#endif
