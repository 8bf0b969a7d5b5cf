#include "answer/slips.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "answer/inside.h"
#include "quantity/formula.h"
#include "quantity/unit.h"

enum {
    TENS = 9,               /* powers of ten tried, up and down */
    MOST = 2,               /* explanations; more explain nothing */
    HELD = 8,               /* until the exact ones are known */
    NAMES_TRIED = 16,
    TIME = 2                /* of the dimensions: kg m s */
};

static const double WIDEST_TOLERANCE = 0.02, CLOSE = 0.02;

struct trial {
    const struct evidence_ask *ask;
    const struct number_key *key;
    struct number_key loose;            /* the key without its interval, and no wider than a slip may be */
    const struct number_evidence *number;
    double expected;
    struct binding *bindings;           /* what the formula is over; NULL: only the whole value is changed */
    size_t binding_count;
    size_t used[NAMES_TRIED];           /* bindings the formula names */
    size_t used_count;
    struct arena *arena;
    struct slip items[HELD];
    size_t count;                       /* may exceed HELD: then nothing is told */
    const char *written, *right;        /* as the sentences show them */
};

/* ---- Explaining ---------------------------------------------------------------------------------- */

static bool is_near(double a, double b, double tolerance)
{
    return fabs(a - b) <= tolerance * fmax(fabs(a), fabs(b));
}

/* Is it the number that was written, and surely another than the right one? */
static bool explains(const struct trial *trial, double value)
{
    if (!isfinite(value) || value == 0 || is_near(value, trial->expected, WIDEST_TOLERANCE / 2))
        return false;
    return compare_number(&trial->number->number, trial->number->unit, &trial->loose, value).value_right;
}

/* Kinds that are one slip seen from two sides when they give the same value. */
static int family(enum slip_kind kind)
{
    switch (kind) {
    case SLIP_POWER_OF_TEN: case SLIP_PREFIX: case SLIP_PERCENT: return 1;
    case SLIP_INVERSE: case SLIP_SWAPPED: return 2;
    case SLIP_ROUNDED_EARLY: case SLIP_CUT_OFF: return 3;
    default: return 4 + (int)kind;
    }
}

static bool is_told(const struct trial *trial, enum slip_kind kind, double value)
{
    for (size_t i = 0; i < trial->count && i < HELD; i++)
        if (family(trial->items[i].kind) == family(kind) && is_near(trial->items[i].value, value, 1e-9))
            return true;
    return false;
}

static void tell(struct trial *trial, struct slip slip)
{
    if (is_told(trial, slip.kind, slip.value))
        return;
    if (trial->count < HELD)
        trial->items[trial->count] = slip;
    trial->count++;
}

/* Tells when the value explains; the sentence is "what: 2.3 instead of 23, advice". */
static void try_value(struct trial *trial, enum slip_kind kind, const char *symbol, double value, const char *what,
                      const char *advice)
{
    if (explains(trial, value))
        tell(trial, (struct slip){kind, symbol, NULL, value,
                                  arena_print(trial->arena, "%s: %s instead of %s; %s", what, trial->written, trial->right,
                                              advice)});
}

/* ---- Names and units ----------------------------------------------------------------------------- */

static const struct bound_value *bound(const struct trial *trial, size_t used)
{
    return &trial->ask->values->items[trial->used[used]];
}

static const char *given_name(const struct given *givens, size_t count, const char *symbol)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(givens[i].symbol, symbol) == 0 && givens[i].name && givens[i].name[0])
            return givens[i].name;
    return NULL;
}

/* "the wave height (H)", or the symbol alone. */
static const char *name_of(const struct trial *trial, const char *symbol)
{
    const struct evidence_ask *ask = trial->ask;
    const char *name = given_name(ask->part->givens, ask->part->given_count, symbol);
    if (!name)
        name = given_name(ask->question->givens, ask->question->given_count, symbol);
    for (size_t i = 0; !name && i < ask->course->constant_count; i++)
        if (strcmp(ask->course->constants[i].symbol, symbol) == 0)
            name = ask->course->constants[i].name;
    return name ? arena_print(trial->arena, "the %s (%s)", name, symbol) : symbol;
}

static bool has_time(const char *unit)
{
    struct unit_readings readings = unit_read(unit ? unit : "");
    return readings.count > 0 && readings.items[0].power[TIME] != 0;
}

/* Is its scale a power of ten other than one (kW, cm, but not kg's own)? */
static bool has_prefix(const char *unit)
{
    struct unit_readings readings = unit_read(unit ? unit : "");
    if (!unit || !unit[0] || !readings.count || readings.items[0].scale <= 0)
        return false;
    double tens = log10(readings.items[0].scale);
    return fabs(tens) > 0.5 && fabs(tens - round(tens)) < 1e-9;
}

