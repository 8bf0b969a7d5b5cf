/* The plain renderer. Expected screens were drawn by hand from the contract (report/text.h); no outside source. */
#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "base/random.h"
#include "base/text.h"
#include "report/marked.h"
#include "report/page.h"
#include "report/text.h"

static void expect_page(struct page *page, struct text_look look, const char *expected)
{
    struct buffer out = BUFFER_EMPTY;
    page_render_text(page, &look, &out);
    cr_expect(strcmp(buffer_text(&out), expected) == 0, "got\n%s\nwant\n%s", buffer_text(&out), expected);
    buffer_free(&out);
    page_free(page);
}

static const struct text_look narrow = {.width = 40};

Test(report, text_of_an_empty_page_is_nothing)
{
    expect_page(page_new(), narrow, "");
}

Test(report, text_wraps_across_styled_runs)
{
    struct page *page = page_new();
    page_paragraph(page, "The tide rises ");
    page_add(page, STYLE_STRONG, "twice in a lunar");
    page_add(page, STYLE_PLAIN, " day, every 12 h 25 min.");
    expect_page(page, narrow, "The tide rises twice in a lunar day,\nevery 12 h 25 min.\n");
}

Test(report, text_keeps_no_break_spaces_together)
{
    struct page *page = page_new();
    page_paragraph(page, "The wave travels at a speed of some 12\u00a0m\u00a0s\u207b\u00b9.");
    expect_page(page, narrow, "The wave travels at a speed of some\n12\u00a0m\u00a0s\u207b\u00b9.\n");
}

Test(report, text_colours_by_line_and_never_over_its_end)
{
    struct page *page = page_new();
    page_paragraph(page, "0123456789 0123456789 0123456789 ");
    page_add(page, STYLE_GOOD, "earned abcdefghij");
    page_add(page, STYLE_PLAIN, " end");
    expect_page(page, (struct text_look){.width = 40, .colour = true},
                "0123456789 0123456789 0123456789 \033[32mearned\033[0m\n\033[32mabcdefghij\033[0m end\n");
}

Test(report, text_separates_blocks_but_not_what_belongs_together)
{
    struct page *page = page_new();
    page_gap(page);
    page_heading(page, 1, "Plan");
    page_paragraph(page, "One.");
    page_paragraph(page, "Two:");
    page_item(page, 0, "-", "a");
    page_item(page, 0, "-", "b");
    page_gap(page);
    page_gap(page);
    page_item(page, 0, "-", "c");
    page_paragraph(page, "%s", "");
    page_heading(page, 2, "Next");
    expect_page(page, narrow, "\nPlan\n────\nOne.\n\nTwo:\n- a\n- b\n\n- c\n\nNext\n");
}

Test(report, text_hangs_items_and_aligns_their_markers)
{
    struct page *page = page_new();
    page_item(page, 1, "9.", "Longshore drift moves sand along the beach.");
    page_item(page, 1, "10.", "Groynes hold it.");
    expect_page(page, narrow, "  9.  Longshore drift moves sand along\n      the beach.\n  10. Groynes hold it.\n");
}

Test(report, text_puts_a_paragraph_of_a_deeper_level_under_its_item)
{
    struct page *page = page_new();
    page_item(page, 0, "-", "a");
    page_paragraph(page, "more");
    page->blocks[1].level = 1;
    page_paragraph(page, "after");
    expect_page(page, narrow, "- a\n  more\n\nafter\n");
}

Test(report, text_gives_long_markers_a_short_indent)
{
    struct page *page = page_new();
    page_item(page, 0, "Level 3, 5 to 6 marks:", "A reasoned judgement.");
    expect_page(page, narrow, "Level 3, 5 to 6 marks: A reasoned\n    judgement.\n");
}

Test(report, text_aligns_neighbouring_facts)
{
    struct page *page = page_new();
    page_fact(page, "Topic", "Estuaries");
    page_fact(page, "Time left", "Six minutes for a part of six marks, no more.");
    expect_page(page, narrow,
                "Topic:     Estuaries\nTime left: Six minutes for a part of six\n           marks, no more.\n");
}

Test(report, text_sets_notes_apart)
{
    struct page *page = page_new();
    page_paragraph(page, "Before");
    page_note(page, "Caution", "This is a paper exercise; nobody goes to the shore alone.");
    page_paragraph(page, "After");
    expect_page(page, narrow,
                "Before\n\n│ Caution: This is a paper exercise;\n│ nobody goes to the shore alone.\n\nAfter\n");
}

Test(report, text_uses_ascii_ornaments_when_asked)
{
    struct page *page = page_new();
    page_heading(page, 1, "Naïve");
    page_note(page, "Note", "x");
    page_add(page, STYLE_SUPERSCRIPT, "2");
    expect_page(page, (struct text_look){.width = 40, .ascii = true}, "Naïve\n-----\n| Note: x^(2)\n");
}

