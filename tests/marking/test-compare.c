/* Numbers against their key. Values worked by hand from the rules in docs/marking.md; the rounding pairs also agree
 * with the figures of NIST SP 811, B.7 (round the typed digits, half up). */
#include "trial.h"

#include "marking/compare.h"

static struct number_verdict verdict_of(const char *typed, const struct number_key *key, double expected)
{
    struct number number;
    const char *unit = "";
    cr_assert(number_read(typed, &number, &unit), "cannot read %s", typed);
    return compare_number(&number, unit, key, expected);
}

#define check_value(typed, key, expected, right)                                                         \
    cr_expect_eq(verdict_of(typed, key, expected).value_right, right, "%s for %g", typed, (double)(expected))

#define check_unit(typed, key, expected, right, shown)                                                   \
    do {                                                                                                 \
        struct number_verdict got_ = verdict_of(typed, key, expected);                                   \
        cr_expect(got_.value_right == (right) && got_.unit_shown == (shown), "%s: value %d, unit %d (%d)", typed, \
                  got_.value_right, (int)got_.unit_shown, (int)got_.unit);                               \
    } while (0)

Test(marking, compare_by_figures)
{
    const struct number_key *key = KEY(.value = "1.385", .unit = "");
    check_value("1.385", key, 1.385, true);
    check_value("1.39", key, 1.385, true);
    check_value("1.4", key, 1.385, true);
    check_value("1.38", key, 1.385, false);
    check_value("1.387", key, 1.385, false);
    check_value("1.3", key, 1.385, false);
    check_value("1", key, 1.385, false);
    check_value("-1.385", key, 1.385, false);
    check_value("1.3854", key, 1.385, true);
    check_value("1 to 2", key, 1.385, false);
    check_value("6", KEY(.value = "6"), 6, true);
    check_value("6.0", KEY(.value = "6"), 6, true);
    check_value("6.1", KEY(.value = "6"), 6, false);
    check_value("0", KEY(.value = "0"), 0, true);
}

/* A computed key holds every figure: both who rounds to three and who rounds late are right. */
Test(marking, compare_with_a_computed_key)
{
    const struct number_key *key = KEY(.formula = "x", .unit = "");
    check_value("1.385", key, 1.3849, true);
    check_value("1.38", key, 1.3849, true);
    check_value("1.3849", key, 1.3849, true);
    check_value("1.3847", key, 1.3849, true);
    check_value("1.39", key, 1.3849, false);
    check_value("0.333", key, 1.0 / 3, true);
    check_value("1/3", key, 1.0 / 3, true);
    check_value("0.3", key, 0.1 + 0.2, true);
    check_value("1", key, NAN, false);
}

Test(marking, compare_by_tolerance)
{
    const struct number_key *absolute = KEY(.value = "9.8", .tolerance = 0.1);
    check_value("9.7", absolute, 9.8, true);
    check_value("9.9", absolute, 9.8, true);
    check_value("9.69", absolute, 9.8, false);
    check_value("9.91", absolute, 9.8, false);
    const struct number_key *relative = KEY(.value = "-200", .tolerance = 0.05, .tolerance_relative = true);
    check_value("-190", relative, -200, true);
    check_value("-210", relative, -200, true);
    check_value("-211", relative, -200, false);
    check_value("-189.9", relative, -200, false);
}

/* [a, b] holds both ends, [a, b) not the upper one: published mathematics scheme, as given in docs/marking.md. */
Test(marking, compare_by_interval)
{
    const struct number_key *closed = KEY(.has_interval = true, .from = 4.2, .to = 4.6, .unit = "m");
    check_value("4.2 m", closed, NAN, true);
    check_value("4.6 m", closed, NAN, true);
    check_value("4.61 m", closed, NAN, false);
    check_value("4.19 m", closed, NAN, false);
    check_value("460 cm", closed, NAN, true);
    check_value("461 cm", closed, NAN, false);
    const struct number_key *open = KEY(.has_interval = true, .from = 4.2, .to = 4.6, .to_excluded = true);
    check_value("4.6", open, NAN, false);
    check_value("4.599", open, NAN, true);
}

