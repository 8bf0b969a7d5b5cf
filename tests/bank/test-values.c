#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <criterion/criterion.h>

#include "bank/values.h"
#include "base/random.h"
#include "sample.h"

struct drawn {
    struct arena *arena;
    struct messages messages;
    struct values values;
    bool complete;
};

static struct drawn draw(const struct sample *sample, uint64_t seed)
{
    struct drawn drawn = {.arena = arena_new(), .messages = MESSAGES_EMPTY};
    drawn.complete = values_draw(&sample->course, &sample->question, seed, drawn.arena, &drawn.values,
                                 &drawn.messages);
    return drawn;
}

static void drop(struct drawn *drawn)
{
    messages_free(&drawn->messages);
    arena_free(drawn->arena);
}

static const char *text_of(const struct drawn *drawn, const char *symbol)
{
    const struct bound_value *value = values_find(&drawn->values, symbol);
    return value ? value->text : "none";
}

static double value_of(const struct drawn *drawn, const char *symbol)
{
    const struct bound_value *value = values_find(&drawn->values, symbol);
    return value ? value->value : NAN;
}

static void expect_close(double got, double wanted)
{
    cr_expect(fabs(got - wanted) <= 1e-9 * fabs(wanted), "got %.17g, want %.17g", got, wanted);
}

/* Worked out by hand: 1030 × 9.81² × 1.5² × 8 / (32 π) = 17747.5…: common practice, no source. */
Test(bank, values_of_a_question)
{
    static const char *const height[] = {"1.5"}, *const period[] = {"8.0"};
    struct sample sample;
    sample_make(&sample);
    sample.givens[0] = (struct given){.symbol = "H", .unit = "m", .form = GIVEN_FIXED, .choices = height,
                                      .choice_count = 1};
    sample.givens[1] = (struct given){.symbol = "T", .unit = "s", .form = GIVEN_FIXED, .choices = period,
                                      .choice_count = 1};
    struct drawn drawn = draw(&sample, 0);
    cr_assert(drawn.complete);
    cr_expect_eq(drawn.values.count, 2 + 4 + 1 + 2);
    cr_expect_str_eq(drawn.values.items[0].symbol, "g");
    cr_expect_str_eq(text_of(&drawn, "H"), "1.5");
    cr_expect_str_eq(text_of(&drawn, "T"), "8.0");
    cr_expect_str_eq(text_of(&drawn, "t"), "96");
    cr_expect_str_eq(text_of(&drawn, "c"), "3.00\u00a0×\u00a010⁸");
    expect_close(value_of(&drawn, "c"), 3e8);
    double power = 1030 * 9.81 * 9.81 * 1.5 * 1.5 * 8 / (32 * acos(-1));
    expect_close(value_of(&drawn, "P"), power);
    expect_close(value_of(&drawn, "E"), power * 3000);
    cr_expect_str_eq(text_of(&drawn, "P"), "1.8\u00a0×\u00a010⁴");
    cr_expect(values_find(&drawn.values, "P")->is_answer);
    cr_expect_not(values_find(&drawn.values, "rho")->is_answer);
    cr_expect_str_eq(values_find(&drawn.values, "P")->unit, "W/m");
    cr_expect_null(values_find(&drawn.values, "Q"));
    drop(&drawn);
}

Test(bank, same_seed_same_values)
{
    struct sample sample;
    sample_make(&sample);
    uint64_t seed = sample_seed(7);
    for (uint64_t i = 0; i < 50; i++) {
        struct drawn one = draw(&sample, seed + i), two = draw(&sample, seed + i);
        cr_assert(one.complete && two.complete);
        for (size_t k = 0; k < one.values.count; k++) {
            cr_expect_str_eq(one.values.items[k].text, two.values.items[k].text, "seed %" PRIu64, seed + i);
            cr_expect(one.values.items[k].value == two.values.items[k].value);
        }
        drop(&one);
        drop(&two);
    }
}

/* Every choice and every step turns up, nothing else, and each text reads back as the value. */
Test(bank, draws_cover_choices_and_range)
{
    static const char *const steps[] = {"6.0", "6.5", "7.0", "7.5", "8.0", "8.5", "9.0"};
    static const char *const heights[] = {"1.2", "1.5", "2.0"};
    struct sample sample;
    sample_make(&sample);
    int step_seen[7] = {0}, height_seen[3] = {0}, draws = 400;
    uint64_t seed = sample_seed(11);
    for (uint64_t i = 0; i < (uint64_t)draws; i++) {
        struct drawn drawn = draw(&sample, seed + i);
        for (size_t k = 0; k < 7; k++)
            step_seen[k] += strcmp(steps[k], text_of(&drawn, "T")) == 0;
        for (size_t k = 0; k < 3; k++)
            height_seen[k] += strcmp(heights[k], text_of(&drawn, "H")) == 0;
        cr_expect_eq(strtod(text_of(&drawn, "T"), NULL), value_of(&drawn, "T"));
        expect_close(value_of(&drawn, "t"), round(12 * value_of(&drawn, "T")));
        drop(&drawn);
    }
    int all = 0;
    for (size_t k = 0; k < 7; k++) {
        cr_expect(step_seen[k] > 20, "%s came %d times of %d", steps[k], step_seen[k], draws);
        all += step_seen[k];
    }
    cr_expect_eq(all, draws);
    for (size_t k = 0; k < 3; k++)
        cr_expect(height_seen[k] > 80, "%s came %d times of %d", heights[k], height_seen[k], draws);
}

