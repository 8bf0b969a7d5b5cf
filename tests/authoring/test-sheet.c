/* Questions as tables and back. Values: by hand from the columns' meaning (sheet.h); common practice, no source. */
#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "authoring/sheet.h"
#include "base/files.h"
#include "support/same.h"

static char folder[] = "/tmp/ownmark-sheet-XXXXXX";
static char bank_file[64], table_file[64];
static struct messages messages;
static struct sheet_result result;

static void put(const char *path, const char *bytes, size_t length)
{
    FILE *file = fopen(path, "wb");
    cr_assert(file != NULL);
    cr_assert_eq(fwrite(bytes, 1, length, file), length);
    fclose(file);
}

static void copy_bank(const char *from)
{
    struct buffer bytes = BUFFER_EMPTY;
    cr_assert(file_read(from, 1 << 24, &bytes, &messages));
    put(bank_file, buffer_text(&bytes), bytes.length);
    buffer_free(&bytes);
}

static void set_up(void)
{
    cr_assert(mkdtemp(folder) != NULL);
    snprintf(bank_file, sizeof bank_file, "%s/bank.xml", folder);
    snprintf(table_file, sizeof table_file, "%s/table.csv", folder);
    copy_bank("tests/data/cycle.xml");
}

static void tear_down(void)
{
    unlink(bank_file), unlink(table_file), rmdir(folder);
    messages_free(&messages);
}

static bool import(const char *table, bool replace)
{
    put(table_file, table, strlen(table));
    messages_free(&messages);
    messages = MESSAGES_EMPTY;
    return sheet_import(table_file, bank_file, replace, false, &result, &messages);
}

/* ---- There and back -------------------------------------------------------------------------------- */

static void expect_same(struct bank *before, struct bank *after, size_t index)
{
    struct arena *arena = arena_new();
    const char *where = "finding it";
    const struct question *question = bank_question(before, index, arena, &messages);
    int found = bank_find(after, question->id);
    const struct question *again = found >= 0 ? bank_question(after, (size_t)found, arena, &messages) : NULL;
    cr_expect(again && same_question(question, again, &where), "%s: %s", question->id, where);
    arena_free(arena);
}

static void go_there_and_back(const char *path)
{
    struct buffer table = BUFFER_EMPTY;
    struct bank *before = bank_open(path, false, &messages);
    size_t warned = messages.count;
    copy_bank(path);
    cr_assert(sheet_write(before, NULL, 0, &table, &messages));
    size_t left_out = messages.count - warned, all = bank_question_count(before);
    cr_expect_lt(left_out, all);
    put(table_file, buffer_text(&table), table.length);
    bool imported = sheet_import(table_file, bank_file, true, false, &result, &messages);
    cr_assert(imported, "%s", messages.items[messages.count - 1].text);
    cr_expect_eq(result.replaced, all - left_out, "%zu of %zu replaced, %zu left out", result.replaced, all, left_out);
    struct bank *after = bank_open(bank_file, false, &messages);
    for (size_t i = 0; i < all; i++)
        expect_same(before, after, i);
    struct buffer again = BUFFER_EMPTY;
    cr_assert(sheet_write(after, NULL, 0, &again, &messages));
    cr_expect_str_eq(buffer_text(&again), buffer_text(&table), "%s: the second table is the first", path);
    buffer_free(&again);
    buffer_free(&table);
    bank_close(before), bank_close(after);
}

static void run_shell(const char *format, const char *argument)
{
    char command[200];
    snprintf(command, sizeof command, "%s %s", format, argument);
    cr_assert_eq(system(command), 0);
}

Test(authoring, a_table_loses_nothing_of_what_it_holds, .init = set_up, .fini = tear_down, .timeout = 60)
{
    char figures[80];
    run_shell("cp -r banks/figures", folder);
    go_there_and_back("banks/coastal-science.xml");
    go_there_and_back("banks/settlement-study.xml");
    go_there_and_back("banks/small-business.xml");
    snprintf(figures, sizeof figures, "%s/figures", folder);
    run_shell("rm -r", figures);
}

