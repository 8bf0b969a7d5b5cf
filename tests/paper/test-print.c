/* Papers on file and on paper. Documents are checked by libxml2's parser of XML, which their tags are written to suit, and
 * by looking for what must and must not be in them; what is expected comes from the contracts (paper/print.h). */
#include <libxml/parser.h>
#include <libxml/xpath.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "bank/scheme.h"
#include "paper/deliver.h"
#include "paper/explain.h"
#include "paper/gather.h"
#include "paper/make.h"
#include "paper/print.h"
#include "trial.h"

/* Everything of a bank as one paper. */
struct whole {
    struct arena *arena;
    struct bank *bank;
    struct paper_wishes wishes;
    struct gathered gathered;
    struct opened_paper opened;
    bool *chosen;
};

static void choose_whole(struct whole *whole, const char *bank)
{
    struct messages messages = MESSAGES_EMPTY;
    whole->arena = arena_new();
    whole->bank = trial_open(bank);
    whole->wishes = (struct paper_wishes){.marks = 20, .seed = 11};
    cr_assert(gather(&whole->bank, 1, &whole->wishes, whole->arena, &whole->gathered, &messages));
    size_t count = whole->gathered.blueprint.item_count;
    whole->chosen = arena_get_array(whole->arena, count, sizeof(bool));
    for (size_t i = 0; i < count; i++)
        whole->chosen[i] = true;
}

static void make_whole(struct whole *whole, const char *bank, const char *folder)
{
    struct messages messages = MESSAGES_EMPTY;
    choose_whole(whole, bank);
    cr_assert(paper_make(&whole->gathered, whole->chosen, 1779111000, folder, whole->arena, &whole->opened, &messages));
}

static void free_whole(struct whole *whole)
{
    bank_close(whole->bank);
    arena_free(whole->arena);
}

/* ---- On file ------------------------------------------------------------------------------------------------ */

Test(paper, paths_are_as_seen_from_the_paper)
{
    struct arena *arena = arena_new();
    cr_expect_str_eq(paper_path_from("/a/b", "/a/b/bank.xml", arena), "bank.xml");
    cr_expect_str_eq(paper_path_from("/a/b", "/a/bank.xml", arena), "../bank.xml");
    cr_expect_str_eq(paper_path_from("/a/b", "/a/bc/bank.xml", arena), "../bc/bank.xml");
    cr_expect_str_eq(paper_path_from("/a/b/c", "/x/bank.xml", arena), "../../../x/bank.xml");
    cr_expect_str_eq(paper_path_from("/", "/x/bank.xml", arena), "x/bank.xml");
    cr_expect_str_eq(paper_path_from("/a/b", "/a/b", arena), "../b");
    arena_free(arena);
}

/* Saved in an editor between the choice and the making. */
Test(paper, a_bank_that_changed_meanwhile_makes_no_paper, .init = trial_begin, .fini = trial_end)
{
    static const struct trial_question questions[] = {{"q1", "a", NULL, "1:2 2:1m", NULL}, {"q2", "b", NULL, "3:2", NULL}};
    struct messages messages = MESSAGES_EMPTY;
    struct whole whole;
    trial_bank("bank.xml", "trial", questions, 2, "");
    choose_whole(&whole, trial_path("bank.xml"));
    trial_bank("bank.xml", "trial", questions, 2, "<stem><p>Something new.</p></stem>");
    cr_expect_not(paper_make(&whole.gathered, whole.chosen, 1779111000, trial_path(""), whole.arena, &whole.opened, &messages));
    cr_assert_eq(messages.count, 1);
    cr_expect(strstr(messages.items[0].text, "changed"), "%s", messages.items[0].text);
    messages_free(&messages);
    free_whole(&whole);
}

static void write_paper_file(const struct whole *whole, const char *name)
{
    struct buffer text = BUFFER_EMPTY;
    paper_file_text(&whole->opened.paper, &text);
    trial_write(name, buffer_text(&text));
    buffer_free(&text);
}

