/* Paragraphs, lists, tables, figures, sources, and what stands inside their lines. */
#include <string.h>

#include "bank/reader-inner.h"

#define LINES (PARENT(PARAGRAPH) | PARENT(ITEM) | PARENT(CELL) | PARENT(CAPTION) | PARENT(FORMULA) | PARENT(POINT))
#define WRITTEN (PARENT(STEM) | PARENT(ASK) | PARENT(MODEL) | PARENT(NOTE) | PARENT(SOURCE))

/* ---- Inside a line ---- */

static void give_run(struct reader *reader, enum run_style style)
{
    /* The run belongs to the prose around this element: judged and pushed at its height. */
    reader->depth--;
    reader_flush_run(reader, style);
    reader->depth++;
}

static void end_emphasis(struct reader *reader) { give_run(reader, RUN_EMPHASIS); }
static void end_subscript(struct reader *reader) { give_run(reader, RUN_SUBSCRIPT); }
static void end_superscript(struct reader *reader) { give_run(reader, RUN_SUPERSCRIPT); }

static void start_value(struct reader *reader)
{
    reader_push(reader, PILE_RUNS, &(struct run){RUN_VALUE, reader_attribute_or(reader, "of", "")});
}

/* ---- Lines ---- */

static struct rich some_prose(struct reader *reader)
{
    struct rich prose = reader_prose(reader);
    if (prose.count == 0)
        reader_fault(reader, NULL, "'%s' has no text; wanted some words", reader_frame(reader)->name);
    return prose;
}

static void end_paragraph(struct reader *reader)
{
    struct block block = {.kind = BLOCK_PARAGRAPH, .text = some_prose(reader)};
    reader_push(reader, PILE_BLOCKS, &block);
}

static void end_item(struct reader *reader)
{
    struct rich prose = some_prose(reader);
    reader_push(reader, PILE_PROSE, &prose);
}

static void end_cell(struct reader *reader)
{
    struct rich prose = reader_prose(reader);   /* a cell may be empty */
    reader_push(reader, PILE_PROSE, &prose);
}

static void end_caption(struct reader *reader)
{
    struct block *block = reader_parent(reader)->object;
    block->text = some_prose(reader);
}

/* ---- Blocks ---- */

static void start_block(struct reader *reader)
{
    static const enum block_kind kinds[ELEMENT_COUNT] = {
        [BLOCK_OF_ITEMS] = BLOCK_LIST, [TABLE] = BLOCK_TABLE, [FIGURE] = BLOCK_FIGURE, [SOURCE] = BLOCK_SOURCE,
    };
    struct block *block = reader_new(reader, sizeof *block);
    block->kind = kinds[reader_frame(reader)->row->element];
}

static void end_list(struct reader *reader)
{
    struct block *block = reader_frame(reader)->object;
    block->items = reader_take(reader, PILE_PROSE, &block->item_count);
    reader_push(reader, PILE_BLOCKS, block);
}

static void end_row(struct reader *reader)
{
    struct table_row row = {.heading = reader_frame(reader)->row->element == HEAD};
    row.cells = reader_take(reader, PILE_PROSE, &row.count);
    const struct pile *pile = &reader->piles[PILE_ROWS];
    size_t before = pile->count - reader_parent(reader)->heights[PILE_ROWS];
    const struct table_row *first = (const struct table_row *)(const void *)pile->items + pile->count - before;
    if (before > 0 && first->count != row.count)
        reader_fault(reader, NULL, "this row has %zu cells and the first row of the table %zu; give every row the same "
                     "number", row.count, first->count);
    reader_push(reader, PILE_ROWS, &row);
}

static void end_table(struct reader *reader)
{
    struct block *block = reader_frame(reader)->object;
    block->rows = reader_take(reader, PILE_ROWS, &block->row_count);
    reader_push(reader, PILE_BLOCKS, block);
}

static void start_figure(struct reader *reader)
{
    start_block(reader);
    struct block *block = reader_frame(reader)->object;
    block->file = reader_attribute_or(reader, "file", "");
    block->alternative = reader_attribute_or(reader, "text", "");
}

static void end_figure(struct reader *reader)
{
    reader_push(reader, PILE_BLOCKS, reader_frame(reader)->object);
}

static void start_source(struct reader *reader)
{
    start_block(reader);
    struct block *block = reader_frame(reader)->object;
    block->title = reader_attribute_or(reader, "title", "");
    const char *credit = reader_attribute(reader, "credit");
    if (!credit || !*credit)
        return;
    struct run *run = arena_get(reader->arena, sizeof *run);
    *run = (struct run){RUN_PLAIN, credit};
    block->text = (struct rich){run, 1};
}

static void end_source(struct reader *reader)
{
    struct block *block = reader_frame(reader)->object;
    block->blocks = reader_take(reader, PILE_BLOCKS, &block->block_count);
    reader_push(reader, PILE_BLOCKS, block);
}

const struct element_row rows_of_prose[] = {
    {EMPHASIS, "em", LINES, NULL, end_emphasis, false},
    {SUBSCRIPT, "sub", LINES, NULL, end_subscript, false},
    {SUPERSCRIPT, "sup", LINES, NULL, end_superscript, false},
    {VALUE, "value", LINES, start_value, NULL, false},
    {PARAGRAPH, "p", WRITTEN, NULL, end_paragraph, true},
    {BLOCK_OF_ITEMS, "list", WRITTEN, start_block, end_list, false},
    {ITEM, "item", PARENT(BLOCK_OF_ITEMS), NULL, end_item, true},
    {TABLE, "table", WRITTEN, start_block, end_table, false},
    {CAPTION, "caption", PARENT(TABLE) | PARENT(FIGURE), NULL, end_caption, true},
    {HEAD, "head", PARENT(TABLE), NULL, end_row, false},
    {ROW, "row", PARENT(TABLE), NULL, end_row, false},
    {CELL, "cell", PARENT(HEAD) | PARENT(ROW), NULL, end_cell, true},
    {FIGURE, "figure", WRITTEN, start_figure, end_figure, false},
    {SOURCE, "source", WRITTEN & ~PARENT(SOURCE), start_source, end_source, false},
};
const size_t rows_of_prose_count = sizeof rows_of_prose / sizeof *rows_of_prose;
