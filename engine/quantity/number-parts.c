/* Reads a magnitude: what of a number is left without sign, currency, range and percent. */
#include "quantity/number-parts.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "quantity/characters.h"

enum { GROUP = 3, FRACTION_DIGITS = 6, EXPONENT_DIGITS = 4 };

/* Digits on their way in. Leading zeros are counted, not kept: they are no figures. */
struct written {
    char digits[NUMBER_DIGITS + 2];
    int count;
    int whole;              /* digits kept from before the point */
    int zeros_behind_point; /* before the first kept digit */
    int places;
    bool behind_point;
    bool point_seen;
    bool grouped;
    bool too_long;
};

static int digit_run(const char *at)
{
    int count = 0;
    while (character_is_digit((unsigned char)at[count]) && count < 1000)
        count++;
    return count;
}

static void add_digit(struct written *written, char digit)
{
    if (written->behind_point)
        written->places++;
    if (written->count == 0 && digit == '0') {
        written->zeros_behind_point += written->behind_point;
        return;
    }
    if (written->count > NUMBER_DIGITS) {
        written->too_long = true;
        return;
    }
    written->digits[written->count++] = digit;
    written->whole += !written->behind_point;
}

static const char *add_digits(struct written *written, const char *at, int count)
{
    for (int i = 0; i < count; i++)
        add_digit(written, at[i]);
    return at + count;
}

static bool stands_point_and_digit(const char *at)
{
    return (*at == '.' || *at == ',') && character_is_digit((unsigned char)at[1]);
}

/* Behind a group mark that is `mark` (a comma or one kind of space), if exactly `digits` digits follow. */
static const char *behind_mark(const char *at, uint32_t mark, int digits)
{
    size_t length;
    if (character_at(at, &length) != mark || digit_run(at + length) != digits)
        return NULL;
    return at + length;
}

static const char *read_whole_part(const char *at, struct written *written)
{
    int first = digit_run(at);
    bool may_be_grouped = first >= 1 && first <= GROUP && *at != '0';
    at = add_digits(written, at, first);
    uint32_t mark = character_at(at, NULL);
    if (!may_be_grouped || !(mark == ',' || character_is_space(mark)) || mark == '\t')
        return at;
    for (const char *group; !written->too_long && (group = behind_mark(at, mark, GROUP)) != NULL; written->grouped = true)
        at = add_digits(written, group, GROUP);
    return at;
}

/* 6.022 140 76: groups of three behind the point; the last may be shorter. In prose a short group right
 * behind the first is more likely another number. */
static const char *read_groups_behind_point(const char *at, bool prose, struct written *written)
{
    uint32_t mark = character_at(at, NULL);
    if (!character_is_space(mark) || mark == '\t')
        return at;
    bool any = false;
    for (const char *group; !written->too_long && (group = behind_mark(at, mark, GROUP)) != NULL; any = true)
        at = add_digits(written, group, GROUP);
    for (int digits = any ? 1 : 2; (any || !prose) && digits < GROUP; digits++) {
        const char *group = behind_mark(at, mark, digits);
        if (group)
            return add_digits(written, group, digits);
    }
    return at;
}

static const char *read_behind_point(const char *at, bool prose, struct written *written)
{
    int digits = digit_run(at);
    written->point_seen = written->behind_point = true;
    at = add_digits(written, at, digits);
    return digits == GROUP ? read_groups_behind_point(at, prose, written) : at;
}

static bool ends_number(const char *at)
{
    uint32_t code = character_at(at, NULL);
    return code == 0 || character_is_space(code) || code == '\n' || code == '\r';
}

