#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/json.h"
#include "base/random.h"
#include "trial.h"

Test(base, json_commas_and_names)
{
    struct buffer out = BUFFER_EMPTY;
    struct json json;
    json_begin(&json, &out);
    json_object(&json, NULL);
    json_text(&json, "id", "w04");
    json_array(&json, "ticks");
    json_whole(&json, NULL, 1);
    json_whole(&json, NULL, INT64_MIN);
    json_truth(&json, NULL, true);
    json_null(&json, NULL);
    json_object(&json, NULL);
    json_close_object(&json);
    json_array(&json, NULL);
    json_close_array(&json);
    json_close_array(&json);
    json_truth(&json, "full", false);
    json_null(&json, "cause");
    json_text(&json, "note", NULL);
    json_number(&json, "share", 0.25);
    json_close_object(&json);
    check_text(buffer_text(&out), "{\"id\":\"w04\",\"ticks\":[1,-9223372036854775808,true,null,{},[]],"
                                  "\"full\":false,\"cause\":null,\"note\":null,\"share\":0.25}");
    buffer_free(&out);
}

Test(base, json_begin_appends_to_what_stands)
{
    struct buffer out = BUFFER_EMPTY;
    struct json json;
    buffer_add(&out, "line\n");
    json_begin(&json, &out);
    json_text(&json, NULL, "");
    check_text(buffer_text(&out), "line\n\"\"");
    buffer_free(&out);
}

Test(base, json_deepest_nesting)
{
    struct buffer out = BUFFER_EMPTY, expected = BUFFER_EMPTY;
    struct json json;
    json_begin(&json, &out);
    for (int i = 0; i < 63; i++)
        json_array(&json, NULL);
    for (int i = 0; i < 63; i++)
        json_close_array(&json);
    buffer_add_repeated(&expected, "[", 63);
    buffer_add_repeated(&expected, "]", 63);
    check_text(buffer_text(&out), buffer_text(&expected));
    buffer_free(&out);
    buffer_free(&expected);
}

static void check_quoted(const char *text, const char *expected)
{
    struct buffer out = BUFFER_EMPTY;
    struct json json;
    json_begin(&json, &out);
    json_text(&json, NULL, text);
    check_text(buffer_text(&out), expected);
    buffer_free(&out);
}

/* RFC 8259, section 7: the short escapes it lists, and \u00XX for the other control characters. */
Test(base, json_escapes_every_control_character)
{
    static const char *const shorthand[0x20] = {
        ['\b'] = "\"\\b\"", ['\t'] = "\"\\t\"", ['\n'] = "\"\\n\"", ['\f'] = "\"\\f\"", ['\r'] = "\"\\r\""};
    for (int c = 1; c < 0x20; c++) {
        char text[2] = {(char)c, '\0'}, expected[16];
        snprintf(expected, sizeof expected, "\"\\u%04x\"", (unsigned)c);
        check_quoted(text, shorthand[c] ? shorthand[c] : expected);
    }
    for (int c = 0x20; c < 0x7f; c++) {
        char text[2] = {(char)c, '\0'}, expected[8];
        snprintf(expected, sizeof expected, c == '"' || c == '\\' ? "\"\\%c\"" : "\"%c\"", c);
        check_quoted(text, expected);
    }
}

Test(base, json_escapes_what_a_terminal_would_obey)
{
    check_quoted("a\x7f\xc2\x9b" "b", "\"a\\u007f\\u009bb\"");
    check_quoted("\u202e\u2028\u2069\u061c", "\"\\u202e\\u2028\\u2069\\u061c\"");
    check_quoted("\U000E0041", "\"\\udb40\\udc41\"");   /* surrogate pair: computed by Python 3.11 json.dumps */
    check_quoted("x² – 10⁸ 日 🙂", "\"x² – 10⁸ 日 🙂\"");
}

Test(base, json_replaces_what_is_not_utf8)
{
    check_quoted("a\xff" "b\xe2\x82", "\"a\\ufffdb\\ufffd\\ufffd\"");
}

Test(base, json_escapes_names)
{
    struct buffer out = BUFFER_EMPTY;
    struct json json;
    json_begin(&json, &out);
    json_object(&json, NULL);
    json_null(&json, "a\"b");
    json_close_object(&json);
    check_text(buffer_text(&out), "{\"a\\\"b\":null}");
    buffer_free(&out);
}

/* The caller frees. */
static char *number_text(double value)
{
    struct buffer out = BUFFER_EMPTY;
    struct json json;
    json_begin(&json, &out);
    json_number(&json, NULL, value);
    return buffer_take(&out);
}

/* Shortest digits: those of Python 3.11 repr(); how they are written out is ours. */
Test(base, json_numbers)
{
    static const struct { double value; const char *text; } known[] = {
        {0, "0"}, {-0.0, "-0"}, {1, "1"}, {-1.5, "-1.5"}, {0.1, "0.1"}, {100000, "100000"}, {1e22, "1e+22"},
        {123456789012345, "123456789012345"}, {1e15, "1e+15"}, {5e-324, "5e-324"}, {0.30000000000000004, "0.30000000000000004"},
        {1.7976931348623157e308, "1.7976931348623157e+308"}, {2.2250738585072014e-308, "2.2250738585072014e-308"},
        {6.022e23, "6.022e+23"}, {1.0 / 3, "0.3333333333333333"}, {9007199254740992, "9007199254740992"},
        {(double)INFINITY, "null"}, {-(double)INFINITY, "null"}, {(double)NAN, "null"}};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        char *text = number_text(known[i].value);
        check_text(text, known[i].text);
        free(text);
    }
}

Test(base, json_number_property_reads_back_to_the_same_bits)
{
    uint64_t seed = trial_seed(73);
    struct random_source source = {seed};
    for (int i = 0; i < 20000; i++) {
        uint64_t bits = random_next(&source), again;
        double value, read;
        memcpy(&value, &bits, sizeof value);
        if (!isfinite(value))
            continue;
        char *text = number_text(value);
        char *end;
        read = strtod(text, &end);
        memcpy(&again, &read, sizeof again);
        cr_assert(again == bits && *end == '\0', "seed %lu: %a written as %s", seed, value, text);
        cr_assert(strspn(text, "0123456789+-.e") == strlen(text), "seed %lu: %s", seed, text);
        free(text);
    }
}