Test(paper, a_paper_opens_again_with_the_same_questions_and_numbers, .init = trial_begin, .fini = trial_end)
{
    struct messages messages = MESSAGES_EMPTY;
    struct whole whole;
    mkdir(trial_path("out"), 0700);
    make_whole(&whole, "tests/data/every-element.xml", trial_path("out"));
    write_paper_file(&whole, "out/paper.ownmark");
    struct opened_paper *again = opened_paper_read(trial_path("out/paper.ownmark"), NULL, 0, &messages);
    cr_assert(again, "%s", messages.count ? messages.items[0].text : "");
    cr_expect_eq(messages.count, 0);
    cr_assert_eq(again->paper.question_count, whole.opened.paper.question_count);
    for (size_t i = 0; i < again->paper.question_count; i++) {
        const struct values *a = &again->questions[i].values, *b = &whole.opened.questions[i].values;
        cr_expect_str_eq(again->questions[i].question->id, whole.opened.questions[i].question->id);
        cr_assert_eq(a->count, b->count);
        for (size_t j = 0; j < a->count; j++)
            cr_expect_str_eq(a->items[j].text, b->items[j].text);
    }
    opened_paper_free(again);
    opened_paper_free(NULL);
    free_whole(&whole);
}

static const struct trial_question two[] = {{"k1", "a", NULL, "1:2", NULL}, {"p1", "b", NULL, "2:2m", NULL}};

Test(paper, a_paper_notices_that_its_bank_has_changed, .init = trial_begin, .fini = trial_end)
{
    struct messages messages = MESSAGES_EMPTY;
    struct whole whole;
    trial_bank("bank.xml", "one", two, 2, "");
    make_whole(&whole, trial_path("bank.xml"), trial_path("."));
    write_paper_file(&whole, "paper.ownmark");
    free_whole(&whole);
    trial_bank("bank.xml", "one", two, 2, "<stem><p>New.</p></stem>");
    cr_expect_null(opened_paper_read(trial_path("paper.ownmark"), NULL, 0, &messages));
    cr_assert_eq(messages.count, 1);
    cr_expect(strstr(messages.items[0].text, "the question 'k1' has been changed since the paper was made"));
    trial_bank("bank.xml", "one", two + 1, 1, "");
    cr_expect_null(opened_paper_read(trial_path("paper.ownmark"), NULL, 0, &messages));
    cr_assert_eq(messages.count, 2);
    cr_expect(strstr(messages.items[1].text, "the paper wants the question 'k1', and the bank has none"));
    trial_bank("bank.xml", "another", two, 2, "");
    cr_expect_null(opened_paper_read(trial_path("paper.ownmark"), NULL, 0, &messages));
    cr_assert_eq(messages.count, 3);
    cr_expect(strstr(messages.items[2].text, "is the bank 'another', but the paper wants 'one'"));
    messages_free(&messages);
}

Test(paper, a_bank_may_be_elsewhere, .init = trial_begin, .fini = trial_end)
{
    struct messages messages = MESSAGES_EMPTY;
    struct whole whole;
    trial_bank("bank.xml", "one", two, 2, "");
    make_whole(&whole, trial_path("bank.xml"), trial_path("."));
    write_paper_file(&whole, "paper.ownmark");
    free_whole(&whole);
    mkdir(trial_path("moved"), 0700);
    cr_assert_eq(rename(trial_path("bank.xml"), trial_path("moved/bank.xml")), 0);
    cr_expect_null(opened_paper_read(trial_path("paper.ownmark"), NULL, 0, &messages));
    cr_assert_eq(messages.count, 2);
    cr_expect(strstr(messages.items[1].text, "the bank 'one' of this paper is not where it was"));
    const char *elsewhere[] = {"tests/data/paper-bank.xml", trial_path("moved/bank.xml")};
    struct opened_paper *again = opened_paper_read(trial_path("paper.ownmark"), elsewhere, 2, &messages);
    cr_expect(again);
    cr_expect_eq(messages.count, 2);
    opened_paper_free(again);
    messages_free(&messages);
}

/* ---- Delivering --------------------------------------------------------------------------------------------- */

static void fill(struct delivery *deliveries, const char *content)
{
    static const char *const names[] = {"a.html", "b.html"};
    for (int i = 0; i < 2; i++) {
        deliveries[i] = (struct delivery){names[i], BUFFER_EMPTY};
        buffer_add(&deliveries[i].content, content);
    }
}

static void expect_content(const char *name, const char *content)
{
    char *text = trial_read(name);
    cr_expect_str_eq(text, content);
    free(text);
}