static enum reading read_mantissa(const char *at, bool prose, struct written *written, const char **end)
{
    *written = (struct written){.count = 0};
    bool whole = character_is_digit((unsigned char)*at);
    if (!whole && !(*at == '.' && stands_point_and_digit(at)))
        return READING_NONE;
    at = read_whole_part(at, written);
    if (*at == '.' && stands_point_and_digit(at))
        at = read_behind_point(at + 1, prose, written);
    else if (*at == ',' && stands_point_and_digit(at) && !written->grouped)
        at = read_behind_point(at + 1, prose, written);
    else if (*at == '.' && !prose && ends_number(at + 1)) {
        written->point_seen = true;
        at++;
    }
    if (written->too_long || written->count > NUMBER_DIGITS || stands_point_and_digit(at))
        return READING_UNDECIDED;
    *end = at;
    return READING_NUMBER;
}

static const char *read_superscript(const char *at, int *value)
{
    size_t length;
    bool minus = character_is_super_minus(character_at(at, &length));
    if (minus)
        at += length;
    int digits = 0, digit;
    *value = 0;
    while ((digit = character_superscript(character_at(at, &length))) >= 0 && digits++ < EXPONENT_DIGITS) {
        *value = *value * 10 + digit;
        at += length;
    }
    *value = minus ? -*value : *value;
    return digits > 0 && digits <= EXPONENT_DIGITS ? at : NULL;
}

static const char *read_signed(const char *at, int *value)
{
    size_t length;
    bool minus = character_is_minus(character_at(at, &length));
    if (minus || *at == '+')
        at += length;
    int digits = digit_run(at);
    if (digits < 1 || digits > EXPONENT_DIGITS)
        return NULL;
    *value = minus ? -atoi(at) : atoi(at);
    return at + digits;
}

/* What may stand behind a 10: ⁸, ^8, ^(-8), ^{-8}, **8. */
static const char *read_power(const char *at, int *value)
{
    if (*at != '^' && strncmp(at, "**", 2) != 0)
        return read_superscript(at, value);
    at = skip_spaces(at + (*at == '^' ? 1 : 2));
    char close = *at == '(' ? ')' : *at == '{' ? '}' : '\0';
    const char *end = read_signed(close ? at + 1 : at, value);
    if (!end || !close)
        return end;
    return *end == close ? end + 1 : NULL;
}

static bool is_times(uint32_t code)
{
    return code == 'x' || code == 'X' || code == 0xD7 || code == '*' || code == 0xB7 || code == 0x22C5 || code == 0x2715;
}

/* "× 10⁸" or "x10-3" (a raised exponent that lost its height). NULL: none stands here. */
static const char *read_times_ten(const char *at, int *exponent)
{
    size_t length;
    at = skip_spaces(at);
    if (!is_times(character_at(at, &length)))
        return NULL;
    at = skip_spaces(at + length);
    if (digit_run(at) != 2 || strncmp(at, "10", 2) != 0)
        return NULL;
    const char *end = read_power(at + 2, exponent);
    if (!end && character_is_minus(character_at(at + 2, NULL)))
        end = read_signed(at + 2, exponent);
    return end;
}

/* Behind "million" and its like; NULL if none stands here. */
static const char *read_large_word(const char *at, int *exponent)
{
    static const struct { const char *word; int exponent; } words[] = {{"thousand", 3}, {"million", 6}, {"billion", 9}};
    const char *word = skip_spaces(at);
    for (size_t i = 0; word > at && i < sizeof words / sizeof *words; i++) {
        const char *behind = skip_word(word, words[i].word);
        if (behind) {
            *exponent = words[i].exponent;
            return behind;
        }
    }
    return NULL;
}

static enum reading read_exponent(const char *at, int *exponent, const char **end)
{
    *end = at;
    if (*at == 'e' || *at == 'E') {
        const char *behind = read_signed(at + 1, exponent);
        if (!behind)
            return character_is_letter(character_at(at + 1, NULL)) ? READING_NONE : READING_UNDECIDED;
        *end = behind;
    } else {
        const char *behind = read_times_ten(at, exponent);
        if (!behind)
            return READING_NONE;
        *end = behind;
    }
    bool goes_on = character_is_digit((unsigned char)**end) || stands_point_and_digit(*end);
    return goes_on ? READING_UNDECIDED : READING_NUMBER;
}

