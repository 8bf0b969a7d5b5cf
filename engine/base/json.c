#include "base/json.h"

#include <assert.h>
#include <inttypes.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistr.h>

#include "base/text.h"

enum { DEEPEST = sizeof ((struct json *)NULL)->fresh / sizeof(bool) - 1 };

static void add_escaped(struct buffer *out, ucs4_t character)
{
    static const char shorthand[] = "\bb\ff\nn\rr\tt\"\"\\\\";

    const char *pair = character < 0x80 && character ? strchr(shorthand, (int)character) : NULL;
    if (pair)
        buffer_print(out, "\\%c", (pair - shorthand) % 2 ? pair[0] : pair[1]);
    else if (character < 0x10000)
        buffer_print(out, "\\u%04" PRIx32, character);
    else
        buffer_print(out, "\\u%04" PRIx32 "\\u%04" PRIx32, 0xd800 + ((character - 0x10000) >> 10),
                     0xdc00 + ((character - 0x10000) & 0x3ff));
}

/* Whatever a terminal would obey is escaped too: the result may be shown on one as it is. */
static void add_quoted(struct buffer *out, const char *text)
{
    const uint8_t *at = (const uint8_t *)text;
    size_t left = strlen(text);
    buffer_add_character(out, '"');
    while (left > 0) {
        ucs4_t character;
        int taken = u8_mbtoucr(&character, at, left);
        size_t length = taken > 0 ? (size_t)taken : 1;
        if (taken <= 0)
            add_escaped(out, 0xfffd);
        else if (character == '"' || character == '\\' || character == '\n' || character == '\t' ||
                 text_is_unsafe_character(character))
            add_escaped(out, character);
        else
            buffer_add_bytes(out, (const char *)at, length);
        at += length;
        left -= length;
    }
    buffer_add_character(out, '"');
}

/* What goes before every value: the comma and the name. */
static void begin_value(struct json *json, const char *name)
{
    assert((name != NULL) == json->named[json->depth]);
    if (!json->fresh[json->depth])
        buffer_add_character(json->out, ',');
    json->fresh[json->depth] = false;
    if (name) {
        add_quoted(json->out, name);
        buffer_add_character(json->out, ':');
    }
}

static void open_container(struct json *json, const char *name, char bracket)
{
    begin_value(json, name);
    assert(json->depth < DEEPEST);
    json->depth++;
    json->fresh[json->depth] = true;
    json->named[json->depth] = bracket == '{';
    buffer_add_character(json->out, bracket);
}

static void close_container(struct json *json, char bracket)
{
    assert(json->depth > 0);
    assert(json->named[json->depth] == (bracket == '}'));
    json->depth--;
    buffer_add_character(json->out, bracket);
}

void json_begin(struct json *json, struct buffer *out)
{
    *json = (struct json){.out = out};
    json->fresh[0] = true;
}

void json_object(struct json *json, const char *name)
{
    open_container(json, name, '{');
}

void json_array(struct json *json, const char *name)
{
    open_container(json, name, '[');
}

void json_close_object(struct json *json)
{
    close_container(json, '}');
}

void json_close_array(struct json *json)
{
    close_container(json, ']');
}

void json_text(struct json *json, const char *name, const char *text)
{
    begin_value(json, name);
    if (text)
        add_quoted(json->out, text);
    else
        buffer_add(json->out, "null");
}

void json_whole(struct json *json, const char *name, int64_t value)
{
    begin_value(json, name);
    buffer_print(json->out, "%" PRId64, value);
}

/* printf writes the locale's decimal point, which need not be one byte; JSON wants a full stop. */
static void add_with_full_stop(struct buffer *out, const char *digits)
{
    const char *point = localeconv()->decimal_point;
    const char *found = strstr(digits, point);
    if (!found) {
        buffer_add(out, digits);
        return;
    }
    buffer_add_bytes(out, digits, (size_t)(found - digits));
    buffer_add_character(out, '.');
    buffer_add(out, found + strlen(point));
}

void json_number(struct json *json, const char *name, double value)
{
    enum { DIGITS_THAT_SUFFICE = 17 };
    const double largest_written_out = 1e15;
    char digits[64];

    begin_value(json, name);
    if (!isfinite(value)) {
        buffer_add(json->out, "null");
        return;
    }
    if (fabs(value) < largest_written_out && value == trunc(value)) {
        snprintf(digits, sizeof digits, "%.0f", value);
    } else {
        int precision = 1;
        do
            snprintf(digits, sizeof digits, "%.*g", precision, value);
        while (strtod(digits, NULL) != value && ++precision <= DIGITS_THAT_SUFFICE);
    }
    add_with_full_stop(json->out, digits);
}

void json_truth(struct json *json, const char *name, bool value)
{
    begin_value(json, name);
    buffer_add(json->out, value ? "true" : "false");
}

void json_null(struct json *json, const char *name)
{
    begin_value(json, name);
    buffer_add(json->out, "null");
}