static bool any_used(const struct trial *trial, bool (*test)(const char *unit))
{
    for (size_t i = 0; i < trial->used_count; i++)
        if (test(bound(trial, i)->unit))
            return true;
    return test(trial->key->unit) || test(trial->number->unit);
}

/* ---- The whole value changed --------------------------------------------------------------------- */

static void try_tens(struct trial *trial)
{
    bool prefix = any_used(trial, has_prefix), pure = !trial->key->unit || !trial->key->unit[0];
    bool percent = (trial->key->unit && strcmp(trial->key->unit, "%") == 0) || (pure && fabs(trial->expected) <= 1);
    for (int i = 1; i <= TENS; i++)
        for (int sign = -1; sign <= 1; sign += 2) {
            double value = trial->expected * pow(10, sign * i);
            if (percent && i == 2)
                try_value(trial, SLIP_PERCENT, NULL, value, "a percentage and a plain number are mixed up",
                          "40 % is 0.40");
            else if (prefix && i % 3 == 0)
                try_value(trial, SLIP_PREFIX, NULL, value, "a prefix is lost or used twice",
                          "kilo is a thousand, milli a thousandth");
            else
                try_value(trial, SLIP_POWER_OF_TEN, NULL, value,
                          i == 1 ? "you are out by a power of ten" : arena_print(trial->arena, "you are out by 10^%d", i),
                          "look at the powers and prefixes");
        }
}

static void try_time(struct trial *trial)
{
    static const double factors[] = {60, 1.0 / 60, 3600, 1.0 / 3600};
    for (size_t i = 0; any_used(trial, has_time) && i < sizeof factors / sizeof *factors; i++)
        try_value(trial, SLIP_TIME, NULL, trial->expected * factors[i], i < 2 ? "you are out by 60" : "you are out by 3600",
                  i < 2 ? "look for minutes that should be seconds" : "look for hours that should be seconds");
}

static void try_whole(struct trial *trial)
{
    double right = trial->expected;
    bool root = trial->key->formula && (strstr(trial->key->formula, "sqrt") || strstr(trial->key->formula, "^0.5"));
    try_value(trial, SLIP_SIGN, NULL, -right, "the sign is turned round", "check which way is positive");
    try_tens(trial);
    try_time(trial);
    try_value(trial, SLIP_FACTOR_OF_TWO, NULL, right * 2, "you are out by a factor of two", "look for a half that is missing");
    try_value(trial, SLIP_FACTOR_OF_TWO, NULL, right / 2, "you are out by a factor of two", "look for a half too many");
    try_value(trial, SLIP_INVERSE, NULL, 1 / right, "the value is upside down", "check what is divided by what");
    if (right > 0) {
        try_value(trial, root ? SLIP_NO_ROOT : SLIP_SQUARED, NULL, right * right,
                  root ? "the square root is not taken" : "the value is squared",
                  root ? "the last step is the root" : "nothing is left to square at the end");
        if (!root)
            try_value(trial, SLIP_ROOT, NULL, sqrt(right), "a root is taken of the value", "no root is left to take at the end");
    }
}

/* ---- One value of the formula changed ------------------------------------------------------------ */

/* The formula with binding `at` set to `value`. */
static double with(const struct trial *trial, size_t at, double value)
{
    double kept = trial->bindings[at].value;
    trial->bindings[at].value = value;
    struct formula_result result = formula_value(trial->key->formula, trial->bindings, trial->binding_count);
    trial->bindings[at].value = kept;
    return result.understood ? result.value : NAN;
}

/* The exponent with which a value enters the formula, or NAN when it enters otherwise. */
static double exponent_of(const struct trial *trial, size_t at)
{
    double value = trial->bindings[at].value, base = with(trial, at, value);
    double twice = with(trial, at, value * 2) / base, thrice = with(trial, at, value * 3) / base;
    if (!(twice > 0) || !(thrice > 0))
        return NAN;
    double exponent = log(twice) / log(2);
    return is_near(exponent, log(thrice) / log(3), 1e-9) ? exponent : NAN;
}

static bool is_exponent(double exponent, double wanted)
{
    return fabs(fabs(exponent) - wanted) < 1e-6;
}

/* `what` with the name of the value in the place of its @. */
static const char *with_name(const struct trial *trial, const char *what, const char *symbol)
{
    const char *place = strchr(what, '@');
    assert(place);
    return arena_print(trial->arena, "%.*s%s%s", (int)(place - what), what, name_of(trial, symbol), place + 1);
}

