/* What the files that read a table share. For this room only. */
#ifndef OWNMARK_AUTHORING_SHEET_INNER_H
#define OWNMARK_AUTHORING_SHEET_INNER_H

#include "authoring/sheet.h"
#include "bank/markup.h"
#include "base/arena.h"
#include "base/csv.h"

enum { SHEET_GROUP_LIMIT = 127 };           /* bytes of a cell that names a group */

struct table {
    const char *name;                       /* of the file, for messages */
    struct csv csv;
    size_t columns[SHEET_COLUMNS];          /* where each stands; CSV_COLUMN_LIMIT: it does not */
    struct arena *arena;
    struct messages *messages;
};

/* One question's rows. */
struct rows {
    const struct table *table;
    size_t first, count;
    const char *id;
};

/* The text of a cell; "" when the column or the cell is not there. */
const char *table_cell(const struct table *table, size_t row, enum sheet_column column);
void table_fault(const struct table *table, size_t row, enum sheet_column column, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/* Reads and understands the first row. False with messages. */
bool table_read(struct table *table, const char *path);
bool table_understand(struct table *table, const char *bytes, size_t length);   /* table->name is set already */

/* The next question's rows, from `first` on. False at the end. Ids and cells that contradict are reported. */
bool table_next(const struct table *table, size_t first, struct rows *rows);

/* Its XML. False with messages. */
struct markup *rows_markup(const struct rows *rows);

/* Which row a line of the rendered XML comes from. */
size_t rows_row_of_line(const struct rows *rows, const char *xml, unsigned long line);

/* A row of a table that is written: cells may be NULL for empty ones. */
void sheet_add_row(struct buffer *out, const char *const cells[SHEET_COLUMNS]);
void sheet_add_headings(struct buffer *out);

#endif