Test(authoring, a_table_says_what_it_cannot_hold, .init = set_up, .fini = tear_down)
{
    struct buffer table = BUFFER_EMPTY;
    struct bank *bank = bank_open("tests/data/every-element.xml", false, &messages);
    cr_assert(sheet_write(bank, NULL, 0, &table, &messages));
    cr_assert_eq(messages.count, 2);
    cr_expect_eq(messages.items[0].severity, SEVERITY_WARNING);
    cr_expect(strstr(messages.items[0].text, "a table, a figure, a source"));
    cr_expect(strstr(messages.items[1].text, "strands"), "%s", messages.items[1].text);
    cr_expect_eq(strstr(buffer_text(&table), "w01"), NULL, "half a question would be another question");
    buffer_free(&table);
    bank_close(bank);
}

Test(authoring, the_template_can_be_imported, .init = set_up, .fini = tear_down)
{
    struct buffer table = BUFFER_EMPTY;
    struct arena *arena = arena_new();
    sheet_template(&table, NULL);
    char *text = arena_copy_text(arena, buffer_text(&table));
    for (char *at; (at = strstr(text, "waves.motion")) != NULL;)
        memmove(at + 5, at + 12, strlen(at + 12) + 1);
    bool imported = import(text, false);
    messages_print(&messages);
    cr_expect(imported);
    cr_expect_eq(result.added, 2);
    struct bank *bank = bank_open(bank_file, false, &messages);
    const struct question *question = bank_question(bank, (size_t)bank_find(bank, "my-01"), arena, &messages);
    const struct node *list = &question->parts[0].scheme.root.children[0];
    cr_expect_eq(list->kind, NODE_LIST);
    cr_expect_eq(list->take, 2);
    cr_expect_eq(list->child_count, 2);
    cr_expect_eq(list->rejects.count, 1);
    cr_expect_eq(list->children[0].accepts.count, 2);
    cr_expect_eq(list->children[0].keys[0].count, 3);
    question = bank_question(bank, (size_t)bank_find(bank, "my-02"), arena, &messages);
    cr_expect(question->varied);
    cr_expect_eq(question->given_count, 2);
    cr_expect_eq(question->givens[1].form, GIVEN_RANGE);
    cr_expect_str_eq(question->givens[1].name, "frequency");
    cr_expect_eq(question->parts[0].scheme.root.children[1].point_kind, POINT_ACCURACY);
    bank_close(bank);
    arena_free(arena);
    buffer_free(&table);
}

/* ---- Faults ---------------------------------------------------------------------------------------- */

#define HEAD "question,topic,ask,command,objective,marks,group,point,part,stem,givens,kind\n"
#define GOOD "q1,waves,State a fact.,state,AO1,1,,a fact,,,,\n"

static void expect_fault(const char *table, unsigned long row, unsigned long column, const char *words)
{
    struct buffer before = BUFFER_EMPTY, after = BUFFER_EMPTY;
    struct messages silent = MESSAGES_EMPTY;
    cr_assert(file_read(bank_file, 1 << 24, &before, &silent));
    cr_expect_not(import(table, false), "%s", words);
    cr_assert(file_read(bank_file, 1 << 24, &after, &silent));
    cr_expect_str_eq(buffer_text(&before), buffer_text(&after), "the bank was changed");
    cr_assert_geq(messages.count, 1);
    cr_expect(strstr(messages.items[0].text, words), "[%s] instead of [%s]", messages.items[0].text, words);
    cr_expect_eq(messages.items[0].place.line, row, "row %lu: %s", messages.items[0].place.line, messages.items[0].text);
    cr_expect_eq(messages.items[0].place.column, column, "column %lu: %s", messages.items[0].place.column, messages.items[0].text);
    buffer_free(&before), buffer_free(&after);
}