static void try_symbol(struct trial *trial, size_t used, enum slip_kind kind, double changed, const char *what,
                       const char *advice)
{
    size_t at = trial->used[used];
    const char *symbol = trial->bindings[at].name;
    try_value(trial, kind, symbol, with(trial, at, changed), with_name(trial, what, symbol), advice);
}

static void try_power(struct trial *trial, size_t used, double exponent)
{
    double value = trial->bindings[trial->used[used]].value;
    if (is_exponent(exponent, 1)) {
        try_symbol(trial, used, SLIP_INVERSE, 1 / value,
                   exponent > 0 ? "you divided by @" : "you multiplied by @",
                   exponent > 0 ? "the formula multiplies by it" : "the formula divides by it");
        try_symbol(trial, used, SLIP_SQUARED, value * value, "@ is squared", "the formula has it to the first power");
    }
    if (is_exponent(exponent, 2) && value > 0) {
        try_symbol(trial, used, SLIP_NOT_SQUARED, sqrt(value), "@ is not squared", "the formula squares it");
        try_symbol(trial, used, SLIP_NOT_SQUARED, sqrt(2 * value), "@ is doubled", "squared means times itself");
    }
    if (is_exponent(exponent, 3) && value > 0)
        try_symbol(trial, used, SLIP_NOT_SQUARED, cbrt(value), "@ is not cubed", "the formula cubes it");
    if (is_exponent(exponent, 0.5))
        try_symbol(trial, used, SLIP_NO_ROOT, value * value, "no root is taken of @", "the formula has its root");
    if (!is_exponent(exponent, 1) && !is_exponent(exponent, 0)) {
        try_symbol(trial, used, SLIP_FACTOR_OF_TWO, 2 * value, "@ is twice what it should be", "look for a half, as from diameter to radius");
        try_symbol(trial, used, SLIP_FACTOR_OF_TWO, value / 2, "@ is half of what it should be", "look for a half too many");
    }
}

/* In a sum a value left out counts as 0, elsewhere as 1. */
static void try_left_out(struct trial *trial, size_t used, double exponent)
{
    try_symbol(trial, used, SLIP_LEFT_OUT, isnan(exponent) ? 0 : 1, "@ is left out", "every value of the formula goes in");
    if (isnan(exponent))
        try_symbol(trial, used, SLIP_SIGN, -trial->bindings[trial->used[used]].value, "@ has the wrong sign",
                   "check whether it is added or taken away");
}

static void try_scale(struct trial *trial, size_t used)
{
    double value = trial->bindings[trial->used[used]].value;
    const char *unit = bound(trial, used)->unit;
    struct unit_readings readings = unit_read(unit ? unit : "");
    if (has_prefix(unit)) {
        double scale = readings.items[0].scale;
        try_symbol(trial, used, SLIP_PREFIX, value / scale, "the prefix in the unit of @ is not turned into a number",
                   "change it into the plain unit first");
        try_symbol(trial, used, SLIP_PREFIX, value * scale, "the prefix in the unit of @ is used twice",
                   "change it into the plain unit once");
    }
    for (int hours = 0; has_time(unit) && hours < 2; hours++) {
        double factor = hours ? 3600 : 60;
        const char *advice = hours ? "an hour has 3600 seconds" : "a minute has 60 seconds";
        try_symbol(trial, used, SLIP_TIME, value / factor, "the unit of time in @ is mixed up", advice);
        try_symbol(trial, used, SLIP_TIME, value * factor, "the unit of time in @ is mixed up", advice);
    }
    const char *formula = trial->key->formula;
    if (strstr(formula, "sin") || strstr(formula, "cos") || strstr(formula, "tan")) {
        double degree = acos(-1) / 180;
        try_symbol(trial, used, SLIP_ANGLE, value / degree, "degrees and radians are mixed up with @", "look at the mode of the calculator");
        try_symbol(trial, used, SLIP_ANGLE, value * degree, "degrees and radians are mixed up with @", "look at the mode of the calculator");
    }
}

/* An earlier result, rounded before it was used. */
static void try_rounded(struct trial *trial, size_t used)
{
    struct decimal exact;
    if (!bound(trial, used)->is_answer || !decimal_from_double(trial->bindings[trial->used[used]].value, &exact))
        return;
    for (int figures = 1; figures <= 2; figures++) {
        struct decimal rounded = decimal_round_figures(&exact, figures);
        try_symbol(trial, used, SLIP_ROUNDED_EARLY, decimal_to_double(&rounded), "@ was rounded too early",
                   "keep all figures until the end");
    }
}

