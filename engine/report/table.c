/* Tables: columns as wide as their cells while that fits, then narrower with the cells wrapped, then records. */
#include "report/table.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "base/text.h"
#include "report/marked.h"

enum {
    BETWEEN = 2,         /* columns between two table columns */
    LONG_WORD = 16       /* a word longer than this does not keep its column wide */
};

struct layout {
    const struct page_block *table;
    const struct text_look *look;
    size_t indent;
    char **cells;        /* marked, row by row */
    size_t *widths;      /* of the columns */
};

static bool is_head(const struct layout *layout, size_t row)
{
    return row == 0 && layout->table->has_head;
}

static size_t widest_line(const char *marked)
{
    size_t widest = 0;
    for (;;) {
        size_t length = strcspn(marked, "\n");
        size_t width = text_width_bytes(marked, length);
        widest = width > widest ? width : widest;
        if (!marked[length])
            return widest;
        marked += length + 1;
    }
}

static size_t widest_word(const char *marked)
{
    size_t widest = 0;
    while (*marked) {
        size_t length = strcspn(marked, " \n");
        size_t width = text_width_bytes(marked, length);
        widest = width > widest ? width : widest;
        marked += length + (marked[length] != '\0');
    }
    return widest;
}

static void mark_cells(struct layout *layout)
{
    const struct page_block *table = layout->table;
    size_t count = table->columns * table->rows;
    layout->cells = memory_get(count * sizeof *layout->cells);
    for (size_t i = 0; i < count; i++) {
        struct buffer cell = BUFFER_EMPTY;
        bool head = is_head(layout, i / table->columns);
        marked_add(&cell, &table->cells[i], head ? STYLE_STRONG : STYLE_PLAIN, layout->look->ascii);
        layout->cells[i] = buffer_take(&cell);
    }
}

/* Numbers stay whole: a column aligned to the right does not wrap but for its heading. */
static size_t least_width(const struct layout *layout, size_t column)
{
    const struct page_block *table = layout->table;
    size_t least = 1;
    for (size_t row = 0; row < table->rows; row++) {
        const char *cell = layout->cells[row * table->columns + column];
        bool whole = table->alignments[column] == ALIGN_RIGHT && !is_head(layout, row);
        size_t width = whole ? widest_line(cell) : widest_word(cell);
        if (!whole && width > LONG_WORD)
            width = LONG_WORD;
        least = width > least ? width : least;
    }
    return least;
}

static size_t total(const struct layout *layout)
{
    size_t sum = layout->indent;
    for (size_t i = 0; i < layout->table->columns; i++)
        sum += layout->widths[i] + (i > 0 ? BETWEEN : 0);
    return sum;
}

/* Takes columns from the widest until the table fits; false when it cannot. */
static bool shrink(struct layout *layout, const size_t *least)
{
    while (total(layout) > layout->look->width) {
        size_t widest = layout->table->columns;
        for (size_t i = 0; i < layout->table->columns; i++) {
            if (layout->widths[i] > least[i] &&
                (widest == layout->table->columns || layout->widths[i] > layout->widths[widest]))
                widest = i;
        }
        if (widest == layout->table->columns)
            return false;
        layout->widths[widest]--;
    }
    return true;
}

static bool set_widths(struct layout *layout)
{
    const struct page_block *table = layout->table;
    size_t *least = memory_get(table->columns * sizeof *least);
    layout->widths = memory_get(table->columns * sizeof *layout->widths);
    for (size_t column = 0; column < table->columns; column++) {
        size_t natural = 1;
        for (size_t row = 0; row < table->rows; row++) {
            size_t width = widest_line(layout->cells[row * table->columns + column]);
            natural = width > natural ? width : natural;
        }
        /* far wider columns than the page only make shrink() slow */
        layout->widths[column] = natural < layout->look->width ? natural : layout->look->width;
        least[column] = least_width(layout, column);
    }
    bool fits = shrink(layout, least);
    free(least);
    return fits;
}

/* One line of a row: line `line` of each cell, blank where the cell has fewer; no spaces at the end. */
static void add_row_line(struct buffer *out, const struct layout *layout, char ***lines, const size_t *counts,
                         size_t line)
{
    size_t pending = layout->indent;
    for (size_t column = 0; column < layout->table->columns; column++) {
        const char *words = line < counts[column] ? lines[column][line] : "";
        size_t width = text_width(words);
        size_t space = layout->widths[column] > width ? layout->widths[column] - width : 0;
        bool right = layout->table->alignments[column] == ALIGN_RIGHT;
        if (width > 0) {
            buffer_add_repeated(out, " ", pending + (right ? space : 0));
            buffer_add(out, words);
            pending = right ? 0 : space;
        } else {
            pending += layout->widths[column];
        }
        pending += BETWEEN;
    }
    buffer_add_character(out, '\n');
}

