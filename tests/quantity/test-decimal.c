/* Arithmetic on decimal digits. */
#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "base/random.h"
#include "quantity/number.h"
#include "table.h"

static struct decimal decimal(const char *text)
{
    struct number number;
    cr_assert(number_read(text, &number, NULL), "'%s' was not read", text);
    return number.value;
}

static void expect_print(const struct decimal *value, int figures, const char *wanted)
{
    struct buffer out = BUFFER_EMPTY;
    decimal_print(&out, value, figures);
    cr_expect_str_eq(buffer_text(&out), wanted, "printed '%s', wanted '%s'", buffer_text(&out), wanted);
    buffer_free(&out);
}

/* "1.23e-5" and "-1.3" as this program writes them. */
static void as_printed(const char *text, char *out, size_t size)
{
    static const char *const raised[] = {"⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"};
    const char *e = strchr(text, 'e');
    bool minus = *text == '-';
    int mantissa = (int)((e ? (size_t)(e - text) : strlen(text)) - minus);
    int used = snprintf(out, size, "%s%.*s%s", minus ? "−" : "", mantissa, text + minus, e ? "\u00a0×\u00a0" "10" : "");
    for (e = e ? e + 1 : ""; *e; e++)
        used += snprintf(out + used, size - (size_t)used, "%s", *e == '-' ? "⁻" : raised[*e - '0']);
}

/* tests/data/11b: computed by Python 3.11 decimal, ROUND_HALF_UP; its NIST and GUM rows were read there. */
Test(quantity, rounding_table)
{
    struct table table;
    int rows = 0;
    table_open(&table, "tests/data/11b_sigfig_rounding.tsv");
    for (; table_next(&table); rows++) {
        struct decimal value = decimal(table.cells[0]);
        int figures = atoi(table.cells[1]);
        char wanted[96];
        as_printed(table.cells[3], wanted, sizeof wanted);
        struct decimal rounded = decimal_round_figures(&value, figures);
        expect_print(&value, figures, wanted);
        cr_expect_eq(decimal_to_double(&rounded), strtod(table.cells[3], NULL), "%s to %d", table.cells[0], figures);
    }
    table_close(&table);
    cr_expect_eq(rows, 35, "%d rows", rows);
}

Test(quantity, rounding_to_places)
{
    static const struct { const char *text; int places; const char *digits; int point; } cases[] = {
        {"1.005", 2, "101", 1}, {"2.675", 2, "268", 1}, {"1.5", 3, "1500", 1}, {"9.996", 2, "1000", 2}, {"0.7", 0, "1", 1}, {"0.4", 0, "0", 0},
        {"0.04", 0, "0", 0}, {"0.5", 0, "1", 1}, {"1234", -2, "12", 4}, {"1250", -2, "13", 4}, {"49", -2, "0", 0}, {"50", -2, "1", 3}, {"5", -2, "0", 0},
        {"0.00049", 3, "0", 0}, {"0.0005", 3, "1", -2}, {"0", 2, "0", 0}, {"99.95", 1, "1000", 3},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct decimal value = decimal(cases[i].text);
        struct decimal rounded = decimal_round_places(&value, cases[i].places);
        cr_expect_str_eq(rounded.digits, cases[i].digits, "%s to %d: %s", cases[i].text, cases[i].places, rounded.digits);
        cr_expect_eq(rounded.point, cases[i].point, "%s to %d: point %d", cases[i].text, cases[i].places, rounded.point);
    }
    struct decimal negative = decimal("-2.5"), rounded = decimal_round_places(&negative, 0);
    cr_expect(rounded.negative && strcmp(rounded.digits, "3") == 0, "half goes away from zero");
    negative = decimal("-0.4");
    cr_expect_not(decimal_round_places(&negative, 0).negative, "zero has no sign");
}

Test(quantity, rounding_at_the_limit_of_digits)
{
    struct decimal nines = decimal("9999999999999999999999999999999999999999");
    struct decimal rounded = decimal_round_figures(&nines, 39);
    cr_expect_str_eq(rounded.digits, "100000000000000000000000000000000000000");
    cr_expect_eq(rounded.point, 41);
    rounded = decimal_round_figures(&nines, 1000);
    cr_expect_eq(decimal_compare(&rounded, &nines), 0);
    struct decimal small = decimal("0.9999999999999999999999999999999999999999");
    rounded = decimal_round_places(&small, 39);
    cr_expect_eq(decimal_to_double(&rounded), 1.0);
}

Test(quantity, decimals_compare_by_value)
{
    static const struct { const char *a, *b; int order; } cases[] = {
        {"1.0", "1", 0}, {"0.10", "0.1", 0}, {"0", "0.00", 0}, {"-0", "0", 0}, {"2", "10", -1}, {"-2", "-10", 1}, {"-1", "1", -1}, {"1e3", "1000", 0},
        {"0.999", "1", -1}, {"1e-5", "0", 1}, {"-1e-5", "0", -1}, {"3.14", "3.141", -1},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct decimal a = decimal(cases[i].a), b = decimal(cases[i].b);
        cr_expect_eq(decimal_compare(&a, &b), cases[i].order, "%s, %s", cases[i].a, cases[i].b);
        cr_expect_eq(decimal_compare(&b, &a), -cases[i].order, "%s, %s", cases[i].b, cases[i].a);
    }
}

