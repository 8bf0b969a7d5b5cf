/* What the printing of papers and schemes shares. Private to this room. */
#ifndef OWNMARK_PAPER_PRINT_INNER_H
#define OWNMARK_PAPER_PRINT_INNER_H

#include "bank/model.h"
#include "bank/values.h"
#include "paper/print.h"

struct printing {
    const struct opened_paper *opened;
    const struct print_look *look;
    const struct opened_question *question;     /* the one that is being printed */
    struct page *scratch;                       /* for blocks on their way from practice/show.h to report/html.h */
    struct buffer *out;
    double small_points;                        /* size of the text where it is not large */
};

void print_begin(struct printing *printing, const char *kind);
void print_end(struct printing *printing);

/* Words of our own (may hold tags) and untrusted ones. */
void print_tags(struct printing *printing, const char *format, ...) __attribute__((format(printf, 2, 3)));
void print_words(struct printing *printing, const char *words);

/* Written matter of the question in hand. */
void print_rich(struct printing *printing, const struct rich *text);
void print_blocks(struct printing *printing, const struct blocks *blocks);

/* What stands on the scratch page, with headings `deeper`; empties it. */
void print_scratch(struct printing *printing, int deeper);

extern const char print_style_a4[], print_style_large[], print_style[];

#endif