Test(paper, files_are_delivered_together_or_not_at_all, .init = trial_begin, .fini = trial_end)
{
    struct messages messages = MESSAGES_EMPTY;
    struct delivery one[2], other[2];
    struct stat status;
    fill(one, "one");
    fill(other, "other");
    cr_assert(deliver(trial_path("deep/out"), one, 2, false, &messages));
    expect_content("deep/out/a.html", "one");
    expect_content("deep/out/b.html", "one");
    cr_expect(stat(trial_path("deep/out/b.html"), &status) == 0 && (status.st_mode & 0777) == 0600);
    cr_assert_eq(unlink(trial_path("deep/out/a.html")), 0);
    cr_expect(!deliver(trial_path("deep/out"), other, 2, false, &messages));
    cr_expect(stat(trial_path("deep/out/a.html"), &status) != 0, "b.html was taken, so a.html must not come");
    expect_content("deep/out/b.html", "one");
    cr_expect(deliver(trial_path("deep/out"), other, 2, true, &messages));
    expect_content("deep/out/b.html", "other");
    cr_expect_eq(messages.count, 1);
    for (int i = 0; i < 2; i++) {
        buffer_free(&one[i].content);
        buffer_free(&other[i].content);
    }
    messages_free(&messages);
}

Test(paper, what_is_no_file_is_never_replaced, .init = trial_begin, .fini = trial_end)
{
    struct messages messages = MESSAGES_EMPTY;
    struct delivery files[2];
    struct stat status;
    fill(files, "new");
    trial_write("file", "a file");
    cr_expect(!deliver_may(trial_path("file"), files, 2, true, &messages));
    mkdir(trial_path("out"), 0700);
    mkdir(trial_path("out/b.html"), 0700);
    cr_expect(!deliver(trial_path("out"), files, 2, true, &messages));
    cr_expect(stat(trial_path("out/a.html"), &status) != 0);
    cr_assert_eq(symlink(trial_path("file"), trial_path("out/a.html")), 0);
    cr_assert_eq(rmdir(trial_path("out/b.html")), 0);
    cr_expect(!deliver(trial_path("out"), files, 2, true, &messages), "a link may lead anywhere");
    expect_content("file", "a file");
    cr_expect_eq(messages.count, 3);
    for (int i = 0; i < 2; i++)
        buffer_free(&files[i].content);
    messages_free(&messages);
}

/* ---- On paper ----------------------------------------------------------------------------------------------- */

static xmlDocPtr parse(const struct buffer *out)
{
    xmlDocPtr document = xmlReadMemory(out->text, (int)out->length, "page", NULL, XML_PARSE_NONET);
    cr_assert(document, "%s", buffer_text(out));
    return document;
}

static int count(xmlDocPtr document, const char *path)
{
    xmlXPathContextPtr context = xmlXPathNewContext(document);
    xmlXPathObjectPtr found = xmlXPathEvalExpression((const xmlChar *)path, context);
    int nodes = found && found->nodesetval ? found->nodesetval->nodeNr : 0;
    xmlXPathFreeObject(found);
    xmlXPathFreeContext(context);
    return nodes;
}

static void expect_safe(const struct buffer *out)
{
    xmlDocPtr document = parse(out);
    cr_expect_eq(count(document, "//script | //iframe | //link | //object | //a"), 0);
    cr_expect_eq(count(document, "//@*[starts-with(name(), 'on')]"), 0);
    cr_expect_eq(count(document, "//@src[not(starts-with(., 'data:image/'))]"), 0);
    cr_expect_eq(count(document, "//img[not(@alt)]"), 0);
    cr_expect_eq(count(document, "//th[not(@scope)]"), 0);
    cr_expect_eq(count(document, "/html/@lang"), 1);
    cr_expect_null(strstr(buffer_text(out), "://"));
    xmlFreeDoc(document);
}

Test(paper, a_paper_has_a_cover_grid_and_room_for_every_part, .init = trial_begin, .fini = trial_end)
{
    struct whole whole;
    struct buffer out = BUFFER_EMPTY;
    make_whole(&whole, "tests/data/every-element.xml", trial_path("."));
    print_question_paper(&whole.opened, &(struct print_look){.name_lines = true}, &out);
    expect_safe(&out);
    xmlDocPtr document = parse(&out);
    size_t parts = 0, questions = whole.opened.paper.question_count;
    int lines = 0;
    for (size_t i = 0; i < questions; i++) {
        parts += whole.opened.questions[i].question->part_count;
        for (size_t j = 0; j < whole.opened.questions[i].question->part_count; j++)
            lines += whole.opened.questions[i].question->parts[j].lines;
    }
    cr_expect_eq(count(document, "//table[@class='grid']/tbody/tr"), (int)questions + 1);
    cr_expect_eq(count(document, "//div[@class='part']"), (int)parts);
    cr_expect_eq(count(document, "//p[@class='marks']"), (int)parts);
    cr_expect_eq(count(document, "//div[@class='line'] | //div[@class='space'] | //p[@class='result']"), lines);
    cr_expect_eq(count(document, "//section[@class='question']/p[@class='total']"), (int)questions);
    cr_expect_eq(count(document, "//img"), 1);
    cr_expect_eq(count(document, "//div[@class='names']"), 1);
    cr_expect(strstr(buffer_text(&out), "the mark scheme of the awarding body prevail"));
    xmlFreeDoc(document);
    buffer_free(&out);
    free_whole(&whole);
}

