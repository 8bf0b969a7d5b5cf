/* Written matter in one cell of a table: a paragraph a line; {H} stands for a drawn or computed value, _{2} and ^{-3} are set
 * low and high, *{so} is emphasised. */
#ifndef OWNMARK_AUTHORING_CELL_H
#define OWNMARK_AUTHORING_CELL_H

#include <stdbool.h>
#include "bank/markup.h"
#include "bank/model.h"
#include "base/buffer.h"

/* The runs of one line into the element. */
void cell_read_rich(struct markup *element, const char *text);

/* A child of this name with a paragraph for each line that is not blank; nothing for an empty cell. */
void cell_read_blocks(struct markup *around, const char *name, const char *text);

/* False, and nothing sensible in out, when a cell cannot hold it: braces in the text; tables, figures, lists, sources. */
bool cell_write_rich(struct buffer *out, const struct rich *text);
bool cell_write_blocks(struct buffer *out, const struct blocks *blocks);

/* Several wordings in one cell, with " | " between them. False when one of them holds a |. */
bool cell_write_wordings(struct buffer *out, const struct wording *wording);

/* Calls `each` for every wording of a cell, trimmed, empty ones left out. */
void cell_each_wording(const char *text, void (*each)(const char *wording, void *context), void *context);

/* Givens, with " | " between them: symbol = value [unit] name, where the value is a number, several numbers, "LOW to HIGH by
 * STEP", or ": FORMULA to N places". The unit may be left out. False with what is wrong in *fault (static). */
bool cell_read_givens(struct markup *around, const char *text, const char **fault);
bool cell_write_givens(struct buffer *out, const struct given *givens, size_t count);

#endif
