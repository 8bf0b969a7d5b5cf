/* Tables as text. The form is RFC 4180's; quirks of spreadsheets are common practice, no source; characters that start a
 * formula are OWASP's list, from memory. */
#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

#include "base/csv.h"

static struct arena *arena;
static struct messages messages;
static struct csv csv;

static void set_up(void)
{
    arena = arena_new();
}

static void tear_down(void)
{
    arena_free(arena);
    messages_free(&messages);
}

static bool read_text(const char *text)
{
    messages_free(&messages);
    messages = MESSAGES_EMPTY;
    return csv_read(&csv, "t.csv", text, strlen(text), arena, &messages);
}

static void expect_cell(size_t row, size_t column, const char *text)
{
    cr_assert_lt(row, csv.count);
    cr_assert_lt(column, csv.rows[row].count);
    cr_expect_str_eq(csv.rows[row].cells[column], text);
}

Test(base, csv_reads_rows_and_cells, .init = set_up, .fini = tear_down)
{
    cr_assert(read_text("a,b,c\r\n1, two words ,\"3, \"\"three\"\"\"\r\n"));
    cr_assert_eq(csv.count, 2);
    cr_assert_eq(csv.rows[1].count, 3);
    expect_cell(1, 0, "1");
    expect_cell(1, 1, "two words");
    expect_cell(1, 2, "3, \"three\"");
    cr_expect_eq(csv.rows[1].number, 2);
}

Test(base, csv_reads_what_spreadsheets_make_of_it, .init = set_up, .fini = tear_down)
{
    cr_assert(read_text("\xef\xbb\xbf" "a;b\r1;\"x;y\"\r"), "a mark, semicolons, old line ends");
    expect_cell(0, 0, "a");
    expect_cell(1, 1, "x;y");
    cr_assert(read_text("sep=;\r\na,b;c\r\n"));
    expect_cell(0, 0, "a,b");
    cr_expect_eq(csv.rows[0].number, 2);
    cr_assert(read_text("a\tb\n1,5\t2\n"));
    expect_cell(1, 0, "1,5");
    cr_assert(read_text("a,b\n\u201cone, two\u201d,\u201cthree\u201d"), "curly quotes, no last line end");
    expect_cell(1, 0, "one, two");
    expect_cell(1, 1, "three");
    cr_assert(read_text("a,b\nhe said \u201cyes\u201d,2\n"), "quotes inside a cell are text");
    expect_cell(1, 0, "he said \u201cyes\u201d");
    cr_assert(read_text("a,b\n\u201cWaves\u201d are tall.,\u201cx\u201d\n"), "quotes that text follows are text");
    expect_cell(1, 0, "\u201cWaves\u201d are tall.");
    expect_cell(1, 1, "x");
    cr_assert(read_text("sep=x\n1,2\n"), "no separator: a cell as any other");
    expect_cell(0, 0, "sep=x");
    expect_cell(1, 1, "2");
    cr_assert(read_text("a,b\n\"first\r\nsecond\",2\n\n,,\n5,6\n"), "line breaks in a cell, empty rows");
    expect_cell(1, 0, "first\nsecond");
    cr_assert_eq(csv.count, 3);
    cr_expect_eq(csv.rows[2].number, 5, "rows are counted as a spreadsheet counts them");
}

static void refuse(const char *text, unsigned long row, unsigned long column, const char *words)
{
    cr_expect_not(read_text(text), "%s", words);
    cr_assert_eq(messages.count, 1);
    cr_expect_eq(messages.items[0].place.line, row, "row %lu", messages.items[0].place.line);
    cr_expect_eq(messages.items[0].place.column, column, "column %lu", messages.items[0].place.column);
    cr_expect(strstr(messages.items[0].text, words), "%s", messages.items[0].text);
    cr_expect_eq(csv.count, 0);
}

Test(base, csv_refuses_with_row_and_column, .init = set_up, .fini = tear_down)
{
    refuse("a,b\n1,\"never closed\n2,3\n", 2, 2, "never closed");
    refuse("a,b\n1,\"x\" y\n", 2, 2, "text follows the closing quote");
    refuse("a,b\n1,2\n\xff,3\n", 3, 1, "not UTF-8");
    refuse("\xff\xfe" "a", 1, 1, "UTF-16");
    refuse("PK\x03\x04", 1, 1, "spreadsheet document");
}

Test(base, csv_has_limits, .init = set_up, .fini = tear_down)
{
    struct buffer text = BUFFER_EMPTY;
    buffer_add_repeated(&text, "x,", CSV_COLUMN_LIMIT);
    refuse(buffer_text(&text), 1, CSV_COLUMN_LIMIT + 1, "256 columns");
    buffer_clear(&text);
    buffer_add_repeated(&text, "x\n", CSV_ROW_LIMIT + 1);
    refuse(buffer_text(&text), CSV_ROW_LIMIT + 1, 1, "200000 rows");
    buffer_clear(&text);
    buffer_add(&text, "a,\"");
    buffer_add_repeated(&text, "x", CSV_CELL_LIMIT + 1);
    refuse(buffer_text(&text), 1, 2, "64 KiB");
    buffer_clear(&text);
    buffer_add_repeated(&text, "x", CSV_CELL_LIMIT + 1);
    refuse(buffer_text(&text), 1, 1, "64 KiB");
    buffer_free(&text);
}

Test(base, csv_reads_an_empty_file_as_no_rows, .init = set_up, .fini = tear_down)
{
    cr_expect(read_text(""));
    cr_expect_eq(csv.count, 0);
}

/* ---- Writing -------------------------------------------------------------------------------------- */

static void expect_round_trip(const char *text, const char *written)
{
    struct buffer out = BUFFER_EMPTY;
    csv_add_cell(&out, text, true);
    csv_add_cell(&out, "end", false);
    buffer_add(&out, "\r\n");
    char line[200];
    snprintf(line, sizeof line, "%s,end\r\n", written);
    cr_expect_str_eq(buffer_text(&out), line);
    cr_assert(read_text(buffer_text(&out)));
    expect_cell(0, 0, text);
    buffer_free(&out);
}

Test(base, csv_writes_what_it_reads, .init = set_up, .fini = tear_down)
{
    expect_round_trip("plain words", "plain words");
    expect_round_trip("a, b", "\"a, b\"");
    expect_round_trip("say \"so\"", "\"say \"\"so\"\"\"");
    expect_round_trip("two\nlines", "\"two\nlines\"");
    expect_round_trip("\u201cWaves\u201d are tall.", "\"\u201cWaves\u201d are tall.\"");
    expect_round_trip("\u201cWaves\u201d", "\"\u201cWaves\u201d\"");
    expect_round_trip("\u201eWellen", "\"\u201eWellen\"");
}

Test(base, csv_lets_no_cell_begin_a_formula, .init = set_up, .fini = tear_down)
{
    expect_round_trip("=1+1", "\"'=1+1\"");
    expect_round_trip("+1", "\"'+1\"");
    expect_round_trip("-2+3", "\"'-2+3\"");
    expect_round_trip("@SUM(1)", "\"'@SUM(1)\"");
    expect_round_trip("\t=1", "\"'\t=1\"");
    expect_round_trip("\uff1d1", "\"'\uff1d1\"");
    expect_round_trip("'=1", "\"''=1\"");
    expect_round_trip("'tis", "'tis");
}