static void take_digits(const struct written *written, struct decimal *value)
{
    int count = written->count < NUMBER_DIGITS ? written->count : NUMBER_DIGITS;
    *value = (struct decimal){.digits = "0"};
    if (written->count == 0)
        return;
    memcpy(value->digits, written->digits, (size_t)count);
    value->digits[count] = '\0';
    value->point = written->whole > 0 ? written->whole : -written->zeros_behind_point;
}

static void count_figures(const struct written *written, bool standard, struct magnitude *magnitude)
{
    int all = written->count, low = all;
    if (!written->point_seen && !standard)
        while (low > 1 && written->digits[low - 1] == '0')
            low--;
    magnitude->figures_low = low;
    magnitude->figures_high = all > 0 ? all : 1;   /* zero: none or one */
    magnitude->places = written->places;
}

struct ratio { unsigned long whole, above, below; };

/* Long division, to one digit more than is kept; the last kept digit is rounded. */
static void divide(struct ratio ratio, struct magnitude *magnitude)
{
    assert(ratio.below > 0);
    struct written written = {.count = 0};
    unsigned long above = ratio.whole * ratio.below + ratio.above, left = above % ratio.below;
    char whole[24];
    snprintf(whole, sizeof whole, "%lu", above / ratio.below);
    add_digits(&written, whole, (int)strlen(whole));
    written.behind_point = true;
    while (left > 0 && written.count <= NUMBER_DIGITS) {
        add_digit(&written, (char)('0' + left * 10 / ratio.below));
        left = left * 10 % ratio.below;
    }
    take_digits(&written, &magnitude->value);
    if (written.count > NUMBER_DIGITS && written.digits[NUMBER_DIGITS] >= '5') {
        struct decimal *value = &magnitude->value;
        int last = NUMBER_DIGITS - 1;
        while (last > 0 && value->digits[last] == '9')
            value->digits[last--] = '0';
        value->digits[last]++;   /* a fraction of six-digit numbers never has forty nines */
        assert(value->digits[last] <= '9');
    }
    magnitude->approximate = (double)above / (double)ratio.below;
    magnitude->form = ratio.whole > 0 ? NUMBER_MIXED : NUMBER_FRACTION;
    magnitude->figures_low = magnitude->figures_high = magnitude->places = 0;
}

static const char *read_vulgar(const char *at, struct ratio *ratio)
{
    static const struct { uint32_t code; unsigned char above, below; } signs[] = {
        {0xBC, 1, 4}, {0xBD, 1, 2}, {0xBE, 3, 4}, {0x2150, 1, 7}, {0x2151, 1, 9}, {0x2152, 1, 10}, {0x2153, 1, 3},
        {0x2154, 2, 3}, {0x2155, 1, 5}, {0x2156, 2, 5}, {0x2157, 3, 5}, {0x2158, 4, 5}, {0x2159, 1, 6},
        {0x215A, 5, 6}, {0x215B, 1, 8}, {0x215C, 3, 8}, {0x215D, 5, 8}, {0x215E, 7, 8},
    };
    size_t length;
    uint32_t code = character_at(at, &length);
    for (size_t i = 0; i < sizeof signs / sizeof *signs; i++) {
        if (signs[i].code == code) {
            ratio->above = signs[i].above;
            ratio->below = signs[i].below;
            return at + length;
        }
    }
    return NULL;
}

