/* Is a written number the one the scheme wants? Value, unit and figures are judged apart. Pure.
 *
 * A value is right by the key's interval, else inside its tolerance, else by figures: rounded to the figures
 * both show, at least 2, it is the key's (docs/marking.md, rule 11). The typed digits are compared, never a
 * binary double. Another unit of the same dimension is converted: 4.2 kJ is right for 4200 J. */
#ifndef OWNMARK_MARKING_COMPARE_H
#define OWNMARK_MARKING_COMPARE_H

#include <stdbool.h>
#include "bank/model.h"
#include "marking/marking.h"
#include "quantity/number.h"
#include "quantity/unit.h"

struct number_verdict {
    bool value_right;
    bool converted;             /* right in another scale of the unit */
    double in_key_unit;         /* the student's value in the key's unit; as written where the units do not agree */
    enum unit_verdict unit;     /* what unit_compare found; UNIT_SAME where none is asked and none is written */
    enum unit_shown unit_shown; /* what that means for the award; UNIT_FITS when printed and left out */
    bool figures_asked;         /* significant figures or decimal places */
    bool figures_right;         /* true when none are asked */
};

/* given: as read; unit: what stands behind it, "" or NULL for nothing (a % or currency that given holds itself
 * is seen). expected: from marking_follow, in the key's unit; NAN for a key with only an interval. */
struct number_verdict compare_number(const struct number *given, const char *unit, const struct number_key *key,
                                     double expected);

#endif
