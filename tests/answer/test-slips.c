/* Numbers that common slips give. Every value is worked out by hand from the formula beside it. */
#include "trial.h"

#include "answer/slips.h"
#include "base/random.h"

static const struct given givens[] = {{.symbol = "H", .name = "wave height", .unit = "m"}, {.symbol = "T", .name = "wave period", .unit = "s"},
                                      {.symbol = "L", .name = "length", .unit = "cm"}, {.symbol = "k", .name = "factor", .unit = ""},
                                      {.symbol = "D", .name = "depth", .unit = "m"}, {.symbol = "x", .name = "angle", .unit = "°"}};
static const struct bound_value bound[] = {
    {"H", "1.7", "m", 1.7, false}, {"T", "7.0", "s", 7, false}, {"L", "43", "cm", 43, false}, {"k", "5.3", "", 5.3, false},
    {"D", "3.1", "m", 3.1, false}, {"x", "30", "°", 30, false}, {"A", "5.27", "m^2", 5.27, true},
    {"m", "2", "", 2, false}, {"n", "2", "", 2, false},
};
static const struct values values = {bound, sizeof bound / sizeof *bound};

/* The names of the explanations, with the symbols: "not-squared H | left-out T". */
static void expect_slips(struct number_key key, const char *answer, const char *wanted)
{
    struct arena *arena = arena_new();
    key.places = -1;
    key.symbol = "R";
    struct node point = POINT("value", .id = "v", .number = &key);
    struct part part = {.id = "a", .word = CALCULATE, .marks = 1, .ask = BLOCKS("Calculate the value."),
                        .scheme.root = {.kind = NODE_ALL, .children = &point, .child_count = 1}};
    struct question question = {.id = "q", .givens = givens, .given_count = sizeof givens / sizeof *givens, .parts = &part,
                                .part_count = 1};
    struct evidence_ask ask = {&trial_course, &question, &part, &values, NULL, NULL, 0};
    const struct evidence *evidence = evidence_of(&ask, answer, arena);
    struct slips slips = slips_find(&ask, &point, evidence->points[0].number, arena);
    struct buffer line = BUFFER_EMPTY;
    for (size_t i = 0; i < slips.count; i++) {
        buffer_print(&line, "%s%s%s%s%s%s", i ? " | " : "", slip_kind_name(slips.items[i].kind), slips.items[i].symbol ? " " : "",
                     slips.items[i].symbol ? slips.items[i].symbol : "", slips.items[i].other ? " " : "",
                     slips.items[i].other ? slips.items[i].other : "");
        cr_expect(slips.items[i].sentence && strstr(slips.items[i].sentence, "instead of"), "%s", slips.items[i].sentence);
        cr_expect(isfinite(slips.items[i].value));
    }
    cr_expect_str_eq(buffer_text(&line), wanted, "%s = '%s': %s", key.formula ? key.formula : key.value, answer, buffer_text(&line));
    buffer_free(&line);
    arena_free(arena);
}

#define RELATIVE(part_) .tolerance = (part_), .tolerance_relative = true

Test(answer, slips_of_the_whole_value)
{
    struct number_key power = {.value = "23", .unit = "W", RELATIVE(0.02)}, plain = {.value = "0.40", .unit = "", RELATIVE(0.02)};
    struct number_key kilo = {.value = "23", .unit = "kW", RELATIVE(0.02)};
    expect_slips(power, "2.3 W", "power-of-ten");
    expect_slips(power, "2300 W", "power-of-ten");
    expect_slips(kilo, "23000 kW", "prefix");
    expect_slips(power, "1380 W", "time");              /* 23 × 60 */
    expect_slips(power, "46 W", "factor-of-two");
    expect_slips(power, "11.5 W", "factor-of-two");
    expect_slips(power, "-23 W", "sign");
    expect_slips(power, "0.0435 W", "inverse");         /* 1/23 */
    expect_slips(power, "529 W", "squared");            /* 23² */
    expect_slips(power, "4.8 W", "root");               /* √23 = 4.796 */
    expect_slips(plain, "it is 40", "percent");
    expect_slips(power, "31 W", "");
    expect_slips(power, "23 W", "");
    expect_slips(power, "23000 mW", "");
    expect_slips(power, "no idea", "");
    expect_slips(power, "20 to 30 W", "");
}

/* H²T = 1.7² × 7 = 20.23; k/T = 0.757; √(kD) = 4.053; H/D = 0.548; kL = 227.9 */
Test(answer, slips_in_a_formula)
{
    struct number_key square = {.formula = "H^2*T", .unit = "", RELATIVE(0.01)};
    expect_slips(square, "about 11.9", "not-squared H");            /* 1.7 × 7 */
    expect_slips(square, "about 23.8", "not-squared H");            /* 2 × 1.7 × 7 */
    expect_slips(square, "about 2.89", "left-out T");
}

