/* A question that is being written: the rows of a table (sheet.h), filled cell by cell, kept in a file between two goes. */
#ifndef OWNMARK_AUTHORING_DRAFT_H
#define OWNMARK_AUTHORING_DRAFT_H

#include <stdbool.h>
#include <stddef.h>
#include "authoring/sheet.h"
#include "bank/bank.h"
#include "base/arena.h"
#include "base/message.h"

struct draft_row {
    char *cells[SHEET_COLUMNS];     /* NULL: empty */
};

struct draft {
    struct draft_row *rows;
    size_t count, capacity;
};

void draft_free(struct draft *draft);       /* back to no rows */
bool draft_is_empty(const struct draft *draft);     /* nothing in any cell */
const char *draft_get(const struct draft *draft, size_t row, enum sheet_column column);     /* "" when empty */
void draft_set(struct draft *draft, size_t row, enum sheet_column column, const char *text);    /* "" or NULL empties */

/* A new row behind all others, with the question's id, and the part and group of the one before it. */
void draft_add_row(struct draft *draft);
void draft_remove_row(struct draft *draft, size_t row);

/* The first row of the part that a row belongs to; the row after its last. */
size_t draft_part_first(const struct draft *draft, size_t row);
size_t draft_part_end(const struct draft *draft, size_t row);

/* Its XML, in the layout of a bank. Appended. */
void draft_xml(const struct draft *draft, struct buffer *out);

/* The question as the reader understands it, in arena; NULL with messages (without a place: their text says what). course_text
 * is the course's XML. */
const struct question *draft_try(const struct draft *draft, const char *course_text, struct arena *arena,
                                 const struct course **course, struct messages *messages);

/* A bank's question as a draft. False with a message when a table cannot hold it. */
bool draft_from_question(struct draft *draft, struct bank *bank, size_t index, struct messages *messages);

/* The file: a table. Loading a file that is not there gives an empty draft. */
bool draft_save(const struct draft *draft, const char *path, struct messages *messages);
bool draft_load(struct draft *draft, const char *path, struct messages *messages);

#endif
