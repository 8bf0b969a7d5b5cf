/* Units as a student writes them. A spelling gives a *set* of readings (ms-1 is metre per second or per
 * millisecond); the unit that is wanted resolves it, and what stays ambiguous is asked about, not judged.
 * Own table: SI base, derived and accepted units, prefixes, school spellings, money. Pure.
 *
 * Sources: SI Brochure 9th ed. (tables 4, 5, 7, 8); NIST SP 811 App. B.8 for bar, knot, mmHg. */
#ifndef OWNMARK_QUANTITY_UNIT_H
#define OWNMARK_QUANTITY_UNIT_H

#include <stdbool.h>
#include <stddef.h>
#include "base/buffer.h"

/* kg m s A K mol cd, plane angle, money, counted things. */
enum { DIMENSIONS = 10, UNIT_READINGS = 8 };

/* One reading: value in SI base = number × scale + offset. */
struct unit {
    signed char power[DIMENSIONS];
    double scale;
    double offset;          /* °C, °F only when they stand alone */
    unsigned kind;          /* tells J from N m, Hz from Bq, Gy from Sv; 0 = none claimed */
};

struct unit_readings {
    struct unit items[UNIT_READINGS];
    size_t count;           /* 0: not understood */
    bool by_the_rules;      /* one reading; false: the SI rules leave the spelling ambiguous or do not allow it (ms-1,
                               a/b/c, J/kg K). Letters run together that can mean one thing only (kWh, Nm) pass */
    bool wrong_case;        /* read by overlooking a letter's case (Kg, KJ) */
    bool not_si;            /* understood, not an SI symbol (sec, cc, M, kph, knot) */
};

enum unit_verdict {
    UNIT_SAME,              /* same dimension, kind and scale */
    UNIT_OTHER_SCALE,       /* same dimension: unit_convert(1, chosen, wanted) tells the factor. K for °C too */
    UNIT_OTHER_KIND,        /* J for N m, rad/s for s⁻¹, $ for £: same dimension, another quantity, at any scale */
    UNIT_AMBIGUOUS,         /* matches by one of several readings that the SI rules do not settle: ask */
    UNIT_WRONG_CASE,
    UNIT_DIFFERENT,
    UNIT_NOT_UNDERSTOOD,
    UNIT_MISSING            /* nothing was written */
};

/* Reads the whole text (at most 255 bytes) as one unit; spaces, ·, ., *, ×, /, "per", ^, superscripts, − and brackets are
 * understood; so are words (metres per second, litres, pence). "" gives count 1, dimensionless. Letters run
 * together behind a solidus all stand under it (J/kg°C). */
struct unit_readings unit_read(const char *text);

/* Reads the longest run at the start of text that is a unit and gives its length in bytes (0: none): used
 * behind a number in prose ("23 kW per metre of wave"). */
size_t unit_read_prefix(const char *text, struct unit_readings *readings);

/* Compares what was written with what is wanted (a bank's unit, always by the rules). On UNIT_SAME,
 * UNIT_OTHER_SCALE, UNIT_OTHER_KIND, UNIT_AMBIGUOUS and UNIT_WRONG_CASE, *chosen (if not NULL) gets the reading used. */
enum unit_verdict unit_compare(const char *given, const char *wanted, struct unit *chosen);

/* value in `from` expressed in `to`; NAN if the dimensions differ. */
double unit_convert(double value, const struct unit *from, const struct unit *to);

/* Can a bank use it: understood, by the rules, one reading? Units outside the SI (knot, PSU) can be used. */
bool unit_is_known(const char *text);

/* For a screen: "m s^-1" and "m s-1" become "m s⁻¹", joined by no-break spaces so that it is never split. */
void unit_print(struct buffer *out, const char *unit);

/* A number, as text, with its unit as a person writes the two: "9.81 m s⁻²" (a no-break space between), "12%",
 * "35p", and a currency in front: "£950", "−£950", "£3.50/kg". unit "" or NULL: the number alone. */
void quantity_print(struct buffer *out, const char *number, const char *unit);

#endif
