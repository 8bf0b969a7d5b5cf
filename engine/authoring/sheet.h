/* Questions as a table: one row a marking point. What the columns mean, both ways. docs/authoring.md explains them to teachers. */
#ifndef OWNMARK_AUTHORING_SHEET_H
#define OWNMARK_AUTHORING_SHEET_H

#include <stdbool.h>
#include <stddef.h>
#include "bank/bank.h"
#include "base/buffer.h"
#include "base/message.h"

/* The columns' order is that of the template; a table may have them in any. */
enum sheet_column {
    SHEET_QUESTION, SHEET_TOPIC, SHEET_DEMAND, SHEET_STEM, SHEET_GIVENS, SHEET_PART, SHEET_ASK, SHEET_COMMAND, SHEET_OBJECTIVE,
    SHEET_MARKS, SHEET_GROUP, SHEET_POINT, SHEET_ACCEPT, SHEET_IGNORE, SHEET_REJECT, SHEET_KEY, SHEET_KIND, SHEET_VALUE,
    SHEET_FORMULA, SHEET_SYMBOL, SHEET_UNIT, SHEET_TOLERANCE, SHEET_FIGURES, SHEET_PLACES, SHEET_FROM, SHEET_TO,
    SHEET_MODEL, SHEET_NOTE, SHEET_SKILLS, SHEET_LINES, SHEET_PART_GIVENS, SHEET_SCHEME, SHEET_ID, SHEET_POINT_MARKS,
    SHEET_NEEDS, SHEET_POINT_OBJECTIVE, SHEET_FOLLOW, SHEET_IDEA, SHEET_NUMBER_UNIT, SHEET_TO_EXCLUDED, SHEET_LIST_IGNORE,
    SHEET_LIST_REJECT, SHEET_CAUTION, SHEET_QUESTION_NOTE, SHEET_MINUTES, SHEET_ALSO, SHEET_ENEMIES,
    SHEET_COLUMNS
};

/* What a cell belongs to: it is given once, on the first row of its question or part, or on every row. */
enum sheet_scope { SHEET_OF_QUESTION, SHEET_OF_PART, SHEET_OF_POINT };

struct sheet_heading {
    const char *name;           /* as it stands in the first row */
    enum sheet_scope scope;
    bool required;              /* the column has to be there */
    const char *attribute;      /* of the XML it becomes, word for word; NULL: it is something else */
};

extern const struct sheet_heading sheet_headings[SHEET_COLUMNS];

/* A table with its headings and two questions that can be imported into a bank of this course; NULL: into the shipped bank of
 * Coastal Science. Appended. */
void sheet_template(struct buffer *out, const struct course *course);

/* Questions of the bank as such a table, all when count is 0. What a table cannot hold (tables of data, figures, sources,
 * routes inside groups, strands) is left out by the question: each such question gets a warning that says why. False with an
 * error when the file changed. */
bool sheet_write(struct bank *bank, const size_t *indices, size_t count, struct buffer *out, struct messages *messages);

struct sheet_result {
    size_t added, replaced;
};

/* Reads the table into the bank at bank_path. Every fault of every row is told with its row and column (the place of a
 * message: line and column of the table, as a spreadsheet counts them), and then nothing is written. replace: questions with
 * an id that the bank has take their place; else they are refused. dry: nothing is written. */
bool sheet_import(const char *table_path, const char *bank_path, bool replace, bool dry, struct sheet_result *result,
                  struct messages *messages);

/* The same into a bank that does not exist yet: its id, and its course as XML. */
bool sheet_import_new(const char *table_path, const char *bank_path, const char *id, const char *course, bool dry,
                      struct sheet_result *result, struct messages *messages);

#endif
