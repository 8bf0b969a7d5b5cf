/* Units as written. School spellings are common practice, no source; the rules are the SI Brochure's. */
#include <criterion/criterion.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "base/random.h"
#include "quantity/unit.h"
#include "quantity/unit-table.h"
#include "table.h"

static const char *const verdict_names[] = {"same", "other scale", "other kind", "ambiguous", "wrong case", "different", "not understood", "missing"};

static void expect_verdict(const char *given, const char *wanted, enum unit_verdict verdict)
{
    enum unit_verdict found = unit_compare(given, wanted, NULL);
    cr_expect_eq(found, verdict, "'%s' for '%s': %s, not %s", given, wanted, verdict_names[found], verdict_names[verdict]);
}

static struct unit must_read(const char *text)
{
    struct unit_readings readings = unit_read(text);
    cr_assert(readings.count > 0, "'%s' was not understood", text);
    return readings.items[0];
}

/* tests/data/10b: verdicts by the SI Brochure 9th ed. sect. 5.2 to 5.4 and 2.3.4, NIST SP 811 ch. 6 (from memory). */
static enum unit_verdict table_verdict(const char *name)
{
    static const struct { const char *name; enum unit_verdict verdict; } names[] = {
        {"equal", UNIT_SAME}, {"equal_not_si", UNIT_SAME}, {"ambiguous", UNIT_AMBIGUOUS}, {"wrong_case", UNIT_WRONG_CASE},
        {"equal_dim_other_quantity", UNIT_OTHER_KIND}, {"different", UNIT_DIFFERENT}, {"same_dim_factor", UNIT_OTHER_SCALE},
        {"same_dim_factor_1000", UNIT_OTHER_SCALE},
    };
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (strcmp(names[i].name, name) == 0)
            return names[i].verdict;
    cr_assert(false, "unknown verdict '%s'", name);
    return UNIT_MISSING;
}

Test(quantity, unit_equivalence_table)
{
    struct table table;
    int rows = 0;
    table_open(&table, "tests/data/10b_unit_equivalence.tsv");
    for (; table_next(&table); rows++) {
        const char *a = table.cells[0], *b = table.cells[1], *verdict = table.cells[2];
        bool scale_only = strcmp(verdict, "different") == 0 && unit_compare(a, b, NULL) == UNIT_OTHER_SCALE;
        if (!scale_only)   /* Mm and mm, mW and MW: the table has no word for another scale but "different" */
            expect_verdict(a, b, table_verdict(verdict));
        else
            cr_expect(strcmp(table.cells[3], "1") != 0 && strcmp(table.cells[3], "conformability error") != 0, "%s, %s", a, b);
        if (strncmp(verdict, "equal", 5) == 0)
            cr_expect_eq(unit_read(a).not_si, strcmp(verdict, "equal_not_si") == 0, "%s", a);
    }
    table_close(&table);
    cr_expect_eq(rows, 39, "%d rows", rows);
}

static double convert_texts(double value, const char *from_text, const char *to_text)
{
    static const char difference[] = " (difference)";
    char text[64];
    snprintf(text, sizeof text, "%s", from_text);
    char *mark = strstr(text, difference);
    if (mark)
        *mark = '\0';
    struct unit from = must_read(text), to = must_read(to_text);
    if (mark)
        from.offset = to.offset = 0;   /* a temperature difference has no zero point */
    return unit_convert(value, &from, &to);
}

/* tests/data/10a: exact rational arithmetic from the definitions of the SI Brochure and NIST SP 811. Its figures are
 * printed to 15 digits, hence 1e-12. */
Test(quantity, unit_conversion_table)
{
    struct table table;
    int rows = 0;
    table_open(&table, "tests/data/10a_unit_conversions.tsv");
    for (; table_next(&table); rows++) {
        double expected = strtod(table.cells[4], NULL);
        double found = convert_texts(strtod(table.cells[1], NULL), table.cells[2], table.cells[3]);
        double tolerance = strcmp(table.cells[5], "yes") == 0 ? 1e-12 : 1e-9;
        cr_expect(fabs(found - expected) <= tolerance * fabs(expected), "%s: %.17g, not %.17g", table.cells[0], found, expected);
    }
    table_close(&table);
    cr_expect_eq(rows, 43, "%d rows", rows);
}