Test(marking, compare_units)
{
    const struct number_key *key = KEY(.value = "4200", .unit = "J");
    check_unit("4200 J", key, 4200, true, UNIT_FITS);
    check_unit("4.2 kJ", key, 4200, true, UNIT_FITS);
    check_unit("4200", key, 4200, true, UNIT_LEFT_OUT);
    check_unit("4200 kJ", key, 4200, true, UNIT_WRONG);
    check_unit("4200 N", key, 4200, true, UNIT_WRONG);
    check_unit("5 kJ", key, 4200, false, UNIT_FITS);
    check_unit("4200 blobs", key, 4200, true, UNIT_UNCLEAR);
    cr_expect(verdict_of("4.2 kJ", key, 4200).converted);
    cr_expect_float_eq(verdict_of("4.2 kJ", key, 4200).in_key_unit, 4200, 1e-9);
    cr_expect_float_eq(verdict_of("5 kJ", key, 4200).in_key_unit, 5000, 1e-9);
    check_unit("4200", KEY(.value = "4200", .unit = "J", .unit_printed = true), 4200, true, UNIT_FITS);
}

Test(marking, compare_ambiguous_unit_is_not_penalised)
{
    cr_expect_eq(verdict_of("3 ms-1", KEY(.value = "3", .unit = "m/s"), 3).unit_shown, UNIT_UNCLEAR);
}

Test(marking, compare_per_cent_and_pure_numbers)
{
    check_unit("40 %", KEY(.value = "40", .unit = "%"), 40, true, UNIT_FITS);
    check_unit("40", KEY(.value = "40", .unit = "%"), 40, true, UNIT_LEFT_OUT);
    check_unit("40 %", KEY(.value = "0.40", .unit = ""), 0.4, true, UNIT_FITS);
    check_unit("0.4", KEY(.value = "0.40", .unit = ""), 0.4, true, UNIT_FITS);
    check_unit("0.4 kg", KEY(.value = "0.40", .unit = ""), 0.4, true, UNIT_WRONG);
    check_unit("\xC2\xA3" "3.50", KEY(.value = "3.50", .unit = "\xC2\xA3"), 3.5, true, UNIT_FITS);
}

Test(marking, compare_figures_asked_for)
{
    const struct number_key *three = KEY(.formula = "x", .figures = 3);
    cr_expect(verdict_of("1.38", three, 1.3849).figures_right);
    cr_expect_not(verdict_of("1.385", three, 1.3849).figures_right);
    cr_expect(verdict_of("1200", KEY(.value = "1200", .figures = 3), 1200).figures_right);
    cr_expect_not(verdict_of("1/3", KEY(.formula = "x", .figures = 2), 1.0 / 3).figures_right);
    const struct number_key *whole = &(const struct number_key){.formula = "x", .places = 0};
    static const char *const wholes[] = {"665", "665.00", "6.65 \u00d7 10\u00b2", "0.665 thousand", "\u2212665.0"},
                             *const parts[] = {"665.5", "0.5", "0.05", "66.51", "6.655 \u00d7 10\u00b2"};
    for (size_t i = 0; i < sizeof wholes / sizeof *wholes; i++)
        cr_expect(verdict_of(wholes[i], whole, 665).figures_right, "%s", wholes[i]);
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
        cr_expect_not(verdict_of(parts[i], whole, 665).figures_right, "%s", parts[i]);
    const struct number_key *places = &(const struct number_key){.formula = "x", .places = 2};
    struct number_verdict verdict = verdict_of("0.05", places, 0.047);
    cr_expect(verdict.value_right && verdict.figures_asked && verdict.figures_right);
    cr_expect_not(verdict_of("0.047", places, 0.047).figures_right);
    struct number_verdict free = verdict_of("0.047", KEY(.value = "0.047"), 0.047);
    cr_expect(!free.figures_asked && free.figures_right);
}