static bool same_dimension(const char *a, const char *b)
{
    struct unit_readings one = unit_read(a ? a : ""), other = unit_read(b ? b : "");
    return one.count && other.count && memcmp(one.items[0].power, other.items[0].power, sizeof one.items[0].power) == 0;
}

static void try_swapped(struct trial *trial, size_t one, size_t other)
{
    size_t a = trial->used[one], b = trial->used[other];
    if (!same_dimension(bound(trial, one)->unit, bound(trial, other)->unit))
        return;
    double kept = trial->bindings[a].value;
    trial->bindings[a].value = trial->bindings[b].value;
    double value = with(trial, b, kept);
    trial->bindings[a].value = kept;
    if (explains(trial, value))
        tell(trial, (struct slip){SLIP_SWAPPED, trial->bindings[a].name, trial->bindings[b].name, value,
                                  arena_print(trial->arena, "%s and %s have changed places: %s instead of %s; check which is which",
                                              name_of(trial, trial->bindings[a].name),
                                              name_of(trial, trial->bindings[b].name), trial->written, trial->right)});
}

static void try_formula(struct trial *trial)
{
    /* What names a value goes first: it tells more than the whole being out by the same factor. */
    for (size_t i = 0; i < trial->used_count; i++)
        try_scale(trial, i);
    for (size_t i = 0; i < trial->used_count; i++) {
        double exponent = exponent_of(trial, trial->used[i]);
        try_power(trial, i, exponent);
        try_left_out(trial, i, exponent);
        try_rounded(trial, i);
    }
    for (size_t i = 0; i < trial->used_count; i++)
        for (size_t k = i + 1; k < trial->used_count; k++)
            try_swapped(trial, i, k);
}

/* ---- Nearly right -------------------------------------------------------------------------------- */

static void try_cut_off(struct trial *trial)
{
    const struct number *given = &trial->number->number;
    struct decimal exact;
    double ratio = trial->number->in_key_unit / given->approximate;
    if (!(ratio > 0) || !decimal_from_double(trial->expected / ratio, &exact))
        return;
    exact = decimal_round_figures(&exact, 12);
    size_t figures = given->figures_high > 0 ? (size_t)given->figures_high : 0;
    if (figures == 0 || figures >= strlen(exact.digits))
        return;
    struct decimal cut = exact, rounded = decimal_round_figures(&exact, given->figures_high);
    cut.digits[figures] = '\0';
    if (decimal_compare(&cut, &given->value) == 0 && decimal_compare(&rounded, &cut) != 0)
        tell(trial, (struct slip){SLIP_CUT_OFF, NULL, NULL, trial->number->in_key_unit,
                                  arena_print(trial->arena, "the value is cut off instead of rounded: %s instead of %s",
                                              trial->written, trial->right)});
}

static void try_close(struct trial *trial)
{
    if (trial->count == 0 && is_near(trial->number->in_key_unit, trial->expected, CLOSE))
        tell(trial, (struct slip){SLIP_ROUNDED_EARLY, NULL, NULL, trial->number->in_key_unit,
                                  arena_print(trial->arena, "you are close: %s instead of %s; a step in between may be "
                                              "rounded too early", trial->written, trial->right)});
}

/* ---- The closest ones ---------------------------------------------------------------------------- */

/* Is it what was written, to the figures that were written for certain (two at least)? */
static bool is_exact(const struct trial *trial, double value)
{
    const struct number *given = &trial->number->number;
    struct decimal slip;
    double ratio = trial->number->in_key_unit / given->approximate;
    if (given->figures_low < 2 || !isfinite(ratio) || ratio == 0 || !decimal_from_double(value / ratio, &slip))
        return false;
    slip = decimal_round_figures(&slip, given->figures_low);
    struct decimal written = decimal_round_figures(&given->value, given->figures_low);
    return decimal_compare(&slip, &written) == 0;
}

/* 2700 for 27 022 is out by ten; that 9.81 was not squared gives 2754, which is near and not it. */
static void keep_the_exact(struct trial *trial)
{
    size_t exact = 0;
    for (size_t i = 0; i < trial->count && trial->count <= HELD; i++)
        if (is_exact(trial, trial->items[i].value))
            trial->items[exact++] = trial->items[i];
    if (exact)
        trial->count = exact;
}

/* ---- Setting up ---------------------------------------------------------------------------------- */

static void note_name(const char *name, void *context)
{
    struct trial *trial = context;
    for (size_t i = 0; i < trial->binding_count && trial->used_count < NAMES_TRIED; i++)
        if (strcmp(trial->bindings[i].name, name) == 0) {
            trial->used[trial->used_count++] = i;
            return;
        }
}