Test(answer, slips_of_one_value)
{
    struct number_key ratio = {.formula = "k/T", .unit = "", RELATIVE(0.01)};
    expect_slips(ratio, "about 37.1", "inverse T");                 /* 5.3 × 7 */
    expect_slips(ratio, "about 1.32", "inverse");                   /* 7/5.3 */
    struct number_key root = {.formula = "sqrt(k*D)", .unit = "", RELATIVE(0.01)};
    expect_slips(root, "about 16.4", "no-root");                    /* 5.3 × 3.1 = 16.43 */
    struct number_key sides = {.formula = "(H-D)*7.3", .unit = "", RELATIVE(0.01)};
    expect_slips(sides, "about 35.0", "sign D");                    /* (1.7 + 3.1) × 7.3 = 35.04 */
    struct number_key lower = {.formula = "D-H/3", .unit = "m", RELATIVE(0.01)};
    expect_slips(lower, "0.667 m", "swapped D H");                  /* 1.7 − 3.1/3 */
    struct number_key metres = {.formula = "k*L/100", .unit = "m^2", RELATIVE(0.01)};
    expect_slips(metres, "227.9 m^2", "prefix L");
    struct number_key angle = {.formula = "k*sin(x*pi/180)", .unit = "m", RELATIVE(0.01)};
    expect_slips(angle, "-5.24 m", "angle x");                      /* 5.3 × sin(30 rad) = −5.2366 */
    struct number_key early = {.formula = "A*37", .unit = "N", RELATIVE(0.005)};
    expect_slips(early, "185 N", "rounded-early A");                /* 5 × 37 */
    expect_slips(early, "194 N", "cut-off");     /* 194.99 */
    /* 5.3 × 3.1 is 16.43; 5.27 × 3.1 = 16.34 is only near */
    expect_slips((struct number_key){.formula = "A*k*D", .unit = "N", RELATIVE(0.02)}, "16.43 N", "left-out A");
    /* 0.3333…, cut off and rounded alike */
    expect_slips((struct number_key){.formula = "1/3", .unit = "N", RELATIVE(0.005)}, "0.33 N", "rounded-early");
}

/* 10 for 100: a power of ten or a root. m²nT = 56: 28 is half of it, lacks n, or has m unsquared: too many to tell. */
Test(answer, slips_that_several_explain)
{
    expect_slips((struct number_key){.value = "100", .unit = "W", RELATIVE(0.02)}, "10.0 W", "power-of-ten | root");
    expect_slips((struct number_key){.formula = "m^2*n*T", .unit = "W", RELATIVE(0.02)}, "28 W", "");
}

/* The sentence names the value and both numbers. */
Test(answer, slips_are_told_in_words)
{
    struct arena *arena = arena_new();
    struct node point = POINT("value", .id = "v", .number = KEY(.value = "23", .unit = "W", RELATIVE(0.02)));
    struct part part = {.id = "a", .word = CALCULATE, .marks = 1, .ask = BLOCKS("Calculate."), .scheme.root = point};
    struct question question = {.id = "q", .parts = &part, .part_count = 1};
    struct evidence_ask ask = {&trial_course, &question, &part, &values, NULL, NULL, 0};
    struct slips slips = slips_find(&ask, &point, evidence_of(&ask, "2.3 W", arena)->points[0].number, arena);
    cr_assert_eq(slips.count, 1);
    cr_expect_str_eq(slips.items[0].sentence, "you are out by a power of ten: 2.3 instead of 23 W; look at the powers and prefixes");
    arena_free(arena);
}

/* A right number has no slip, and every explanation gives the number that was written. */
Test(answer, slips_explain_what_was_written_property)
{
    uint64_t seed = trial_seed(99);
    struct random_source source = {seed};
    struct arena *arena = arena_new();
    struct number_key key = {.symbol = "R", .formula = "H^2*T*k", .unit = "W", RELATIVE(0.02), .places = -1};
    struct node point = POINT("value", .id = "v", .number = &key);
    struct part part = {.id = "a", .word = CALCULATE, .marks = 1, .ask = BLOCKS("Calculate."), .scheme.root = point};
    struct question question = {.id = "q", .givens = givens, .given_count = 4, .parts = &part, .part_count = 1};
    struct evidence_ask ask = {&trial_course, &question, &part, &values, NULL, NULL, 0};
    double right = 1.7 * 1.7 * 7 * 5.3;
    for (int round = 0; round < 500; round++) {
        double written = right * exp((random_unit(&source) - 0.5) * 8);
        const char *answer = arena_print(arena, "P = %.4g W", written);
        const struct number_evidence *number = evidence_of(&ask, answer, arena)->points[0].number;
        struct slips slips = slips_find(&ask, &point, number, arena);
        cr_assert(slips.count <= 2);
        cr_assert(slips.count == 0 || fabs(written - right) > 0.019 * right, "seed %lu: %s", (unsigned long)seed, answer);
        for (size_t i = 0; i < slips.count; i++)
            cr_assert(fabs(slips.items[i].value - written) <= 0.021 * fabs(slips.items[i].value), "seed %lu: %s, %s",
                      (unsigned long)seed, answer, slips.items[i].sentence);
        arena_reset(arena);
    }
    arena_free(arena);
}
