/* Tables as text: RFC 4180, with what spreadsheets make of it. */
#ifndef OWNMARK_BASE_CSV_H
#define OWNMARK_BASE_CSV_H

#include <stdbool.h>
#include <stddef.h>
#include "base/arena.h"
#include "base/buffer.h"
#include "base/message.h"

enum {
    CSV_FILE_LIMIT = 32 * 1024 * 1024,
    CSV_ROW_LIMIT = 200000,
    CSV_COLUMN_LIMIT = 256,
    CSV_CELL_LIMIT = 64 * 1024
};

struct csv_row {
    unsigned long number;       /* as a spreadsheet counts: the first is 1, whatever line breaks its cells hold */
    const char *const *cells;
    size_t count;
};

struct csv {
    const struct csv_row *rows;
    size_t count;               /* rows of nothing but empty cells are left out, but counted in the numbers */
};

/* Reads UTF-8 with or without a byte-order mark. The separator is a comma, semicolon or tab, whichever the first row has
 * most of outside quotes, or what a line "sep=;" before it says (one of these or "|"); lines end with LF, CRLF or CR; a
 * cell in double quotes, or in the curly ones that an editor made of them, may hold separators and line breaks, and in
 * double quotes these doubled. Curly quotes that text follows are text themselves. Cells are trimmed of blanks outside
 * their quotes; a ' that csv_add_cell put before a dangerous character is taken away. In arena. False with messages at row
 * and column: a quote that is not closed, a double one that text follows, bytes that are not UTF-8 (at the line), too much
 * of anything. */
bool csv_read(struct csv *csv, const char *name, const char *bytes, size_t length, struct arena *arena,
              struct messages *messages);

/* One cell, quoted where it has to be; a comma before all but the first of a row. Text that a spreadsheet would run as a
 * formula gets a ' before it. End a row with "\r\n". */
void csv_add_cell(struct buffer *out, const char *text, bool first);

#endif
