/* The HTML renderer. Expected documents were written by hand from the contract (report/html.h) and from what HTML asks
 * for; that documents are well formed is checked by libxml2's parser of XML, which the tags are written to suit. */
#include <criterion/criterion.h>
#include <libxml/parser.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "base/random.h"
#include "report/html.h"
#include "report/page.h"

static void expect_blocks(struct page *page, const char *expected)
{
    struct buffer out = BUFFER_EMPTY;
    html_add_page(&out, page, 0);
    cr_expect(strcmp(buffer_text(&out), expected) == 0, "got\n%s\nwant\n%s", buffer_text(&out), expected);
    buffer_free(&out);
    page_free(page);
}

static void expect_words(const char *words, const char *expected)
{
    struct buffer out = BUFFER_EMPTY;
    html_add_words(&out, words);
    cr_expect_str_eq(buffer_text(&out), expected);
    buffer_free(&out);
}

Test(report, html_words_are_escaped_and_controls_made_visible)
{
    expect_words("", "");
    expect_words("a < b & c > d", "a &lt; b &amp; c &gt; d");
    expect_words("\"'", "&quot;&#39;");
    expect_words("&lt;", "&amp;lt;");
    expect_words("x\033[31m", "x&lt;U+001B&gt;[31m");
    expect_words("a\u202eb", "a&lt;U+202E&gt;b");
    expect_words("\xff", "&lt;0xFF&gt;");
}

/* RFC 4648, section 10. */
Test(report, html_base64_is_that_of_the_standard)
{
    static const char *const known[][2] = {{"", ""}, {"f", "Zg=="}, {"fo", "Zm8="}, {"foo", "Zm9v"},
                                           {"foob", "Zm9vYg=="}, {"fooba", "Zm9vYmE="}, {"foobar", "Zm9vYmFy"}};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        struct buffer out = BUFFER_EMPTY;
        html_add_base64(&out, known[i][0], strlen(known[i][0]));
        cr_expect_str_eq(buffer_text(&out), known[i][1]);
        buffer_free(&out);
    }
}

Test(report, html_runs_carry_their_styles)
{
    struct page *page = page_new();
    page_paragraph(page, "1030 kg m");
    page_add(page, STYLE_SUPERSCRIPT, "−3");
    page_add(page, STYLE_STRONG, "<b>");
    page_add(page, STYLE_EMPHASIS, "e");
    page_add(page, STYLE_SUBSCRIPT, "2");
    page_add(page, STYLE_GOOD, "earned");
    page_add(page, STYLE_BAD, "lost");
    page_add(page, STYLE_QUIET, "q");
    page_add(page, STYLE_STRONG, "%s", "");
    expect_blocks(page, "<p>1030 kg m<sup>−3</sup><strong>&lt;b&gt;</strong><em>e</em><sub>2</sub>"
                        "<span class=\"good\">earned</span><span class=\"bad\">lost</span><span class=\"quiet\">q</span></p>\n");
}

Test(report, html_headings_go_deeper_and_stay_within_six)
{
    struct page *page = page_new();
    page_heading(page, 1, "A");
    page_heading(page, 3, "B");
    struct buffer out = BUFFER_EMPTY;
    html_add_page(&out, page, 4);
    cr_expect_str_eq(buffer_text(&out), "<h5>A</h5>\n<h6>B</h6>\n");
    buffer_free(&out);
    page_free(page);
}

Test(report, html_items_make_lists_inside_lists)
{
    struct page *page = page_new();
    page_item(page, 0, "-", "one");
    page_item(page, 1, "(a)", "two");
    page_item(page, 0, "-", "three");
    expect_blocks(page, "<ul class=\"items\" role=\"list\">\n"
                        "<li><span class=\"marker\">\u2022</span> <span class=\"item\">one</span>"
                        "<div class=\"inside\"><ul class=\"items\" role=\"list\">\n"
                        "<li><span class=\"marker\">(a)</span> <span class=\"item\">two</span></li></ul></div></li>\n"
                        "<li><span class=\"marker\">\u2022</span> <span class=\"item\">three</span></li></ul>\n");
}

Test(report, html_facts_make_one_list)
{
    struct page *page = page_new();
    page_fact(page, "Marks", "3");
    page_fact(page, "Time & place", "now");
    expect_blocks(page, "<dl>\n<div><dt>Marks</dt><dd>3</dd></div>\n<div><dt>Time &amp; place</dt><dd>now</dd></div>\n</dl>\n");
}

