/* The plain renderer. Blocks are written as marked text into one buffer; styles become sequences at the very end. */
#include "report/text.h"

#include <stdlib.h>

#include "base/text.h"
#include "report/marked.h"
#include "report/table.h"

enum {
    NARROWEST = 40,
    WIDEST = 100,
    STEP = 2,            /* columns an indent level takes */
    LONGEST_SHARE = 3    /* a marker or label column takes at most a third of the width */
};

static size_t indent_of(int level, size_t width)
{
    size_t indent = level > 0 ? (size_t)level * STEP : 0;
    return indent < width / 2 ? indent : width / 2;
}

static void end_line(struct buffer *out)
{
    buffer_add_character(out, '\n');
}

static void add_rule(struct buffer *out, size_t columns, const struct text_look *look)
{
    marked_switch(out, STYLE_QUIET);
    buffer_add_repeated(out, look->ascii ? "-" : "─", columns);
    marked_switch(out, STYLE_PLAIN);
    end_line(out);
}

static void add_heading(struct buffer *out, const struct page_block *block, const struct text_look *look)
{
    struct buffer marked = BUFFER_EMPTY;
    marked_add(&marked, &block->text, STYLE_STRONG, look->ascii);
    text_add_wrapped(out, buffer_text(&marked), look->width, 0, 0);
    end_line(out);
    if (block->level == 1) {
        size_t columns = text_width(buffer_text(&marked));
        add_rule(out, columns < look->width ? columns : look->width, look);
    }
    buffer_free(&marked);
}

/* Text whose first line starts behind `lead`, set in by `indent`, and whose other lines start at column `hang`. */
static void add_hanging(struct buffer *out, const char *lead, size_t indent, size_t hang,
                        const struct page_text *text, const struct text_look *look)
{
    struct buffer marked = BUFFER_EMPTY;
    marked_add(&marked, text, STYLE_PLAIN, look->ascii);
    buffer_add_repeated(out, " ", indent);
    buffer_add(out, lead);
    size_t column = indent + text_width(lead);
    size_t gap = column < hang ? hang - column : lead[0] != '\0';
    if (column + gap >= look->width) {
        end_line(out);
        column = 0;
        gap = hang;
    }
    buffer_add_repeated(out, " ", gap);
    text_add_wrapped(out, buffer_text(&marked), look->width, hang, column + gap);
    end_line(out);
    buffer_free(&marked);
}

/* A marker or label too wide for a line would push everything over the edge. */
static void add_lead(struct buffer *out, const char *words, enum style style, size_t columns)
{
    struct buffer safe = BUFFER_EMPTY;
    text_add_safe(&safe, words);
    for (size_t i = 0; i < safe.length; i++)
        if (safe.text[i] == '\n')
            safe.text[i] = ' ';
    buffer_shorten(&safe, text_fit(buffer_text(&safe), columns));
    marked_add_words(out, buffer_text(&safe), style);
    buffer_free(&safe);
}

static size_t label_width(const struct page_block *block)
{
    struct buffer safe = BUFFER_EMPTY;
    text_add_safe(&safe, block->label ? block->label : "");
    size_t width = text_width(buffer_text(&safe));
    buffer_free(&safe);
    return width;
}

/* The widest label among the blocks of this kind and level around block i, labels wider than `most` not counted:
 * neighbours are aligned. */
static size_t common_width(const struct page *page, size_t i, size_t most)
{
    size_t first = i, widest = 0;
    while (first > 0 && page->blocks[first - 1].kind == page->blocks[i].kind)
        first--;
    for (; first < page->count && page->blocks[first].kind == page->blocks[i].kind; first++) {
        size_t width = page->blocks[first].level == page->blocks[i].level ? label_width(&page->blocks[first]) : 0;
        if (width <= most && width > widest)
            widest = width;
    }
    return widest;
}

static void add_item(struct buffer *out, const struct page *page, size_t i, const struct text_look *look)
{
    const struct page_block *block = &page->blocks[i];
    size_t indent = indent_of(block->level, look->width);
    size_t most = look->width / LONGEST_SHARE, width = label_width(block);
    size_t hang = indent + (width <= most ? common_width(page, i, most) + 1 : 2 * STEP);
    struct buffer lead = BUFFER_EMPTY;
    add_lead(&lead, block->label ? block->label : "", STYLE_PLAIN, look->width - indent);
    add_hanging(out, buffer_text(&lead), indent, hang, &block->text, look);
    buffer_free(&lead);
}

