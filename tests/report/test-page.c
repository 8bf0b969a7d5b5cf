/* The model. What is expected follows from the contract (report/page.h). */
#include <criterion/criterion.h>
#include <string.h>

#include "base/buffer.h"
#include "report/page.h"
#include "report/text.h"

#define check_text(actual, expected)                                                                     \
    do {                                                                                                 \
        const char *actual_ = (actual), *expected_ = (expected);                                         \
        cr_expect(strcmp(actual_, expected_) == 0, "got  [%s]\nwant [%s]", actual_, expected_);          \
    } while (0)

Test(report, page_holds_blocks_and_runs_in_order)
{
    struct page *page = page_new();
    page_heading(page, 2, "Part (%c)", 'a');
    page_add(page, STYLE_QUIET, " [%d marks]", 3);
    page_item(page, 1, "-", "one");
    cr_assert(page->count == 2);
    cr_expect(page->blocks[0].kind == PAGE_HEADING && page->blocks[0].level == 2);
    cr_assert(page->blocks[0].text.count == 2);
    check_text(page->blocks[0].text.runs[0].text, "Part (a)");
    check_text(page->blocks[0].text.runs[1].text, " [3 marks]");
    cr_expect(page->blocks[0].text.runs[1].style == STYLE_QUIET);
    cr_expect(page->blocks[1].kind == PAGE_ITEM && page->blocks[1].level == 1);
    check_text(page->blocks[1].label, "-");
    page_free(page);
}

Test(report, page_drops_empty_runs_but_keeps_the_block)
{
    struct page *page = page_new();
    page_paragraph(page, "%s", "");
    page_add(page, STYLE_STRONG, "%s", "");
    page_add(page, STYLE_STRONG, "kept");
    cr_assert(page->count == 1 && page->blocks[0].text.count == 1);
    cr_expect(page->blocks[0].text.runs[0].style == STYLE_STRONG);
    page_free(page);
}

Test(report, page_copies_what_it_is_given)
{
    char words[] = "tide";
    struct page *page = page_new();
    page_verbatim(page, 0, words);
    page_fact(page, words, "%s", words);
    memset(words, 'x', 4);
    check_text(page->blocks[0].text.runs[0].text, "tide");
    check_text(page->blocks[1].label, "tide");
    page_free(page);
}

Test(report, page_fills_tables_row_by_row)
{
    struct page *page = page_new();
    page_table(page, "Heights", "lr", true);
    for (int i = 0; i < 5; i++)
        page_cell(page, "%d", i);
    page_add(page, STYLE_GOOD, "!");
    const struct page_block *table = &page->blocks[0];
    cr_assert(table->columns == 2 && table->rows == 3 && table->has_head);
    cr_expect(table->alignments[0] == ALIGN_LEFT && table->alignments[1] == ALIGN_RIGHT);
    check_text(table->cells[3].runs[0].text, "3");
    check_text(table->cells[4].runs[1].text, "!");
    cr_expect(table->cells[5].count == 0, "the last row is whole, its missing cell empty");
    page_free(page);
}

static void render(const struct page *page, struct buffer *out)
{
    page_render_text(page, &(struct text_look){.width = 60}, out);
}

Test(report, page_append_copies_every_block)
{
    struct page *one = page_new(), *two = page_new();
    page_paragraph(two, "A sentence");
    page_add(two, STYLE_STRONG, " in two styles.");
    page_table(two, NULL, "rl", false);
    page_cell(two, "1");
    page_cell(two, "one");
    page_cell(two, "2");
    struct buffer before = BUFFER_EMPTY, after = BUFFER_EMPTY;
    render(two, &before);
    page_append(one, two);
    page_free(two);
    render(one, &after);
    check_text(buffer_text(&after), buffer_text(&before));
    page_cell(one, "two"); /* the table can be gone on with */
    cr_expect(one->blocks[1].rows == 2);
    check_text(one->blocks[1].cells[3].runs[0].text, "two");
    page_free(one);
    buffer_free(&before);
    buffer_free(&after);
}

Test(report, page_may_be_appended_to_itself)
{
    struct page *page = page_new();
    for (int i = 0; i < 9; i++)
        page_item(page, 0, "-", "%d", i);
    page_append(page, page);
    cr_assert(page->count == 18);
    check_text(page->blocks[17].text.runs[0].text, "8");
    page_free(page);
}

Test(report, page_clear_leaves_nothing_and_can_be_used_again)
{
    struct page *page = page_new();
    page_paragraph(page, "old");
    page_clear(page);
    cr_expect(page->count == 0);
    page_paragraph(page, "new");
    check_text(page->blocks[0].text.runs[0].text, "new");
    page_free(page);
    page_free(NULL);
}
