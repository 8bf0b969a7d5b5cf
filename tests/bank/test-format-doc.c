/* Every example in docs/bank-format.md is a sound bank when what it leaves open is put around it. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include <criterion/criterion.h>

#include "bank/check.h"
#include "base/buffer.h"
#include "base/files.h"
#include "base/text.h"

static const char bank_start[] = "<bank xmlns=\"urn:ownmark:bank:1\" id=\"doc\">\n";
static const char question_start[] = "<question id=\"q\" topic=\"shore\">\n";
static const char any_part[] =
    "<part objective=\"AO1\" command=\"state\" marks=\"1\"><ask><p>State it.</p></ask>"
    "<scheme><point>it</point></scheme></part>\n";

static struct buffer course;

static void wrap(const char *example, struct buffer *out)
{
    bool is_course = text_starts_with(example, "<course"), is_question = text_starts_with(example, "<question");
    buffer_add(out, bank_start);
    buffer_add(out, is_course ? example : buffer_text(&course));
    if (!is_question)
        buffer_add(out, question_start);
    if (!is_course)
        buffer_add(out, example);
    if (!is_question && !text_starts_with(example, "<part"))
        buffer_add(out, any_part);
    buffer_add(out, is_question ? "</bank>\n" : "</question></bank>\n");
}

static void check_example(const char *folder, const char *example, unsigned long line)
{
    struct buffer xml = BUFFER_EMPTY, text = BUFFER_EMPTY;
    struct messages messages = MESSAGES_EMPTY;
    char *path = path_join(folder, "doc.xml");
    wrap(example, &xml);
    cr_assert(file_write(path, buffer_text(&xml), xml.length, 0600, true, &messages));
    struct bank_check found = bank_check(path, &messages, NULL, NULL);
    messages_render(&messages, 0, &text);
    cr_expect(found.sound && messages.count == 0, "the example at line %lu:\n%s", line, buffer_text(&text));
    unlink(path);
    free(path);
    buffer_free(&xml);
    buffer_free(&text);
    messages_free(&messages);
}

Test(bank, format_document_examples)
{
    char folder[] = "/tmp/ownmark-format-XXXXXX", name[64];
    struct messages messages = MESSAGES_EMPTY;
    struct buffer doc = BUFFER_EMPTY;
    cr_assert(file_read("docs/bank-format.md", 1 << 20, &doc, &messages));
    cr_assert(mkdtemp(folder));
    snprintf(name, sizeof name, "%s/figures", folder);
    cr_assert_eq(mkdir(name, 0700), 0);
    snprintf(name, sizeof name, "%s/figures/profile.svg", folder);
    cr_assert(file_write(name, "<svg/>", 6, 0600, false, &messages));

    size_t examples = 0;
    unsigned long line = 1;
    for (char *at = doc.text, *end; (end = strstr(at, "\n```xml\n")); at = end) {
        char *example = end + strlen("\n```xml\n");
        for (; at < example; at++)
            line += *at == '\n';
        end = strstr(example, "\n```");
        cr_assert(end);
        *end++ = '\0';
        if (text_starts_with(example, "<course"))
            buffer_add(&course, example);
        check_example(folder, example, line);
        for (; at < end - 1; at++)
            line += *at == '\n';
        line++;
        examples++;
    }
    cr_expect_geq(examples, 10);
    unlink(name);
    *strrchr(name, '/') = '\0';
    rmdir(name);
    rmdir(folder);
    buffer_free(&course);
    buffer_free(&doc);
    messages_free(&messages);
}
