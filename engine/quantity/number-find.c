/* Finds the numbers of a prose text. What a digit means is decided by its neighbours: a letter before it
 * makes it part of a word, "figure" makes it a label, a line's start and a bracket make it a list marker. */
#include "quantity/number.h"

#include <assert.h>
#include <string.h>
#include <strings.h>
#include "quantity/characters.h"
#include "quantity/number-parts.h"
#include "quantity/unit.h"

static bool is_word_part(uint32_t code)
{
    return character_is_letter(code) || character_is_digit(code) || character_subscript(code) >= 0 || code == '_'
        || character_superscript(code) >= 0;
}

static bool is_vulgar_fraction(uint32_t code)
{
    return (code >= 0xBC && code <= 0xBE) || (code >= 0x2150 && code <= 0x215E);
}

/* Could a magnitude start here? */
static bool starts_magnitude(const char *text, const char *at)
{
    uint32_t code = character_at(at, NULL);
    if (character_is_digit(code) || is_vulgar_fraction(code))
        return true;
    if (code != '.' || !character_is_digit((unsigned char)at[1]))
        return false;
    uint32_t before = character_before(text, at, NULL);
    return before != '.' && !is_word_part(before);   /* "...5" and "v.5" are no .5 */
}

/* Takes one character off the front if it is wanted, returning the new start. */
static const char *before_code(const char *text, const char *at, uint32_t *code)
{
    size_t length;
    *code = character_before(text, at, &length);
    return at - length;
}

/* In 5x3 the x is a times sign, and what follows is a number of its own. */
static bool is_times_between_digits(const char *text, const char *x)
{
    return (*x == 'x' || *x == 'X') && character_is_digit(character_before(text, x, NULL));
}

/* Exponents and indices: ^2, ^-1, ^(2), ^{-1}, _2, _{1}. */
static bool is_raised_or_lowered(const char *text, const char *at)
{
    uint32_t code;
    const char *before = before_code(text, at, &code);
    if (character_is_minus(code) || code == '+')
        before = before_code(text, before, &code);
    if (code == '(' || code == '{')
        before_code(text, before, &code);
    return code == '^' || code == '_';
}

/* CO2, s-1, carbon-14, H₂4. */
static bool is_in_word(const char *text, const char *at)
{
    uint32_t code;
    const char *before = before_code(text, at, &code);
    if (character_is_letter(code) && is_times_between_digits(text, before))
        return false;
    if (code == '-' || code == 0x2010 || code == 0x2011)
        return character_is_letter(character_before(text, before, NULL));
    return is_word_part(code) && !character_is_digit(code);
}

static bool equals_word(const char *start, size_t length, const char *word)
{
    return strlen(word) == length && strncasecmp(start, word, length) == 0;
}

/* Is the word before a number one that makes it a label? */
static bool is_label(const char *text, const char *at)
{
    static const char *const labels[] = {
        "part", "parts", "question", "questions", "figure", "figures", "fig", "table", "tables", "section", "page",
        "equation", "eq", "chapter", "step", "stage", "point", "method", "trial", "line", "row", "column", "no",
        "number", "paper", "unit", "level", "ao", "experiment", "graph", "source", "extract", "item",
    };
    const char *end = at;
    size_t length;
    while (character_is_space(character_before(text, end, &length)) || (end > text && end[-1] == '.'))
        end -= end[-1] == '.' ? 1 : length;
    const char *start = end;
    while (character_is_letter(character_before(text, start, &length)))
        start -= length;
    if (end == at || start == end)
        return false;
    for (size_t i = 0; i < sizeof labels / sizeof *labels; i++)
        if (equals_word(start, (size_t)(end - start), labels[i]))
            return true;
    return false;
}

/* "1) ", "(1) ", "2. ", "3: " with text behind, at the start of a line. */
static bool is_list_marker(const char *text, const char *at)
{
    const char *start = at;
    while (start > text && (start[-1] == ' ' || start[-1] == '\t' || start[-1] == '('))
        start--;
    if (start > text && start[-1] != '\n' && start[-1] != '\r')
        return false;
    size_t digits = strspn(at, "0123456789");
    if (digits < 1 || digits > 2 || !strchr(").:", at[digits]) || at[digits] == '\0')
        return false;
    const char *behind = at + digits + 1, *next = skip_spaces(behind);
    return next > behind && *next != '\0' && *next != '\n' && *next != '\r';
}