Test(authoring, a_good_row_is_imported, .init = set_up, .fini = tear_down)
{
    bool imported = import(HEAD GOOD, false);
    messages_print(&messages);
    cr_expect(imported);
    cr_expect_eq(result.added, 1);
}

Test(authoring, headings_are_told, .init = set_up, .fini = tear_down)
{
    expect_fault("question,topik,ask,command,objective,marks,point\nq,waves,State.,state,AO1,1,p\n", 1, 2,
                 "no column is called 'topik'; did you mean 'topic'?");
    expect_fault("question,topic,ask,command,objective,marks\nq,waves,State.,state,AO1,1\n", 1, 1, "the column 'point' is missing");
    expect_fault("question,topic,ask,command,objective,marks,point,ask\n", 1, 8, "the column 'ask' is there twice");
    expect_fault(HEAD, 0, 0, "has headings but no rows");
    expect_fault(HEAD GOOD "q2,waves,State, or name.,state,AO1,1,,a fact,,,,x,y\n", 3, 13, "beyond the last heading");
}

Test(authoring, faulty_rows_are_told_with_row_and_column, .init = set_up, .fini = tear_down)
{
    expect_fault(HEAD GOOD "q2,tides,State a fact.,state,AO1,1,,a fact\n", 3, 2, "tides");
    expect_fault(HEAD GOOD "q2,waves,State a fact.,explane,AO1,1,,a fact\n", 3, 4, "explain");
    expect_fault(HEAD GOOD "q2,waves,State a fact.,state,AO9,1,,a fact\n", 3, 5, "AO9");
    expect_fault(HEAD GOOD "q2,waves,State a fact.,state,AO1,two,,a fact\n", 3, 6, "two");
    expect_fault(HEAD GOOD "q2,waves,State a fact.,state,AO1,1,,\n", 3, 8, "there is no marking point");
    expect_fault(HEAD GOOD "q2,waves,State a fact.,state,AO1,1,some 2,a fact\n", 3, 7, "'some 2' is no group");
    expect_fault(HEAD GOOD "q2,waves,State two.,state,AO1,2,,a fact\nq2,shore,,,,,,another\n", 4, 2, "differs from row 3");
    expect_fault(HEAD GOOD "q2,waves,State two.,state,AO1,2,,a fact\nq2,,,,,,,another,,,,metod\n", 4, 12, "wanted plain, method, accuracy, independent or implied");
    expect_fault(HEAD GOOD "q2,waves,State.,state,AO1,1,,fact,,stem {H},H is 3\n", 3, 11, "a given is written");
    expect_fault(HEAD "one,waves,State a fact.,state,AO1,1,,a fact\n", 2, 1, "has a question 'one' already");
    expect_fault(HEAD GOOD "q2,waves,State.,state,AO1,1,,fact\n" GOOD, 4, 1, "begins in row 2 already");
    expect_fault(HEAD GOOD "q2,waves,State two.,state,AO1,2,,a fact\n", 3, 6, "marks");
}

Test(authoring, all_faulty_rows_are_told_at_once, .init = set_up, .fini = tear_down)
{
    cr_expect_not(import(HEAD "q1,tides,State.,state,AO1,1,,fact\nq2,waves,State.,state,AO1,x,,fact\n" GOOD, false));
    cr_expect_geq(messages.count, 2);
}

