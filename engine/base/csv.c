#include "base/csv.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "base/text.h"

struct reading {
    const char *name;
    const char *at, *end;
    const char *curly;          /* the first closing curly quote from somewhere before `at` on; end: none. NULL: not sought */
    char separator;
    unsigned long row, column;
    struct arena *arena;
    struct messages *messages;
    struct csv_row *rows;
    size_t count, capacity;
    const char **cells;         /* of the row in hand */
    size_t cell_count, cell_capacity;
};

/* ---- Writing -------------------------------------------------------------------------------------- */

/* What a spreadsheet takes for a formula: OWASP's list, with the full-width forms. */
static bool is_run(const char *text)
{
    static const char *const wide[] = {"\uff1d", "\uff0b", "\uff0d", "\uff20"};
    if (*text && strchr("=+-@\t\r\n", *text))
        return true;
    for (size_t i = 0; i < sizeof wide / sizeof *wide; i++)
        if (text_starts_with(text, wide[i]))
            return true;
    return false;
}

/* With any number of ' before it, so that taking one away always gives back what was there. */
static bool wants_quote_mark(const char *text)
{
    return is_run(text + strspn(text, "'"));
}

/* What the reader would divide, trim or take for quotes. */
static bool wants_quotes(const char *text)
{
    return text[strcspn(text, ",;\t\"\r\n")] || *text == ' ' || (*text && text[strlen(text) - 1] == ' ') ||
           text_starts_with(text, "\u201c") || text_starts_with(text, "\u201e");
}

void csv_add_cell(struct buffer *out, const char *text, bool first)
{
    if (!first)
        buffer_add_character(out, ',');
    bool marked = wants_quote_mark(text);
    if (!marked && !wants_quotes(text)) {
        buffer_add(out, text);
        return;
    }
    buffer_add(out, marked ? "\"'" : "\"");
    for (; *text; text++)
        buffer_add_bytes(out, *text == '"' ? "\"\"" : text, *text == '"' ? 2 : 1);
    buffer_add_character(out, '"');
}

/* ---- Reading -------------------------------------------------------------------------------------- */

static bool refuse(struct reading *reading, const char *what)
{
    messages_add(reading->messages, SEVERITY_ERROR, (struct place){reading->name, reading->row, reading->column}, NULL,
                 "row %lu, column %lu: %s", reading->row, reading->column, what);
    return false;
}

static bool starts(const struct reading *reading, const char *text)
{
    size_t length = strlen(text);
    return (size_t)(reading->end - reading->at) >= length && memcmp(reading->at, text, length) == 0;
}

static char most_frequent_separator(const char *at, const char *end)
{
    size_t commas = 0, semicolons = 0, tabs = 0;
    bool quoted = false;
    for (; at < end && (quoted || (*at != '\n' && *at != '\r')); at++) {
        quoted = quoted != (*at == '"');
        commas += !quoted && *at == ',';
        semicolons += !quoted && *at == ';';
        tabs += !quoted && *at == '\t';
    }
    return tabs > commas && tabs > semicolons ? '\t' : semicolons > commas ? ';' : ',';
}

static bool at_cell_end(const struct reading *reading)
{
    return reading->at == reading->end || *reading->at == reading->separator || *reading->at == '\n' || *reading->at == '\r';
}

static void skip_blanks(struct reading *reading)
{
    while (reading->at < reading->end && *reading->at == ' ')
        reading->at++;
}

/* A straight quote is doubled inside; a curly one ends the cell only where the cell can end. */
static bool closes(const struct reading *reading, const char *mark)
{
    struct reading behind = *reading;
    if (!starts(reading, mark))
        return false;
    behind.at += strlen(mark);
    if (*mark == '"')
        return !starts(&behind, "\"");
    skip_blanks(&behind);
    return at_cell_end(&behind);
}

/* “Waves” are tall. begins with a curly quote that is only text: one that quotes the cell ends where the cell does. */
static bool curly_closes(struct reading *reading)
{
    struct reading behind = *reading;
    if (!reading->curly || reading->curly < reading->at)
        reading->curly = memmem(reading->at, (size_t)(reading->end - reading->at), "\u201d", strlen("\u201d"));
    behind.at = reading->curly = reading->curly ? reading->curly : reading->end;
    return behind.at == behind.end || closes(&behind, "\u201d");
}

/* The mark that closes the quote that stands here; NULL: no quote. */
static const char *closing_quote(struct reading *reading)
{
    if (starts(reading, "\""))
        return "\"";
    if ((starts(reading, "\u201c") || starts(reading, "\u201e")) && curly_closes(reading))
        return "\u201d";
    return NULL;
}

static bool read_quoted(struct reading *reading, const char *mark, struct buffer *cell)
{
    reading->at += *mark == '"' ? 1 : 3;
    while (reading->at < reading->end && !closes(reading, mark)) {
        if (cell->length >= CSV_CELL_LIMIT)
            return refuse(reading, "the quote that opens here is not closed within 64 KiB; close it");
        bool line_end = *reading->at == '\r' && reading->at + 1 < reading->end && reading->at[1] == '\n';
        reading->at += line_end || (*mark == '"' && *reading->at == '"');
        buffer_add_character(cell, *reading->at++);
    }
    if (reading->at == reading->end)
        return refuse(reading, "the quote that opens here is never closed; close it, and double a quote that belongs to the text");
    reading->at += strlen(mark);
    skip_blanks(reading);
    return at_cell_end(reading) ||
           refuse(reading, "text follows the closing quote; double a quote that belongs to the text");
}

