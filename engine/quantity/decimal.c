/* Arithmetic on struct decimal (number.h). Everything here works on the digits; doubles appear only where
 * one is asked for or given. */
#include "quantity/number.h"

#include <assert.h>
#include <float.h>
#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "quantity/characters.h"

/* Plain notation reaches down to 0.00001; further down the zeros are hard to count. */
enum { SMALLEST_PLAIN_POINT = -4, LARGEST_PLAIN_POINT = 7, KEY_FIGURES_THAT_HOLD = 14 };

static bool is_zero(const struct decimal *value)
{
    return value->digits[strspn(value->digits, "0")] == '\0';
}

static struct decimal zero(void)
{
    return (struct decimal){.negative = false, .digits = "0", .point = 0};
}

double decimal_to_double(const struct decimal *value)
{
    /* Without a decimal point in the text strtod does the same in every locale. */
    char text[NUMBER_DIGITS + 24];
    snprintf(text, sizeof text, "%s%se%d", value->negative ? "-" : "", value->digits,
             value->point - (int)strlen(value->digits));
    return strtod(text, NULL);
}

/* Any decimal of at most 15 digits comes back from a normal double when it is printed with 15 (C11 5.2.4.2.2,
 * DBL_DIG): where 15 digits read back they are the shortest ones with zeros behind. */
static void shortest_text(double value, char text[48])
{
    for (int digits = fabs(value) < DBL_MIN ? 1 : DBL_DIG; digits <= DBL_DECIMAL_DIG; digits++) {
        snprintf(text, 48, "%.*e", digits - 1, value);
        if (strtod(text, NULL) == value)
            return;
    }
}

bool decimal_from_double(double value, struct decimal *result)
{
    *result = zero();
    if (!isfinite(value))
        return false;
    if (value == 0.0)
        return true;
    char text[48];
    shortest_text(value, text);
    size_t count = 0;
    const char *at = text;
    for (; *at != 'e'; at++)
        if (character_is_digit((unsigned char)*at))
            result->digits[count++] = *at;
    while (count > 1 && result->digits[count - 1] == '0')
        count--;
    result->digits[count] = '\0';
    result->negative = value < 0;
    result->point = atoi(at + 1) + 1;
    return true;
}

static int compare_magnitudes(const struct decimal *a, const struct decimal *b)
{
    if (is_zero(a) || is_zero(b))
        return (int)is_zero(b) - (int)is_zero(a);
    if (a->point != b->point)
        return a->point < b->point ? -1 : 1;
    /* Behind the end of one number stand zeros: 3.1 and 3.10 are equal. */
    size_t length_a = strlen(a->digits), length_b = strlen(b->digits);
    for (size_t i = 0; i < length_a || i < length_b; i++) {
        char digit_a = i < length_a ? a->digits[i] : '0', digit_b = i < length_b ? b->digits[i] : '0';
        if (digit_a != digit_b)
            return digit_a < digit_b ? -1 : 1;
    }
    return 0;
}

int decimal_compare(const struct decimal *a, const struct decimal *b)
{
    int magnitudes = compare_magnitudes(a, b);
    bool negative_a = a->negative && !is_zero(a), negative_b = b->negative && !is_zero(b);
    if (negative_a != negative_b)
        return negative_a ? -1 : 1;
    return negative_a ? -magnitudes : magnitudes;
}

/* Keeps the first `keep` digits (0 to NUMBER_DIGITS), padded with zeros; the carry of 9.99 lengthens the
 * number by one digit. */
static struct decimal keep_digits(const struct decimal *value, int keep)
{
    assert(keep >= 0 && keep <= NUMBER_DIGITS);
    struct decimal result = *value;
    int length = (int)strlen(value->digits);
    for (int i = length; i < keep; i++)
        result.digits[i] = '0';
    result.digits[keep] = '\0';
    if (keep >= length || value->digits[keep] < '5')
        return result;
    int at = keep - 1;
    while (at >= 0 && result.digits[at] == '9')
        result.digits[at--] = '0';
    if (at >= 0) {
        result.digits[at]++;
        return result;
    }
    memmove(result.digits + 1, result.digits, (size_t)(keep < NUMBER_DIGITS ? keep : NUMBER_DIGITS - 1));
    result.digits[0] = '1';
    result.digits[keep < NUMBER_DIGITS ? keep + 1 : NUMBER_DIGITS] = '\0';
    result.point++;
    return result;
}

struct decimal decimal_round_figures(const struct decimal *value, int figures)
{
    assert(figures >= 1);
    if (is_zero(value))
        return zero();
    if (figures > NUMBER_DIGITS)
        figures = NUMBER_DIGITS;
    struct decimal result = keep_digits(value, figures);
    result.digits[figures] = '\0';   /* after a carry: 10.0 has one figure more than 9.99 rounded to two */
    return result;
}

