/* Building a page. */
#include "report/page.h"

#include <assert.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "base/memory.h"

struct page *page_new(void)
{
    return memory_get_zeroed(1, sizeof(struct page));
}

static void free_text(struct page_text *text)
{
    for (size_t i = 0; i < text->count; i++)
        free(text->runs[i].text);
    free(text->runs);
}

static void free_block(struct page_block *block)
{
    for (size_t i = 0; i < block->columns * block->rows; i++)
        free_text(&block->cells[i]);
    free(block->cells);
    free(block->alignments);
    free(block->label);
    free(block->folder);
    free(block->file);
    free(block->words);
    free_text(&block->text);
}

void page_clear(struct page *page)
{
    for (size_t i = 0; i < page->count; i++)
        free_block(&page->blocks[i]);
    page->count = 0;
    page->target = NULL;
}

void page_free(struct page *page)
{
    if (!page)
        return;
    page_clear(page);
    free(page->blocks);
    free(page);
}

static struct page_block *open_block(struct page *page, enum page_block_kind kind, int level, const char *label)
{
    page->blocks = memory_grow(page->blocks, &page->capacity, page->count, sizeof *page->blocks);
    struct page_block *block = &page->blocks[page->count++];
    *block = (struct page_block){.kind = kind, .level = level, .label = label ? memory_copy_text(label) : NULL};
    page->target = &block->text;
    return block;
}

/* Takes the text over. Runs are few, so the array grows by one. */
static void add_run(struct page_text *text, enum style style, char *words)
{
    if (!words[0]) {
        free(words);
        return;
    }
    text->runs = memory_resize_array(text->runs, text->count + 1, sizeof *text->runs);
    text->runs[text->count++] = (struct page_run){style, words};
}

__attribute__((format(printf, 3, 0)))
static void add_printed(struct page *page, enum style style, const char *format, va_list arguments)
{
    assert(page->target != NULL);
    struct buffer words = BUFFER_EMPTY;
    buffer_print_list(&words, format, arguments);
    add_run(page->target, style, buffer_take(&words));
}

/* The end of every function below that takes a format. */
#define ADD_PLAIN(page, format)                                \
    do {                                                       \
        va_list arguments_;                                    \
        va_start(arguments_, format);                          \
        add_printed(page, STYLE_PLAIN, format, arguments_);    \
        va_end(arguments_);                                    \
    } while (0)

void page_heading(struct page *page, int level, const char *format, ...)
{
    assert(level >= 1 && level <= 3);
    open_block(page, PAGE_HEADING, level, NULL);
    ADD_PLAIN(page, format);
}

void page_paragraph(struct page *page, const char *format, ...)
{
    open_block(page, PAGE_PARAGRAPH, 0, NULL);
    ADD_PLAIN(page, format);
}

void page_item(struct page *page, int level, const char *marker, const char *format, ...)
{
    open_block(page, PAGE_ITEM, level, marker);
    ADD_PLAIN(page, format);
}

void page_fact(struct page *page, const char *label, const char *format, ...)
{
    open_block(page, PAGE_FACT, 0, label);
    ADD_PLAIN(page, format);
}

void page_note(struct page *page, const char *label, const char *format, ...)
{
    open_block(page, PAGE_NOTE, 0, label);
    ADD_PLAIN(page, format);
}

void page_verbatim(struct page *page, int level, const char *text)
{
    open_block(page, PAGE_VERBATIM, level, NULL);
    add_run(page->target, STYLE_PLAIN, memory_copy_text(text));
}

void page_picture(struct page *page, const char *label, const char *folder, const char *file, const char *words)
{
    struct page_block *block = open_block(page, PAGE_PICTURE, 0, label);
    block->folder = memory_copy_text(folder);
    block->file = memory_copy_text(file);
    block->words = words ? memory_copy_text(words) : NULL;
}

void page_gap(struct page *page)
{
    open_block(page, PAGE_GAP, 0, NULL);
}

void page_add(struct page *page, enum style style, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    add_printed(page, style, format, arguments);
    va_end(arguments);
}

void page_table(struct page *page, const char *caption, const char *alignments, bool has_head)
{
    struct page_block *block = open_block(page, PAGE_TABLE, 0, caption);
    block->has_head = has_head;
    block->columns = strlen(alignments);
    assert(block->columns > 0);
    block->alignments = memory_get(block->columns * sizeof *block->alignments);
    for (size_t i = 0; i < block->columns; i++) {
        assert(alignments[i] == 'l' || alignments[i] == 'r');
        block->alignments[i] = alignments[i] == 'r' ? ALIGN_RIGHT : ALIGN_LEFT;
    }
    page->target = NULL; /* text goes into cells only */
}

static void add_row(struct page_block *table)
{
    size_t old = table->columns * table->rows++;
    table->cells = memory_resize_array(table->cells, old + table->columns, sizeof *table->cells);
    memset(table->cells + old, 0, table->columns * sizeof *table->cells);
}

void page_cell(struct page *page, const char *format, ...)
{
    assert(page->count > 0);
    struct page_block *table = &page->blocks[page->count - 1];
    assert(table->kind == PAGE_TABLE);
    if (table->cell_count == table->columns * table->rows)
        add_row(table);
    page->target = &table->cells[table->cell_count++];
    ADD_PLAIN(page, format);
}

static void copy_text(struct page_text *to, const struct page_text *from)
{
    for (size_t i = 0; i < from->count; i++)
        add_run(to, from->runs[i].style, memory_copy_text(from->runs[i].text));
}

static void copy_table(struct page_block *to, const struct page_block *from)
{
    size_t cells = from->columns * from->rows;
    to->columns = from->columns;
    to->rows = from->rows;
    to->cell_count = from->cell_count;
    to->has_head = from->has_head;
    to->alignments = memory_get(from->columns * sizeof *to->alignments);
    memcpy(to->alignments, from->alignments, from->columns * sizeof *to->alignments);
    to->cells = memory_get_zeroed(cells, sizeof *to->cells);
    for (size_t i = 0; i < cells; i++)
        copy_text(&to->cells[i], &from->cells[i]);
}

static void copy_picture(struct page_block *to, const struct page_block *from)
{
    to->folder = from->folder ? memory_copy_text(from->folder) : NULL;
    to->file = from->file ? memory_copy_text(from->file) : NULL;
    to->words = from->words ? memory_copy_text(from->words) : NULL;
}

void page_append(struct page *page, const struct page *other)
{
    size_t count = other->count; /* a page may be appended to itself */
    for (size_t i = 0; i < count; i++) {
        enum page_block_kind kind = other->blocks[i].kind;
        struct page_block *block = open_block(page, kind, other->blocks[i].level, other->blocks[i].label);
        const struct page_block *from = &other->blocks[i]; /* open_block may have moved the blocks */
        copy_text(&block->text, &from->text);
        copy_picture(block, from);
        if (kind == PAGE_TABLE) {
            copy_table(block, from);
            page->target = block->cell_count > 0 ? &block->cells[block->cell_count - 1] : NULL;
        }
    }
}
