/* Locale encodings, through iconv. */
#include "terminal/charset.h"

#include <iconv.h>
#include <inttypes.h>
#include <langinfo.h>
#include <locale.h>
#include <stdio.h>
#include <string.h>
#include <unistr.h>

#include "base/text.h"

static char codeset[64] = "UTF-8";

struct neighbour {
    uint32_t character;
    const char *ascii;
};

static const struct neighbour neighbours[] = {
    {0x00a0, " "}, {0x2009, " "}, {0x202f, " "}, {0x2010, "-"}, {0x2011, "-"}, {0x2012, "-"}, {0x2013, "-"},
    {0x2014, "--"}, {0x2018, "'"}, {0x2019, "'"}, {0x201c, "\""}, {0x201d, "\""}, {0x2022, "*"}, {0x2026, "..."},
    {0x2212, "-"},
};

void charset_set(const char *name)
{
    snprintf(codeset, sizeof codeset, "%s", name);
}

void charset_from_environment(void)
{
    charset_set(setlocale(LC_CTYPE, "") ? nl_langinfo(CODESET) : "ANSI_X3.4-1968");
}

bool charset_is_utf8(void)
{
    return strcmp(codeset, "UTF-8") == 0;
}

static bool is_ascii(void)
{
    return strcmp(codeset, "ANSI_X3.4-1968") == 0;
}

static void add_substitute(struct buffer *out, uint32_t character)
{
    for (size_t i = 0; i < sizeof neighbours / sizeof *neighbours; i++) {
        if (neighbours[i].character == character) {
            buffer_add(out, neighbours[i].ascii);
            return;
        }
    }
    buffer_print(out, "<U+%04" PRIX32 ">", character);
}

/* converter: (iconv_t)-1 when the system knows no way from UTF-8 to the locale. */
static void add_character(struct buffer *out, iconv_t converter, const char *bytes, size_t length)
{
    char converted[16], *to = converted, *from = (char *)(uintptr_t)bytes;
    size_t room = sizeof converted, left = length;
    ucs4_t character;
    if (converter != (iconv_t)-1 && iconv(converter, &from, &left, &to, &room) == 0) {
        buffer_add_bytes(out, converted, (size_t)(to - converted));
        return;
    }
    u8_mbtouc(&character, (const uint8_t *)bytes, length);
    add_substitute(out, character);
}

void charset_add_outward(struct buffer *out, const char *text)
{
    if (charset_is_utf8()) {
        buffer_add(out, text);
        return;
    }
    iconv_t converter = iconv_open(codeset, "UTF-8");
    while (*text) {
        int length = u8_mblen((const uint8_t *)text, strlen(text) < 4 ? strlen(text) : 4);
        size_t taken = length > 0 ? (size_t)length : 1;
        if (taken == 1)
            buffer_add_character(out, *text);
        else
            add_character(out, converter, text, taken);
        text += taken;
    }
    if (converter != (iconv_t)-1)
        iconv_close(converter);
}

static bool convert_inward(struct buffer *out, const char *typed, size_t length)
{
    iconv_t converter = iconv_open("UTF-8", codeset);
    if (converter == (iconv_t)-1)
        return false;
    char *from = (char *)(uintptr_t)typed;
    bool good = true;
    while (length > 0 && good) {
        char converted[256], *to = converted;
        size_t room = sizeof converted, before = length;
        iconv(converter, &from, &length, &to, &room);
        buffer_add_bytes(out, converted, (size_t)(to - converted));
        good = length < before;
    }
    iconv_close(converter);
    return good;
}

bool charset_add_inward(struct buffer *out, const char *typed, size_t length)
{
    size_t start = out->length;
    bool good = true;
    if (charset_is_utf8() || is_ascii())
        buffer_add_bytes(out, typed, length);
    else
        good = convert_inward(out, typed, length);
    good = good && text_is_valid(buffer_text(out) + start, out->length - start);
    if (!good)
        buffer_shorten(out, start);
    return good;
}
