/* A page as HTML. Blocks that belong together (items, facts) are put into one list. */
#include "report/html.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "report/html-inner.h"
#include "report/picture.h"

#define PICTURE_SCALE 2.5       /* letters of 12 units are read from the back of a room */

enum { DEEPEST_ITEM = 4, USUAL_POINTS = 11, LEAST_POINTS = 6, MOST_POINTS = 72, LAST_HEADING = 6 };

void html_add_words(struct buffer *out, const char *words)
{
    struct buffer safe = BUFFER_EMPTY;
    text_add_safe(&safe, words);
    for (const char *at = buffer_text(&safe); *at; at++) {
        switch (*at) {
        case '&': buffer_add(out, "&amp;"); break;
        case '<': buffer_add(out, "&lt;"); break;
        case '>': buffer_add(out, "&gt;"); break;
        case '"': buffer_add(out, "&quot;"); break;
        case '\'': buffer_add(out, "&#39;"); break;
        default: buffer_add_character(out, *at);
        }
    }
    buffer_free(&safe);
}

void html_add_base64(struct buffer *out, const void *bytes, size_t length)
{
    static const char digits[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    const unsigned char *from = bytes;
    for (size_t i = 0; i < length; i += 3) {
        size_t left = length - i;
        uint32_t three = (uint32_t)from[i] << 16;
        three |= left > 1 ? (uint32_t)from[i + 1] << 8 : 0;
        three |= left > 2 ? from[i + 2] : 0;
        buffer_add_character(out, digits[three >> 18]);
        buffer_add_character(out, digits[three >> 12 & 63]);
        buffer_add_character(out, left > 1 ? digits[three >> 6 & 63] : '=');
        buffer_add_character(out, left > 2 ? digits[three & 63] : '=');
    }
}

/* ---- Runs -------------------------------------------------------------------------------------------------- */

struct tag { const char *open, *close; };

static struct tag tag_of(enum style style)
{
    switch (style) {
    case STYLE_PLAIN: break;
    case STYLE_STRONG: return (struct tag){"<strong>", "</strong>"};
    case STYLE_EMPHASIS: return (struct tag){"<em>", "</em>"};
    case STYLE_QUIET: return (struct tag){"<span class=\"quiet\">", "</span>"};
    case STYLE_GOOD: return (struct tag){"<span class=\"good\">", "</span>"};
    case STYLE_BAD: return (struct tag){"<span class=\"bad\">", "</span>"};
    case STYLE_SUBSCRIPT: return (struct tag){"<sub>", "</sub>"};
    case STYLE_SUPERSCRIPT: return (struct tag){"<sup>", "</sup>"};
    }
    return (struct tag){"", ""};
}

void html_add_text(struct buffer *out, const struct page_text *text)
{
    for (size_t i = 0; i < text->count; i++) {
        if (!*text->runs[i].text)
            continue;
        struct tag tag = tag_of(text->runs[i].style);
        buffer_add(out, tag.open);
        html_add_words(out, text->runs[i].text);
        buffer_add(out, tag.close);
    }
}

/* ---- Blocks ------------------------------------------------------------------------------------------------ */

static void add_element(struct buffer *out, const char *name, const struct page_text *text)
{
    buffer_print(out, "<%s>", name);
    html_add_text(out, text);
    buffer_print(out, "</%s>\n", name);
}

static void add_heading(struct buffer *out, const struct page_block *block, int deeper)
{
    int level = block->level + deeper;
    char name[3] = {'h', (char)('0' + (level < 1 ? 1 : level > LAST_HEADING ? LAST_HEADING : level)), '\0'};
    add_element(out, name, &block->text);
}

static int depth_of(const struct page_block *block)
{
    return block->level < 0 ? 0 : block->level > DEEPEST_ITEM ? DEEPEST_ITEM : block->level;
}

static void add_indented(struct buffer *out, const struct page_block *block, const char *element, const char *class)
{
    int depth = depth_of(block) > 3 ? 3 : depth_of(block);
    buffer_print(out, "<%s", element);
    if (*class || depth) {
        buffer_print(out, " class=\"%s%s", class, *class && depth ? " " : "");
        if (depth)
            buffer_print(out, "in%d", depth);
        buffer_add_character(out, '"');
    }
    buffer_add_character(out, '>');
    html_add_text(out, &block->text);
    buffer_print(out, "</%s>\n", element);
}

static void add_item(struct buffer *out, const struct page_block *block)
{
    buffer_add(out, "<li><span class=\"marker\">");
    if (block->label && strcmp(block->label, "-") == 0)
        buffer_add(out, "\u2022");
    else if (block->label)
        html_add_words(out, block->label);
    buffer_add(out, "</span> <span class=\"item\">");
    html_add_text(out, &block->text);
    buffer_add(out, "</span>");
}

/* All items from block i on, each level a list inside the item before it. Gives the first block that is no item. */
static size_t add_items(struct buffer *out, const struct page *page, size_t i)
{
    int levels[DEEPEST_ITEM + 2], open = 0;
    for (; i < page->count && page->blocks[i].kind == PAGE_ITEM; i++) {
        int level = depth_of(&page->blocks[i]);
        while (open && levels[open - 1] > level) {
            buffer_add(out, open > 1 ? "</li></ul></div>" : "</li></ul>\n");
            open--;
        }
        if (open && levels[open - 1] == level) {
            buffer_add(out, "</li>\n");
        } else {
            buffer_add(out, open ? "<div class=\"inside\"><ul class=\"items\" role=\"list\">\n"
                                 : "<ul class=\"items\" role=\"list\">\n");
            levels[open++] = level;
        }
        add_item(out, &page->blocks[i]);
    }
    for (; open; open--)
        buffer_add(out, open > 1 ? "</li></ul></div>" : "</li></ul>\n");
    return i;
}

static size_t add_facts(struct buffer *out, const struct page *page, size_t i)
{
    buffer_add(out, "<dl>\n");
    for (; i < page->count && page->blocks[i].kind == PAGE_FACT; i++) {
        buffer_add(out, "<div><dt>");
        html_add_words(out, page->blocks[i].label ? page->blocks[i].label : "");
        buffer_add(out, "</dt><dd>");
        html_add_text(out, &page->blocks[i].text);
        buffer_add(out, "</dd></div>\n");
    }
    buffer_add(out, "</dl>\n");
    return i;
}

/* The first cell of a row is its head when it is words and there is more in the row. */
static void add_row(struct buffer *out, const struct page_block *table, size_t row)
{
    bool head = table->has_head && row == 0;
    buffer_add(out, "<tr>");
    for (size_t column = 0; column < table->columns; column++) {
        const struct page_text *cell = &table->cells[row * table->columns + column];
        bool right = table->alignments[column] == ALIGN_RIGHT;
        bool names_row = !head && column == 0 && !right && table->columns > 1 && cell->count;
        bool is_head = (head && cell->count) || names_row;
        buffer_add(out, is_head ? "<th" : "<td");
        if (is_head)
            buffer_add(out, head ? " scope=\"col\"" : " scope=\"row\"");
        buffer_add(out, right ? " class=\"right\">" : ">");
        html_add_text(out, cell);
        buffer_add(out, is_head ? "</th>" : "</td>");
    }
    buffer_add(out, "</tr>\n");
}

static void add_table(struct buffer *out, const struct page_block *table)
{
    if (!table->rows && !table->label)
        return;
    buffer_add(out, "<table>\n");
    if (table->label) {
        buffer_add(out, "<caption>");
        html_add_words(out, table->label);
        buffer_add(out, "</caption>\n");
    }
    size_t row = 0;
    if (table->has_head && table->rows) {
        buffer_add(out, "<thead>\n");
        add_row(out, table, row++);
        buffer_add(out, "</thead>\n");
    }
    buffer_add(out, "<tbody>\n");
    for (; row < table->rows; row++)
        add_row(out, table, row);
    buffer_add(out, "</tbody>\n</table>\n");
}

static void add_note(struct buffer *out, const struct page_block *note)
{
    buffer_add(out, "<p class=\"note\" role=\"note\">");
    if (note->label) {
        buffer_add(out, "<strong>");
        html_add_words(out, note->label);
        buffer_add(out, ":</strong> ");
    }
    html_add_text(out, &note->text);
    buffer_add(out, "</p>\n");
}

static void add_block(struct buffer *out, const struct page_block *block, int deeper)
{
    switch (block->kind) {
    case PAGE_HEADING: add_heading(out, block, deeper); break;
    case PAGE_PARAGRAPH:
        if (block->text.count)
            add_indented(out, block, "p", "");
        break;
    case PAGE_TABLE: add_table(out, block); break;
    case PAGE_NOTE: add_note(out, block); break;
    case PAGE_VERBATIM: add_indented(out, block, "blockquote", "verbatim"); break;
    case PAGE_GAP: buffer_add(out, "<div class=\"gap\"></div>\n"); break;
    case PAGE_PICTURE:
    case PAGE_ITEM:
    case PAGE_FACT: break;
    }
}

/* A picture with its caption, for which the note behind it is not needed; where it cannot be shown, that note. */
static size_t add_figure(struct buffer *out, const struct page *page, size_t i)
{
    const struct page_block *picture = &page->blocks[i];
    struct buffer image = BUFFER_EMPTY;
    bool shown = html_add_picture(&image, picture->folder, picture->file, picture->words, PICTURE_SCALE);
    if (shown) {
        buffer_print(out, "<figure>\n%s<figcaption><strong>", buffer_text(&image));
        html_add_words(out, picture->label ? picture->label : "");
        buffer_print(out, "%s</strong> ", picture->text.count ? ":" : "");
        html_add_text(out, &picture->text);
        buffer_add(out, "</figcaption>\n</figure>\n");
    }
    buffer_free(&image);
    return shown && i + 1 < page->count ? i + 2 : i + 1;
}

void html_add_page(struct buffer *out, const struct page *page, int deeper)
{
    for (size_t i = 0; i < page->count;) {
        if (page->blocks[i].kind == PAGE_ITEM)
            i = add_items(out, page, i);
        else if (page->blocks[i].kind == PAGE_FACT)
            i = add_facts(out, page, i);
        else if (page->blocks[i].kind == PAGE_PICTURE)
            i = add_figure(out, page, i);
        else
            add_block(out, &page->blocks[i++], deeper);
    }
}

/* ---- Documents --------------------------------------------------------------------------------------------- */

static double points_of(const struct html_look *look)
{
    double points = look->points > 0 ? look->points : USUAL_POINTS;
    return points < LEAST_POINTS ? LEAST_POINTS : points > MOST_POINTS ? MOST_POINTS : points;
}

void html_begin(struct buffer *out, const struct html_look *look, const char *style)
{
    buffer_add(out, "<!DOCTYPE html>\n<html lang=\"");
    html_add_words(out, look->language ? look->language : "en");
    buffer_add(out, "\">\n<head>\n<meta charset=\"utf-8\"/>\n"
                    "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; "
                    "style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'\"/>\n"
                    "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n"
                    "<meta name=\"referrer\" content=\"no-referrer\"/>\n<title>");
    html_add_words(out, look->title ? look->title : "ownmark");
    buffer_print(out, "</title>\n<style>\nhtml{font-size:%gpt}\n", points_of(look));
    buffer_add(out, html_common_style);
    if (style)
        buffer_add(out, style);
    buffer_add(out, "</style>\n</head>\n<body>\n");
}

void html_end(struct buffer *out)
{
    buffer_add(out, "</body>\n</html>\n");
}

static char *first_heading(const struct page *page)
{
    struct buffer words = BUFFER_EMPTY;
    for (size_t i = 0; i < page->count && !words.length; i++)
        for (size_t j = 0; page->blocks[i].kind == PAGE_HEADING && j < page->blocks[i].text.count; j++)
            buffer_add(&words, page->blocks[i].text.runs[j].text);
    return words.length ? buffer_take(&words) : NULL;
}

void page_render_html(const struct page *page, const struct html_look *look, struct buffer *out)
{
    char *heading = first_heading(page);
    struct html_look titled = *look;
    titled.title = look->title ? look->title : heading;
    html_begin(out, &titled, NULL);
    buffer_add(out, "<main>\n");
    html_add_page(out, page, 0);
    buffer_add(out, "</main>\n");
    html_end(out);
    free(heading);
}
