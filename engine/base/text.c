#include "base/text.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>
#include <unicase.h>
#include <unictype.h>
#include <unigbrk.h>
#include <uninorm.h>
#include <unistr.h>
#include <uniwidth.h>

#include "base/memory.h"

enum { ROTATING_COUNTS = 8 };

bool text_is_valid(const char *bytes, size_t length)
{
    return length == 0 || (!memchr(bytes, '\0', length) && !u8_check((const uint8_t *)bytes, length));
}

size_t text_width_bytes(const char *text, size_t length)
{
    const uint8_t *at = (const uint8_t *)text;
    size_t width = 0;
    while (length > 0) {
        ucs4_t character;
        int taken = u8_mbtouc(&character, at, length);
        int columns = uc_width(character, "UTF-8"); /* negative for control characters */
        if (columns > 0)
            width += (size_t)columns;
        at += taken;
        length -= (size_t)taken;
    }
    return width;
}

size_t text_width(const char *text)
{
    return text_width_bytes(text, strlen(text));
}

size_t text_fit(const char *text, size_t columns)
{
    return text_fit_bytes(text, strlen(text), columns);
}

size_t text_fit_bytes(const char *text, size_t length, size_t columns)
{
    const uint8_t *start = (const uint8_t *)text, *end = start + length, *at = start;
    size_t width = 0;
    while (at < end) {
        const uint8_t *next = u8_grapheme_next(at, end);
        width += text_width_bytes((const char *)at, (size_t)(next - at));
        if (width > columns)
            break;
        at = next;
    }
    return (size_t)(at - start);
}

/* Bytes of the white-space character at the start of text; 0 when it is another or the end. */
static size_t white_space_at(const char *text, size_t length, ucs4_t *character)
{
    if (length == 0)
        return 0;
    int taken = u8_mbtouc(character, (const uint8_t *)text, length);
    return uc_is_property_white_space(*character) ? (size_t)taken : 0;
}

static size_t leading_white_space(const char *text, size_t length)
{
    ucs4_t character;
    size_t at = 0, taken;
    while ((taken = white_space_at(text + at, length - at, &character)) > 0)
        at += taken;
    return at;
}

/* The length without the white space at the end; each step back goes to the start of a character. */
static size_t length_without_trailing_space(const char *text, size_t length)
{
    ucs4_t character;
    const uint8_t *start = (const uint8_t *)text;
    while (length > 0) {
        const uint8_t *before = u8_prev(&character, start + length, start);
        if (!before || !uc_is_property_white_space(character))
            break;
        length = (size_t)(before - start);
    }
    return length;
}

char *text_trim(char *text)
{
    size_t length = length_without_trailing_space(text, strlen(text));
    text[length] = '\0';
    return text + leading_white_space(text, length);
}

static bool is_no_break_space(ucs4_t character)
{
    return character == 0x00a0 || character == 0x2007 || character == 0x202f;
}

void text_add_folded_space(struct buffer *out, const char *text)
{
    size_t length = strlen(text);
    bool in_run = false;
    while (length > 0) {
        ucs4_t character;
        int taken = u8_mbtouc(&character, (const uint8_t *)text, length);
        bool space = uc_is_property_white_space(character) && !is_no_break_space(character);
        if (!space)
            buffer_add_bytes(out, text, (size_t)taken);
        else if (!in_run)
            buffer_add_character(out, ' ');
        in_run = space;
        text += taken;
        length -= (size_t)taken;
    }
}

bool text_is_blank(const char *text)
{
    size_t length = strlen(text);
    return leading_white_space(text, length) == length;
}

bool text_is_id(const char *text, size_t length)
{
    static const char letters[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz", others[] = "0123456789._-";
    for (size_t i = 0; i < length; i++)
        if (!memchr(letters, text[i], sizeof letters - 1) && (i == 0 || !memchr(others, text[i], sizeof others - 1)))
            return false;
    return length >= 1 && length <= 64;
}

static void add_case_folded_bytes(struct buffer *out, const char *text, size_t length)
{
    if (length == 0)
        return;
    size_t folded_length = 0;
    uint8_t *folded = u8_casefold((const uint8_t *)text, length, NULL, UNINORM_NFC, NULL, &folded_length);
    if (!folded)
        memory_exhausted();
    buffer_add_bytes(out, (const char *)folded, folded_length);
    free(folded);
}

void text_add_case_folded(struct buffer *out, const char *text)
{
    add_case_folded_bytes(out, text, strlen(text));
}

static void add_trimmed_and_folded(struct buffer *out, const char *text)
{
    size_t length = length_without_trailing_space(text, strlen(text));
    size_t start = leading_white_space(text, length);
    add_case_folded_bytes(out, text + start, length - start);
}

bool text_equal_ignoring_case(const char *a, const char *b)
{
    assert(a && b);
    struct buffer left = BUFFER_EMPTY, right = BUFFER_EMPTY;
    add_trimmed_and_folded(&left, a);
    add_trimmed_and_folded(&right, b);
    bool equal = text_equal(buffer_text(&left), buffer_text(&right));
    buffer_free(&left);
    buffer_free(&right);
    return equal;
}

bool text_starts_with(const char *text, const char *prefix)
{
    return strncmp(text, prefix, strlen(prefix)) == 0;
}

bool text_equal(const char *a, const char *b)
{
    return a && b ? strcmp(a, b) == 0 : a == b;
}

const char *text_count(long n, const char *one, const char *many)
{
    static struct buffer results[ROTATING_COUNTS];
    static unsigned turn;

    struct buffer *result = &results[turn++ % ROTATING_COUNTS];
    buffer_clear(result);
    buffer_print(result, "%ld %s", n, n == 1 ? one : many);
    return buffer_text(result);
}