Test(paper, large_print_says_figures_in_words_too, .init = trial_begin, .fini = trial_end)
{
    struct whole whole;
    struct buffer small = BUFFER_EMPTY, large = BUFFER_EMPTY;
    make_whole(&whole, "tests/data/every-element.xml", trial_path("."));
    print_question_paper(&whole.opened, &(struct print_look){.large = false}, &small);
    print_question_paper(&whole.opened, &(struct print_look){.large = true}, &large);
    expect_safe(&large);
    cr_expect(strstr(buffer_text(&small), "html{font-size:11pt}"));
    cr_expect(strstr(buffer_text(&large), "html{font-size:18pt}"));
    cr_expect(!strstr(buffer_text(&small), "The figure in words:"));
    cr_expect(strstr(buffer_text(&large), "The figure in words:"));
    buffer_free(&small);
    buffer_free(&large);
    free_whole(&whole);
}

static bool add_one(const struct node *point, void *context)
{
    (void)point;
    ++*(int *)context;
    return true;
}

Test(paper, a_scheme_has_a_row_for_every_point, .init = trial_begin, .fini = trial_end)
{
    struct whole whole;
    struct buffer out = BUFFER_EMPTY;
    struct page *blueprint = page_new();
    struct verdict verdict;
    make_whole(&whole, "tests/data/every-element.xml", trial_path("."));
    blueprint_judge(&whole.gathered.blueprint, whole.chosen, whole.arena, &verdict);
    explain_blueprint(blueprint, &whole.gathered, &verdict);
    print_mark_scheme(&whole.opened, &(struct print_look){.large = false}, blueprint, &out);
    expect_safe(&out);
    xmlDocPtr document = parse(&out);
    int points = 0, levels = 0;
    for (size_t i = 0; i < whole.opened.paper.question_count; i++)
        for (size_t j = 0; j < whole.opened.questions[i].question->part_count; j++)
            scheme_each_point(&whole.opened.questions[i].question->parts[j].scheme.root, add_one, &points);
    levels = count(document, "//th[starts-with(., 'level')]");
    cr_expect_eq(count(document, "//tbody/tr/th[@class='points']"), points + levels);
    cr_expect_gt(levels, 1);
    cr_expect_eq(count(document, "//section[@class='blueprint']//tbody/tr"), 2 + (int)whole.gathered.blueprint.aim_count);
    xmlFreeDoc(document);
    page_free(blueprint);
    buffer_free(&out);
    free_whole(&whole);
}

/* Words of a bank stay words. */
Test(paper, hostile_words_are_only_words, .init = trial_begin, .fini = trial_end)
{
    struct whole whole;
    struct buffer out = BUFFER_EMPTY;
    trial_bank("bank.xml", "one", two, 2,
               "<stem><p>&lt;script src=\"x\"&gt;1&lt;/script&gt; &quot;' &#x202e;abc&#x9b;31m &lt;/style&gt;</p></stem>"
               "<caution>&lt;img src=x onerror=alert(1)&gt;</caution>");
    make_whole(&whole, trial_path("bank.xml"), trial_path("."));
    print_question_paper(&whole.opened, &(struct print_look){.large = false}, &out);
    expect_safe(&out);
    cr_expect(strstr(buffer_text(&out), "&lt;script src=&quot;x&quot;&gt;"));
    cr_expect(strstr(buffer_text(&out), "&lt;U+202E&gt;abc&lt;U+009B&gt;31m"));
    cr_expect(strstr(buffer_text(&out), "<html lang=\"cy\">"));
    cr_expect(strstr(buffer_text(&out), "Trials &amp; errors"));
    buffer_clear(&out);
    print_mark_scheme(&whole.opened, &(struct print_look){.large = true}, NULL, &out);
    expect_safe(&out);
    buffer_free(&out);
    free_whole(&whole);
}
