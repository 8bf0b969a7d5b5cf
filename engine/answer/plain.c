#include "answer/words.h"

#include <string.h>

#include "base/text.h"
#include "quantity/unit.h"

static void add_value(struct buffer *out, const char *symbol, const struct values *values)
{
    const struct bound_value *value = values ? values_find(values, symbol) : NULL;
    quantity_print(out, value ? value->text : symbol, value ? value->unit : NULL);
}

/* 10 and a raised 9 is 10⁹ and not 109. */
static void add_raised(struct buffer *out, const char *text)
{
    static const char *const raised[] = {"\u2070", "\u00b9", "\u00b2", "\u00b3", "\u2074",
                                         "\u2075", "\u2076", "\u2077", "\u2078", "\u2079"};
    static const char minus[] = "\u2212";
    while (*text) {
        if (*text >= '0' && *text <= '9')
            buffer_add(out, raised[*text++ - '0']);
        else if (*text == '-' || text_starts_with(text, minus)) {
            buffer_add(out, "\u207b");
            text += *text == '-' ? 1 : strlen(minus);
        } else
            buffer_add_character(out, *text++);
    }
}

void plain_add_rich(struct buffer *out, const struct rich *text, const struct values *values)
{
    for (size_t i = 0; i < text->count; i++) {
        const struct run *run = &text->runs[i];
        if (run->style == RUN_VALUE)
            add_value(out, run->text, values);
        else if (run->text && run->style == RUN_SUPERSCRIPT)
            add_raised(out, run->text);
        else if (run->text)
            buffer_add(out, run->text);
    }
}

static void add_line(struct buffer *out, const char *text)
{
    if (text)
        buffer_print(out, "%s\n", text);
}

static void add_rich_lines(struct buffer *out, const struct rich *items, size_t count, const struct values *values)
{
    for (size_t i = 0; i < count; i++) {
        plain_add_rich(out, &items[i], values);
        buffer_add(out, "\n");
    }
}

static void add_block(struct buffer *out, const struct block *block, const struct values *values)
{
    add_line(out, block->title);
    add_rich_lines(out, &block->text, 1, values);
    add_line(out, block->alternative);
    for (size_t i = 0; i < block->row_count; i++)
        add_rich_lines(out, block->rows[i].cells, block->rows[i].count, values);
    add_rich_lines(out, block->items, block->item_count, values);
    plain_add_blocks(out, &(struct blocks){block->blocks, block->block_count}, values);
}

void plain_add_blocks(struct buffer *out, const struct blocks *blocks, const struct values *values)
{
    for (size_t i = 0; i < blocks->count; i++)
        add_block(out, &blocks->items[i], values);
}