static bool read_plain(struct reading *reading, struct buffer *cell)
{
    const char *start = reading->at;
    while (!at_cell_end(reading))
        reading->at++;
    size_t length = (size_t)(reading->at - start);
    while (length > 0 && start[length - 1] == ' ')
        length--;
    buffer_add_bytes(cell, start, length);
    return length <= CSV_CELL_LIMIT || refuse(reading, "the cell is longer than 64 KiB; shorten it");
}

static bool keep_cell(struct reading *reading, const char *text)
{
    if (reading->cell_count == CSV_COLUMN_LIMIT)
        return refuse(reading, "the row has more than 256 columns; take some out");
    reading->cells = memory_grow(reading->cells, &reading->cell_capacity, reading->cell_count, sizeof *reading->cells);
    bool marked = *text == '\'' && wants_quote_mark(text);
    reading->cells[reading->cell_count++] = arena_copy_text(reading->arena, text + marked);
    return true;
}

static bool read_cell(struct reading *reading)
{
    struct buffer cell = BUFFER_EMPTY;
    skip_blanks(reading);
    const char *mark = closing_quote(reading);
    bool read = (mark ? read_quoted(reading, mark, &cell) : read_plain(reading, &cell)) &&
                keep_cell(reading, buffer_text(&cell));
    buffer_free(&cell);
    return read;
}

static bool keep_row(struct reading *reading)
{
    bool empty = true;
    for (size_t i = 0; i < reading->cell_count; i++)
        empty = empty && text_is_blank(reading->cells[i]);
    if (empty)
        return true;
    if (reading->count == CSV_ROW_LIMIT)
        return refuse(reading, "the table has more than 200000 rows; divide it");
    const char **cells = arena_get_array(reading->arena, reading->cell_count, sizeof *cells);
    memcpy(cells, reading->cells, reading->cell_count * sizeof *cells);
    reading->rows = memory_grow(reading->rows, &reading->capacity, reading->count, sizeof *reading->rows);
    reading->rows[reading->count++] = (struct csv_row){reading->row, cells, reading->cell_count};
    return true;
}

static void skip_line_end(struct reading *reading)
{
    if (reading->at < reading->end && *reading->at == '\r')
        reading->at++;
    if (reading->at < reading->end && *reading->at == '\n')
        reading->at++;
}

static bool read_row(struct reading *reading)
{
    reading->cell_count = 0;
    for (reading->column = 1;; reading->column++) {
        if (!read_cell(reading))
            return false;
        if (reading->at == reading->end || *reading->at != reading->separator)
            break;
        reading->at++;
    }
    skip_line_end(reading);
    return keep_row(reading);
}

static bool is_text(struct reading *reading, size_t length)
{
    const char *bytes = reading->at;
    if (length >= 2 && (memcmp(bytes, "\xff\xfe", 2) == 0 || memcmp(bytes, "\xfe\xff", 2) == 0))
        return refuse(reading, "the file is UTF-16 text; save it as CSV in UTF-8");
    if (length >= 4 && memcmp(bytes, "PK\x03\x04", 4) == 0)
        return refuse(reading, "the file is a spreadsheet document; save the sheet as CSV in UTF-8");
    for (const char *at = bytes, *next; at < reading->end; at = next, reading->row++) {
        const char *newline = memchr(at, '\n', (size_t)(reading->end - at));
        next = newline ? newline + 1 : reading->end;
        if (!text_is_valid(at, (size_t)(next - at)))
            return refuse(reading, "the line is not UTF-8 text; save the sheet as CSV in UTF-8");
    }
    reading->row = 1;
    return true;
}

/* Some spreadsheets write "sep=;" before the first row. */
static void take_separator_line(struct reading *reading)
{
    if (!starts(reading, "sep=") || reading->end - reading->at < 6 || !strchr(",;\t|", reading->at[4]) ||
        (reading->at[5] != '\r' && reading->at[5] != '\n'))
        return;
    reading->separator = reading->at[4];
    reading->at += 5;
    skip_line_end(reading);
    reading->row++;
}

bool csv_read(struct csv *csv, const char *name, const char *bytes, size_t length, struct arena *arena,
              struct messages *messages)
{
    struct reading reading = {.name = name, .at = bytes, .end = bytes + length, .row = 1, .column = 1, .arena = arena,
                              .messages = messages};
    bool read = is_text(&reading, length);
    if (starts(&reading, "\xef\xbb\xbf"))
        reading.at += 3;
    reading.separator = most_frequent_separator(reading.at, reading.end);
    take_separator_line(&reading);
    for (; read && reading.at < reading.end; reading.row++)
        read = read_row(&reading);
    struct csv_row *rows = arena_get_array(arena, reading.count, sizeof *rows);
    if (reading.count)
        memcpy(rows, reading.rows, reading.count * sizeof *rows);
    *csv = (struct csv){rows, read ? reading.count : 0};
    free(reading.rows);
    free(reading.cells);
    return read;
}
