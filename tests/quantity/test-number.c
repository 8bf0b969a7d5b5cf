/* Reading one number. Where no source stands beside a case it is common practice, no source. */
#include <criterion/criterion.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "quantity/number.h"
#include "table.h"

static struct number must_read(const char *text)
{
    struct number number;
    cr_assert(number_read(text, &number, NULL), "'%s' was not read", text);
    return number;
}

static void expect_refused(const char *text)
{
    struct number number;
    cr_expect_not(number_read(text, &number, NULL), "'%s' was read as %g", text, number.approximate);
}

static void expect_value(const char *text, double value)
{
    struct number number;
    const char *rest;
    cr_assert(number_read(text, &number, &rest), "'%s' was not read", text);
    cr_expect(fabs(number.approximate - value) <= 1e-15 * fabs(value), "'%s' gives %.17g, not %.17g", text,
              number.approximate, value);
}

/* tests/data/11a: NIST SP 811 sect. 7.9 and B.7.2, ISO 80000-1 Annex B, SI Brochure 5.4.4 (from memory);
 * values by Python decimal. */
static int check_figures_row(char *const *cells)
{
    const char *text = cells[0], *rest;
    struct number number;
    bool read = number_read(text, &number, &rest);
    if (strcmp(cells[3], "-") == 0) {
        cr_expect(!read || number.figures_high == 0, "'%s' has no figures", text);
        return 1;
    }
    cr_assert(read, "'%s' was not read", text);
    cr_expect_eq(number.figures_low, atoi(cells[1]), "'%s': low %d, not %s", text, number.figures_low, cells[1]);
    cr_expect_eq(number.figures_high, atoi(cells[2]), "'%s': high %d, not %s", text, number.figures_high, cells[2]);
    cr_expect_eq(number.approximate, strtod(cells[3], NULL), "'%s' gives %g, not %s", text, number.approximate, cells[3]);
    /* The table counts no places in standard form; number.h counts those of the mantissa. */
    const char *point = strchr(cells[3], '.');
    int places = strchr(cells[3], 'E') ? (point ? (int)strspn(point + 1, "0123456789") : 0) : atoi(cells[4]);
    cr_expect_eq(number.places, places, "'%s': %d places, not %d", text, number.places, places);
    return 1;
}

Test(quantity, figures_table)
{
    struct table table;
    int rows = 0;
    table_open(&table, "tests/data/11a_sigfig_count.tsv");
    while (table_next(&table))
        rows += check_figures_row(table.cells);
    table_close(&table);
    cr_expect_eq(rows, 37, "%d rows", rows);
}

