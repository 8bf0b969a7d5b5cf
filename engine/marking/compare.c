#include "marking/compare.h"

#include <assert.h>
#include <math.h>
#include <stddef.h>
#include <string.h>

/* Figures to which a double computed from a bank's decimals can be trusted: the ends of an interval are
 * rounded to them, so that 9.8 − 0.1 is 9.7 and not a hair more. */
enum { TRUSTED_FIGURES = 12, USUAL_FIGURES = 3 };

/* ---- Units --------------------------------------------------------------------------------------- */

struct unit_judgement {
    enum unit_verdict verdict;
    enum unit_shown shown;
    bool convertible;           /* *given and *wanted are readings of one dimension */
    struct unit given, wanted;
};

static bool is_text(const char *text, const char *other)
{
    return strcmp(text, other) == 0;
}

/* The unit as written, counting a % or a currency that the number holds. */
static const char *written_unit(const struct number *given, const char *unit)
{
    if (unit && unit[0])
        return unit;
    return given->percent ? "%" : given->currency_before ? given->currency : "";
}

static enum unit_shown unit_meaning(enum unit_verdict verdict, const struct number_key *key)
{
    switch (verdict) {
    case UNIT_SAME: case UNIT_OTHER_SCALE: case UNIT_WRONG_CASE: return UNIT_FITS;
    case UNIT_OTHER_KIND: case UNIT_AMBIGUOUS: case UNIT_NOT_UNDERSTOOD: return UNIT_UNCLEAR;
    case UNIT_MISSING: return key->unit_printed ? UNIT_FITS : UNIT_LEFT_OUT;
    case UNIT_DIFFERENT: return UNIT_WRONG;
    }
    assert(false && "every verdict has a meaning");
    return UNIT_NOT_LOOKED_AT;
}

static struct unit_judgement judge_unit(const char *written, const struct number_key *key)
{
    const char *wanted = key->unit ? key->unit : "";
    struct unit_judgement unit = {.verdict = UNIT_SAME};
    if (is_text(written, "%") && is_text(wanted, "%"))
        unit.verdict = UNIT_SAME;
    else if (!written[0] && wanted[0])
        unit.verdict = UNIT_MISSING;
    else if (written[0] || wanted[0]) {
        unit.verdict = unit_compare(written, wanted, &unit.given);
        struct unit_readings readings = unit_read(wanted);
        unit.convertible = readings.count > 0 && unit.verdict != UNIT_DIFFERENT && unit.verdict != UNIT_NOT_UNDERSTOOD
                        && unit.verdict != UNIT_MISSING;
        if (unit.convertible)
            unit.wanted = readings.items[0];
    }
    unit.shown = unit_meaning(unit.verdict, key);
    return unit;
}

/* ---- Values -------------------------------------------------------------------------------------- */

/* From one unit into the other and back; as it is where the units do not agree. */
static double into_given(double value, const struct unit_judgement *unit)
{
    return unit->convertible ? unit_convert(value, &unit->wanted, &unit->given) : value;
}

static double into_wanted(double value, const struct unit_judgement *unit)
{
    return unit->convertible ? unit_convert(value, &unit->given, &unit->wanted) : value;
}

/* -1, 0, 1; the typed digits against a bound rounded to what can be trusted. */
static int compare_bound(const struct decimal *typed, double bound)
{
    struct decimal exact;
    if (!decimal_from_double(bound, &exact))
        return bound > 0 ? -1 : 1;
    exact = decimal_round_figures(&exact, TRUSTED_FIGURES);
    return decimal_compare(typed, &exact);
}

static bool is_within(const struct decimal *typed, double low, double high, bool high_excluded)
{
    int above = compare_bound(typed, high);
    return compare_bound(typed, low) >= 0 && (high_excluded ? above < 0 : above <= 0);
}

/* Significant figures that a decimal text shows. */
static int figures_of_text(const char *text)
{
    struct number number;
    if (!text || !number_read(text, &number, NULL) || number.figures_high == 0)
        return USUAL_FIGURES;
    return number.figures_high;
}

