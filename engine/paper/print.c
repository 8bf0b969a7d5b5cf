/* Documents and written matter. */
#include "paper/print-inner.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "practice/show.h"
#include "report/html.h"
#include "report/picture.h"

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

/* Letters of 12 units come out as 11 points, and as 18 on large pages, as far as the page is wide enough. */
static bool print_image(struct printing *printing, const struct block *figure)
{
    const char *folder = bank_folder(printing->question->bank);
    return figure->file && html_add_picture(printing->out, folder, figure->file, figure->alternative,
                                            printing->look->large ? 2 : 1.2);
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
