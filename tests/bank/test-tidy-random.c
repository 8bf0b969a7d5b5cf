/* The shipped banks laid out at random (white space, line ends, comments, the order of attributes, quotes) and tidied: the same bytes as
 * the bank tidied as it is, but for the comments, which are all kept; a second run changes nothing. The layouts are drawn from a
 * seed that a failure names. Common practice, no source. */
#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "bank/tidy.h"
#include "base/files.h"
#include "base/random.h"

enum { ATTRIBUTES_MOST = 24, COMMENTS_EVERY = 40 };

static char folder[] = "/tmp/ownmark-tidied-XXXXXX";
static char path[64];
static struct messages messages;
static struct random_source source;

static void set_up(void)
{
    char command[96];
    cr_assert(mkdtemp(folder) != NULL);
    snprintf(path, sizeof path, "%s/bank.xml", folder);
    snprintf(command, sizeof command, "cp -r banks/figures %s", folder);
    cr_assert_eq(system(command), 0);
}

static void tear_down(void)
{
    char command[96];
    snprintf(command, sizeof command, "rm -r %s", folder);
    cr_expect_eq(system(command), 0);
    messages_free(&messages);
}

static const char *blanks(bool needed)
{
    static const char *const some[] = {"", " ", "\n", "\t", "  \n   ", "\n\n", " \t "};
    return some[random_below(&source, 6) + needed];
}

/* ---- One tag ---------------------------------------------------------------------------------------- */

static size_t cut_attributes(const char *at, const char *end, const char *starts[], size_t lengths[])
{
    size_t count = 0;
    while (at < end) {
        while (at < end && strchr(" \t\n", *at))
            at++;
        const char *quote = at < end ? memchr(at, '"', (size_t)(end - at)) : NULL, *close = quote ? strchr(quote + 1, '"') : NULL;
        if (!close || close >= end)
            break;
        cr_assert(count < ATTRIBUTES_MOST);
        starts[count] = at;
        lengths[count++] = (size_t)(close + 1 - at);
        at = close + 1;
    }
    return count;
}

/* name="value" with blanks around =, and in single quotes where the value has none. */
static void add_attribute(struct buffer *out, const char *text, size_t length)
{
    const char *equals = memchr(text, '=', length), *value = equals + 2;
    size_t value_length = length - (size_t)(value - text) - 1;
    bool single = !memchr(value, '\'', value_length) && random_below(&source, 3) == 0;
    buffer_add_bytes(out, text, (size_t)(equals - text));
    buffer_print(out, "%s=%s%c", blanks(false), blanks(false), single ? '\'' : '"');
    buffer_add_bytes(out, value, value_length);
    buffer_add_character(out, single ? '\'' : '"');
}

/* From "<" to behind ">". */
static void add_tag(struct buffer *out, const char *tag, const char *end)
{
    const char *starts[ATTRIBUTES_MOST], *name_end = tag + strcspn(tag, " \t\n/>");
    size_t lengths[ATTRIBUTES_MOST];
    if (tag[1] == '/' || tag[1] == '?' || tag[1] == '!') {
        buffer_add_bytes(out, tag, (size_t)(end - tag));
        return;
    }
    bool empty = end[-2] == '/';
    size_t count = cut_attributes(name_end, end, starts, lengths);
    buffer_add_bytes(out, tag, (size_t)(name_end - tag));
    for (size_t left = count; left > 0; left--) {
        size_t pick = random_below(&source, left);
        buffer_add(out, blanks(true));
        add_attribute(out, starts[pick], lengths[pick]);
        starts[pick] = starts[left - 1], lengths[pick] = lengths[left - 1];
    }
    buffer_add(out, blanks(false));
    buffer_add(out, empty ? "/>" : ">");
}

/* ---- The whole file --------------------------------------------------------------------------------- */

/* Where there is white space, between tags or words, there is some other. */
static void add_words(struct buffer *out, const char *from, const char *to)
{
    while (from < to) {
        size_t run = strspn(from, " \t\n");
        run = run > (size_t)(to - from) ? (size_t)(to - from) : run;
        if (run)
            buffer_add(out, blanks(true));
        else
            buffer_add_character(out, *from), run = 1;
        from += run;
    }
}

