/* Values of variants; counted by hand. */
#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>
#include "quantity/number.h"
#include "quantity/variant.h"

static void expect_value(struct variant_range range, size_t index, const char *wanted)
{
    struct buffer out = BUFFER_EMPTY;
    const char *cause = "";
    bool given = variant_range_value(&range, index, &out, &cause);
    cr_expect(given, "%s to %s by %s: %s", range.low, range.high, range.step, cause);
    cr_expect_str_eq(buffer_text(&out), wanted, "%s to %s by %s, value %zu: %s", range.low, range.high, range.step, index, buffer_text(&out));
    buffer_free(&out);
}

Test(quantity, range_values_are_exact_decimals)
{
    expect_value((struct variant_range){"0.1", "1.0", "0.1"}, 2, "0.3");
    expect_value((struct variant_range){"0.1", "1.0", "0.1"}, 9, "1.0");
    expect_value((struct variant_range){"1", "2", "0.50"}, 1, "1.50");
    expect_value((struct variant_range){"0.05", "1", "0.1"}, 1, "0.15");
    expect_value((struct variant_range){"0.10", "1", "0.1"}, 0, "0.1");
    expect_value((struct variant_range){"-1", "1", "0.5"}, 1, "-0.5");
    expect_value((struct variant_range){"-1", "1", "0.5"}, 2, "0.0");
    expect_value((struct variant_range){"−5", "5", "1"}, 0, "-5");
    expect_value((struct variant_range){"1e3", "2e3", "1e2"}, 10, "2000");
    expect_value((struct variant_range){"0", "1e-3", "1e-4"}, 3, "0.0003");
    expect_value((struct variant_range){"7", "7", "1"}, 0, "7");
    expect_value((struct variant_range){"1,200", "1,300", "50"}, 1, "1250");
    expect_value((struct variant_range){"999999999999999000", "999999999999999999", "333"}, 3, "999999999999999999");
}

Test(quantity, range_counts_its_values)
{
    static const struct { struct variant_range range; size_t count; } cases[] = {
        {{"0.1", "1.0", "0.1"}, 10}, {{"0", "10", "3"}, 4}, {{"0", "0.29", "0.1"}, 3}, {{"-1", "-0.01", "0.5"}, 2}, {{"-1", "1", "0.5"}, 5}, {{"7", "7", "1"}, 1}, {{"0", "10000", "1"}, 10001},
        {{"-0.3", "-0.15", "0.1"}, 2}, {{"0", "0.3", "0.1"}, 4},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const char *cause = "";
        cr_expect_eq(variant_range_count(&cases[i].range, &cause), cases[i].count, "%s to %s by %s %s", cases[i].range.low, cases[i].range.high, cases[i].range.step, cause);
    }
}

Test(quantity, faulty_ranges_are_refused)
{
    static const struct { struct variant_range range; const char *cause; } cases[] = {
        {{"0", "1", "0"}, "step"}, {{"0", "1", "-0.1"}, "step"}, {{"1", "0", "0.1"}, "below"}, {{"0", "10001", "1"}, "10,000"}, {{"a", "1", "1"}, "lowest"}, {{"0", "b", "1"}, "highest"}, {{"0", "1", ""}, "step"},
        {{"0", "1", "1/3"}, "step is no"}, {{"0", "10%", "1"}, "highest"}, {{"1e30", "2e30", "1e29"}, "18 digits"}, {{"0", "1", "1e-19"}, "18 digits"}, {{"1 to 2", "3", "1"}, "lowest"}, {{"£1", "3", "1"}, "lowest"},
        {{"-999999999999999999", "999999999999999999", "0.1"}, "18 digits"}, {{"-999999999999999999", "999999999999999999", "1"}, "10,000"},
    };
    struct random_source source = {1};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct buffer out = BUFFER_EMPTY;
        const char *cause = "";
        cr_expect_not(variant_draw_range(&source, &cases[i].range, &out, &cause));
        cr_expect_not_null(strstr(cause, cases[i].cause), "'%s' for '%s'", cause, cases[i].cause);
        cr_expect_str_eq(buffer_text(&out), "");
        cr_expect_eq(variant_range_count(&cases[i].range, &cause), 0);
    }
    cr_expect_eq(source.state, 1, "nothing is drawn");
    struct buffer out = BUFFER_EMPTY;
    const char *cause = "";
    cr_expect_not(variant_range_value(&(struct variant_range){"0", "1", "1"}, 2, &out, &cause));
}

Test(quantity, draws_reach_every_value_and_repeat)
{
    struct variant_range range = {"0.1", "0.8", "0.1"};
    struct random_source source = {99}, again = {99};
    int seen[8] = {0};
    for (int i = 0; i < 400; i++) {
        struct buffer one = BUFFER_EMPTY, two = BUFFER_EMPTY;
        const char *cause;
        cr_assert(variant_draw_range(&source, &range, &one, &cause) && variant_draw_range(&again, &range, &two, &cause));
        cr_expect_str_eq(one.text, two.text, "seed 99");
        cr_assert_eq(strlen(one.text), 3);
        seen[one.text[2] - '1']++;
        buffer_free(&one);
        buffer_free(&two);
    }
    for (int i = 0; i < 8; i++)
        cr_expect(seen[i] > 20, "0.%d drawn %d times of 400", i + 1, seen[i]);
}

Test(quantity, lists_are_drawn_from)
{
    static const char *const texts[] = {"1.50", "2e3", "-4"};
    struct random_source source = {3};
    int seen[3] = {0};
    for (int i = 0; i < 100; i++) {
        struct buffer out = BUFFER_EMPTY;
        const char *cause;
        cr_assert(variant_draw_list(&source, texts, 3, &out, &cause));
        for (int k = 0; k < 3; k++)
            seen[k] += strcmp(out.text, texts[k]) == 0;
        buffer_free(&out);
    }
    cr_expect_eq(seen[0] + seen[1] + seen[2], 100);
    cr_expect(seen[0] > 0 && seen[1] > 0 && seen[2] > 0);
    struct buffer out = BUFFER_EMPTY;
    const char *cause = "", *bad[] = {"1", "x"};
    cr_expect_not(variant_draw_list(&source, texts, 0, &out, &cause));
    cr_expect_not_null(strstr(cause, "empty"));
    cr_expect_not(variant_draw_list(&source, bad, 2, &out, &cause));
    cr_expect_not_null(strstr(cause, "no decimal"));
}

/* low + k·step, summed one step at a time on the digits, is what value k is. */
Test(quantity, range_values_grow_by_the_step)
{
    struct variant_range range = {"0.07", "9.99", "0.01"};
    const char *cause;
    for (size_t i = 0; i < variant_range_count(&range, &cause); i++) {
        struct buffer out = BUFFER_EMPTY;
        variant_range_value(&range, i, &out, &cause);
        struct number number;
        cr_assert(number_read(out.text, &number, NULL));
        cr_expect_eq(number.places, 2);
        long hundredths = strtol(out.text, NULL, 10) * 100 + strtol(strchr(out.text, '.') + 1, NULL, 10);
        cr_expect_eq(hundredths, 7 + (long)i, "%s", out.text);
        buffer_free(&out);
    }
}
