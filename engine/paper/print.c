/* Documents and written matter. */
#include "paper/print-inner.h"

#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/files.h"
#include "base/text.h"
#include "practice/show.h"
#include "report/html.h"

enum { FIGURE_LIMIT = 2 * 1024 * 1024, MOST_WIDE = 2000 };

void print_begin(struct printing *printing, const char *kind)
{
    struct buffer title = BUFFER_EMPTY, style = BUFFER_EMPTY;
    buffer_print(&title, "%s: %s", printing->opened->paper.course, kind);
    buffer_add(&style, printing->look->large ? print_style_large : print_style_a4);
    buffer_add(&style, print_style);
    const struct html_look look = {.title = buffer_text(&title), .language = printing->opened->paper.language,
                                   .points = printing->look->large ? 18 : printing->small_points};
    printing->scratch = page_new();
    html_begin(printing->out, &look, buffer_text(&style));
    print_tags(printing, "<main%s>\n", printing->look->large ? " class=\"large\"" : "");
    buffer_free(&title);
    buffer_free(&style);
}

void print_end(struct printing *printing)
{
    print_tags(printing, "</main>\n");
    html_end(printing->out);
    page_free(printing->scratch);
    printing->scratch = NULL;
}

void print_tags(struct printing *printing, const char *format, ...)
{
    va_list list;
    va_start(list, format);
    buffer_print_list(printing->out, format, list);
    va_end(list);
}

void print_words(struct printing *printing, const char *words)
{
    html_add_words(printing->out, words);
}

void print_scratch(struct printing *printing, int deeper)
{
    html_add_page(printing->out, printing->scratch, deeper);
    page_clear(printing->scratch);
}

void print_rich(struct printing *printing, const struct rich *text)
{
    page_paragraph(printing->scratch, "%s", "");
    show_rich(printing->scratch, text, printing->question ? &printing->question->values : NULL);
    html_add_text(printing->out, &printing->scratch->blocks[0].text);
    page_clear(printing->scratch);
}

/* ---- Figures ------------------------------------------------------------------------------------------------ */

/* By name and by what the file starts with; NULL: not a picture that a browser shows inside a page. */
static const char *media_type(const char *name, const struct buffer *bytes)
{
    const char *dot = strrchr(name, '.');
    if (!dot)
        return NULL;
    if (text_equal_ignoring_case(dot, ".svg"))
        return text_is_valid(bytes->text, bytes->length) && strstr(bytes->text, "<svg") ? "image/svg+xml" : NULL;
    if (text_equal_ignoring_case(dot, ".png"))
        return bytes->length > 8 && memcmp(bytes->text, "\x89PNG\r\n\x1a\n", 8) == 0 ? "image/png" : NULL;
    if (text_equal_ignoring_case(dot, ".jpg") || text_equal_ignoring_case(dot, ".jpeg"))
        return bytes->length > 3 && memcmp(bytes->text, "\xff\xd8\xff", 3) == 0 ? "image/jpeg" : NULL;
    return NULL;
}

/* Only from inside the bank's folder; a picture that is too large is none. */
static bool read_figure(const struct printing *printing, const char *file, struct buffer *bytes)
{
    char chunk[16 * 1024];
    ssize_t got = 0;
    int descriptor = path_open_beneath(bank_folder(printing->question->bank), file);
    if (descriptor < 0)
        return false;
    while (bytes->length <= FIGURE_LIMIT && (got = TEMP_FAILURE_RETRY(read(descriptor, chunk, sizeof chunk))) > 0)
        buffer_add_bytes(bytes, chunk, (size_t)got);
    close(descriptor);
    return got == 0 && bytes->length > 0;
}

/* A drawing that says no width of its own would fill the page or shrink to a default. Letters of 12 units come out as 11 points, and
 * as 18 on large pages, as far as the page is wide enough. */
static void print_width(struct printing *printing, const char *drawing)
{
    const char *tag = strstr(drawing, "<svg"), *box = tag ? strstr(tag, "viewBox=") : NULL;
    const char *own = tag ? strstr(tag, " width=") : NULL, *end = tag ? strchr(tag, '>') : NULL;
    double width;
    if (!box || (own && own < end) || sscanf(box, "viewBox=%*[\"']%*f%*[ ,]%*f%*[ ,]%lf", &width) != 1 || !(width >= 1 && width <= MOST_WIDE))
        return;
    print_tags(printing, " width=\"%.0f\"", width * (printing->look->large ? 2 : 1.2));
}

/* As an image the drawing can neither run scripts nor fetch anything. */
static bool print_image(struct printing *printing, const struct block *figure)
{
    struct buffer bytes = BUFFER_EMPTY;
    const char *type = figure->file && read_figure(printing, figure->file, &bytes) ? media_type(figure->file, &bytes) : NULL;
    if (type) {
        print_tags(printing, "<img alt=\"");
        print_words(printing, figure->alternative ? figure->alternative : "");
        print_tags(printing, "\"");
        if (strcmp(type, "image/svg+xml") == 0)
            print_width(printing, bytes.text);
        print_tags(printing, " src=\"data:%s;base64,", type);
        html_add_base64(printing->out, bytes.text, bytes.length);
        print_tags(printing, "\"/>\n");
    }
    buffer_free(&bytes);
    return type != NULL;
}

static void print_figure(struct printing *printing, const struct block *figure)
{
    print_tags(printing, "<figure>\n");
    bool shown = print_image(printing, figure);
    if (figure->text.count) {
        print_tags(printing, "<figcaption>");
        print_rich(printing, &figure->text);
        print_tags(printing, "</figcaption>\n");
    }
    if (figure->alternative && (!shown || printing->look->large)) {
        print_tags(printing, "<p class=\"inwords\"%s><strong>The figure in words:</strong> ",
                   shown ? " aria-hidden=\"true\"" : "");
        print_words(printing, figure->alternative);
        print_tags(printing, "</p>\n");
    }
    print_tags(printing, "</figure>\n");
}

/* ---- Blocks ------------------------------------------------------------------------------------------------- */

static void print_source(struct printing *printing, const struct block *source)
{
    const struct blocks inside = {source->blocks, source->block_count};
    print_tags(printing, "<div class=\"source\">\n<p class=\"title\">");
    print_words(printing, source->title ? source->title : "Source");
    print_tags(printing, "</p>\n");
    print_blocks(printing, &inside);
    if (source->text.count) {
        print_tags(printing, "<p class=\"credit\">");
        print_rich(printing, &source->text);
        print_tags(printing, "</p>\n");
    }
    print_tags(printing, "</div>\n");
}

void print_blocks(struct printing *printing, const struct blocks *blocks)
{
    for (size_t i = 0; i < blocks->count; i++) {
        const struct block *block = &blocks->items[i];
        if (block->kind == BLOCK_FIGURE) {
            print_figure(printing, block);
        } else if (block->kind == BLOCK_SOURCE) {
            print_source(printing, block);
        } else {
            const struct blocks one = {block, 1};
            show_blocks(printing->scratch, &one, &printing->question->values, NULL, 0);
            print_scratch(printing, 0);
        }
    }
}