static bool is_ordinal(const char *at)
{
    static const char *const endings[] = {"st", "nd", "rd", "th"};
    for (size_t i = 0; i < sizeof endings / sizeof *endings; i++)
        if (skip_word(at, endings[i]))
            return true;
    return false;
}

/* Letters that touch a number must be its unit (5kg), or it is part of a word (3D, part 2b, 2CO₂). */
static bool ends_well(const char *at)
{
    uint32_t code = character_at(at, NULL);
    if (code == '^' || code == '_' || character_superscript(code) >= 0 || character_subscript(code) >= 0)
        return false;
    if (!character_is_letter(code))
        return true;
    if ((code == 'x' || code == 'X') && character_is_digit(character_at(skip_spaces(at + 1), NULL)))
        return true;
    struct unit_readings readings;
    size_t length = is_ordinal(at) ? 0 : unit_read_prefix(at, &readings);
    return length > 0 && !is_word_part(character_at(at + length, NULL));
}

/* The sign before a number, if it is one: in 7-2 and (a)-2 the hyphen is none, in "= -2" it is. */
static const char *with_sign(const char *text, const char *at)
{
    uint32_t code, before;
    const char *sign = before_code(text, at, &code);
    if (!character_is_minus(code) && code != '+')
        return at;
    before_code(text, sign, &before);
    return is_word_part(before) || before == ')' || before == '.' || before == '%' ? at : sign;
}

static const char *back_over_spaces(const char *text, const char *at)
{
    size_t length;
    while (character_is_space(character_before(text, at, &length)))
        at -= length;
    return at;
}

static const char *with_currency(const char *text, const char *at)
{
    const char *plain = back_over_spaces(text, at);
    for (size_t back = 1; back <= 3 && (size_t)(plain - text) >= back; back++)
        if (currency_length(plain - back) == back)
            return plain - back;
    return at;
}

/* Takes in what belongs to the number and stands before its first digit. */
static const char *lead_start(const char *text, const char *at)
{
    uint32_t code;
    const char *start = with_sign(text, with_currency(text, with_sign(text, at)));
    const char *about = before_code(text, back_over_spaces(text, start), &code);
    return code == '~' || code == 0x2248 || code == 0x223C ? about : start;
}

/* "between 3 and 5" starts at "between". NULL: no such word stands before. */
static const char *word_before(const char *text, const char *start, const char *word)
{
    const char *end = back_over_spaces(text, start);
    size_t length = strlen(word);
    if (end == start || (size_t)(end - text) < length || strncasecmp(end - length, word, length) != 0)
        return NULL;
    return is_word_part(character_before(text, end - length, NULL)) ? NULL : end - length;
}

static enum reading read_in_prose(const char *text, const char *at, struct number *number, const char **end)
{
    const char *start = lead_start(text, at);
    const char *lead = word_before(text, start, "between");
    lead = lead ? lead : word_before(text, start, "from");
    enum reading reading = lead ? number_at(lead, true, number, end) : READING_NONE;
    if (reading == READING_NUMBER)
        start = lead;
    else
        reading = number_at(start, true, number, end);
    if (reading == READING_NUMBER) {
        number->start = (size_t)(start - text);
        number->length = (size_t)(*end - start);
    }
    return reading;
}

/* Over the rest of what was no number: 2CO, 1.2.3, 12,50,3, 2026-05-18. */
static const char *skip_token(const char *at)
{
    size_t length;
    for (;; at += length) {
        uint32_t code = character_at(at, &length);
        bool joined = (code == '.' || code == ',' || code == '/' || code == '-')
                   && character_is_digit((unsigned char)at[1]);
        if (code == 0 || (!is_word_part(code) && !is_vulgar_fraction(code) && !joined))
            return at;
    }
}

size_t numbers_find(const char *text, struct number *found, size_t limit)
{
    size_t count = 0, length;
    const char *at = text;
    while (*at != '\0' && count < limit) {
        if (!starts_magnitude(text, at)) {
            character_at(at, &length);
            at += length;
            continue;
        }
        const char *end = at;
        bool wanted = !is_in_word(text, at) && !is_raised_or_lowered(text, at) && !is_label(text, at)
                   && !is_list_marker(text, at);
        if (wanted && read_in_prose(text, at, &found[count], &end) == READING_NUMBER && ends_well(end) && !is_precision_note(end)) {
            assert(end > at);
            count++;
            at = end;
        } else {
            at = skip_token(at);
        }
    }
    return count;
}
