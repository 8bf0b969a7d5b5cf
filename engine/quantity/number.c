/* Puts one number together: sign, currency, uncertainty, range, percent around a magnitude. */
#include "quantity/number.h"

#include <assert.h>
#include <string.h>
#include "quantity/characters.h"
#include "quantity/number-parts.h"

enum lead { LEAD_NONE, LEAD_FROM, LEAD_BETWEEN };

bool is_precision_note(const char *at)
{
    static const char *const words[] = {"sf", "s.f", "sig", "significant", "dp", "d.p", "decimal"};
    const char *word = skip_spaces(at);
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (skip_word(word, words[i]))
            return true;
    return false;
}

static const char *read_lead(const char *at, enum lead *lead)
{
    static const struct { const char *word; enum lead lead; } words[] = {{"between", LEAD_BETWEEN}, {"from", LEAD_FROM}};
    *lead = LEAD_NONE;
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        const char *behind = skip_word(at, words[i].word);
        if (behind && skip_spaces(behind) > behind) {
            *lead = words[i].lead;
            return skip_spaces(behind);
        }
    }
    return at;
}

static const char *read_sign(const char *at, bool *negative)
{
    size_t length;
    uint32_t code = character_at(at, &length);
    if (code == '+')
        return skip_spaces(at + length);
    if (!character_is_minus(code))
        return at;
    *negative = true;
    return skip_spaces(at + length);
}

static const char *read_currency(const char *at, struct number *number)
{
    size_t length = currency_length(at);
    if (length == 0)
        return at;
    assert(length < sizeof number->currency);
    number->currency_before = true;
    memcpy(number->currency, at, length);
    number->currency[length] = '\0';
    return skip_spaces(at + length);
}

static const char *skip_about(const char *at)
{
    size_t length;
    uint32_t code = character_at(at, &length);
    return code == '~' || code == 0x2248 || code == 0x223C ? skip_spaces(at + length) : at;
}

static const char *read_percent(const char *at, struct number *number)
{
    const char *behind = skip_spaces(at);
    const char *end = *behind == '%' ? behind + 1 : skip_word(behind, "percent");
    if (!end)
        end = skip_word(behind, "per cent");
    if (!end)
        return at;
    number->percent = true;
    if (number->form == NUMBER_PLAIN)
        number->form = NUMBER_PERCENT;
    return end;
}

static const char *read_uncertainty(const char *at, bool prose, struct number *number)
{
    static const char *const marks[] = {"±", "+/-", "+/−", "+-"};
    const char *behind = skip_spaces(at);
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++) {
        if (strncmp(behind, marks[i], strlen(marks[i])) != 0)
            continue;
        struct magnitude width;
        const char *end;
        if (magnitude_read(skip_spaces(behind + strlen(marks[i])), prose, &width, &end) != READING_NUMBER)
            return at;
        number->has_uncertainty = true;
        number->uncertainty = width.approximate;
        return end;
    }
    return at;
}

/* Where the upper end of a range would start. A hyphen counts only with digits on both sides, and a true
 * minus never: 5 - 3 and 5−3 are sums. */
static const char *behind_range_mark(const char *at, enum lead lead, bool *dash)
{
    size_t length;
    const char *word = skip_spaces(at);
    const char *behind = word > at ? skip_word(word, lead == LEAD_BETWEEN ? "and" : "to") : NULL;
    *dash = false;
    if (behind)
        return skip_spaces(behind) > behind ? skip_spaces(behind) : NULL;
    uint32_t code = character_at(word, &length);
    bool spaced_out = word > at && skip_spaces(word + length) > word + length;
    bool close = word == at && skip_spaces(word + length) == word + length;
    *dash = (close && (code == '-' || (code >= 0x2010 && code <= 0x2013))) || (spaced_out && code == 0x2013);
    return *dash ? skip_spaces(word + length) : NULL;
}

/* 3–5 × 10⁸ and "3 to 5 million" mean both ends. */
static void share_exponent(struct number *number, int exponent)
{
    if (number->form != NUMBER_PLAIN || exponent == 0 || strcmp(number->value.digits, "0") == 0)
        return;
    number->value.point += exponent;
    number->approximate = decimal_to_double(&number->value);
}