static void expect_range(const char *low, const char *high, const char *step, const char *const *texts, size_t count)
{
    struct sample sample;
    sample_make(&sample);
    sample.question.part_count = 0;
    sample.givens[0] = (struct given){.symbol = "x", .unit = "", .form = GIVEN_RANGE, .low = low, .high = high,
                                      .step = step};
    sample.question.given_count = 1;
    bool seen[8] = {false};
    for (uint64_t seed = 0; seed < 100; seed++) {
        struct drawn drawn = draw(&sample, seed);
        cr_assert(drawn.complete);
        size_t at = 0;
        while (at < count && strcmp(texts[at], text_of(&drawn, "x")) != 0)
            at++;
        cr_expect(at < count, "%s to %s by %s gave %s", low, high, step, text_of(&drawn, "x"));
        if (at < count)
            seen[at] = true;
        drop(&drawn);
    }
    for (size_t i = 0; i < count; i++)
        cr_expect(seen[i], "%s to %s by %s never gave %s", low, high, step, texts[i]);
}

Test(bank, ranges_are_exact_in_decimal)
{
    /* 0.1 + 2 × 0.1 is 0.30000000000000004 in binary. */
    expect_range("0.1", "0.3", "0.1", (const char *[]){"0.1", "0.2", "0.3"}, 3);
    expect_range("-0.5", "0.5", "0.5", (const char *[]){"−0.5", "0.0", "0.5"}, 3);
    expect_range("1", "2", "0.25", (const char *[]){"1.00", "1.25", "1.50", "1.75", "2.00"}, 5);
    expect_range("1e3", "3e3", "1e3", (const char *[]){"1000", "2000", "3000"}, 3);
    expect_range("1", "6", "2", (const char *[]){"1", "3", "5"}, 3);
    expect_range("0.005", "0.007", "0.001", (const char *[]){"0.005", "0.006", "0.007"}, 3);
    expect_range("9.99", "10.01", "0.01", (const char *[]){"9.99", "10.00", "10.01"}, 3);
}

static void expect_failure(const struct sample *sample, const char *wanted)
{
    struct drawn drawn = draw(sample, 3);
    cr_expect_not(drawn.complete);
    cr_expect_eq(drawn.values.count, 0);
    cr_assert_eq(drawn.messages.count, 1);
    cr_expect_str_eq(drawn.messages.items[0].subject, "question w01");
    cr_expect(strstr(drawn.messages.items[0].text, wanted), "[%s] is not in [%s]", wanted,
              drawn.messages.items[0].text);
    drop(&drawn);
}

Test(bank, draws_that_fail)
{
    struct sample sample;
    sample_make(&sample);
    sample.givens[1].high = "1e30";
    expect_failure(&sample, "more than 18 digits");
    sample_make(&sample);
    sample.givens[1].step = "0.00000000000000000001";
    expect_failure(&sample, "more than 18 digits");
    sample_make(&sample);
    sample.givens[1].step = "0.0000001";
    expect_failure(&sample, "more than 10,000 steps");
    sample_make(&sample);
    sample.givens[3].formula = "1/(n-12)";
    expect_failure(&sample, "gives no finite number");
    sample_make(&sample);
    sample.energy.formula = "sqrt(0-P)";
    expect_failure(&sample, "gives no finite number");
    sample_make(&sample);
    sample.givens[3].formula = "E/2";
    expect_failure(&sample, "'E/2' cannot be worked out");
}

static void expect_shown(const struct number_key *key, double value, const char *wanted)
{
    struct buffer text = BUFFER_EMPTY;
    values_show_answer(&text, key, value);
    cr_expect_str_eq(buffer_text(&text), wanted);
    buffer_free(&text);
}

Test(bank, answers_as_they_are_shown)
{
    struct number_key key = {.formula = "x", .unit = "", .places = -1};
    expect_shown(&key, 2.0 / 3, "0.667");
    expect_shown(&key, 12.345, "12.3");
    key.figures = 2;
    expect_shown(&key, 9.96, "1.0\u00a0×\u00a010¹");   /* 10 would leave its figures open */
    expect_shown(&key, 0.0123, "0.012");
    key.figures = 0;
    key.places = 2;
    expect_shown(&key, 1.005, "1.01");      /* 1.00499999999999989… in binary, 1.005 on paper */
    expect_shown(&key, 4, "4.00");
    expect_shown(&key, -0.126, "−0.13");
    key.places = 0;
    expect_shown(&key, 72.5, "73");
    volatile double height = 4.35;
    expect_shown(&key, height * 100 / 10, "44");    /* 43.49999999999999 in binary */
    key = (struct number_key){.value = "1030", .unit = "", .places = -1};
    expect_shown(&key, 1030, "1030");
    key.figures = 2;
    expect_shown(&key, 1030, "1.0\u00a0×\u00a010³");
}

Test(bank, expected_value_of_a_number)
{
    struct sample sample;
    sample_make(&sample);
    struct drawn drawn = draw(&sample, 1);
    cr_assert(drawn.complete);
    struct number_key unnamed = {.formula = "P*3000", .unit = "J", .places = -1};
    expect_close(values_expected(&drawn.values, &unnamed), value_of(&drawn, "P") * 3000);
    expect_close(values_expected(&drawn.values, &sample.energy), value_of(&drawn, "E"));
    struct number_key fixed = {.value = "2.50", .unit = "", .places = -1};
    expect_close(values_expected(&drawn.values, &fixed), 2.5);
    struct number_key interval = {.unit = "s", .has_interval = true, .from = 1, .to = 2, .places = -1};
    cr_expect(isnan(values_expected(&drawn.values, &interval)));
    struct number_key unknown = {.formula = "nothing*2", .unit = "", .places = -1};
    cr_expect(isnan(values_expected(&drawn.values, &unknown)));
    drop(&drawn);
}