static void add_fact(struct buffer *out, const struct page *page, size_t i, const struct text_look *look)
{
    const struct page_block *block = &page->blocks[i];
    size_t most = look->width / LONGEST_SHARE, indent = indent_of(block->level, look->width);
    size_t hang = indent + (label_width(block) <= most ? common_width(page, i, most) + 2 : 2 * STEP);
    struct buffer lead = BUFFER_EMPTY;
    add_lead(&lead, block->label ? block->label : "", STYLE_QUIET, look->width - indent - 1);
    buffer_add_character(&lead, ':');
    add_hanging(out, buffer_text(&lead), indent, hang, &block->text, look);
    buffer_free(&lead);
}

/* Lines of `marked`, each behind a bar. */
static void add_barred(struct buffer *out, const char *marked, const struct text_look *look)
{
    size_t count;
    char **lines = marked_lines(marked, &count);
    for (size_t i = 0; i < count; i++) {
        marked_switch(out, STYLE_QUIET);
        buffer_add(out, look->ascii ? "|" : "│");
        marked_switch(out, STYLE_PLAIN);
        if (lines[i][0])
            buffer_add_character(out, ' ');
        buffer_add(out, lines[i]);
        end_line(out);
        free(lines[i]);
    }
    free(lines);
}

static void add_note(struct buffer *out, const struct page_block *block, const struct text_look *look)
{
    struct buffer marked = BUFFER_EMPTY, wrapped = BUFFER_EMPTY;
    if (block->label) {
        marked_add_words(&marked, block->label, STYLE_STRONG);
        buffer_add(&marked, ": ");
    }
    marked_add(&marked, &block->text, STYLE_PLAIN, look->ascii);
    text_add_wrapped(&wrapped, buffer_text(&marked), look->width - STEP, 0, 0);
    add_barred(out, buffer_text(&wrapped), look);
    buffer_free(&marked);
    buffer_free(&wrapped);
}

static void add_block(struct buffer *out, const struct page *page, size_t i, const struct text_look *look)
{
    const struct page_block *block = &page->blocks[i];
    size_t indent = indent_of(block->level, look->width);
    switch (block->kind) {
    case PAGE_HEADING: add_heading(out, block, look); break;
    case PAGE_PARAGRAPH: add_hanging(out, "", indent, indent, &block->text, look); break;
    case PAGE_ITEM: add_item(out, page, i, look); break;
    case PAGE_FACT: add_fact(out, page, i, look); break;
    case PAGE_TABLE: table_add(out, block, indent, look); break;
    case PAGE_NOTE: add_note(out, block, look); break;
    case PAGE_VERBATIM: add_hanging(out, "", indent + 2 * STEP, indent + 2 * STEP, &block->text, look); break;
    case PAGE_PICTURE:
    case PAGE_GAP: break;
    }
}

/* Does b go on with what a began, so that no empty line comes between? */
static bool belongs_to(const struct page_block *b, const struct page_block *a)
{
    if (a->kind == PAGE_HEADING)
        return b->kind != PAGE_HEADING;
    if (a->kind == PAGE_ITEM)
        return b->kind == PAGE_ITEM || ((b->kind == PAGE_PARAGRAPH || b->kind == PAGE_VERBATIM) && b->level > a->level);
    if (a->kind == PAGE_FACT)
        return b->kind == PAGE_FACT;
    if (a->kind == PAGE_PARAGRAPH)
        return b->kind == PAGE_ITEM || b->kind == PAGE_VERBATIM;
    return false;
}

/* A block that writes nothing; it leaves no empty line either. */
static bool is_empty(const struct page_block *block)
{
    if (block->kind == PAGE_GAP || block->kind == PAGE_PICTURE)
        return true;
    if (block->kind == PAGE_TABLE)
        return block->rows == 0 && !block->label;
    return block->text.count == 0 && !block->label;
}

void page_render_text(const struct page *page, const struct text_look *look, struct buffer *out)
{
    struct text_look fitted = *look;
    fitted.width = look->width < NARROWEST ? NARROWEST : look->width > WIDEST ? WIDEST : look->width;
    struct buffer marked = BUFFER_EMPTY;
    const struct page_block *before = NULL;
    bool gap = false;
    for (size_t i = 0; i < page->count; i++) {
        const struct page_block *block = &page->blocks[i];
        gap = gap || block->kind == PAGE_GAP;
        if (is_empty(block))
            continue;
        if (gap || (before && !belongs_to(block, before)))
            end_line(&marked);
        add_block(&marked, page, i, &fitted);
        before = block;
        gap = false;
    }
    if (before && gap)
        end_line(&marked);
    marked_write(out, buffer_text(&marked), look->colour);
    buffer_free(&marked);
}