Test(quantity, doubles_become_the_shortest_digits)
{
    static const struct { double value; const char *digits; int point; } cases[] = {
        {0.1, "1", 0}, {0.3, "3", 0}, {1200, "12", 4}, {-2.5, "25", 1}, {6.62607015e-34, "662607015", -33}, {0.1 + 0.2, "30000000000000004", 0}, {0, "0", 0},
    };
    struct decimal value;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        cr_assert(decimal_from_double(cases[i].value, &value));
        cr_expect_str_eq(value.digits, cases[i].digits, "%s", value.digits);
        cr_expect_eq(value.point, cases[i].point);
        cr_expect_eq(decimal_to_double(&value), cases[i].value);
    }
    cr_expect_not(decimal_from_double(NAN, &value));
    cr_expect_not(decimal_from_double(INFINITY, &value));
}

Test(quantity, decimals_print_every_digit)
{
    static const struct { const char *text, *wanted; } cases[] = {
        {"1200", "1200"}, {"1.20", "1.20"}, {"0.00340", "0.00340"}, {"0.00001", "0.00001"}, {"0.000001", "1\u00a0×\u00a0" "10⁻⁶"},
        {"6.02e23", "6.02\u00a0×\u00a0" "10²³"}, {"299792458", "299792458"}, {"1e7", "1\u00a0×\u00a0" "10⁷"}, {"1e6", "1000000"}, {"-5", "−5"}, {"0", "0"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct decimal value = decimal(cases[i].text);
        expect_print(&value, 0, cases[i].wanted);
    }
}

static struct decimal random_decimal(struct random_source *source)
{
    struct decimal value = {.negative = random_below(source, 2) == 1, .point = (int)random_below(source, 40) - 20};
    size_t count = random_below(source, NUMBER_DIGITS) + 1;
    for (size_t i = 0; i < count; i++)
        value.digits[i] = (char)('0' + (random_below(source, 3) == 0 ? 9 : random_below(source, 10)));
    if (value.digits[0] == '0')
        value.digits[0] = '1';
    return value;
}

Test(quantity, what_is_printed_reads_back)
{
    struct random_source source = {11};
    for (int round = 0; round < 2000; round++) {
        struct decimal value = random_decimal(&source);
        int figures = (int)random_below(&source, 12);
        struct decimal shown = figures ? decimal_round_figures(&value, figures) : value;
        struct buffer out = BUFFER_EMPTY;
        decimal_print(&out, &value, figures);
        struct number number;
        cr_assert(number_read(buffer_text(&out), &number, NULL), "seed 11: %s", buffer_text(&out));
        cr_expect_eq(decimal_compare(&number.value, &shown), 0, "seed 11: %s", buffer_text(&out));
        if (figures)
            cr_expect(number.figures_low == figures && number.figures_high == figures, "seed 11: %s shows %d, not %d", buffer_text(&out),
                      number.figures_low, figures);
        buffer_free(&out);
    }
}

/* Rounding twice to the same figures changes nothing; the result is within half a unit of the last place. */
Test(quantity, rounding_is_idempotent)
{
    struct random_source source = {12};
    for (int round = 0; round < 2000; round++) {
        struct decimal value = random_decimal(&source);
        int figures = (int)random_below(&source, NUMBER_DIGITS) + 1;
        struct decimal once = decimal_round_figures(&value, figures), twice = decimal_round_figures(&once, figures);
        cr_expect_eq(decimal_compare(&once, &twice), 0, "seed 12: %s to %d", value.digits, figures);
        cr_expect_eq((int)strlen(once.digits), figures, "seed 12: %s to %d", value.digits, figures);
        double exact = decimal_to_double(&value), error = fabs(decimal_to_double(&once) - exact);
        cr_expect(error <= fabs(exact) * (0.5 * pow(10, 1 - figures) + 1e-15), "seed 12: %s to %d", value.digits, figures);
    }
}

/* Trade rule: accept if both round to the same to the figures both show, and at least two. */
Test(quantity, agreement_by_figures)
{
    static const struct { const char *given; double key; int figures; bool agrees; } cases[] = {
        {"1.4", 1.385, 4, true}, {"1.39", 1.385, 4, true}, {"1.38", 1.385, 4, false}, {"1.385", 1.385, 4, true}, {"1.3851", 1.385, 4, true}, {"1.3", 1.385, 4, false},
        {"1", 1.385, 4, false}, {"1200", 1234, 4, true}, {"1230", 1234, 4, true}, {"1300", 1234, 4, false}, {"5", 5, 1, true}, {"5.2", 5, 1, false},
        {"1/3", 1.0 / 3, 3, true}, {"1/3", 0.34, 2, false}, {"0.29", 0.285, 3, true}, {"0.29", 0.1 * 2.85, 2, true}, {"-1.4", 1.385, 4, false},
        {"-1.4", -1.385, 4, true}, {"1.4e3", 1385, 4, true}, {"14", 1.385, 4, false}, {"1 to 2", 1.5, 2, false}, {"0", 0, 1, true},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct number given;
        cr_assert(number_read(cases[i].given, &given, NULL));
        cr_expect_eq(number_agrees_by_figures(&given, cases[i].key, cases[i].figures), cases[i].agrees, "%s for %g", cases[i].given, cases[i].key);
    }
    struct number given;
    number_read("1", &given, NULL);
    cr_expect_not(number_agrees_by_figures(&given, NAN, 3));
}