/* tests/data/unit_factors.tsv: computed by UDUNITS-2 2.2.28 and GNU units 2.22. */
Test(quantity, unit_factors_agree_with_udunits)
{
    struct table table;
    int rows = 0;
    table_open(&table, "tests/data/unit_factors.tsv");
    for (; table_next(&table); rows++) {
        struct unit from = must_read(table.cells[0]), to = must_read(table.cells[1]);
        for (int column = 2; column <= 3; column++) {
            double expected = strtod(table.cells[column], NULL), found = unit_convert(1, &from, &to);
            cr_expect(fabs(found - expected) <= 1e-9 * fabs(expected), "%s in %s: %.17g, not %.17g", table.cells[0], table.cells[1], found, expected);
        }
    }
    table_close(&table);
    cr_expect_geq(rows, 80);
}

/* tests/data/10c: CODATA 2018. A bank may use the unit of each constant. */
Test(quantity, units_of_constants_are_known)
{
    struct table table;
    int rows = 0;
    table_open(&table, "tests/data/10c_constants.tsv");
    for (; table_next(&table); rows++)
        cr_expect(unit_is_known(table.cells[3]), "%s", table.cells[3]);
    table_close(&table);
    cr_expect_eq(rows, 21, "%d rows", rows);
}

Test(quantity, school_spellings_mean_the_same)
{
    static const struct { const char *given, *wanted; } cases[] = {
        {"sec", "s"}, {"secs", "s"}, {"seconds", "s"}, {"Seconds", "s"}, {"mins", "min"}, {"minutes", "min"}, {"hrs", "h"}, {"hr", "h"}, {"hours", "h"},
        {"kph", "km/h"}, {"kmph", "km/h"}, {"km/hr", "km/h"}, {"mph", "mile/h"}, {"miles per hour", "mph"}, {"cc", "cm^3"}, {"M", "mol dm^-3"},
        {"mM", "mmol dm^-3"}, {"amp", "A"}, {"amps", "A"}, {"mamps", "mA"}, {"litres", "L"}, {"liters", "L"}, {"l", "L"}, {"ml", "cm^3"}, {"pence", "p"}, {"pounds", "£"},
        {"£", "£"}, {"dollars", "$"}, {"euros", "€"}, {"knots", "kn"}, {"kt", "knot"}, {"mbar", "hPa"}, {"‰", "ppt"}, {"parts per thousand", "‰"},
        {"%", "percent"}, {"psu", "PSU"}, {"psu", "‰"}, {"tonnes", "t"}, {"t", "tonne"}, {"hectares", "ha"}, {"nautical miles", "nautical mile"}, {"years", "year"}, {"days", "d"},
        {"metres per second", "m s^-1"}, {"metre/second", "m/s"}, {"metres per second squared", "m s^-2"}, {"metres per second per second", "m s^-2"},
        {"kilometres per hour", "km/h"}, {"square metres", "m^2"}, {"metres squared", "m^2"}, {"cm squared", "cm^2"}, {"cubic centimetres", "cm^3"}, {"sq km", "km^2"},
        {"kilograms per cubic metre", "kg m^-3"}, {"grams per cm3", "g/cm^3"}, {"joules per kilogram kelvin", "J kg^-1 K^-1"}, {"newton metres", "N m"}, {"newton-metres", "N m"},
        {"kilowatt hours", "kW h"}, {"kW per metre", "kW m^-1"}, {"W per m", "W/m"}, {"kW/m", "kW m^-1"}, {"waves", ""},
        {"m s-1", "m/s"}, {"m s −1", "m/s"}, {"m s -1", "m/s"}, {"m s⁻¹", "m/s"}, {"m·s⁻¹", "m/s"}, {"m.s-1", "m/s"}, {"m*s^-1", "m/s"}, {"m × s^-1", "m/s"}, {"m s^(-1)", "m/s"},
        {"m s^{-1}", "m/s"}, {"m s**-1", "m/s"}, {"(m/s)", "m/s"}, {"m/(s)", "m/s"}, {"m s–1", "m/s"}, {"ms-2", "ms-2"}, {"W/m²", "W m^-2"}, {"W/m2", "W m^-2"}, {"Wm-2", "W m^-2"},
        {"Wm⁻²", "W m^-2"}, {"kgm-3", "kg m^-3"}, {"gcm-3", "g cm^-3"}, {"moldm-3", "mol dm^-3"}, {"mol/dm3", "mol dm^-3"}, {"Nm", "N m"}, {"kNm", "kN m"}, {"kWh", "kW h"}, {"kW h", "kW h"},
        {"mAh", "mA h"}, {"Jkg-1K-1", "J kg^-1 K^-1"}, {"J kg-1 K-1", "J/(kg K)"}, {"Vm-1", "V/m"}, {"NC-1", "N/C"}, {"Nm-2", "Pa"}, {"Pas", "Pa s"}, {"As", "C"}, {"/s", "s^-1"}, {"1/s", "Hz"},
        {"per second", "s^-1"}, {"s-1", "Hz"}, {"Ω", "ohm"}, {"kΩ", "kohm"}, {"Ωm", "ohm m"}, {"Ω m", "ohm m"}, {"µC", "uC"}, {"μC", "uC"}, {"°C", "degC"}, {"deg C", "°C"}, {"degrees C", "°C"},
        {"degrees Celsius", "°C"}, {"ºC", "°C"}, {"℃", "°C"}, {"oC", "°C"}, {"° C", "°C"}, {"degrees", "°"}, {"deg", "°"}, {"rpm", "r/min"}, {"dB", "decibels"}, {"mm Hg", "mmHg"},
        {"£/kg", "£ kg^-1"}, {"pence per kWh", "p/(kW h)"}, {"mols", "mol"}, {"moles", "mol"}, {"J/(kg °C)", "J kg^-1 K^-1"}, {"kgs", "kg"}, {"inches", "inch"}, {"feet", "ft"}, {" m ", "m"}, {"", ""},
        {"Newtons", "N"}, {"cm3", "ml"}, {"J/kg°C", "J/(kg K)"}, {"J/kgK", "J/(kg K)"}, {"Ks-1", "K s^-1"}, {"Km-1", "K/m"}, {"min-1", "min^-1"}, {"m3s-1", "m^3/s"}, {"g/dm3", "kg m^-3"}, {"cd", "candela"}, {"km", "km"}, {"mm2", "mm^2"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        if (strcmp(cases[i].given, "waves") == 0)
            expect_verdict("waves", "", UNIT_NOT_UNDERSTOOD);
        else
            expect_verdict(cases[i].given, cases[i].wanted, UNIT_SAME);
    }
}

Test(quantity, what_the_rules_leave_open_is_asked_about)
{
    static const struct { const char *given, *wanted; } cases[] = {
        {"ms-1", "m/s"}, {"ms⁻¹", "m s^-1"}, {"ms^-1", "m/s"}, {"ms−2", "m s^-2"}, {"kgms-1", "kg m s^-1"}, {"m/s/s", "m s^-2"}, {"J/kg/°C", "J/(kg K)"},
        {"J/kg K", "J kg^-1 K^-1"}, {"W/m2 K", "W m^-2 K^-1"}, {"mol/dm3/s", "mol dm^-3 s^-1"}, {"Nms", "N m s"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        expect_verdict(cases[i].given, cases[i].wanted, UNIT_AMBIGUOUS);
        cr_expect_not(unit_read(cases[i].given).by_the_rules, "%s", cases[i].given);
    }
    struct unit chosen, wanted = must_read("m/s");
    unit_compare("ms-1", "m/s", &chosen);
    cr_expect_eq(unit_convert(1, &chosen, &wanted), 1);
    expect_verdict("ms-1", "ms^-1", UNIT_SAME);   /* per millisecond: what the rules say it is */
}

Test(quantity, wrong_units_are_told_apart)
{
    static const struct { const char *given, *wanted; enum unit_verdict verdict; } cases[] = {
        {"Kg", "kg", UNIT_WRONG_CASE}, {"KJ", "kJ", UNIT_WRONG_CASE}, {"Km", "km", UNIT_WRONG_CASE}, {"hz", "Hz", UNIT_WRONG_CASE}, {"KHz", "kHz", UNIT_WRONG_CASE},
        {"kw", "kW", UNIT_WRONG_CASE}, {"KWH", "kW h", UNIT_WRONG_CASE}, {"kwh", "kW h", UNIT_WRONG_CASE}, {"CM", "cm", UNIT_WRONG_CASE}, {"KG", "kg", UNIT_WRONG_CASE}, {"KWh", "kW h", UNIT_WRONG_CASE}, {"Km-1", "km^-1", UNIT_WRONG_CASE}, {"Mol", "mol", UNIT_WRONG_CASE},
        {"pa", "Pa", UNIT_WRONG_CASE}, {"KPa", "kPa", UNIT_WRONG_CASE}, {"J/Kg", "J/kg", UNIT_WRONG_CASE}, {"Kgm-3", "kg m^-3", UNIT_WRONG_CASE},
        {"kJ", "J", UNIT_OTHER_SCALE}, {"g", "kg", UNIT_OTHER_SCALE}, {"km/h", "m/s", UNIT_OTHER_SCALE}, {"°C", "K", UNIT_OTHER_SCALE}, {"min", "s", UNIT_OTHER_SCALE}, {"p", "£", UNIT_OTHER_SCALE},
        {"%", "", UNIT_OTHER_SCALE}, {"Mm", "mm", UNIT_OTHER_SCALE}, {"mW", "MW", UNIT_OTHER_SCALE}, {"cm", "m", UNIT_OTHER_SCALE}, {"kW m^-1", "W/m", UNIT_OTHER_SCALE},
        {"J", "N m", UNIT_OTHER_KIND}, {"kJ", "N m", UNIT_OTHER_KIND}, {"Hz", "Bq", UNIT_OTHER_KIND}, {"$", "£", UNIT_OTHER_KIND}, {"$/kg", "£/kg", UNIT_OTHER_KIND}, {"rad/s", "s^-1", UNIT_OTHER_KIND},
        {"dB", "", UNIT_OTHER_KIND}, {"counts per second", "s^-1", UNIT_OTHER_KIND},
        {"m", "s", UNIT_DIFFERENT}, {"ms", "m s", UNIT_DIFFERENT}, {"m/s", "m s", UNIT_DIFFERENT}, {"k", "K", UNIT_DIFFERENT}, {"W/m", "W m^-2", UNIT_DIFFERENT}, {"kg", "N", UNIT_DIFFERENT}, {"m", "", UNIT_DIFFERENT},
        {"m2", "m^3", UNIT_DIFFERENT}, {"S", "s", UNIT_DIFFERENT},
        {"", "m", UNIT_MISSING}, {"  ", "m", UNIT_MISSING}, {"apples", "m", UNIT_NOT_UNDERSTOOD}, {"m/", "m", UNIT_NOT_UNDERSTOOD}, {"m^", "m", UNIT_NOT_UNDERSTOOD}, {"^2", "m", UNIT_NOT_UNDERSTOOD},
        {"(m", "m", UNIT_NOT_UNDERSTOOD}, {"m)", "m", UNIT_NOT_UNDERSTOOD}, {"m^99", "m", UNIT_NOT_UNDERSTOOD}, {"m2.5", "m", UNIT_NOT_UNDERSTOOD}, {"5 m", "m", UNIT_NOT_UNDERSTOOD}, {"m //s", "m", UNIT_NOT_UNDERSTOOD},
        {"per", "m", UNIT_NOT_UNDERSTOOD}, {"m per", "m", UNIT_NOT_UNDERSTOOD}, {"é", "m", UNIT_NOT_UNDERSTOOD}, {"\xff", "m", UNIT_NOT_UNDERSTOOD}, {"m0", "m", UNIT_NOT_UNDERSTOOD}, {"/", "m", UNIT_NOT_UNDERSTOOD},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        expect_verdict(cases[i].given, cases[i].wanted, cases[i].verdict);
}

Test(quantity, flags_of_a_spelling)
{
    cr_expect(unit_read("m s^-1").by_the_rules && !unit_read("m s^-1").not_si && !unit_read("m s^-1").wrong_case);
    cr_expect(unit_read("Kg").wrong_case && !unit_read("Kg").by_the_rules);
    cr_expect(unit_read("sec").not_si && unit_read("m/sec").not_si && unit_read("kph").not_si && unit_read("M").not_si);
    cr_expect_eq(unit_read("").count, 1);
    cr_expect_eq(unit_read("nonsense").count, 0);
    cr_expect_not(unit_read("nonsense").not_si);
    cr_expect_geq(unit_read("pounds").count, 2, "money and mass");
    static const char *const known[] = {"m", "kg m^-3", "kW h", "kWh", "N m", "°C", "J/(kg K)", "", "%", "‰", "£", "p", "knot", "PSU", "kW m^-1", "mol dm^-3", "m/s"};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        cr_expect(unit_is_known(known[i]), "%s", known[i]);
    static const char *const unknown[] = {"ms-1", "a/b/c", "J/kg K", "J/kg r", "m/s/s", "Kg", "pounds", "furlong", "m/", "("};
    for (size_t i = 0; i < sizeof unknown / sizeof *unknown; i++)
        cr_expect_not(unit_is_known(unknown[i]), "%s", unknown[i]);
}

Test(quantity, unit_at_the_start_of_prose)
{
    static const struct { const char *text, *unit; } cases[] = {
        {"kW per metre of wave", "kW per metre"}, {"m.", "m"}, {"m. Then it falls", "m"}, {"kg, and", "kg"}, {"m/s east", "m/s"}, {"m s^-1 (3 s.f.)", "m s^-1"}, {"m s⁻¹, so", "m s⁻¹"},
        {"kg m⁻³ is", "kg m⁻³"}, {"am", ""}, {"as far", ""}, {"at", ""}, {"in all", ""}, {"was", ""}, {"Was", ""}, {"waves", ""}, {"m to 6 m", "m"}, {"metres per second per second, which", "metres per second per second"},
        {"m per 5", "m"}, {"m/", "m"}, {"m × 3 m", "m"}, {"", ""}, {"= 5", ""}, {"°C in", "°C"}, {"µm wide", "µm"}, {"(m/s) x", "(m/s)"}, {"(see)", ""}, {"Kg of", "Kg"}, {"min later", "min"}, {"nautical miles off", "nautical miles"},
        {"m\nnext s", "m"}, {"kWh/day", "kWh/day"}, {"J/(kg K) or", "J/(kg K)"}, {"J/(kg or", "J"}, {"per cent", "per cent"}, {"m-long", "m"}, {"£", "£"}, {"Mrs Smith", ""},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct unit_readings readings;
        size_t length = unit_read_prefix(cases[i].text, &readings);
        cr_expect(length == strlen(cases[i].unit) && strncmp(cases[i].text, cases[i].unit, length) == 0, "'%s': '%.*s'", cases[i].text, (int)length, cases[i].text);
        cr_expect_eq(readings.count > 0, length > 0, "'%s'", cases[i].text);
    }
}

Test(quantity, conversion_needs_one_dimension)
{
    struct unit metre = must_read("m"), second = must_read("s"), celsius = must_read("°C"), fahrenheit = must_read("°F");
    cr_expect(isnan(unit_convert(1, &metre, &second)));
    cr_expect_float_eq(unit_convert(100, &celsius, &fahrenheit), 212, 1e-10);
    cr_expect_float_eq(unit_convert(212, &fahrenheit, &celsius), 100, 1e-10);
    struct unit per_degree = must_read("J/°C"), per_kelvin = must_read("J/K");
    cr_expect_eq(unit_convert(3, &per_degree, &per_kelvin), 3, "a degree in a product has no zero point");
}

Test(quantity, units_print_for_a_screen)
{
    static const struct { const char *unit, *shown; } cases[] = {
        {"m s^-1", "m\u00a0s⁻¹"}, {"m s-1", "m\u00a0s⁻¹"}, {"m/s", "m/s"}, {"kg m^-3", "kg\u00a0m⁻³"}, {"m2", "m²"}, {"m^2", "m²"}, {"J/(kg K)", "J/(kg\u00a0K)"}, {"J (kg K)^-1", "J\u00a0(kg\u00a0K)⁻¹"},
        {"m s⁻¹", "m\u00a0s⁻¹"}, {"°C", "°C"}, {"", ""}, {" m  s−1 ", "m\u00a0s⁻¹"}, {"m s^(-2)", "m\u00a0s⁻²"}, {"nautical mile", "nautical\u00a0mile"}, {"m^x", "m^x"}, {"cal_th", "cal_th"}, {"kW-h", "kW-h"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct buffer out = BUFFER_EMPTY;
        unit_print(&out, cases[i].unit);
        cr_expect_str_eq(buffer_text(&out), cases[i].shown, "'%s'", buffer_text(&out));
        if (unit_read(cases[i].unit).count > 0)
            cr_expect_eq(unit_compare(buffer_text(&out), cases[i].unit, NULL), UNIT_SAME, "%s", cases[i].unit);
        buffer_free(&out);
    }
}

/* British writing of money and per cent: common practice, no source; the space before units: SI Brochure 5.4.3. */
Test(quantity, quantities_as_a_person_writes_them)
{
    static const struct { const char *number, *unit, *shown; } cases[] = {
        {"9.81", "m s-2", "9.81\u00a0m\u00a0s\u207b\u00b2"}, {"12", "", "12"}, {"12", NULL, "12"}, {"12", "%", "12%"}, {"35", "p", "35p"},
        {"20", "\u00b0C", "20\u00a0\u00b0C"}, {"950", "\u00a3", "\u00a3950"}, {"-950", "\u00a3", "\u2212\u00a3950"},
        {"\u2212950", "\u00a3", "\u2212\u00a3950"}, {"12.50", "$", "$12.50"}, {"9", "\u20ac", "\u20ac9"},
        {"3.50", "\u00a3/kg", "\u00a33.50/kg"}, {"3.50", "\u00a3 kg^-1", "\u00a33.50\u00a0kg\u207b\u00b9"},
        {"1.51 \u00d7 10\u00b3", "\u00a3", "\u00a31.51 \u00d7 10\u00b3"}, {"5", "pA", "5\u00a0pA"}, {"-5", "m", "-5\u00a0m"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct buffer out = BUFFER_EMPTY;
        quantity_print(&out, cases[i].number, cases[i].unit);
        cr_expect_str_eq(buffer_text(&out), cases[i].shown, "'%s' '%s': '%s'", cases[i].number,
                         cases[i].unit ? cases[i].unit : "", buffer_text(&out));
        buffer_free(&out);
    }
}

/* unit_entry_find searches by halves: the tables must be sorted. */
Test(quantity, unit_tables_are_sorted)
{
    for (size_t i = 1; i < unit_symbol_count; i++)
        cr_expect(strcmp(unit_symbols[i - 1].text, unit_symbols[i].text) < 0, "%s", unit_symbols[i].text);
    for (size_t i = 1; i < unit_name_count; i++)
        cr_expect(strcmp(unit_names[i - 1].text, unit_names[i].text) <= 0, "%s", unit_names[i].text);
}

/* Every symbol with every prefix it takes reads as itself: no other symbol hides it. */
Test(quantity, every_prefixed_symbol_reads_as_itself)
{
    for (size_t e = 0; e < unit_symbol_count; e++) {
        for (size_t p = 0; p < unit_prefix_count; p++) {
            const struct unit_entry *entry = &unit_symbols[e];
            if (!unit_takes_prefix(entry, &unit_prefixes[p]))
                continue;
            char text[32];
            snprintf(text, sizeof text, "%s%s", unit_prefixes[p].symbol, entry->text);
            struct unit_readings readings = unit_read(text);
            double wanted = entry->scale * unit_prefixes[p].scale;
            bool found = false;
            for (size_t i = 0; i < readings.count; i++)
                found |= fabs(readings.items[i].scale / wanted - 1) < 1e-12 && memcmp(readings.items[i].power, entry->power, DIMENSIONS) == 0;
            cr_expect(found, "%s", text);
        }
    }
}

/* Any text at all is answered, without a reading that is no number. */
Test(quantity, any_text_is_answered)
{
    static const char *const parts[] = {"m", "s", "kg", "/", "(", ")", "^", "-", "−", "2", "⁻¹", " ", "·", "per", "K", "J", "h", "W", "£", "°", "C", "µ", "Ω", ".", "*", "\xff", "metre", "squared", "square ", "1", "{", "}", "99", "G", "_"};
    struct random_source source = {7};
    for (int round = 0; round < 3000; round++) {
        struct buffer text = BUFFER_EMPTY;
        for (uint64_t n = random_below(&source, 30) + 1; n > 0; n--)
            buffer_add(&text, parts[random_below(&source, sizeof parts / sizeof *parts)]);
        struct unit_readings readings = unit_read(text.text);
        cr_assert(readings.count <= UNIT_READINGS, "seed 7: %s", text.text);
        for (size_t i = 0; i < readings.count; i++)
            cr_assert(readings.items[i].scale > 0 && isfinite(readings.items[i].scale), "seed 7: %s", text.text);
        cr_assert(unit_read_prefix(text.text, &readings) <= text.length, "seed 7: %s", text.text);
        buffer_free(&text);
    }
}