Test(report, html_tables_name_their_heads)
{
    struct page *page = page_new();
    page_table(page, "Height", "lr", true);
    page_cell(page, "Day");
    page_cell(page, "Height / m");
    page_cell(page, "Monday");
    page_cell(page, "1.2");
    expect_blocks(page, "<table>\n<caption>Height</caption>\n<thead>\n<tr><th scope=\"col\">Day</th>"
                        "<th scope=\"col\" class=\"right\">Height / m</th></tr>\n</thead>\n<tbody>\n"
                        "<tr><th scope=\"row\">Monday</th><td class=\"right\">1.2</td></tr>\n</tbody>\n</table>\n");
}

/* An empty cell is no head: a screen reader would announce nothing. */
Test(report, html_empty_cells_are_no_heads)
{
    struct page *page = page_new();
    page_table(page, NULL, "lr", true);
    page_cell(page, "%s", "");
    page_cell(page, "marks");
    expect_blocks(page, "<table>\n<thead>\n<tr><td></td><th scope=\"col\" class=\"right\">marks</th></tr>\n</thead>\n"
                        "<tbody>\n</tbody>\n</table>\n");
}

Test(report, html_notes_paragraphs_and_what_was_written)
{
    struct page *page = page_new();
    page_note(page, "Caution", "A paper exercise.");
    page_paragraph(page, "%s", "in");
    page->blocks[1].level = 2;
    page_verbatim(page, 0, "two\nlines");
    page_gap(page);
    expect_blocks(page, "<p class=\"note\" role=\"note\"><strong>Caution:</strong> A paper exercise.</p>\n"
                        "<p class=\"in2\">in</p>\n<blockquote class=\"verbatim\">two\nlines</blockquote>\n"
                        "<div class=\"gap\"></div>\n");
}

Test(report, html_documents_say_title_language_and_size)
{
    struct page *page = page_new();
    page_heading(page, 1, "Waves & tides");
    struct buffer out = BUFFER_EMPTY;
    const struct html_look look = {.language = "cy", .points = 28};
    page_render_html(page, &look, &out);
    cr_expect(strstr(buffer_text(&out), "<html lang=\"cy\">"));
    cr_expect(strstr(buffer_text(&out), "<title>Waves &amp; tides</title>"));
    cr_expect(strstr(buffer_text(&out), "html{font-size:28pt}"));
    cr_expect(strstr(buffer_text(&out), "default-src 'none'"));
    cr_expect(!strstr(buffer_text(&out), "<script"));
    buffer_free(&out);
    page_free(page);
}

static void add_random_block(struct page *page, struct random_source *source)
{
    static const char *const texts[] = {"<script>alert(1)</script>", "</style>", "a\"b'c", "", "\u202e", "]]>", "plain"};
    const char *text = texts[random_below(source, 7)];
    int level = (int)random_below(source, 7) - 1;
    switch (random_below(source, 8)) {
    case 0: page_heading(page, 1 + (int)random_below(source, 3), "%s", text); break;
    case 1: page_paragraph(page, "%s", text); break;
    case 2: page_fact(page, text, "%s", text); break;
    case 3: page_note(page, text, "%s", text); break;
    case 4: page_verbatim(page, level, text); break;
    case 5: page_table(page, text, "lrl", random_below(source, 2)); break;
    default: page_item(page, level, text, "%s", text);
    }
    if (page->blocks[page->count - 1].kind == PAGE_TABLE)
        for (uint64_t cells = 1 + random_below(source, 8); cells; cells--)
            page_cell(page, "%s", text);
    page_add(page, (enum style)random_below(source, 8), "%s", text);
}

/* Whatever is on the page, every element that was opened is closed where it belongs, and none comes from a text. */
Test(report, html_of_any_page_is_well_formed)
{
    const char *given = getenv("OWNMARK_SEED");
    uint64_t seed = given ? strtoull(given, NULL, 10) : random_fresh_seed();
    cr_log_info("seed %llu", (unsigned long long)seed);
    struct random_source source = {seed};
    for (int round = 0; round < 300; round++) {
        struct page *page = page_new();
        for (uint64_t blocks = random_below(&source, 12); blocks; blocks--)
            add_random_block(page, &source);
        struct buffer out = BUFFER_EMPTY;
        buffer_add(&out, "<body>");
        html_add_page(&out, page, 1);
        buffer_add(&out, "</body>");
        cr_assert(!strstr(buffer_text(&out), "<script"));
        xmlDocPtr document = xmlReadMemory(out.text, (int)out.length, "body", NULL, XML_PARSE_NOERROR | XML_PARSE_NONET);
        cr_assert(document, "seed %llu:\n%s", (unsigned long long)seed, buffer_text(&out));
        xmlFreeDoc(document);
        buffer_free(&out);
        page_free(page);
    }
    xmlCleanupParser();
}
