/* The set of characters made visible is the header's; the words of each form are our own. */
#include <stdio.h>
#include <string.h>
#include <unistr.h>

#include "base/random.h"
#include "base/text.h"
#include "trial.h"

static void check_safe(const char *bytes, size_t length, const char *expected)
{
    struct buffer out = BUFFER_EMPTY;
    text_add_safe_bytes(&out, bytes, length);
    check_text(buffer_text(&out), expected);
    buffer_free(&out);
}

/* The list written out again as ranges, apart from the code. */
static bool should_be_visible(uint32_t c)
{
    static const uint32_t ranges[][2] = {
        {0x00, 0x08}, {0x0b, 0x1f}, {0x7f, 0x7f}, {0x80, 0x9f}, {0x061c, 0x061c}, {0x200e, 0x200f},
        {0x202a, 0x202e}, {0x2066, 0x2069}, {0x2028, 0x2029}, {0xe0000, 0xe007f}};
    for (size_t i = 0; i < sizeof ranges / sizeof *ranges; i++)
        if (c >= ranges[i][0] && c <= ranges[i][1])
            return true;
    return false;
}

Test(base, text_safe_every_character_there_is)
{
    struct buffer out = BUFFER_EMPTY;
    for (uint32_t c = 0; c <= 0x10ffff; c++) {
        char bytes[8] = {0}, expected[16];
        int length = u8_uctomb((uint8_t *)bytes, c, sizeof bytes);
        if (length < 0)
            continue; /* a surrogate */
        buffer_clear(&out);
        text_add_safe_bytes(&out, bytes, (size_t)length);
        snprintf(expected, sizeof expected, "<U+%04X>", c);
        const char *wanted = should_be_visible(c) ? expected : c == '\t' ? " " : bytes;
        cr_assert(strcmp(buffer_text(&out), wanted) == 0, "U+%04X gave [%s]", c, buffer_text(&out));
        cr_assert(text_is_unsafe_character(c) == should_be_visible(c), "U+%04X", c);
    }
    buffer_free(&out);
}

Test(base, text_safe_within_text)
{
    check_safe("", 0, "");
    check_safe("two\nlines\there", 14, "two\nlines here");
    check_safe("\033]0;title\007\033[2J", 14, "<U+001B>]0;title<U+0007><U+001B>[2J");
    check_safe("a\0b\rc", 5, "a<U+0000>b<U+000D>c");
    check_safe("x\xc2\x9b" "31m", 6, "x<U+009B>31m");
    struct buffer out = BUFFER_EMPTY;
    text_add_safe(&out, "שלום \u202eabc\u2069 \u05d0");
    check_text(buffer_text(&out), "שלום <U+202E>abc<U+2069> \u05d0");
    buffer_free(&out);
}

Test(base, text_safe_bytes_that_are_not_utf8)
{
    check_safe("a\xff" "b", 3, "a<0xFF>b");
    check_safe("\xc0\x80", 2, "<0xC0><0x80>");
    check_safe("\xe2\x82", 2, "<0xE2><0x82>");
    check_safe("\xe2\x82z", 3, "<0xE2><0x82>z");
    check_safe("\xed\xa0\x80", 3, "<0xED><0xA0><0x80>");
    check_safe("\x9b" "31m", 4, "<0x9B>31m");
    /* A broken sequence must not swallow what follows it. */
    check_safe("\xf0\x9f\033[m", 5, "<0xF0><0x9F><U+001B>[m");
}

static void check_marks(const char *before, size_t marks, const char *between, size_t more, size_t kept)
{
    struct buffer text = BUFFER_EMPTY, out = BUFFER_EMPTY;
    buffer_add(&text, before);
    buffer_add_repeated(&text, "\u0301", marks);
    buffer_add(&text, between);
    buffer_add_repeated(&text, "\u0302", more);
    text_add_safe(&out, buffer_text(&text));
    size_t found = 0;
    for (const char *at = buffer_text(&out); *at; at++)
        found += strncmp(at, "\u0301", 2) == 0 || strncmp(at, "\u0302", 2) == 0;
    cr_expect(found == kept, "%zu marks + '%s' + %zu: %zu kept, not %zu", marks, between, more, found, kept);
    buffer_free(&text);
    buffer_free(&out);
}

Test(base, text_safe_cuts_combining_marks)
{
    check_marks("e", 8, "", 0, 8);
    check_marks("e", 9, "", 0, 8);
    check_marks("e", 500, "", 500, 8);
    check_marks("", 9, "", 0, 8);
    check_marks("e", 9, "o", 9, 16);
    check_marks("e", 9, "\n", 9, 16);
    check_marks("e", 5, "\u200d", 5, 8);   /* a joiner does not begin another cell */
    check_marks("e", 5, "\u0488", 5, 7);   /* an enclosing mark is one of the eight */
}

/* Whatever comes in: what goes out is valid, has no unsafe character, and is safe unchanged. */
Test(base, text_safe_property_random_bytes)
{
    uint64_t seed = trial_seed(74);
    struct random_source source = {seed};
    static const char *const pieces[] = {"\033[", "\xc2", "\xe2\x80", "\u202e", "\u0301", "a", "\xf3\xa0\x80", "é", "\n"};
    for (int round = 0; round < 3000; round++) {
        struct buffer text = BUFFER_EMPTY, once = BUFFER_EMPTY, twice = BUFFER_EMPTY;
        for (uint64_t left = random_below(&source, 40); left > 0; left--) {
            if (random_below(&source, 2))
                buffer_add_character(&text, (char)random_below(&source, 256));
            else
                buffer_add(&text, pieces[random_below(&source, sizeof pieces / sizeof *pieces)]);
        }
        text_add_safe_bytes(&once, buffer_text(&text), text.length);
        text_add_safe_bytes(&twice, buffer_text(&once), once.length);
        cr_assert(text_is_valid(buffer_text(&once), once.length), "seed %lu, round %d", seed, round);
        cr_assert(strcmp(buffer_text(&once), buffer_text(&twice)) == 0, "seed %lu, round %d", seed, round);
        buffer_free(&text);
        buffer_free(&once);
        buffer_free(&twice);
    }
}