/* n/d of whole numbers; READING_UNDECIDED for 1/0 and for dates (3/5/2024). */
static enum reading read_slashed(const char *at, struct ratio *ratio, const char **end)
{
    int above = digit_run(at);
    if (above < 1 || above > FRACTION_DIGITS)
        return READING_NONE;
    size_t length;
    uint32_t slash = character_at(at + above, &length);
    const char *behind = at + above + length;
    int below = digit_run(behind);
    if ((slash != '/' && slash != 0x2044) || below < 1 || below > FRACTION_DIGITS || stands_point_and_digit(behind + below))
        return READING_NONE;
    ratio->above = strtoul(at, NULL, 10);
    ratio->below = strtoul(behind, NULL, 10);
    *end = behind + below;
    bool date = **end == '/' && character_is_digit((unsigned char)(*end)[1]);
    return ratio->below == 0 || date ? READING_UNDECIDED : READING_NUMBER;
}

/* 1/3, ½, 2½, 2 ½, 2 1/2. */
static enum reading read_fraction(const char *at, struct magnitude *magnitude, const char **end)
{
    struct ratio ratio = {0, 0, 1};
    enum reading reading = READING_NUMBER;
    const char *vulgar = read_vulgar(at, &ratio);
    if (vulgar) {
        *end = vulgar;
    } else if ((reading = read_slashed(at, &ratio, end)) == READING_NONE) {
        int whole = digit_run(at);
        if (whole < 1 || whole > FRACTION_DIGITS)
            return READING_NONE;
        ratio.whole = strtoul(at, NULL, 10);
        const char *behind = skip_spaces(at + whole);
        vulgar = read_vulgar(behind, &ratio);
        if (vulgar)
            *end = vulgar;
        else if (behind == at + whole || read_slashed(behind, &ratio, end) != READING_NUMBER || ratio.above >= ratio.below)
            return READING_NONE;
        reading = READING_NUMBER;
    }
    if (reading == READING_NUMBER)
        divide(ratio, magnitude);
    return reading;
}

/* 10⁸ and 10^-5 alone: a mantissa of 1. */
static const char *read_bare_power(const char *at, struct magnitude *magnitude)
{
    int exponent;
    if (digit_run(at) != 2 || strncmp(at, "10", 2) != 0)
        return NULL;
    const char *end = read_power(at + 2, &exponent);
    if (end)
        *magnitude = (struct magnitude){.value = {.digits = "1", .point = exponent + 1},
                                        .form = NUMBER_STANDARD_FORM, .figures_low = 1, .figures_high = 1};
    return end;
}

static enum reading finish(struct magnitude *magnitude)
{
    magnitude->approximate = decimal_to_double(&magnitude->value);
    bool lost = !isfinite(magnitude->approximate)
             || (magnitude->approximate == 0 && strcmp(magnitude->value.digits, "0") != 0);
    return lost ? READING_UNDECIDED : READING_NUMBER;
}

enum reading magnitude_read(const char *text, bool prose, struct magnitude *magnitude, const char **end)
{
    *magnitude = (struct magnitude){.form = NUMBER_PLAIN};
    enum reading reading = read_fraction(text, magnitude, end);
    if (reading != READING_NONE)
        return reading;
    if ((*end = read_bare_power(text, magnitude)) != NULL)
        return finish(magnitude);
    struct written written;
    reading = read_mantissa(text, prose, &written, end);
    if (reading != READING_NUMBER)
        return reading;
    int exponent = 0;
    const char *behind_word = read_large_word(*end, &exponent);
    enum reading with_exponent = READING_NUMBER;
    if (behind_word)
        *end = behind_word;
    else
        with_exponent = read_exponent(*end, &exponent, end);
    magnitude->exponent_in_words = behind_word != NULL;
    if (with_exponent == READING_UNDECIDED)
        return READING_UNDECIDED;
    bool standard = with_exponent == READING_NUMBER;
    magnitude->form = standard ? NUMBER_STANDARD_FORM : NUMBER_PLAIN;
    take_digits(&written, &magnitude->value);
    magnitude->exponent = exponent;
    if (written.count > 0)
        magnitude->value.point += exponent;
    count_figures(&written, standard, magnitude);
    return finish(magnitude);
}
