/* What is worked out for many variants at once, against the same worked out one by one on the digits. */
#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "base/random.h"
#include "quantity/formula.h"
#include "quantity/number.h"
#include "quantity/variant.h"

/* Expected values: the C library's strtod on the decimal text. */
Test(quantity, scaled_values_are_the_nearest_doubles)
{
    static const int64_t units[] = {0, 1, -1, 3, 605, -285, 123456789, 9007199254740993, 999999999999999999, -999999999999999999};
    for (size_t i = 0; i < sizeof units / sizeof *units; i++)
        for (int places = 0; places <= 22; places++) {
            char text[48];
            snprintf(text, sizeof text, "%llde-%d", (long long)units[i], places);
            cr_expect_eq(decimal_scaled_value(units[i], places), strtod(text, NULL), "%s", text);
        }
}

/* The slow way of number.h: shortest digits, cut to 15 figures, rounded on the digits. */
static double rounded_on_digits(double value, int places)
{
    struct decimal exact;
    cr_assert(decimal_from_double(value, &exact));
    struct decimal safe = decimal_round_figures(&exact, 15), rounded = decimal_round_places(&safe, places);
    return decimal_to_double(&rounded);
}

static void expect_same(double value, int places)
{
    double quick;
    if (decimal_round_quickly(value, places, &quick))
        cr_expect_eq(quick, rounded_on_digits(value, places), "%.17g to %d places: %.17g", value, places, quick);
}

Test(quantity, quick_rounding_is_the_rounding_on_digits)
{
    static const double values[] = {0, -0.0, 0.5, 1.5, -2.5, 0.285, 0.28499999999999998, 12 * 6.05, 2.675, 1e-9, -0.004, 0.004999999, 99999997.5,
                                    12345678.4999999, 7.0000004999999, 1e300, 1e-320, 0.05, 0.15, 0.25, 0.35};
    for (size_t i = 0; i < sizeof values / sizeof *values; i++)
        for (int places = 0; places <= 12; places++)
            expect_same(values[i], places);
    struct random_source source = {20};
    size_t answered = 0, asked = 40000;
    for (size_t i = 0; i < asked; i++) {
        int places = (int)random_below(&source, 5);
        double value = (random_unit(&source) - 0.5) * pow(10, (double)random_below(&source, 6)), quick;
        if (random_below(&source, 4) == 0)      /* few digits: many ties */
            value = rint(value * 200) / 200;
        answered += decimal_round_quickly(value, places, &quick);
        expect_same(value, places);
    }
    cr_expect(answered > asked / 2, "seed 20: %zu of %zu", answered, asked);
}

Test(quantity, quick_rounding_says_when_it_does_not_know)
{
    double quick;
    cr_expect_not(decimal_round_quickly(0.285, 2, &quick));
    cr_expect_not(decimal_round_quickly(1e8, 0, &quick));
    cr_expect_not(decimal_round_quickly(1, 23, &quick));
    cr_expect_not(decimal_round_quickly(1, -1, &quick));
    cr_expect_not(decimal_round_quickly(NAN, 0, &quick));
    cr_expect_not(decimal_round_quickly(INFINITY, 0, &quick));
    cr_expect(decimal_round_quickly(97.5, 0, &quick) && quick == 98);      /* half up, counted by hand */
    cr_expect(decimal_round_quickly(-97.5, 0, &quick) && quick == -98);
    cr_expect(decimal_round_quickly(-0.3, 0, &quick) && quick == 0 && !signbit(quick));
}

/* Shortest digits that read back: the fewest for which printf and strtod agree. */
Test(quantity, digits_of_a_double_are_the_fewest)
{
    struct random_source source = {21};
    for (int round = 0; round < 20000; round++) {
        double value = ldexp(random_unit(&source), (int)random_below(&source, 2090) - 1074);
        if (random_below(&source, 2))
            value = rint(random_unit(&source) * 1e6) / 1e3;
        struct decimal shortest;
        cr_assert(decimal_from_double(value, &shortest));
        cr_expect_eq(decimal_to_double(&shortest), value, "seed 21: %.17g", value);
        char fewer[48];
        size_t count = strlen(shortest.digits);
        if (count < 2)
            continue;
        snprintf(fewer, sizeof fewer, "%.*e", (int)count - 2, value);
        cr_expect_neq(strtod(fewer, NULL), value, "seed 21: %.17g needs fewer digits than %s", value, shortest.digits);
    }
}

Test(quantity, steps_of_a_range_are_its_values)
{
    static const struct variant_range ranges[] = {{"0.1", "1.0", "0.1"}, {"-1", "1", "0.05"}, {"1e3", "2e3", "1e2"},
        {"0", "1e-3", "1e-4"}, {"999999999999999000", "999999999999999999", "333"}, {"6.0", "9.0", "0.5"}};
    for (size_t i = 0; i < sizeof ranges / sizeof *ranges; i++) {
        struct variant_steps steps;
        const char *cause = "";
        cr_assert(variant_range_read(&ranges[i], &steps, &cause), "%s", cause);
        cr_expect_eq(steps.count, variant_range_count(&ranges[i], &cause));
        for (size_t index = 0; index < steps.count; index++) {
            struct buffer text = BUFFER_EMPTY;
            cr_assert(variant_range_value(&ranges[i], index, &text, &cause));
            cr_expect_eq(variant_steps_value(&steps, index), strtod(buffer_text(&text), NULL), "%s", buffer_text(&text));
            buffer_free(&text);
        }
    }
    struct variant_steps steps;
    const char *cause = NULL;
    cr_expect_not(variant_range_read(&(struct variant_range){"1", "0", "1"}, &steps, &cause));
    cr_expect_str_eq(cause, "the highest value lies below the lowest");
}

/* By hand. */
Test(quantity, a_formula_fills_many_rows)
{
    const double heights[] = {1, 2, 3}, g[] = {10};
    const struct formula_column columns[] = {{"H", heights, false}, {"g", g, true}};
    double results[3];
    struct formula_result result = formula_fill("g*H^2", columns, 2, 3, results);
    cr_assert(result.understood, "%s", result.fault);
    cr_expect(results[0] == 10 && results[1] == 40 && results[2] == 90, "%g %g %g", results[0], results[1], results[2]);
    cr_assert(formula_fill("7", columns, 2, 3, results).understood);
    cr_expect(results[0] == 7 && results[2] == 7);
    result = formula_fill("g*X", columns, 2, 3, results);
    cr_expect_not(result.understood);
    cr_expect_str_eq(result.fault, "unknown name 'X'");
    cr_expect_eq(result.fault_at, 2);
    cr_expect_not(formula_fill("g*", columns, 2, 3, results).understood);
}

/* More formulae than stay compiled, each asked twice in turn, one of them faulty. */
Test(quantity, many_formulae_in_turn_keep_apart)
{
    const double x[] = {2};
    const struct formula_column columns[] = {{"x", x, true}};
    for (int round = 0; round < 2; round++)
        for (int i = 0; i < 50; i++) {
            char formula[32];
            double value = 0;
            snprintf(formula, sizeof formula, i == 25 ? "x+*%d" : "x*%d", i);
            cr_expect_eq(formula_fill(formula, columns, 1, 1, &value).understood, i != 25, "%s", formula);
            cr_expect(i == 25 || value == 2 * i, "%s: %g", formula, value);
        }
}