static char **cell_lines(const struct layout *layout, size_t row, size_t column, size_t *count)
{
    struct buffer wrapped = BUFFER_EMPTY;
    text_add_wrapped(&wrapped, layout->cells[row * layout->table->columns + column], layout->widths[column], 0, 0);
    char **lines = marked_lines(buffer_text(&wrapped), count);
    buffer_free(&wrapped);
    return lines;
}

static void add_row(struct buffer *out, const struct layout *layout, size_t row)
{
    size_t columns = layout->table->columns, height = 0;
    char ***lines = memory_get(columns * sizeof *lines);
    size_t *counts = memory_get(columns * sizeof *counts);
    for (size_t column = 0; column < columns; column++) {
        lines[column] = cell_lines(layout, row, column, &counts[column]);
        height = counts[column] > height ? counts[column] : height;
    }
    for (size_t line = 0; line < height; line++)
        add_row_line(out, layout, lines, counts, line);
    for (size_t column = 0; column < columns; column++) {
        for (size_t line = 0; line < counts[column]; line++)
            free(lines[column][line]);
        free(lines[column]);
    }
    free(lines);
    free(counts);
}

static void add_head_rule(struct buffer *out, const struct layout *layout)
{
    buffer_add_repeated(out, " ", layout->indent);
    marked_switch(out, STYLE_QUIET);
    for (size_t column = 0; column < layout->table->columns; column++) {
        buffer_add_repeated(out, " ", column > 0 ? BETWEEN : 0);
        buffer_add_repeated(out, layout->look->ascii ? "-" : "─", layout->widths[column]);
    }
    marked_switch(out, STYLE_PLAIN);
    buffer_add_character(out, '\n');
}

static void add_grid(struct buffer *out, const struct layout *layout)
{
    for (size_t row = 0; row < layout->table->rows; row++) {
        add_row(out, layout, row);
        if (is_head(layout, row))
            add_head_rule(out, layout);
    }
}

/* "heading: cell", or the cell alone where there is no heading. */
static void add_record_line(struct buffer *out, const struct layout *layout, size_t row, size_t column)
{
    const char *cell = layout->cells[row * layout->table->columns + column];
    const char *head = layout->table->has_head ? layout->cells[column] : "";
    if (text_width(cell) == 0)
        return;
    struct buffer line = BUFFER_EMPTY;
    buffer_add(&line, head);
    buffer_add(&line, head[0] ? ": " : "");
    buffer_add(&line, cell);
    size_t indent = layout->indent + (column > 0 ? BETWEEN : 0);
    buffer_add_repeated(out, " ", indent);
    text_add_wrapped(out, buffer_text(&line), layout->look->width, indent + BETWEEN, indent);
    buffer_add_character(out, '\n');
    buffer_free(&line);
}

static void add_records(struct buffer *out, const struct layout *layout)
{
    for (size_t row = layout->table->has_head ? 1 : 0; row < layout->table->rows; row++)
        for (size_t column = 0; column < layout->table->columns; column++)
            add_record_line(out, layout, row, column);
}

static void add_caption(struct buffer *out, const struct layout *layout)
{
    struct buffer caption = BUFFER_EMPTY;
    marked_add_words(&caption, layout->table->label, STYLE_STRONG);
    buffer_add_repeated(out, " ", layout->indent);
    text_add_wrapped(out, buffer_text(&caption), layout->look->width, layout->indent, layout->indent);
    buffer_add_character(out, '\n');
    buffer_free(&caption);
}

void table_add(struct buffer *out, const struct page_block *table, size_t indent, const struct text_look *look)
{
    struct layout layout = {.table = table, .look = look, .indent = indent};
    if (table->label)
        add_caption(out, &layout);
    mark_cells(&layout);
    if (set_widths(&layout))
        add_grid(out, &layout);
    else
        add_records(out, &layout);
    for (size_t i = 0; i < table->columns * table->rows; i++)
        free(layout.cells[i]);
    free(layout.cells);
    free(layout.widths);
}