/* Given rounded as the ask demands is right even where rule 11's two figures would show more. */
static bool is_rounded_as_asked(const struct number *given, const struct number_key *key, double wanted)
{
    struct decimal exact;
    if (!decimal_from_double(wanted, &exact))
        return false;
    exact = decimal_round_figures(&exact, TRUSTED_FIGURES);
    struct decimal asked = key->figures > 0 ? decimal_round_figures(&exact, key->figures)
                                            : decimal_round_places(&exact, key->places);
    return (key->figures > 0 || key->places >= 0) && decimal_compare(&given->value, &asked) == 0;
}

/* A computed key is known to every figure the student gives, and must not be missed by more than the usual
 * ones: a student who rounds late and one who rounds to three figures are both right. */
static bool is_right_by_figures(const struct number *given, const struct number_key *key, double wanted)
{
    if (is_rounded_as_asked(given, key, wanted))
        return true;
    if (!key->formula)
        return number_agrees_by_figures(given, wanted, figures_of_text(key->value));
    int usual = key->figures > USUAL_FIGURES ? key->figures : USUAL_FIGURES;
    return number_agrees_by_figures(given, wanted, usual) || number_agrees_by_figures(given, wanted, TRUSTED_FIGURES);
}

static bool is_right(const struct number *given, const struct number_key *key, double expected,
                     const struct unit_judgement *unit)
{
    if (given->form == NUMBER_RANGE)
        return false;
    if (key->has_interval)
        return is_within(&given->value, into_given(key->from, unit), into_given(key->to, unit), key->to_excluded);
    if (!isfinite(expected))
        return false;
    if (key->tolerance > 0) {
        double width = key->tolerance_relative ? key->tolerance * fabs(expected) : key->tolerance;
        return is_within(&given->value, into_given(expected - width, unit), into_given(expected + width, unit), false);
    }
    return is_right_by_figures(given, key, into_given(expected, unit));
}

static bool is_whole(const struct decimal *value)
{
    size_t point = value->point > 0 ? (size_t)value->point : 0, length = strlen(value->digits);
    return point >= length || strspn(value->digits + point, "0") == length - point;
}

/* A whole number may be written as £665.00 or as 1.5 thousand. */
static bool has_asked_figures(const struct number *given, const struct number_key *key)
{
    if (key->figures > 0)
        return given->figures_low <= key->figures && key->figures <= given->figures_high;
    return key->places < 0 || given->places == key->places || (key->places == 0 && is_whole(&given->value));
}

/* 40 % where a pure number is wanted is 0.40. */
static struct number without_percent(const struct number *given)
{
    struct number pure = *given;
    pure.value.point -= 2;
    pure.upper.point -= 2;
    pure.approximate /= 100;
    pure.places += 2;
    pure.percent = false;
    return pure;
}

struct number_verdict compare_number(const struct number *given, const char *unit, const struct number_key *key,
                                     double expected)
{
    struct number number = *given;
    if (given->percent && (!key->unit || !key->unit[0]) && (!unit || !unit[0]))
        number = without_percent(given);
    struct unit_judgement judged = judge_unit(written_unit(&number, unit), key);
    struct number_verdict verdict = {.unit = judged.verdict, .unit_shown = judged.shown};
    verdict.value_right = is_right(&number, key, expected, &judged);
    verdict.converted = verdict.value_right && judged.verdict == UNIT_OTHER_SCALE;
    verdict.in_key_unit = into_wanted(number.approximate, &judged);
    judged.convertible = false;
    if (judged.verdict == UNIT_OTHER_SCALE && !verdict.value_right && is_right(&number, key, expected, &judged)) {
        /* 4200 kJ for 4200 J: the number is right and its unit wrong. */
        verdict.value_right = true;
        verdict.in_key_unit = number.approximate;
        verdict.unit_shown = UNIT_WRONG;
    }
    verdict.figures_asked = key->figures > 0 || key->places >= 0;
    verdict.figures_right = has_asked_figures(&number, key);
    return verdict;
}