Test(report, text_keeps_the_line_breaks_of_what_somebody_wrote)
{
    struct page *page = page_new();
    page_paragraph(page, "You wrote:");
    page_verbatim(page, 0, "\nfirst\n\n  second, which is long enough to be wrapped");
    expect_page(page, narrow,
                "You wrote:\n\n    first\n\n      second, which is long enough to be\n    wrapped\n");
}

Test(report, text_makes_everything_safe)
{
    struct page *page = page_new();
    page_heading(page, 3, "\033]0;x\a");
    page_item(page, 0, "\033c", "a\u202eb\xff");
    page_fact(page, "\x01", "\x02\x08");
    page_note(page, "\xc2\x9b", "x");
    page_table(page, "\x7f", "l", false);
    page_cell(page, "\033[2J");
    page_verbatim(page, 0, "\r\x01");
    struct buffer out = BUFFER_EMPTY;
    page_render_text(page, &(struct text_look){.width = 60}, &out);
    for (size_t i = 0; i < out.length; i++)
        cr_expect((unsigned char)out.text[i] >= 0x20 || out.text[i] == '\n', "byte %d", out.text[i]);
    cr_expect(strstr(out.text, "<U+001B>]0;x<U+0007>") && strstr(out.text, "a<U+202E>b<0xFF>"));
    cr_expect(strstr(out.text, "<U+0001>") && strstr(out.text, "<U+009B>") && strstr(out.text, "<U+007F>"));
    buffer_free(&out);
    page_free(page);
}

Test(report, text_writes_scripts_in_unicode_or_in_brackets)
{
    struct page *page = page_new();
    page_paragraph(page, "CO");
    page_add(page, STYLE_SUBSCRIPT, "2");
    page_add(page, STYLE_PLAIN, ", kg\u00a0m");
    page_add(page, STYLE_SUPERSCRIPT, "\u22123");
    page_add(page, STYLE_PLAIN, ", v");
    page_add(page, STYLE_SUBSCRIPT, "mean tide");
    page_add(page, STYLE_PLAIN, ", x");
    page_add(page, STYLE_SUPERSCRIPT, "½");
    expect_page(page, narrow, "CO₂, kg\u00a0m⁻³, v_(mean\u00a0tide), x^(½)\n");
}

/* Each character: the Unicode Character Database gives the raised and lowered ones as compatibility forms
 * (<super>, <sub>) of the plain one; checked here by NFKD from libunistring in test-script.c. */
Test(report, scripts_refuse_what_has_no_form)
{
    struct buffer out = BUFFER_EMPTY;
    buffer_add(&out, "kept");
    cr_expect(!script_add(&out, "2q", true), "there is no raised q in the table");
    cr_expect(!script_add(&out, "b", false));
    cr_expect(strcmp(buffer_text(&out), "kept") == 0, "nothing is left of a refused text");
    buffer_free(&out);
}

static struct page *tide_table(void)
{
    struct page *page = page_new();
    page_table(page, "Tides", "lrr", true);
    const char *const cells[] = {"Place", "High / m", "Low / m", "North Quay", "4.81", "0.9", "Sandy Hole", "12.0", ""};
    for (size_t i = 0; i < sizeof cells / sizeof *cells; i++)
        page_cell(page, "%s", cells[i]);
    return page;
}

Test(report, tables_are_aligned)
{
    expect_page(tide_table(), narrow,
                "Tides\n"
                "Place       High / m  Low / m\n"
                "──────────  ────────  ───────\n"
                "North Quay      4.81      0.9\n"
                "Sandy Hole      12.0\n");
}

Test(report, tables_shrink_their_widest_column_and_wrap_its_cells)
{
    struct page *page = page_new();
    page_table(page, NULL, "lr", true);
    page_cell(page, "Process");
    page_cell(page, "Marks");
    page_cell(page, "Waves meet the shore at an angle and carry sand along it");
    page_cell(page, "2");
    expect_page(page, narrow,
                "Process                            Marks\n"
                "─────────────────────────────────  ─────\n"
                "Waves meet the shore at an angle       2\n"
                "and carry sand along it\n");
}

Test(report, tables_keep_numbers_whole_and_wrap_their_headings)
{
    struct page *page = page_new();
    page_table(page, NULL, "lr", true);
    page_cell(page, "Place");
    page_cell(page, "Sand moved in the whole year");
    page_cell(page, "The northern half of the beach");
    page_cell(page, "from 12 000 to 13 000");
    expect_page(page, narrow,
                "Place                  Sand moved in the\n"
                "                              whole year\n"
                "─────────────────  ─────────────────────\n"
                "The northern half  from 12 000 to 13 000\n"
                "of the beach\n");
}

