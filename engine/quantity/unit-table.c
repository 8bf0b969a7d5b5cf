/* Units and prefixes. Scales are exact by definition (SI Brochure 9th ed. tables 2, 4, 7, 8) but for the
 * dalton (CODATA 2018); bar, knot, mmHg, inch, mile, calorie (thermochemical) from NIST SP 811 App. B.8.
 * School spellings are common practice, no source. A year is 365.25 days, as in the light year. */
#include "quantity/unit-table.h"

#include <string.h>

/* kg m s A K mol cd angle money counted: trailing zeros are left out. */
#define NONE 0
#define MASS 1
#define LENGTH 0, 1
#define AREA 0, 2
#define VOLUME 0, 3
#define TIME 0, 0, 1
#define FREQUENCY 0, 0, -1
#define SPEED 0, 1, -1
#define FORCE 1, 1, -2
#define PRESSURE 1, -1, -2
#define ENERGY 1, 2, -2
#define POWER 1, 2, -3
#define DOSE 0, 2, -2
#define CURRENT 0, 0, 0, 1
#define CHARGE 0, 0, 1, 1
#define VOLTAGE 1, 2, -3, -1
#define CAPACITANCE -1, -2, 4, 2
#define RESISTANCE 1, 2, -3, -2
#define CONDUCTANCE -1, -2, 3, 2
#define FLUX 1, 2, -2, -1
#define FLUX_DENSITY 1, 0, -2, -1
#define INDUCTANCE 1, 2, -2, -2
#define TEMPERATURE 0, 0, 0, 0, 1
#define AMOUNT 0, 0, 0, 0, 0, 1
#define CONCENTRATION 0, -3, 0, 0, 0, 1
#define CATALYSIS 0, 0, -1, 0, 0, 1
#define LUMINOUS 0, 0, 0, 0, 0, 0, 1
#define LUMINOUS_FLUX 0, 0, 0, 0, 0, 0, 1, 2
#define ILLUMINANCE 0, -2, 0, 0, 0, 0, 1, 2
#define ANGLE 0, 0, 0, 0, 0, 0, 0, 1
#define SOLID_ANGLE 0, 0, 0, 0, 0, 0, 0, 2
#define MONEY 0, 0, 0, 0, 0, 0, 0, 0, 1
#define COUNT 0, 0, 0, 0, 0, 0, 0, 0, 0, 1
#define COUNT_RATE 0, 0, -1, 0, 0, 0, 0, 0, 0, 1

#define DEGREE (3.14159265358979323846 / 180)
#define FAHRENHEIT (5.0 / 9)

const struct unit_prefix unit_prefixes[] = {
    {"da", "deca", 1e1, false},  {"da", "deka", 1e1, false},  {"h", "hecto", 1e2, true},   {"k", "kilo", 1e3, true},
    {"M", "mega", 1e6, true},    {"G", "giga", 1e9, true},    {"T", "tera", 1e12, true},   {"P", "peta", 1e15, false},
    {"E", "exa", 1e18, false},   {"Z", "zetta", 1e21, false}, {"Y", "yotta", 1e24, false}, {"R", "ronna", 1e27, false},
    {"Q", "quetta", 1e30, false}, {"d", "deci", 1e-1, true},  {"c", "centi", 1e-2, true},  {"m", "milli", 1e-3, true},
    {"u", "micro", 1e-6, true},  {"n", "nano", 1e-9, true},   {"p", "pico", 1e-12, true},  {"f", "femto", 1e-15, false},
    {"a", "atto", 1e-18, false}, {"z", "zepto", 1e-21, false}, {"y", "yocto", 1e-24, false}, {"r", "ronto", 1e-27, false},
    {"q", "quecto", 1e-30, false},
};
const size_t unit_prefix_count = sizeof unit_prefixes / sizeof *unit_prefixes;

