/* A bank's file keeps every byte that was not meant to change. Common practice, no source. */
#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "bank/change.h"
#include "base/buffer.h"
#include "base/files.h"

static char folder[] = "/tmp/ownmark-change-XXXXXX";
static char path[64];
static struct messages messages;
static struct buffer before, after;

static const char new_question[] =
    "  <question id=\"new\" topic=\"waves\">\n"
    "    <part objective=\"AO1\" command=\"name\" marks=\"1\">\n"
    "      <ask><p>Name a wave.</p></ask>\n"
    "      <scheme>\n"
    "        <point>swell</point>\n"
    "      </scheme>\n"
    "    </part>\n"
    "  </question>\n";

static void put(const char *bytes, size_t length)
{
    FILE *file = fopen(path, "wb");
    cr_assert(file != NULL);
    cr_assert_eq(fwrite(bytes, 1, length, file), length);
    fclose(file);
    buffer_clear(&before);
    buffer_add_bytes(&before, bytes, length);
}

static void set_up(void)
{
    struct buffer bank = BUFFER_EMPTY;
    cr_assert(mkdtemp(folder) != NULL);
    snprintf(path, sizeof path, "%s/bank.xml", folder);
    cr_assert(file_read("tests/data/cycle.xml", 1 << 20, &bank, &messages));
    put(buffer_text(&bank), bank.length);
    buffer_free(&bank);
}

static void tear_down(void)
{
    unlink(path), rmdir(folder);
    buffer_free(&before), buffer_free(&after);
    messages_free(&messages);
}

static void read_back(void)
{
    buffer_clear(&after);
    cr_assert(file_read(path, 1 << 20, &after, &messages));
}

static void expect_untouched(const char *why)
{
    read_back();
    cr_expect_eq(after.length, before.length, "%s", why);
    cr_expect_str_eq(buffer_text(&after), buffer_text(&before), "%s", why);
}

/* What is left when the new text is cut out again. */
static void expect_only_added(const char *added)
{
    read_back();
    char *at = strstr(after.text, added);
    cr_assert(at != NULL, "%s", buffer_text(&after));
    memmove(at, at + strlen(added), strlen(at + strlen(added)) + 1);
    cr_expect_str_eq(after.text, buffer_text(&before));
}

Test(bank, change_adds_a_question_and_nothing_else, .init = set_up, .fini = tear_down)
{
    const struct bank_change change = {NULL, new_question};
    struct buffer added = BUFFER_EMPTY;
    cr_assert(bank_change(path, &change, 1, &messages));
    buffer_print(&added, "\n%s", new_question);
    expect_only_added(buffer_text(&added));
    buffer_free(&added);
}

Test(bank, change_adds_before_the_real_end, .init = set_up, .fini = tear_down)
{
    const struct bank_change change = {NULL, new_question};
    struct buffer bank = BUFFER_EMPTY;
    buffer_print(&bank, "%s<!-- </bank> -->\n", buffer_text(&before));
    put(buffer_text(&bank), bank.length);
    buffer_free(&bank);
    cr_assert(bank_change(path, &change, 1, &messages));
    read_back();
    cr_expect_lt(strstr(buffer_text(&after), "id=\"new\""), strstr(buffer_text(&after), "</bank>"));
}

Test(bank, change_keeps_the_line_ends_of_the_file, .init = set_up, .fini = tear_down)
{
    const struct bank_change change = {NULL, new_question};
    struct buffer bank = BUFFER_EMPTY;
    for (const char *at = buffer_text(&before); *at; at++) {
        buffer_add(&bank, *at == '\n' ? "\r" : "");
        buffer_add_character(&bank, *at);
    }
    put(buffer_text(&bank), bank.length);
    buffer_free(&bank);
    cr_assert(bank_change(path, &change, 1, &messages));
    read_back();
    for (size_t i = 0; i < after.length; i++)
        if (after.text[i] == '\n')
            cr_assert(i > 0 && after.text[i - 1] == '\r', "a bare line end at byte %zu", i);
}

Test(bank, change_replaces_one_question_in_its_place, .init = set_up, .fini = tear_down)
{
    const struct bank_change change = {"list", new_question};
    cr_assert(bank_change(path, &change, 1, &messages));
    read_back();
    const char *start = strstr(buffer_text(&before), "<question id=\"list\"");
    const char *end = strstr(start, "</question>") + strlen("</question>");
    size_t head = (size_t)(start - buffer_text(&before)), tail = strlen(end);
    cr_expect_eq(strncmp(buffer_text(&after), buffer_text(&before), head), 0);
    cr_expect_str_eq(after.text + after.length - tail, end);
    cr_expect(strstr(buffer_text(&after), "<question id=\"new\""));
    cr_expect_not(strstr(buffer_text(&after), "id=\"list\""));
}

Test(bank, change_refuses_and_leaves_the_file_alone, .init = set_up, .fini = tear_down)
{
    const struct bank_change gone = {"nobody", new_question};
    cr_expect_not(bank_change(path, &gone, 1, &messages));
    expect_untouched("a question that is not there");
    const struct bank_change twice[] = {{NULL, new_question}, {NULL, new_question}};
    cr_expect_not(bank_change(path, twice, 2, &messages));
    expect_untouched("an id twice");
    const struct bank_change broken = {NULL, "  <question id=\"broken\">\n"};
    cr_expect_not(bank_change(path, &broken, 1, &messages));
    expect_untouched("no XML");
    cr_expect_geq(messages.errors, 3);
}

Test(bank, change_goes_through_a_link_and_keeps_the_mode, .init = set_up, .fini = tear_down)
{
    const struct bank_change change = {NULL, new_question};
    char link[80];
    struct stat state;
    snprintf(link, sizeof link, "%s/link.xml", folder);
    cr_assert_eq(symlink("bank.xml", link), 0);
    cr_assert_eq(chmod(path, 0640), 0);
    cr_assert(bank_change(link, &change, 1, &messages));
    cr_assert_eq(lstat(link, &state), 0);
    cr_expect(S_ISLNK(state.st_mode));
    cr_assert_eq(stat(path, &state), 0);
    cr_expect_eq(state.st_mode & 0777, 0640);
    read_back();
    cr_expect(strstr(buffer_text(&after), "id=\"new\""));
    unlink(link);
}

Test(bank, create_writes_a_sound_bank_once, .init = set_up, .fini = tear_down)
{
    char other[80];
    snprintf(other, sizeof other, "%s/other.xml", folder);
    cr_expect(bank_create(other, buffer_text(&before), before.length, &messages));
    cr_expect_not(bank_create(other, buffer_text(&before), before.length, &messages), "it exists");
    unlink(other);
    cr_expect_not(bank_create(other, "<bank/>", 7, &messages));
    cr_expect_neq(access(other, F_OK), 0, "no sound bank");
}
