#include "quantity/unit-parts.h"

#include <string.h>
#include "quantity/characters.h"

struct sign { uint32_t code; const char *spelling; };

static const struct sign signs[] = {
    {0xB5, "u"}, {0x3BC, "u"}, {0x3A9, "ohm"}, {0x2126, "ohm"}, {0x212A, "K"}, {0xC5, "angstrom"}, {0x212B, "angstrom"},
    {0xB0, "deg"}, {0xBA, "deg"}, {0x2DA, "deg"}, {0x2103, "degC"}, {0x2109, "degF"}, {0x2032, "arcmin"}, {0x2033, "arcsec"},
    {'%', "percent"}, {0x2030, "permille"}, {0xA3, "GBP"}, {'$', "USD"}, {0x20AC, "EUR"}, {0xB7, "*"}, {0x22C5, "*"},
    {0xD7, "*"}, {0x2219, "*"}, {0x2022, "*"}, {0xF7, "/"}, {0x2215, "/"}, {0x2044, "/"}, {0x2113, "l"},
};

static void add(struct unit_spelling *spelling, const char *text, size_t source_end)
{
    size_t length = strlen(text);
    if (spelling->length + length >= UNIT_TEXT || source_end > UNIT_TEXT * 4) {
        spelling->whole = false;
        return;
    }
    for (size_t i = 0; i < length; i++) {
        spelling->text[spelling->length] = text[i];
        spelling->end[spelling->length++] = (unsigned short)source_end;   /* at most UNIT_TEXT * 4 */
    }
}

static void add_raised(struct unit_spelling *spelling, uint32_t code, size_t source_end, bool *raised)
{
    char digit[2] = {'-', '\0'};
    int value = character_superscript(code);
    if (value >= 0)
        digit[0] = (char)('0' + value);
    bool has_sign = spelling->length > 0 && spelling->text[spelling->length - 1] == '^';
    if (!*raised && !has_sign)
        add(spelling, "^", source_end);
    add(spelling, digit, source_end);
    *raised = true;
}

static void add_one(struct unit_spelling *spelling, uint32_t code, size_t source_end)
{
    char plain[2] = {(char)(code < 0x80 ? code : '?'), '\0'};
    const char *text = plain;
    if (character_is_space(code))
        text = " ";
    else if (character_is_minus(code))
        text = "-";
    for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
        if (signs[i].code == code)
            text = signs[i].spelling;
    add(spelling, text, source_end);
}

void spelling_read(const char *text, struct unit_spelling *spelling)
{
    *spelling = (struct unit_spelling){.whole = true};
    size_t at = 0, length;
    bool raised = false;
    for (uint32_t code; spelling->whole && (code = character_at(text + at, &length)) != 0;) {
        size_t end = at + length;
        if (code == '*' && text[end] == '*') {
            add(spelling, "^", ++end);
            raised = false;
        } else if (character_superscript(code) >= 0 || character_is_super_minus(code)) {
            add_raised(spelling, code, end, &raised);
        } else {
            add_one(spelling, code, end);
            raised = false;
        }
        at = end;
    }
    spelling->text[spelling->length] = '\0';
}