struct decimal decimal_round_places(const struct decimal *value, int places)
{
    long keep = (long)value->point + places;
    if (is_zero(value) || keep < 0)
        return zero();
    struct decimal result = keep_digits(value, keep > NUMBER_DIGITS ? NUMBER_DIGITS : (int)keep);
    return result.digits[0] == '\0' ? zero() : result;
}

/* Powers of ten that a double holds exactly: a quotient of two exact numbers is rounded once, as strtod rounds. */
static const double powers[] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
                                1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
enum { MOST_PLACES = sizeof powers / sizeof *powers - 1 };

double decimal_scaled_value(int64_t units, int places)
{
    assert(places >= 0 && places <= MOST_PLACES);
    if (units >= -(INT64_C(1) << DBL_MANT_DIG) && units <= INT64_C(1) << DBL_MANT_DIG)
        return (double)units / powers[places];
    char text[48];
    snprintf(text, sizeof text, "%" PRId64 "e-%d", units, places);
    return strtod(text, NULL);
}

bool decimal_round_quickly(double value, int places, double *rounded)
{
    /* Below 10^8 the product and the cut to 15 figures are off by less than 10^-6: only a tie is in doubt. */
    static const double most = 99999998, doubt = 1e-6;
    double scaled = places >= 0 && places <= MOST_PLACES ? fabs(value) * powers[places] : most;
    double below = floor(scaled), rest = scaled - below;
    bool is_tie = places == 0 && rest == 0.5;   /* the value itself, which has few digits then */
    if (!(scaled < most) || (fabs(rest - 0.5) < doubt && !is_tie))
        return false;
    double units = rest < 0.5 ? below : below + 1;
    *rounded = units == 0 ? 0 : copysign(units / powers[places], value);
    return true;
}

static bool plain_shows_figures(const struct decimal *value, int figures)
{
    int length = (int)strlen(value->digits);
    if (value->point < SMALLEST_PLAIN_POINT)
        return false;
    if (length > value->point)
        return true;
    if (figures == 0)
        return length == value->point || value->point <= LARGEST_PLAIN_POINT;
    return length == value->point && value->digits[length - 1] != '0';
}

static void print_plain(struct buffer *out, const struct decimal *value)
{
    int length = (int)strlen(value->digits);
    if (value->point <= 0) {
        buffer_add(out, "0.");
        buffer_add_repeated(out, "0", (size_t)-value->point);
        buffer_add(out, value->digits);
        return;
    }
    for (int i = 0; i < length || i < value->point; i++) {
        if (i == value->point)
            buffer_add_character(out, '.');
        buffer_add_character(out, i < length ? value->digits[i] : '0');
    }
}

void decimal_print(struct buffer *out, const struct decimal *value, int figures)
{
    assert(figures >= 0);
    if (is_zero(value)) {
        buffer_add(out, "0");
        return;
    }
    struct decimal shown = figures > 0 ? decimal_round_figures(value, figures) : *value;
    if (shown.negative)
        buffer_add(out, "−");
    if (plain_shows_figures(&shown, figures)) {
        print_plain(out, &shown);
        return;
    }
    buffer_add_character(out, shown.digits[0]);
    if (shown.digits[1])
        buffer_print(out, ".%s", shown.digits + 1);
    buffer_add(out, "\u00a0×\u00a0" "10");   /* no-break spaces: never split at a line's end */
    add_superscript(out, shown.point - 1);
}

bool number_agrees_by_figures(const struct number *given, double key, int key_figures)
{
    assert(key_figures >= 1);
    struct decimal wanted;
    if (given->form == NUMBER_RANGE || !decimal_from_double(key, &wanted))
        return false;
    /* A key that was computed carries noise in its last binary digits (0.285 may be 0.28499999999999998),
     * which must not decide a tie. */
    wanted = decimal_round_figures(&wanted, KEY_FIGURES_THAT_HOLD);
    bool exact = given->figures_high == 0;   /* a fraction shows as many figures as one likes */
    int low = exact ? key_figures : given->figures_low, high = exact ? key_figures : given->figures_high;
    for (int figures = low; figures <= high; figures++) {
        int shared = figures < key_figures ? figures : key_figures;
        shared = shared < 2 ? 2 : shared;
        struct decimal a = decimal_round_figures(&given->value, shared);
        struct decimal b = decimal_round_figures(&wanted, shared);
        if (decimal_compare(&a, &b) == 0)
            return true;
    }
    return false;
}