Test(report, tables_too_wide_for_the_page_become_records)
{
    struct page *page = page_new();
    page_table(page, NULL, "lllllll", true);
    for (int i = 0; i < 7; i++)
        page_cell(page, "heading%d", i);
    for (int i = 0; i < 7; i++) {
        page_cell(page, "%s", i == 3 ? "" : "content");
        if (i != 3)
            page_add(page, STYLE_PLAIN, "%d", i);
    }
    expect_page(page, narrow,
                "heading0: content0\n  heading1: content1\n  heading2: content2\n  heading4: content4\n"
                "  heading5: content5\n  heading6: content6\n");
}

Test(report, table_styles_stay_in_their_cell)
{
    struct page *page = page_new();
    page_table(page, NULL, "ll", false);
    page_cell(page, "%s", "");
    page_add(page, STYLE_BAD, "lost because the unit is missing in both lines");
    page_cell(page, "plain");
    expect_page(page, (struct text_look){.width = 40, .colour = true},
                "\033[31mlost because the unit is missing\033[0m   plain\n\033[31min both lines\033[0m\n");
}

/* Properties: no line is wider than asked, none ends in a space, all words come out in order, and the coloured page
 * without its sequences is the plain page. */
static const char *const pieces[] = {"tide", " ", "sea level", "海岸线", "e\u0301", "a\u00a0b", "\n", "-", "/", "(", ")",
                                     "12.5", "\033", "supercalifragilisticexpialidocious", "𝛼", " ", "  "};

static void add_random_text(struct page *page, struct random_source *source)
{
    for (uint64_t n = random_below(source, 12); n > 0; n--)
        page_add(page, (enum style)random_below(source, 8), "%s", pieces[random_below(source, 17)]);
}

static void add_random_table(struct page *page, struct random_source *source)
{
    static const char alignments[] = "lrlrrllrl";
    size_t columns = 1 + (size_t)random_below(source, 9);
    page_table(page, random_below(source, 2) ? "Caption of it" : NULL, alignments + 9 - columns,
               random_below(source, 2));
    for (uint64_t n = random_below(source, 20); n > 0; n--) {
        page_cell(page, "%s", pieces[random_below(source, 17)]);
        add_random_text(page, source);
    }
    if (page->blocks[page->count - 1].rows == 0)
        page_cell(page, "x");
}

static void add_random_block(struct page *page, struct random_source *source)
{
    const char *label = pieces[random_below(source, 17)];
    int level = (int)random_below(source, 30);
    switch (random_below(source, 8)) {
    case 0: page_heading(page, 1 + level % 3, "%s", label); break;
    case 1: page_paragraph(page, "%s", label); break;
    case 2: page_item(page, level, label, "%s", label); break;
    case 3: page_fact(page, label, "%s", label); break;
    case 4: page_note(page, label, "%s", label); break;
    case 5: page_verbatim(page, level, label); break;
    case 6: page_gap(page); break;
    case 7: add_random_table(page, source); break;
    }
    add_random_text(page, source);
}

static void strip_sequences(char *text)
{
    char *to = text;
    for (const char *from = text; *from; from++) {
        if (*from == '\033')
            from = strchr(from, 'm');
        else
            *to++ = *from;
    }
    *to = '\0';
}

static void check_lines(const char *text, size_t width, uint64_t seed)
{
    while (*text) {
        size_t length = strcspn(text, "\n");
        cr_expect(text_width_bytes(text, length) <= width, "seed %llu: wider than %zu: %.*s",
                  (unsigned long long)seed, width, (int)length, text);
        cr_expect(length == 0 || text[length - 1] != ' ', "seed %llu: ends in a space: %.*s",
                  (unsigned long long)seed, (int)length, text);
        cr_assert(text[length] == '\n', "every line is ended");
        text += length + 1;
    }
}

static void check_random_page(uint64_t seed)
{
    struct random_source source = {seed};
    struct page *page = page_new();
    for (uint64_t n = random_below(&source, 9); n > 0; n--)
        add_random_block(page, &source);
    struct text_look look = {.width = 20 + (size_t)random_below(&source, 100), .ascii = random_below(&source, 2)};
    struct buffer plain = BUFFER_EMPTY, coloured = BUFFER_EMPTY;
    page_render_text(page, &look, &plain);
    check_lines(buffer_text(&plain), look.width < 40 ? 40 : look.width > 100 ? 100 : look.width, seed);
    look.colour = true;
    page_render_text(page, &look, &coloured);
    buffer_add(&coloured, "");
    strip_sequences(coloured.text);
    cr_expect(strcmp(buffer_text(&coloured), buffer_text(&plain)) == 0, "seed %llu", (unsigned long long)seed);
    buffer_free(&plain);
    buffer_free(&coloured);
    page_free(page);
}

Test(report, random_pages_keep_to_their_width)
{
    const char *asked = getenv("OWNMARK_SEED");
    uint64_t first = asked ? strtoull(asked, NULL, 10) : 1;
    for (uint64_t seed = first; seed < first + (asked ? 1 : 2000); seed++)
        check_random_page(seed);
}
