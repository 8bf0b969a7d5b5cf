#include "practice/show.h"

#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "base/dates.h"
#include "base/files.h"
#include "base/text.h"
#include "quantity/number.h"
#include "quantity/unit.h"

static void add_value_text(struct buffer *out, const char *symbol, const struct values *values)
{
    const struct bound_value *bound = values ? values_find(values, symbol) : NULL;
    quantity_print(out, bound ? bound->text : symbol, bound ? bound->unit : NULL);
}

static enum style style_of(enum run_style style)
{
    switch (style) {
    case RUN_EMPHASIS: return STYLE_EMPHASIS;
    case RUN_SUBSCRIPT: return STYLE_SUBSCRIPT;
    case RUN_SUPERSCRIPT: return STYLE_SUPERSCRIPT;
    case RUN_PLAIN:
    case RUN_VALUE: break;
    }
    return STYLE_PLAIN;
}

void show_marks(struct page *page, int marks)
{
    page_add(page, STYLE_STRONG, "  [%d\u00a0%s]", marks, marks == 1 ? "mark" : "marks");
}

void show_rich(struct page *page, const struct rich *text, const struct values *values)
{
    for (size_t i = 0; i < text->count; i++) {
        const struct run *run = &text->runs[i];
        if (run->style == RUN_VALUE) {
            struct buffer shown = BUFFER_EMPTY;
            add_value_text(&shown, run->text, values);
            page_add(page, STYLE_PLAIN, "%s", buffer_text(&shown));
            buffer_free(&shown);
        } else {
            page_add(page, style_of(run->style), "%s", run->text);
        }
    }
}

char *show_plain(const struct rich *text, const struct values *values)
{
    struct buffer out = BUFFER_EMPTY;
    for (size_t i = 0; i < text->count; i++) {
        if (text->runs[i].style == RUN_VALUE)
            add_value_text(&out, text->runs[i].text, values);
        else
            buffer_add(&out, text->runs[i].text);
    }
    return buffer_take(&out);
}

void show_add_asked(struct buffer *out, const struct node *node, const struct part *part, const struct values *values)
{
    bool says_little = node->kind == NODE_LEVELS || node->kind == NODE_QUALITY || (node->kind == NODE_POINT && node->number);
    for (size_t i = 0; says_little && i < part->ask.count; i++) {
        if (part->ask.items[i].kind != BLOCK_PARAGRAPH)
            continue;
        struct buffer ask = BUFFER_EMPTY;
        const struct rich *text = &part->ask.items[i].text;
        for (size_t k = 0; k < text->count; k++) {
            if (text->runs[k].style != RUN_VALUE)
                buffer_add(&ask, text->runs[k].text);
            else if (values)
                add_value_text(&ask, text->runs[k].text, values);
            else
                buffer_add(&ask, "…");
        }
        char *plain = buffer_take(&ask);
        buffer_print(out, ", asked in \"%s\"", text_trim(plain));
        free(plain);
        return;
    }
}

/* A column of figures reads best from the right; a column is one when every cell below the head starts with a
 * digit, a sign or a dash. */
static bool column_is_numeric(const struct block *table, size_t column, const struct values *values)
{
    size_t seen = 0;
    for (size_t row = 0; row < table->row_count; row++) {
        const struct table_row *cells = &table->rows[row];
        if (cells->heading || column >= cells->count)
            continue;
        char *text = show_plain(&cells->cells[column], values);
        const char *start = text_trim(text);
        struct number number;
        bool numeric = !*start || strcmp(start, "–") == 0 || number_read(start, &number, NULL);
        seen += *start != '\0';
        free(text);
        if (!numeric)
            return false;
    }
    return seen > 0;
}

static void show_table(struct page *page, const struct block *table, const struct values *values)
{
    if (!table->row_count)
        return;
    size_t columns = table->rows[0].count;
    struct buffer alignments = BUFFER_EMPTY;
    for (size_t column = 0; column < columns; column++)
        buffer_add_character(&alignments, column_is_numeric(table, column, values) ? 'r' : 'l');
    char *caption = show_plain(&table->text, values);
    page_table(page, *caption ? caption : NULL, buffer_text(&alignments), table->rows[0].heading);
    for (size_t row = 0; row < table->row_count; row++) {
        for (size_t column = 0; column < columns; column++) {
            page_cell(page, "%s", "");
            if (column < table->rows[row].count)
                show_rich(page, &table->rows[row].cells[column], values);
        }
    }
    free(caption);
    buffer_free(&alignments);
}

/* "Figure 1: the profile of a wave" gives its own label. */
struct caption {
    struct buffer label;
    const char *rest;               /* of the first run */
    struct rich runs;               /* those behind it */
};

static void read_caption(const struct rich *caption, struct caption *out)
{
    static const char word[] = "Figure";
    const char *first = caption->count && caption->runs[0].style == RUN_PLAIN ? caption->runs[0].text : "";
    size_t colon = strcspn(first, ":");
    bool labelled = text_starts_with(first, word) && (first[colon] == ':' || caption->count == 1);
    *out = (struct caption){BUFFER_EMPTY, "", {caption->runs + labelled, caption->count - labelled}};
    buffer_add_bytes(&out->label, labelled ? first : word, labelled ? colon : strlen(word));
    if (labelled && first[colon])
        out->rest = first + colon + 1 + strspn(first + colon + 1, " ");
}