Test(quantity, number_notations_give_the_value)
{
    static const struct { const char *text; double value; } cases[] = {
        {"3.0 x 10^8", 3e8}, {"3.0 × 10⁸", 3e8}, {"3.0*10^8", 3e8}, {"3.0e8", 3e8}, {"3.0E+8", 3e8}, {"3x10^8", 3e8},
        {"3.0 × 10^−8", 3e-8}, {"3.0 × 10⁻⁸", 3e-8}, {"3.0 x 10^(-8)", 3e-8}, {"3.0 x 10^{-8}", 3e-8}, {"3.0·10⁸", 3e8},
        {"3.0x10-8", 3e-8}, {"3 × 10**8", 3e8}, {"10⁻³", 1e-3}, {"10^5", 1e5}, {"10^-5", 1e-5}, {"−10⁴", -1e4},
        {"1,250", 1250}, {"1 250", 1250}, {"1\u00a0250", 1250}, {"1\u2009250", 1250}, {"1\u202f250.5", 1250.5},
        {"1,250,000", 1250000}, {"1,250.75", 1250.75}, {"12 345 678", 12345678}, {"3.141 592 65", 3.14159265},
        {"3.141 59", 3.14159}, {"0,5", 0.5}, {"0,125", 0.125}, {"1,25", 1.25}, {"1234,567", 1234.567}, {"1,2345", 1.2345},
        {"−4", -4}, {"-4", -4}, {"– 4", -4}, {"+4", 4}, {"- 4", -4}, {"½", 0.5}, {"2½", 2.5}, {"2 ½", 2.5}, {"2 1/2", 2.5},
        {"1/3", 1.0 / 3}, {"1⁄4", 0.25}, {"-1/4", -0.25}, {"10 3/4", 10.75}, {"⅓", 1.0 / 3}, {"¾", 0.75}, {"⅝", 0.625},
        {"12 %", 12}, {"12%", 12}, {"12 per cent", 12}, {"12 percent", 12}, {"£3.50", 3.5}, {"-£3.50", -3.5}, {"£-3.50", -3.5},
        {"£ 3.50", 3.5}, {"$12", 12}, {"€9.99", 9.99}, {"~5.0", 5}, {"≈ 5.0", 5}, {"  7 \n", 7}, {".5", 0.5}, {"-.5", -0.5},
        {"1.2 million", 1.2e6}, {"£3 billion", 3e9}, {"40 thousand", 4e4}, {"0", 0}, {"-0", 0}, {"0.00 × 10⁵", 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        expect_value(cases[i].text, cases[i].value);
}

Test(quantity, number_refuses_what_cannot_be_decided)
{
    static const char *const texts[] = {
        "", " ", "abc", "1.2e", "1.2e+", "12,50,3", "1,2,3", "1.2.3", "1.250,5", "1,250,5", "5 - 3", "5−3", "5-3", "5 + 3", "5 × 3", "5 x 3",
        "3.0 × 10", "3.0 × 100", "3.0 x 10^", "3.0 x 10^8.5", "1e400", "1e-400", "1e99999", "5^2", "5²", "1/0", "3/5/2024",
        "2026-05-18", "2026-05", "£", "£%", "%", "±", "+", "-", ".", ",", "5 5", "1 25", "1 2500", "--5", "5)", "3.4/2.1", "between 3",
        "between 5 and 3", "10^", "12345678901234567890123456789012345678901", "CO2", "x2", "\xff", "5\xff",
    };
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
        expect_refused(texts[i]);
}

Test(quantity, number_keeps_forty_digits)
{
    const char *forty = "1234567890123456789012345678901234567890";
    struct number number = must_read(forty);
    cr_expect_str_eq(number.value.digits, forty);
    cr_expect_eq(number.value.point, 40);
    number = must_read("0.00000000000000000000000000000000000000000000012");
    cr_expect_str_eq(number.value.digits, "12");
    cr_expect_eq(number.value.point, -45);
}

Test(quantity, fractions_expand_to_forty_digits)
{
    /* 2/3 and 22/7 worked by long division; Python decimal with 40 digits gives the same. */
    struct number number = must_read("2/3");
    cr_expect_str_eq(number.value.digits, "6666666666666666666666666666666666666667");
    cr_expect_eq(number.value.point, 0);
    cr_expect_eq(number.form, NUMBER_FRACTION);
    number = must_read("22/7");
    cr_expect_str_eq(number.value.digits, "3142857142857142857142857142857142857143");
    cr_expect_eq(number.value.point, 1);
    number = must_read("2½");
    cr_expect_str_eq(number.value.digits, "25");
    cr_expect_eq(number.form, NUMBER_MIXED);
    cr_expect_eq(number.figures_low, 0);
    cr_expect_eq(number.figures_high, 0);
    number = must_read("1/1000");
    cr_expect_str_eq(number.value.digits, "1");
    cr_expect_eq(number.value.point, -2);
    number = must_read("0/5");
    cr_expect_str_eq(number.value.digits, "0");
    cr_expect_eq(number.approximate, 0);
}

Test(quantity, uncertainty_is_read)
{
    static const char *const texts[] = {"20 ± 0.5", "20 +/- 0.5", "20±0.5", "20 +- 0.5"};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        struct number number = must_read(texts[i]);
        cr_expect(number.has_uncertainty, "%s", texts[i]);
        cr_expect_eq(number.uncertainty, 0.5, "%s", texts[i]);
        cr_expect_eq(number.approximate, 20, "%s", texts[i]);
    }
    struct number percent = must_read("40 ± 2 %");
    cr_expect(percent.percent && percent.has_uncertainty && percent.uncertainty == 2);
    cr_expect_not(must_read("20").has_uncertainty);
    expect_refused("20 ±");
}

Test(quantity, ranges_are_read)
{
    static const struct { const char *text; double low, high; bool percent; } cases[] = {
        {"3 to 5", 3, 5, false}, {"3–5", 3, 5, false}, {"3-5", 3, 5, false}, {"3 – 5", 3, 5, false}, {"between 3 and 5", 3, 5, false},
        {"from 3 to 5", 3, 5, false}, {"Between 0.3 and 1.25", 0.3, 1.25, false}, {"-5 to -3", -5, -3, false}, {"−5 to 2", -5, 2, false},
        {"3–5 × 10⁸", 3e8, 5e8, false}, {"2 × 10⁻³ to 4 × 10⁻³", 2e-3, 4e-3, false}, {"3 to 5 %", 3, 5, true}, {"3% to 5%", 3, 5, true},
        {"20%-30%", 20, 30, true}, {"£3–£5", 3, 5, false}, {"1,200 to 1,500", 1200, 1500, false}, {"½ to ¾", 0.5, 0.75, false}, {"3 to 5 million", 3e6, 5e6, false},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct number number = must_read(cases[i].text);
        cr_expect_eq(number.form, NUMBER_RANGE, "%s", cases[i].text);
        cr_expect_eq(number.approximate, cases[i].low, "%s: %g", cases[i].text, number.approximate);
        cr_expect_eq(decimal_to_double(&number.upper), cases[i].high, "%s", cases[i].text);
        cr_expect_eq(number.percent, cases[i].percent, "%s", cases[i].text);
    }
    struct number plain = must_read("7.5");
    cr_expect_eq(decimal_compare(&plain.upper, &plain.value), 0);
}

Test(quantity, number_forms_and_marks)
{
    cr_expect_eq(must_read("5.0%").form, NUMBER_PERCENT);
    cr_expect_eq(must_read("5.0").form, NUMBER_PLAIN);
    cr_expect_eq(must_read("1.2 million").figures_high, 2);
    cr_expect_eq(must_read("5.0e3").form, NUMBER_STANDARD_FORM);
    struct number money = must_read(" -£3.50");
    cr_expect(money.currency_before);
    cr_expect_str_eq(money.currency, "£");
    cr_expect_eq(money.start, 1);
    cr_expect_eq(money.length, strlen("-£3.50"));
    cr_expect_str_eq(must_read("5").currency, "");
    cr_expect(must_read("-0.340").value.negative);
    cr_expect_not(must_read("-0.000").value.negative);
}

Test(quantity, number_leaves_the_unit)
{
    static const struct { const char *text, *rest; double value; } cases[] = {
        {"12.30 cm", "cm", 12.3}, {"5kg", "kg", 5}, {"1.2eV", "eV", 1.2}, {"5", "", 5}, {"5  ", "", 5}, {"5 /s", "/s", 5}, {"5 m/s", "m/s", 5},
        {"20 ± 0.5 °C", "°C", 20}, {"3.0 × 10⁸ m s⁻¹", "m s⁻¹", 3e8}, {"£3 per kg", "per kg", 3}, {"2½ hours", "hours", 2.5}, {"1/3 m", "m", 1.0 / 3},
        {"3 to 5 cm", "cm", 3}, {"1 250 kg", "kg", 1250}, {"100. m", "m", 100}, {"5 %", "", 5}, {"-3 °C", "°C", -3}, {"4 apples", "apples", 4},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct number number;
        const char *rest = NULL;
        cr_assert(number_read(cases[i].text, &number, &rest), "%s", cases[i].text);
        cr_expect_str_eq(rest, cases[i].rest, "%s leaves '%s'", cases[i].text, rest);
        cr_expect_eq(number.approximate, cases[i].value, "%s", cases[i].text);
    }
    struct number number;
    const char *rest;
    cr_expect_not(number_read("5 - 3", &number, &rest));
    cr_expect_not(number_read("5 × 3", &number, &rest));
    cr_expect_not(number_read("5 3", &number, &rest));
    cr_expect_not(number_read("1.2e m", &number, &rest));
}