static double own_or_drawn(const struct evidence_ask *ask, const struct bound_value *value, bool own)
{
    for (size_t i = 0; own && value->is_answer && i < ask->own_count; i++)
        if (strcmp(ask->own[i].symbol, value->symbol) == 0)
            return ask->own[i].value;
    return value->value;
}

/* Binds the student's own earlier values if those give what was expected, else those of the scheme. */
static void bind(struct trial *trial)
{
    const struct values *values = trial->ask->values;
    if (!trial->key->formula || !values)
        return;
    trial->bindings = arena_get_array(trial->arena, values->count, sizeof *trial->bindings);
    trial->binding_count = values->count;
    for (int own = 1; own >= 0; own--) {
        for (size_t i = 0; i < values->count; i++)
            trial->bindings[i] = (struct binding){values->items[i].symbol,
                                                  own_or_drawn(trial->ask, &values->items[i], own == 1)};
        struct formula_result base = formula_value(trial->key->formula, trial->bindings, trial->binding_count);
        if (base.understood && is_near(base.value, trial->expected, 1e-9)) {
            formula_names(trial->key->formula, note_name, trial, &base);
            return;
        }
    }
}

static struct number_key loosen(const struct number_key *key, double expected)
{
    struct number_key loose = *key;
    if (loose.tolerance > 0 && !loose.tolerance_relative)
        loose.tolerance /= fabs(expected);
    loose.tolerance_relative = true;
    loose.tolerance = fmin(loose.tolerance, WIDEST_TOLERANCE);
    loose.has_interval = false;
    /* Without a formula its written figures would be compared, and the changed value has none. */
    loose.formula = loose.formula ? loose.formula : "";
    return loose;
}

static const char *kept(struct arena *arena, struct buffer *text)
{
    const char *copy = arena_copy_text(arena, buffer_text(text));
    buffer_free(text);
    return copy;
}

static void write_numbers(struct trial *trial)
{
    struct buffer text = BUFFER_EMPTY;
    const char *unit = trial->number->unit;
    decimal_print(&text, &trial->number->number.value, 0);
    if (unit && unit[0] && trial->key->unit && strcmp(unit, trial->key->unit) != 0)
        buffer_print(&text, " %s", unit);
    trial->written = kept(trial->arena, &text);
    text = BUFFER_EMPTY;
    values_show_answer(&text, trial->key, trial->expected);
    if (trial->key->unit && trial->key->unit[0])
        buffer_print(&text, " %s", trial->key->unit);
    trial->right = kept(trial->arena, &text);
}

struct slips slips_find(const struct evidence_ask *ask, const struct node *point, const struct number_evidence *number,
                        struct arena *arena)
{
    assert(point->number);
    if (!number->found || number->value != VALUE_WRONG || number->number.form == NUMBER_RANGE
        || !isfinite(number->expected) || number->expected == 0)
        return (struct slips){NULL, 0};
    struct trial trial = {.ask = ask, .key = point->number, .number = number, .expected = number->expected, .arena = arena};
    trial.loose = loosen(point->number, number->expected);
    bind(&trial);
    write_numbers(&trial);
    if (trial.used_count)
        try_formula(&trial);
    try_whole(&trial);
    try_cut_off(&trial);
    try_close(&trial);
    keep_the_exact(&trial);
    struct slips slips = {NULL, trial.count <= MOST ? trial.count : 0};
    struct slip *items = arena_get_array(arena, slips.count, sizeof *items);
    memcpy(items, trial.items, slips.count * sizeof *items);
    slips.items = items;
    return slips;
}

const char *slip_kind_name(enum slip_kind kind)
{
    static const char *const names[] = {
        [SLIP_POWER_OF_TEN] = "power-of-ten", [SLIP_PREFIX] = "prefix", [SLIP_TIME] = "time", [SLIP_ANGLE] = "angle",
        [SLIP_INVERSE] = "inverse", [SLIP_NOT_SQUARED] = "not-squared", [SLIP_SQUARED] = "squared",
        [SLIP_NO_ROOT] = "no-root", [SLIP_ROOT] = "root", [SLIP_FACTOR_OF_TWO] = "factor-of-two", [SLIP_SIGN] = "sign",
        [SLIP_PERCENT] = "percent", [SLIP_LEFT_OUT] = "left-out", [SLIP_SWAPPED] = "swapped",
        [SLIP_ROUNDED_EARLY] = "rounded-early", [SLIP_CUT_OFF] = "cut-off",
    };
    assert(kind <= SLIP_CUT_OFF);
    return names[kind];
}
