/* The report model: what a screen, a report or a help text says, apart from how it is drawn. Built top to bottom;
 * renderers read it (text.h; later HTML, CSV). All text is copied; untrusted text may be passed as it is, for
 * every renderer makes it safe for its own sink. Format strings are the program's own, never data. */
#ifndef OWNMARK_REPORT_PAGE_H
#define OWNMARK_REPORT_PAGE_H

#include <stdbool.h>
#include <stddef.h>

enum style {
    STYLE_PLAIN,
    STYLE_STRONG,
    STYLE_EMPHASIS,
    STYLE_QUIET,        /* secondary matter */
    STYLE_GOOD,         /* earned; always said in words as well */
    STYLE_BAD,          /* lost, wrong */
    STYLE_SUBSCRIPT,
    STYLE_SUPERSCRIPT
};

enum page_block_kind {
    PAGE_HEADING,       /* level 1 to 3 */
    PAGE_PARAGRAPH,
    PAGE_ITEM,          /* with a marker: "-", "1.", "(a)" */
    PAGE_FACT,          /* label and value, labels of neighbours aligned */
    PAGE_TABLE,
    PAGE_NOTE,          /* a label ("Caution", "Note") and text set apart from the rest */
    PAGE_VERBATIM,      /* what somebody wrote: line breaks kept, set apart by an indent */
    PAGE_PICTURE,       /* a file with a picture; the note behind it says it in words where no picture can be shown */
    PAGE_GAP            /* an empty line, at the page's start and end too */
};

struct page_run {
    enum style style;
    char *text;
};

struct page_text {
    struct page_run *runs;
    size_t count;
};

enum alignment { ALIGN_LEFT, ALIGN_RIGHT };

struct page_block {
    enum page_block_kind kind;
    int level;                      /* heading level; indent of items, verbatim and paragraphs in steps of 2 columns */
    char *label;                    /* marker, fact label, note label, table caption, name of a picture; NULL */
    char *folder, *file, *words;    /* of a picture: the file is beneath the folder; what stands for it, or NULL */
    struct page_text text;
    struct page_text *cells;        /* table, row by row */
    size_t columns, rows;           /* every row has all its cells; those not yet given are empty */
    size_t cell_count;              /* cells given so far; private */
    bool has_head;                  /* the first row is a heading */
    enum alignment *alignments;     /* one a column */
};

struct page {
    struct page_block *blocks;
    size_t count;
    size_t capacity;
    struct page_text *target;       /* where page_add goes; private */
};

struct page *page_new(void);
void page_free(struct page *page);
void page_clear(struct page *page);
void page_append(struct page *page, const struct page *other);   /* copies other's blocks to the end */

/* Each opens a block; page_add adds styled runs to the latest block (for a table: the latest cell). The short
 * forms open and add one plain run. */
void page_heading(struct page *page, int level, const char *format, ...) __attribute__((format(printf, 3, 4)));
void page_paragraph(struct page *page, const char *format, ...) __attribute__((format(printf, 2, 3)));
void page_item(struct page *page, int level, const char *marker, const char *format, ...) __attribute__((format(printf, 4, 5)));
void page_fact(struct page *page, const char *label, const char *format, ...) __attribute__((format(printf, 3, 4)));
void page_note(struct page *page, const char *label, const char *format, ...) __attribute__((format(printf, 3, 4)));
void page_verbatim(struct page *page, int level, const char *text);
void page_gap(struct page *page);

/* A picture with its caption, to which page_add adds, and the words that stand for it (NULL: none). The note that follows at once
 * says the same where no picture can be shown. */
void page_picture(struct page *page, const char *label, const char *folder, const char *file, const char *words);
void page_add(struct page *page, enum style style, const char *format, ...) __attribute__((format(printf, 3, 4)));

/* A table: alignments as a string with a letter a column ('l' or 'r'); then cells from left to right, row by row. */
void page_table(struct page *page, const char *caption, const char *alignments, bool has_head);
void page_cell(struct page *page, const char *format, ...) __attribute__((format(printf, 2, 3)));

#endif