Test(authoring, levels_caps_and_bands_are_groups, .init = set_up, .fini = tear_down)
{
    bool imported = import(HEAD "e,shore,Evaluate a wall.,evaluate,AO3,4,level 1,one side,,,,\ne,,,,,,level 2-3,both sides,,,,\n"
                           "e,,,,,,cap 1,no judgement,,,,\ne,,,,,,indicative,costs,,,,\ne,,,,,,band 1,clear,,,,\n", false);
    messages_print(&messages);
    cr_assert(imported);
    struct arena *arena = arena_new();
    struct bank *bank = bank_open(bank_file, false, &messages);
    const struct question *question = bank_question(bank, (size_t)bank_find(bank, "e"), arena, &messages);
    const struct node *root = &question->parts[0].scheme.root;
    cr_assert_eq(root->child_count, 2);
    cr_expect_eq(root->children[0].level_count, 2);
    cr_expect_eq(root->children[0].levels[1].to, 3);
    cr_expect_eq(root->children[0].cap_count, 1);
    cr_expect_eq(root->children[0].indicative_count, 1);
    cr_expect_eq(root->children[1].band_count, 1);
    bank_close(bank);
    arena_free(arena);
}

Test(authoring, routes_and_look_alike_groups_stay_apart, .init = set_up, .fini = tear_down)
{
    bool imported = import(HEAD "r,shore,State.,state,AO1,4,route by sea,one,,,,\nr,,,,,,route by sea,two,,,,\nr,,,,,,route by land,three,,,,\n"
                           "r,,,,,,route by land,four,,,,\nr,,,,,,any 1 (x),five,,,,\nr,,,,,,any 1 (y),six,,,,\n", false);
    messages_print(&messages);
    cr_assert(imported);
    struct arena *arena = arena_new();
    struct bank *bank = bank_open(bank_file, false, &messages);
    const struct node *root = &bank_question(bank, (size_t)bank_find(bank, "r"), arena, &messages)->parts[0].scheme.root;
    cr_assert_eq(root->child_count, 3);
    cr_expect_eq(root->children[0].child_count, 2);
    cr_expect_str_eq(root->children[0].children[1].name, "by land");
    cr_expect_eq(root->children[1].child_count, 1);
    bank_close(bank);
    arena_free(arena);
}

/* Both sides of the limit: nothing of a name is cut off unsaid. */
static void add_routes_named(struct buffer *table, size_t bytes)
{
    buffer_add(table, HEAD "r,shore,State.,state,AO1,1,route a,one,,,,\nr,,,,,,route ");
    buffer_add_repeated(table, "n", bytes - strlen("route "));
    buffer_add(table, ",two,,,,\n");
}

Test(authoring, the_name_of_a_route_is_kept_whole_or_refused, .init = set_up, .fini = tear_down)
{
    struct buffer table = BUFFER_EMPTY, again = BUFFER_EMPTY;
    add_routes_named(&table, 128);
    expect_fault(buffer_text(&table), 3, 7, "more than 127 bytes; shorten it");
    buffer_clear(&table);
    add_routes_named(&table, 127);
    cr_assert(import(buffer_text(&table), false));
    struct arena *arena = arena_new();
    struct bank *bank = bank_open(bank_file, false, &messages);
    size_t index = (size_t)bank_find(bank, "r");
    struct question question = *bank_question(bank, index, arena, &messages);
    cr_expect_eq(strlen(question.parts[0].scheme.root.children[0].children[1].name), 127 - strlen("route "));
    cr_assert(sheet_write(bank, &index, 1, &again, &messages));
    cr_expect_eq(messages.count, 0);
    bank_close(bank);
    buffer_clear(&table), buffer_clear(&again);
    cr_assert(file_read(bank_file, 1 << 24, &again, &messages));
    const char *name = strstr(buffer_text(&again), "nnnn");
    buffer_add_bytes(&table, buffer_text(&again), (size_t)(name - buffer_text(&again)));
    buffer_print(&table, "n%s", name);
    put(bank_file, buffer_text(&table), table.length);
    bank = bank_open(bank_file, false, &messages);
    cr_assert(sheet_write(bank, &index, 1, &again, &messages));
    cr_assert_eq(messages.count, 1);
    cr_expect(strstr(messages.items[0].text, "the name of a route is too long"));
    bank_close(bank);
    arena_free(arena);
    buffer_free(&table), buffer_free(&again);
}