static const char *end_of_tag(const char *tag)
{
    if (strncmp(tag, "<!--", 4) == 0)
        return strstr(tag, "-->") + 3;
    return strchr(tag, '>') + 1;
}

/* A comment between two questions. Returns how many there are now. */
static size_t add_comment(struct buffer *out, const char *tag, size_t comments)
{
    if (strncmp(tag, "<question", 9) != 0 || random_below(&source, 4) != 0)
        return comments;
    buffer_print(out, "<!-- remark %zu -->%s", comments, blanks(true));
    return comments + 1;
}

static size_t lay_out(const char *text, struct buffer *out)
{
    size_t comments = 0;
    while (*text) {
        const char *tag = strchr(text, '<'), *words_end = tag ? tag : text + strlen(text);
        add_words(out, text, words_end);
        if (!tag)
            break;
        comments = add_comment(out, tag, comments);
        text = end_of_tag(tag);
        add_tag(out, tag, text);
    }
    return comments;
}

static void tidy(const char *text, size_t length, struct buffer *out, uint64_t seed)
{
    messages_free(&messages);
    messages = MESSAGES_EMPTY;
    cr_assert(file_write(path, text, length, 0600, true, &messages));
    cr_assert(bank_tidy(path, out, &messages), "seed %lu: %s", (unsigned long)seed, messages.count ? messages.items[0].text : "");
}

/* Takes the comments out again, each with the line it stands on. */
static size_t without_remarks(struct buffer *text)
{
    size_t found = 0, kept = 0;
    char *bytes = text->text;
    for (char *line = bytes; *line;) {
        size_t length = strcspn(line, "\n"), with_end = length + (line[length] == '\n');
        bool remark = length >= 11 && memcmp(line + strspn(line, " "), "<!-- remark", 11) == 0;
        found += remark;
        if (!remark)
            memmove(bytes + kept, line, with_end), kept += with_end;
        line += with_end;
    }
    buffer_shorten(text, kept);
    return found;
}

static void try_layout(const char *plain, const struct buffer *wanted, uint64_t seed)
{
    struct buffer laid = BUFFER_EMPTY, once = BUFFER_EMPTY, twice = BUFFER_EMPTY;
    source = (struct random_source){seed};
    size_t comments = lay_out(plain, &laid);
    cr_assert(comments > 0 && !strstr(buffer_text(&laid), "\n  <question id=\""), "seed %lu: nothing was laid out", (unsigned long)seed);
    tidy(buffer_text(&laid), laid.length, &once, seed);
    tidy(buffer_text(&once), once.length, &twice, seed);
    cr_expect(once.length == twice.length && memcmp(once.text, twice.text, once.length) == 0, "seed %lu: a second run changes it",
              (unsigned long)seed);
    cr_expect_eq(without_remarks(&once), comments, "seed %lu: comments are lost", (unsigned long)seed);
    size_t same = 0;
    while (same < once.length && same < wanted->length && once.text[same] == wanted->text[same])
        same++;
    cr_expect(same == once.length && same == wanted->length, "seed %lu: differs from \"%.60s\", it is \"%.60s\"", (unsigned long)seed,
              wanted->text + same, once.text + same);
    buffer_free(&laid), buffer_free(&once), buffer_free(&twice);
}

static void try_bank(const char *bank, uint64_t first, uint64_t last)
{
    struct buffer plain = BUFFER_EMPTY, wanted = BUFFER_EMPTY;
    cr_assert(file_read(bank, 1 << 24, &plain, &messages));
    tidy(buffer_text(&plain), plain.length, &wanted, 0);
    for (uint64_t seed = first; seed <= last; seed++)
        try_layout(buffer_text(&plain), &wanted, seed);
    buffer_free(&plain), buffer_free(&wanted);
}

Test(bank, tidy_of_any_layout_of_coastal_science, .init = set_up, .fini = tear_down, .timeout = 120)
{
    try_bank("banks/coastal-science.xml", 1, 6);
}

Test(bank, tidy_of_any_layout_of_settlement_study, .init = set_up, .fini = tear_down, .timeout = 120)
{
    try_bank("banks/settlement-study.xml", 11, 16);
}

Test(bank, tidy_of_any_layout_of_small_business, .init = set_up, .fini = tear_down, .timeout = 120)
{
    try_bank("banks/small-business.xml", 21, 26);
}