const struct unit_entry unit_symbols[] = {
    {"A", {CURRENT}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"AU", {LENGTH}, 149597870700, 0, KIND_LENGTH, UNIT_NOT_SI | UNIT_ALONE},
    {"Bq", {FREQUENCY}, 1, 0, KIND_ACTIVITY, UNIT_PREFIXED},
    {"C", {CHARGE}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"Da", {MASS}, 1.6605390666e-27, 0, KIND_NONE, UNIT_PREFIXED | UNIT_ALONE},
    {"EUR", {MONEY}, 1, 0, KIND_EURO, UNIT_ALONE},
    {"F", {CAPACITANCE}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"GBP", {MONEY}, 1, 0, KIND_STERLING, UNIT_ALONE},
    {"Gy", {DOSE}, 1, 0, KIND_ABSORBED_DOSE, UNIT_PREFIXED},
    {"H", {INDUCTANCE}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"Hz", {FREQUENCY}, 1, 0, KIND_FREQUENCY, UNIT_PREFIXED},
    {"J", {ENERGY}, 1, 0, KIND_ENERGY, UNIT_PREFIXED},
    {"K", {TEMPERATURE}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"L", {VOLUME}, 1e-3, 0, KIND_NONE, UNIT_PREFIXED},
    {"M", {CONCENTRATION}, 1000, 0, KIND_NONE, UNIT_PREFIXED_SMALL | UNIT_NOT_SI | UNIT_ALONE},
    {"N", {FORCE}, 1, 0, KIND_FORCE, UNIT_PREFIXED},
    {"PSU", {NONE}, 1e-3, 0, KIND_SALINITY, UNIT_NOT_SI | UNIT_ALONE},
    {"Pa", {PRESSURE}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"S", {CONDUCTANCE}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"Sv", {DOSE}, 1, 0, KIND_DOSE_EQUIVALENT, UNIT_PREFIXED},
    {"T", {FLUX_DENSITY}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"USD", {MONEY}, 1, 0, KIND_DOLLAR, UNIT_ALONE},
    {"V", {VOLTAGE}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"W", {POWER}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"Wb", {FLUX}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"amp", {CURRENT}, 1, 0, KIND_NONE, UNIT_PREFIXED | UNIT_NOT_SI | UNIT_ALONE},
    {"amps", {CURRENT}, 1, 0, KIND_NONE, UNIT_PREFIXED | UNIT_NOT_SI | UNIT_ALONE},
    {"angstrom", {LENGTH}, 1e-10, 0, KIND_LENGTH, UNIT_NOT_SI | UNIT_ALONE},
    {"arcmin", {ANGLE}, DEGREE / 60, 0, KIND_NONE, UNIT_ALONE},
    {"arcsec", {ANGLE}, DEGREE / 3600, 0, KIND_NONE, UNIT_ALONE},
    {"atm", {PRESSURE}, 101325, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"au", {LENGTH}, 149597870700, 0, KIND_LENGTH, UNIT_ALONE},
    {"bar", {PRESSURE}, 1e5, 0, KIND_NONE, UNIT_PREFIXED | UNIT_ALONE},
    {"cal", {ENERGY}, 4.184, 0, KIND_ENERGY, UNIT_PREFIXED_LARGE | UNIT_NOT_SI | UNIT_ALONE},
    {"cal_th", {ENERGY}, 4.184, 0, KIND_ENERGY, UNIT_PREFIXED_LARGE | UNIT_NOT_SI | UNIT_ALONE},
    {"cc", {VOLUME}, 1e-6, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"cd", {LUMINOUS}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"cps", {COUNT_RATE}, 1, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"d", {TIME}, 86400, 0, KIND_NONE, UNIT_ALONE},
    {"dB", {COUNT}, 1, 0, KIND_LEVEL, UNIT_ALONE},
    {"deg", {ANGLE}, DEGREE, 0, KIND_NONE, UNIT_ALONE},
    {"degC", {TEMPERATURE}, 1, 273.15, KIND_NONE, 0},
    {"degF", {TEMPERATURE}, FAHRENHEIT, 459.67 * FAHRENHEIT, KIND_NONE, UNIT_NOT_SI},
    {"eV", {ENERGY}, 1.602176634e-19, 0, KIND_ENERGY, UNIT_PREFIXED},
    {"ft", {LENGTH}, 0.3048, 0, KIND_LENGTH, UNIT_NOT_SI | UNIT_ALONE},
    {"g", {MASS}, 1e-3, 0, KIND_NONE, UNIT_PREFIXED},
    {"gm", {MASS}, 1e-3, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"gms", {MASS}, 1e-3, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"h", {TIME}, 3600, 0, KIND_NONE, 0},
    {"ha", {AREA}, 1e4, 0, KIND_NONE, UNIT_ALONE},
    {"hr", {TIME}, 3600, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"hrs", {TIME}, 3600, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"k", {NONE}, 1000, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"kat", {CATALYSIS}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"kgs", {MASS}, 1, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"kmph", {SPEED}, 1 / 3.6, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"kn", {SPEED}, 1852.0 / 3600, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"kph", {SPEED}, 1 / 3.6, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"kt", {SPEED}, 1852.0 / 3600, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"kts", {SPEED}, 1852.0 / 3600, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"l", {VOLUME}, 1e-3, 0, KIND_NONE, UNIT_PREFIXED},
    {"lb", {MASS}, 0.45359237, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"lbs", {MASS}, 0.45359237, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"lm", {LUMINOUS_FLUX}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"lx", {ILLUMINANCE}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"ly", {LENGTH}, 9460730472580800, 0, KIND_LENGTH, UNIT_NOT_SI | UNIT_ALONE},
    {"m", {LENGTH}, 1, 0, KIND_LENGTH, UNIT_PREFIXED},
    {"mi", {LENGTH}, 1609.344, 0, KIND_LENGTH, UNIT_NOT_SI | UNIT_ALONE},
    {"min", {TIME}, 60, 0, KIND_NONE, UNIT_ALONE},
    {"mins", {TIME}, 60, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"mls", {VOLUME}, 1e-6, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"mmHg", {PRESSURE}, 133.322387415, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"mol", {AMOUNT}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"mols", {AMOUNT}, 1, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"mph", {SPEED}, 0.44704, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"msec", {TIME}, 1e-3, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"nmi", {LENGTH}, 1852, 0, KIND_LENGTH, UNIT_NOT_SI | UNIT_ALONE},
    {"oC", {TEMPERATURE}, 1, 273.15, KIND_NONE, UNIT_NOT_SI},
    {"ohm", {RESISTANCE}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"p", {MONEY}, 0.01, 0, KIND_STERLING, UNIT_ALONE},
    {"percent", {NONE}, 0.01, 0, KIND_NONE, UNIT_ALONE},
    {"permille", {NONE}, 1e-3, 0, KIND_NONE, UNIT_ALONE},
    {"ppb", {NONE}, 1e-9, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"ppm", {NONE}, 1e-6, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"ppt", {NONE}, 1e-3, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"psu", {NONE}, 1e-3, 0, KIND_SALINITY, UNIT_NOT_SI | UNIT_ALONE},
    {"r", {NONE}, 1, 0, KIND_NONE, UNIT_ALONE},
    {"rad", {ANGLE}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"rev", {NONE}, 1, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"rpm", {FREQUENCY}, 1.0 / 60, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"s", {TIME}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"sec", {TIME}, 1, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"secs", {TIME}, 1, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
    {"sr", {SOLID_ANGLE}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"t", {MASS}, 1000, 0, KIND_NONE, UNIT_PREFIXED_LARGE | UNIT_ALONE},
    {"u", {MASS}, 1.6605390666e-27, 0, KIND_NONE, UNIT_ALONE},
    {"yd", {LENGTH}, 0.9144, 0, KIND_LENGTH, UNIT_NOT_SI | UNIT_ALONE},
    {"yr", {TIME}, 31557600, 0, KIND_NONE, UNIT_PREFIXED_LARGE | UNIT_NOT_SI | UNIT_ALONE},
    {"yrs", {TIME}, 31557600, 0, KIND_NONE, UNIT_NOT_SI | UNIT_ALONE},
};
const size_t unit_symbol_count = sizeof unit_symbols / sizeof *unit_symbols;

const struct unit_entry unit_names[] = {
    {"acre", {AREA}, 4046.8564224, 0, KIND_NONE, UNIT_PLURAL | UNIT_NOT_SI},
    {"ampere", {CURRENT}, 1, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"angstrom", {LENGTH}, 1e-10, 0, KIND_LENGTH, UNIT_PLURAL | UNIT_NOT_SI},
    {"arcminute", {ANGLE}, DEGREE / 60, 0, KIND_NONE, UNIT_PLURAL},
    {"arcsecond", {ANGLE}, DEGREE / 3600, 0, KIND_NONE, UNIT_PLURAL},
    {"atmosphere", {PRESSURE}, 101325, 0, KIND_NONE, UNIT_PLURAL | UNIT_NOT_SI},
    {"bar", {PRESSURE}, 1e5, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"becquerel", {FREQUENCY}, 1, 0, KIND_ACTIVITY, UNIT_PREFIXED | UNIT_PLURAL},
    {"calorie", {ENERGY}, 4.184, 0, KIND_ENERGY, UNIT_PREFIXED_LARGE | UNIT_PLURAL | UNIT_NOT_SI},
    {"candela", {LUMINOUS}, 1, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"celsius", {TEMPERATURE}, 1, 273.15, KIND_NONE, 0},
    {"centigrade", {TEMPERATURE}, 1, 273.15, KIND_NONE, UNIT_NOT_SI},
    {"coulomb", {CHARGE}, 1, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"count", {COUNT}, 1, 0, KIND_NONE, UNIT_PLURAL},
    {"cycle", {NONE}, 1, 0, KIND_NONE, UNIT_PLURAL},
    {"dalton", {MASS}, 1.6605390666e-27, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"day", {TIME}, 86400, 0, KIND_NONE, UNIT_PLURAL},
    {"decibel", {COUNT}, 1, 0, KIND_LEVEL, UNIT_PLURAL},
    {"degree", {ANGLE}, DEGREE, 0, KIND_NONE, UNIT_PLURAL},
    {"dollar", {MONEY}, 1, 0, KIND_DOLLAR, UNIT_PLURAL},
    {"electronvolt", {ENERGY}, 1.602176634e-19, 0, KIND_ENERGY, UNIT_PREFIXED | UNIT_PLURAL},
    {"euro", {MONEY}, 1, 0, KIND_EURO, UNIT_PLURAL},
    {"fahrenheit", {TEMPERATURE}, FAHRENHEIT, 459.67 * FAHRENHEIT, KIND_NONE, UNIT_NOT_SI},
    {"farad", {CAPACITANCE}, 1, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"feet", {LENGTH}, 0.3048, 0, KIND_LENGTH, UNIT_NOT_SI},
    {"foot", {LENGTH}, 0.3048, 0, KIND_LENGTH, UNIT_NOT_SI},
    {"gram", {MASS}, 1e-3, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"gramme", {MASS}, 1e-3, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"gray", {DOSE}, 1, 0, KIND_ABSORBED_DOSE, UNIT_PREFIXED | UNIT_PLURAL},
    {"hectare", {AREA}, 1e4, 0, KIND_NONE, UNIT_PLURAL},
    {"henries", {INDUCTANCE}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"henry", {INDUCTANCE}, 1, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"hertz", {FREQUENCY}, 1, 0, KIND_FREQUENCY, UNIT_PREFIXED},
    {"hour", {TIME}, 3600, 0, KIND_NONE, UNIT_PLURAL},
    {"inch", {LENGTH}, 0.0254, 0, KIND_LENGTH, UNIT_NOT_SI},
    {"inches", {LENGTH}, 0.0254, 0, KIND_LENGTH, UNIT_NOT_SI},
    {"joule", {ENERGY}, 1, 0, KIND_ENERGY, UNIT_PREFIXED | UNIT_PLURAL},
    {"katal", {CATALYSIS}, 1, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"kelvin", {TEMPERATURE}, 1, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"kilo", {MASS}, 1, 0, KIND_NONE, UNIT_PLURAL | UNIT_NOT_SI},
    {"knot", {SPEED}, 1852.0 / 3600, 0, KIND_NONE, UNIT_PLURAL | UNIT_NOT_SI},
    {"lightyear", {LENGTH}, 9460730472580800, 0, KIND_LENGTH, UNIT_PLURAL | UNIT_NOT_SI},
    {"liter", {VOLUME}, 1e-3, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"litre", {VOLUME}, 1e-3, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"lumen", {LUMINOUS_FLUX}, 1, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"lux", {ILLUMINANCE}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"meter", {LENGTH}, 1, 0, KIND_LENGTH, UNIT_PREFIXED | UNIT_PLURAL},
    {"metre", {LENGTH}, 1, 0, KIND_LENGTH, UNIT_PREFIXED | UNIT_PLURAL},
    {"mile", {LENGTH}, 1609.344, 0, KIND_LENGTH, UNIT_PLURAL | UNIT_NOT_SI},
    {"minute", {TIME}, 60, 0, KIND_NONE, UNIT_PLURAL},
    {"mole", {AMOUNT}, 1, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"month", {TIME}, 2629800, 0, KIND_NONE, UNIT_PLURAL | UNIT_NOT_SI},
    {"newton", {FORCE}, 1, 0, KIND_FORCE, UNIT_PREFIXED | UNIT_PLURAL},
    {"ohm", {RESISTANCE}, 1, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"pascal", {PRESSURE}, 1, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"pence", {MONEY}, 0.01, 0, KIND_STERLING, 0},
    {"penny", {MONEY}, 0.01, 0, KIND_STERLING, 0},
    {"percent", {NONE}, 0.01, 0, KIND_NONE, 0},
    {"pound", {MONEY}, 1, 0, KIND_STERLING, UNIT_PLURAL},
    {"pound", {MASS}, 0.45359237, 0, KIND_NONE, UNIT_PLURAL | UNIT_NOT_SI},
    {"radian", {ANGLE}, 1, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"revolution", {NONE}, 1, 0, KIND_NONE, UNIT_PLURAL | UNIT_NOT_SI},
    {"second", {TIME}, 1, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"siemens", {CONDUCTANCE}, 1, 0, KIND_NONE, UNIT_PREFIXED},
    {"sievert", {DOSE}, 1, 0, KIND_DOSE_EQUIVALENT, UNIT_PREFIXED | UNIT_PLURAL},
    {"steradian", {SOLID_ANGLE}, 1, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"tesla", {FLUX_DENSITY}, 1, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"tonne", {MASS}, 1000, 0, KIND_NONE, UNIT_PREFIXED_LARGE | UNIT_PLURAL},
    {"volt", {VOLTAGE}, 1, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"watt", {POWER}, 1, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"weber", {FLUX}, 1, 0, KIND_NONE, UNIT_PREFIXED | UNIT_PLURAL},
    {"week", {TIME}, 604800, 0, KIND_NONE, UNIT_PLURAL | UNIT_NOT_SI},
    {"yard", {LENGTH}, 0.9144, 0, KIND_LENGTH, UNIT_PLURAL | UNIT_NOT_SI},
    {"year", {TIME}, 31557600, 0, KIND_NONE, UNIT_PLURAL | UNIT_NOT_SI},
};
const size_t unit_name_count = sizeof unit_names / sizeof *unit_names;

/* As strcmp, with the first text ended by its length. */
static int compare(const char *text, size_t length, const char *entry)
{
    int order = strncmp(text, entry, length);
    return order != 0 ? order : entry[length] == '\0' ? 0 : -1;
}

const struct unit_entry *unit_entry_find(const struct unit_entry *table, size_t count, const char *text, size_t length)
{
    size_t low = 0, high = count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (compare(text, length, table[middle].text) > 0)
            low = middle + 1;
        else
            high = middle;
    }
    return low < count && compare(text, length, table[low].text) == 0 ? &table[low] : NULL;
}

bool unit_takes_prefix(const struct unit_entry *entry, const struct unit_prefix *prefix)
{
    return (entry->flags & UNIT_PREFIXED) || ((entry->flags & UNIT_PREFIXED_LARGE) && prefix->scale >= 1e3)
        || ((entry->flags & UNIT_PREFIXED_SMALL) && prefix->scale <= 1e-3);
}
