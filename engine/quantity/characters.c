#include "quantity/characters.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>
#include <unictype.h>
#include <unistr.h>

enum { REPLACEMENT = 0xFFFD };

uint32_t character_at(const char *text, size_t *length)
{
    ucs4_t code = 0;
    int bytes = u8_strmbtouc(&code, (const uint8_t *)text);
    if (bytes < 0) {
        code = REPLACEMENT;
        bytes = 1;
    }
    if (length)
        *length = (size_t)bytes;
    return code;
}

uint32_t character_before(const char *text, const char *at, size_t *length)
{
    ucs4_t code = 0;
    size_t bytes = 0;
    if (at > text) {
        const uint8_t *start = u8_prev(&code, (const uint8_t *)at, (const uint8_t *)text);
        bytes = start ? (size_t)((const uint8_t *)at - start) : 1;
        if (!start)
            code = REPLACEMENT;
    }
    if (length)
        *length = bytes;
    return code;
}

bool character_is_space(uint32_t code)
{
    return code == ' ' || code == '\t' || code == 0xA0 || (code >= 0x2000 && code <= 0x200A) || code == 0x202F
        || code == 0x205F || code == 0x3000;
}

bool character_is_minus(uint32_t code)
{
    return code == '-' || (code >= 0x2010 && code <= 0x2013) || code == 0x2212 || code == 0xFE63 || code == 0xFF0D;
}

bool character_is_letter(uint32_t code)
{
    if ((code >= 'a' && code <= 'z') || (code >= 'A' && code <= 'Z'))
        return true;
    if (code < 0x80 || (code >= 0x2070 && code <= 0x209F))
        return false;
    return uc_is_property_alphabetic(code);
}

bool character_is_digit(uint32_t code)
{
    return code >= '0' && code <= '9';
}

int character_superscript(uint32_t code)
{
    switch (code) {
    case 0xB9: return 1;
    case 0xB2: return 2;
    case 0xB3: return 3;
    case 0x2070: return 0;
    default: return code >= 0x2074 && code <= 0x2079 ? (int)(code - 0x2070) : -1;
    }
}

bool character_is_super_minus(uint32_t code)
{
    return code == 0x207B || code == 0xAF;   /* the macron is what some keyboards offer instead */
}

int character_subscript(uint32_t code)
{
    return code >= 0x2080 && code <= 0x2089 ? (int)(code - 0x2080) : -1;
}

const char *skip_spaces(const char *text)
{
    size_t length;
    while (character_is_space(character_at(text, &length)))
        text += length;
    return text;
}

const char *skip_blanks(const char *text)
{
    for (;;) {
        text = skip_spaces(text);
        if (*text != '\n' && *text != '\r')
            return text;
        text++;
    }
}

const char *skip_word(const char *text, const char *word)
{
    size_t length = strlen(word);
    if (strncasecmp(text, word, length) != 0 || character_is_letter(character_at(text + length, NULL)))
        return NULL;
    return text + length;
}

void add_superscript(struct buffer *out, int value)
{
    static const char *const raised[10] = {"⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"};
    char plain[16];
    snprintf(plain, sizeof plain, "%d", value);
    for (const char *at = plain; *at; at++)
        buffer_add(out, *at == '-' ? "⁻" : raised[*at - '0']);
}

size_t currency_length(const char *text)
{
    static const char *const signs[] = {"£", "$", "€", "¥"};
    for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
        if (strncmp(text, signs[i], strlen(signs[i])) == 0)
            return strlen(signs[i]);
    return 0;
}