static void add_caption(struct page *page, const struct caption *caption, const struct values *values)
{
    page_add(page, STYLE_PLAIN, "%s", caption->rest);
    show_rich(page, &caption->runs, values);
}

static void show_figure(struct page *page, const struct block *figure, const struct values *values,
                        const char *folder)
{
    char *path = folder && figure->file ? path_join(folder, figure->file) : NULL;
    struct caption caption;
    read_caption(&figure->text, &caption);
    if (path) {
        page_picture(page, buffer_text(&caption.label), folder, figure->file, figure->alternative);
        add_caption(page, &caption, values);
    }
    page_note(page, buffer_text(&caption.label), "%s", "");
    add_caption(page, &caption, values);
    if (figure->alternative)
        page_add(page, STYLE_PLAIN, "%s%s", *caption.rest || caption.runs.count ? ". In words: " : "", figure->alternative);
    if (figure->file)
        page_add(page, STYLE_QUIET, " (drawing: %s)", path ? path : figure->file);
    buffer_free(&caption.label);
    free(path);
}

static void show_source(struct page *page, const struct block *source, const struct values *values,
                        const char *folder, int level)
{
    page_paragraph(page, "%s", "");
    page->blocks[page->count - 1].level = level;
    page_add(page, STYLE_STRONG, "%s", source->title ? source->title : "Source");
    struct blocks inside = {source->blocks, source->block_count};
    show_blocks(page, &inside, values, folder, level + 1);
    if (source->text.count) {
        page_paragraph(page, "%s", "");
        page->blocks[page->count - 1].level = level + 1;
        page_add(page, STYLE_QUIET, "%s", "(");
        show_rich(page, &source->text, values);
        page_add(page, STYLE_QUIET, "%s", ")");
    }
}

static void show_block(struct page *page, const struct block *block, const struct values *values,
                       const char *folder, int level)
{
    switch (block->kind) {
    case BLOCK_PARAGRAPH:
        page_paragraph(page, "%s", "");
        page->blocks[page->count - 1].level = level;
        show_rich(page, &block->text, values);
        break;
    case BLOCK_TABLE:
        show_table(page, block, values);
        break;
    case BLOCK_FIGURE:
        show_figure(page, block, values, folder);
        break;
    case BLOCK_SOURCE:
        show_source(page, block, values, folder, level);
        break;
    case BLOCK_LIST:
        for (size_t i = 0; i < block->item_count; i++) {
            page_item(page, level, "-", "%s", "");
            show_rich(page, &block->items[i], values);
        }
        break;
    }
}

void show_blocks(struct page *page, const struct blocks *blocks, const struct values *values, const char *folder,
                 int level)
{
    for (size_t i = 0; i < blocks->count; i++)
        show_block(page, &blocks->items[i], values, folder, level);
}

void show_question(struct page *page, const struct course *course, const struct question *question,
                   const struct values *values, const char *folder, int number, double allowed_seconds)
{
    struct buffer minutes = BUFFER_EMPTY;
    add_duration(&minutes, allowed_seconds);
    const char *topic = course->topics[question->topic].name;
    if (number > 0)
        page_heading(page, 1, "Question %d: %s, %s, %s", number, topic, text_count(question->marks, "mark", "marks"),
                     buffer_text(&minutes));
    else
        page_heading(page, 1, "%s: %s, %s, %s", question->id, topic, text_count(question->marks, "mark", "marks"),
                     buffer_text(&minutes));
    buffer_free(&minutes);
    if (question->caution)
        page_note(page, "Caution", "%s", question->caution);
    show_blocks(page, &question->stem, values, folder, 0);
}

void show_ask(struct page *page, const struct question *question, const struct part *part,
              const struct values *values, const char *folder)
{
    bool lettered = question->part_count > 1;
    struct buffer marker = BUFFER_EMPTY;
    if (lettered)
        buffer_print(&marker, "(%s)", part->id);
    for (size_t i = 0; i < part->ask.count; i++) {
        const struct block *block = &part->ask.items[i];
        if (block->kind != BLOCK_PARAGRAPH) {
            show_block(page, block, values, folder, lettered ? 1 : 0);
            continue;
        }
        if (lettered)
            page_item(page, 0, i == 0 ? buffer_text(&marker) : "", "%s", "");
        else
            page_paragraph(page, "%s", "");
        show_rich(page, &block->text, values);
        if (i + 1 == part->ask.count)
            show_marks(page, part->marks);
    }
    buffer_free(&marker);
}

void show_data_sheet(struct page *page, const struct course *course)
{
    page_heading(page, 2, "Data sheet");
    if (!course->constant_count && !course->formula_count)
        page_paragraph(page, "This course has no data sheet.");
    for (size_t i = 0; i < course->constant_count; i++) {
        const struct constant *constant = &course->constants[i];
        struct buffer value = BUFFER_EMPTY;
        quantity_print(&value, constant->value, constant->unit);
        page_fact(page, constant->name, "%s = %s", constant->symbol, buffer_text(&value));
        buffer_free(&value);
    }
    for (size_t i = 0; i < course->formula_count; i++) {
        page_fact(page, course->formulae[i].name, "%s", "");
        show_rich(page, &course->formulae[i].text, NULL);
    }
}