/* The upper end of a range, if one stands here and lies above. READING_UNDECIDED for 2026-05-18. */
static enum reading read_range(const char *at, enum lead lead, bool prose, struct number *number, const char **end)
{
    bool dash, negative = false;
    const char *behind = behind_range_mark(at, lead, &dash);
    if (!behind)
        return READING_NONE;
    behind += currency_length(behind);
    if (!dash)
        behind = read_sign(behind, &negative);
    struct magnitude upper;
    if (magnitude_read(behind, prose, &upper, end) != READING_NUMBER)
        return READING_NONE;
    size_t length;
    if (dash && character_is_minus(character_at(*end, &length)) && character_is_digit((unsigned char)(*end)[length]))
        return READING_UNDECIDED;
    struct number lower = *number;
    if (dash || upper.exponent_in_words)
        share_exponent(&lower, upper.exponent);
    upper.value.negative = negative && strcmp(upper.value.digits, "0") != 0;
    if (decimal_compare(&lower.value, &upper.value) >= 0 || *skip_spaces(*end) == '='
        || is_precision_note(*end))   /* 5 - 3 = 2; "1.25 to 3 s.f." */
        return READING_NONE;
    *number = lower;
    number->upper = upper.value;
    number->form = NUMBER_RANGE;
    return READING_NUMBER;
}

static void take_magnitude(const struct magnitude *magnitude, bool negative, struct number *number)
{
    number->value = magnitude->value;
    number->value.negative = negative && strcmp(magnitude->value.digits, "0") != 0;
    number->approximate = number->value.negative ? -magnitude->approximate : magnitude->approximate;
    number->form = magnitude->form;
    number->figures_low = magnitude->figures_low;
    number->figures_high = magnitude->figures_high;
    number->places = magnitude->places;
}

enum reading number_at(const char *text, bool prose, struct number *number, const char **end)
{
    *number = (struct number){.form = NUMBER_PLAIN};
    enum lead lead;
    bool negative = false;
    const char *at = skip_about(read_lead(text, &lead));
    at = read_currency(read_sign(at, &negative), number);
    if (!negative)
        at = read_sign(at, &negative);
    struct magnitude magnitude;
    enum reading reading = magnitude_read(at, prose, &magnitude, end);
    if (reading != READING_NUMBER)
        return reading;
    take_magnitude(&magnitude, negative, number);
    const char *plain_end = *end;
    *end = read_percent(read_uncertainty(plain_end, prose, number), number);
    const char *range_end = *end;
    number->upper = number->value;
    enum reading range = number->has_uncertainty ? READING_NONE : read_range(*end, lead, prose, number, &range_end);
    if (range == READING_UNDECIDED || (range == READING_NONE && lead != LEAD_NONE))
        return range;
    if (range == READING_NUMBER)
        *end = read_percent(range_end, number);
    return READING_NUMBER;
}

/* What may follow a number that is alone: a unit, not more arithmetic. */
static bool may_be_unit(const char *rest)
{
    uint32_t code = character_at(rest, NULL);
    if (character_is_digit(code) || character_is_minus(code) || character_superscript(code) >= 0
        || character_is_super_minus(code) || (code != 0 && code < 0x80 && strchr("+*=^.,)", (int)code))
        || code == 0xD7 || code == 0xB1)
        return false;
    if (code == 'x' || code == 'X' || code == '/')
        return !character_is_digit(character_at(skip_spaces(rest + 1), NULL));
    return true;
}

bool number_read(const char *text, struct number *number, const char **rest)
{
    const char *start = skip_blanks(text), *end = start;
    if (number_at(start, false, number, &end) != READING_NUMBER)
        return false;
    const char *behind = skip_blanks(end);
    if (rest ? !may_be_unit(behind) : *behind != '\0')
        return false;
    number->start = (size_t)(start - text);
    number->length = (size_t)(end - start);
    if (rest)
        *rest = behind;
    return true;
}
