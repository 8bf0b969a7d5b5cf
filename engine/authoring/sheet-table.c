/* The table itself: which column is which, which rows belong together. */
#include <stdarg.h>
#include <string.h>

#include "authoring/sheet-inner.h"
#include "base/files.h"
#include "base/text.h"

const char *table_cell(const struct table *table, size_t row, enum sheet_column column)
{
    const struct csv_row *cells = &table->csv.rows[row];
    return table->columns[column] < cells->count ? cells->cells[table->columns[column]] : "";
}

void table_fault(const struct table *table, size_t row, enum sheet_column column, const char *format, ...)
{
    struct buffer text = BUFFER_EMPTY;
    va_list arguments;
    va_start(arguments, format);
    buffer_print_list(&text, format, arguments);
    va_end(arguments);
    unsigned long number = table->csv.rows[row].number, place = (unsigned long)table->columns[column] + 1;
    messages_add(table->messages, SEVERITY_ERROR, (struct place){table->name, number, place}, NULL,
                 "row %lu, column '%s': %s", number, sheet_headings[column].name, buffer_text(&text));
    buffer_free(&text);
}

/* ---- Headings ------------------------------------------------------------------------------------- */

static size_t find_heading(const char *name)
{
    for (size_t i = 0; i < SHEET_COLUMNS; i++)
        if (text_equal_ignoring_case(sheet_headings[i].name, name))
            return i;
    return SHEET_COLUMNS;
}

static void heading_fault(const struct table *table, size_t cell, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

static void heading_fault(const struct table *table, size_t cell, const char *format, ...)
{
    struct buffer text = BUFFER_EMPTY;
    va_list arguments;
    va_start(arguments, format);
    buffer_print_list(&text, format, arguments);
    va_end(arguments);
    messages_add(table->messages, SEVERITY_ERROR, (struct place){table->name, table->csv.rows[0].number, cell + 1}, NULL, "%s",
                 buffer_text(&text));
    buffer_free(&text);
}

static void unknown_heading(const struct table *table, size_t cell, const char *name)
{
    const char *names[SHEET_COLUMNS];
    for (size_t i = 0; i < SHEET_COLUMNS; i++)
        names[i] = sheet_headings[i].name;
    const char *nearest = text_nearest(name, names, SHEET_COLUMNS);
    if (nearest)
        heading_fault(table, cell, "no column is called '%s'; did you mean '%s'?", name, nearest);
    else
        heading_fault(table, cell, "no column is called '%s'; 'ownmark bank import --template' prints those there are", name);
}

static void take_heading(struct table *table, size_t cell)
{
    const char *name = table->csv.rows[0].cells[cell];
    size_t column = find_heading(name);
    if (text_is_blank(name))
        return;
    if (column == SHEET_COLUMNS)
        unknown_heading(table, cell, name);
    else if (table->columns[column] != CSV_COLUMN_LIMIT)
        heading_fault(table, cell, "the column '%s' is there twice; keep one", name);
    else
        table->columns[column] = cell;
}

static bool take_headings(struct table *table)
{
    size_t before = table->messages->errors;
    for (size_t i = 0; i < SHEET_COLUMNS; i++)
        table->columns[i] = CSV_COLUMN_LIMIT;
    if (!table->csv.count) {
        messages_error(table->messages, "%s is empty; 'ownmark bank import --template' prints a table to start from", table->name);
        return false;
    }
    for (size_t i = 0; i < table->csv.rows[0].count; i++)
        take_heading(table, i);
    for (size_t i = 0; i < SHEET_COLUMNS; i++)
        if (sheet_headings[i].required && table->columns[i] == CSV_COLUMN_LIMIT)
            heading_fault(table, 0, "the column '%s' is missing; the first row names the columns", sheet_headings[i].name);
    if (table->messages->errors == before && table->csv.count == 1)
        messages_error(table->messages, "%s has headings but no rows", table->name);
    return table->messages->errors == before;
}

/* What stands beyond the headings would be lost without a word. */
static bool rows_have_headings(const struct table *table)
{
    size_t before = table->messages->errors, columns = table->csv.rows[0].count;
    for (size_t row = 1; row < table->csv.count; row++)
        for (size_t i = columns; i < table->csv.rows[row].count; i++)
            if (!text_is_blank(table->csv.rows[row].cells[i]))
                messages_add(table->messages, SEVERITY_ERROR, (struct place){table->name, table->csv.rows[row].number, i + 1}, NULL,
                             "row %lu has a cell beyond the last heading: '%s'; is a comma in a text without quotes round it?",
                             table->csv.rows[row].number, table->csv.rows[row].cells[i]);
    return table->messages->errors == before;
}

bool table_understand(struct table *table, const char *bytes, size_t length)
{
    return csv_read(&table->csv, table->name, bytes, length, table->arena, table->messages) && take_headings(table) &&
           rows_have_headings(table);
}

bool table_read(struct table *table, const char *path)
{
    struct buffer bytes = BUFFER_EMPTY;
    table->name = path;
    bool read = file_read(path, CSV_FILE_LIMIT, &bytes, table->messages) &&
                table_understand(table, buffer_text(&bytes), bytes.length);
    buffer_free(&bytes);
    return read;
}

/* ---- Rows that belong together -------------------------------------------------------------------- */

bool table_next(const struct table *table, size_t first, struct rows *rows)
{
    if (first >= table->csv.count)
        return false;
    *rows = (struct rows){table, first, 1, table_cell(table, first, SHEET_QUESTION)};
    while (first + rows->count < table->csv.count) {
        const char *id = table_cell(table, first + rows->count, SHEET_QUESTION);
        if (!text_is_blank(id) && !text_equal(id, rows->id))
            break;
        rows->count++;
    }
    if (text_is_blank(rows->id))
        table_fault(table, first, SHEET_QUESTION, "the first row has no id for its question; give it one, such as my-01");
    return true;
}
