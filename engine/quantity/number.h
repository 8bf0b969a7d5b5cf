/* Numbers as a person types them, kept as decimal text: figures and rounding are decided on the digits that
 * stand on the page and never on a binary double. Pure.
 *
 * Sources: NIST SP 811 sect. 7.9 and B.7; SI Brochure 9th ed. 5.4.4; ISO 80000-1:2009 Annex B (rule B, half
 * up, is school practice). */
#ifndef OWNMARK_QUANTITY_NUMBER_H
#define OWNMARK_QUANTITY_NUMBER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "base/buffer.h"

enum { NUMBER_DIGITS = 40 };   /* more digits than that are refused, not cut */

/* sign × 0.d1d2d3… × 10^point: digits "314", point 1 is 3.14. Zero has digits "0". */
struct decimal {
    bool negative;
    char digits[NUMBER_DIGITS + 1];
    int point;
};

enum number_form { NUMBER_PLAIN, NUMBER_STANDARD_FORM, NUMBER_FRACTION, NUMBER_MIXED, NUMBER_PERCENT,
                   NUMBER_RANGE };

/* One number found in a text. */
struct number {
    struct decimal value;       /* as written; for 1/3 and 2½ a 40-digit expansion; for 40 % the 40 */
    struct decimal upper;       /* ranges ("3 to 5", "3–5"): the upper end; otherwise equals value */
    double approximate;         /* value as a double, for arithmetic that is not about figures; 40 % gives 40 */
    enum number_form form;
    bool has_uncertainty;       /* "± 0.2" stood behind it */
    double uncertainty;
    int figures_low, figures_high; /* significant figures as rule (equal) or as ambiguous (1200: 2 to 4); 0 0: none (fractions) */
    int places;                 /* digits after the decimal point as written (mantissa in standard form) */
    bool percent;               /* a % (or "per cent") stood behind it, or behind a range or an uncertainty */
    bool currency_before;       /* £3.50 */
    char currency[4];           /* "£", "$", "€", "¥" as written; "" if none */
    size_t start, length;       /* bytes in the text it was found in: sign, currency, "between" and % belong to
                                   it, the unit does not */
};

/* Reads a text that is one number with nothing but spaces (and a unit, if `rest` is not NULL: *rest then
 * points at what follows, spaces skipped; "" if nothing does). Understands 3.0 x 10^8, 3.0 × 10⁸, 3.0*10^8,
 * 3.0e8, 10⁻³, 1,250, 1 250, 1,5, .5, 2½, 2 1/2, 1/3, −4, 12 %, £3.50, ~5.0, 20 ± 0.5, 3 to 5, 3–5, between 3
 * and 5, 1.2 million (in standard form: 2 figures). False when it is no number, one not to be decided ("1.2e", 12,50,3, 1.2.3), one that no double holds
 * (1e400), or a sum ("5 - 3", "5 × 3"). A comma before exactly three digits counts as a group mark. */
bool number_read(const char *text, struct number *number, const char **rest);

/* Every number in a prose text in order, at most `limit`; digits inside words ("CO2", "H₂O", "carbon-14"),
 * ordinals, exponents (m s^-1), labels ("part 2", "figure 3"), notes of precision ("3 s.f.") and list markers at a line's start ("1)" "2.")
 * are left out, and so is what cannot be decided. A full stop at the end is the sentence's. Returns how many
 * were written. */
size_t numbers_find(const char *text, struct number *found, size_t limit);

double decimal_to_double(const struct decimal *value);
bool decimal_from_double(double value, struct decimal *result); /* shortest digits that read back; false if not finite */
int decimal_compare(const struct decimal *a, const struct decimal *b);

/* Rounds to n >= 1 significant figures, or to `places` digits after the point (negative: tens …): half up
 * (away from zero), with the carry (9.99 → 10). The digits are exactly those kept, zeros added where there
 * were fewer (1.0 to 3 figures is 1.00); zero stays "0". */
struct decimal decimal_round_figures(const struct decimal *value, int figures);
struct decimal decimal_round_places(const struct decimal *value, int places);

/* The double nearest to units / 10^places, places from 0 to 22. */
double decimal_scaled_value(int64_t units, int places);

/* decimal_round_places of the value cut back to 15 figures, as a double, without a decimal in between. False (and
 * nothing known) near a tie, and when the result has more than 8 digits or places is not from 0 to 22. */
bool decimal_round_quickly(double value, int places, double *rounded);

/* Plain where that shows the figures without doubt, else d.dd × 10ⁿ (with "−" for minus and no-break spaces).
 * figures 0: every digit, unrounded, plain from 0.00001 upwards as long as at most 7 digits stand before the
 * point or none of them is filled in. */
void decimal_print(struct buffer *out, const struct decimal *value, int figures);

/* Does `given` agree with the key to the figures both show: round(given,k) = round(key,k), k = min(figures of
 * given, key_figures), k >= 2? 1.4 agrees with 1.385, 1.3 does not. An ambiguous 1200 agrees if any of its readings
 * does; a fraction is taken to key_figures; a range never agrees. key_figures >= 1. */
bool number_agrees_by_figures(const struct number *given, double key, int key_figures);

#endif
