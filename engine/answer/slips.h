/* The slip behind a wrong number: what would common slips have given? Pure.
 *
 * The right value is changed as each slip would change it, and where the key has a formula it is worked out
 * anew with one of its values changed; a slip is named when its result is the number that was written, within the
 * key's tolerance (2 % at most) or to the figures written (at least 2), and is not the right value itself. Where some
 * slips give the very figures that were written, those that only come near are left out. */
#ifndef OWNMARK_ANSWER_SLIPS_H
#define OWNMARK_ANSWER_SLIPS_H

#include <stddef.h>
#include "answer/evidence.h"

enum slip_kind {
    SLIP_POWER_OF_TEN,
    SLIP_PREFIX,            /* kilo, milli … of the answer or of a given */
    SLIP_TIME,              /* minutes or hours for seconds, or the other way */
    SLIP_ANGLE,             /* degrees for radians, or the other way */
    SLIP_INVERSE,           /* divided where to multiply, or the whole upside down */
    SLIP_NOT_SQUARED,
    SLIP_SQUARED,           /* squared what is not to be squared */
    SLIP_NO_ROOT,
    SLIP_ROOT,              /* took a root that is not there */
    SLIP_FACTOR_OF_TWO,
    SLIP_SIGN,
    SLIP_PERCENT,           /* 40 for 0.40 or the other way */
    SLIP_LEFT_OUT,
    SLIP_SWAPPED,
    SLIP_ROUNDED_EARLY,
    SLIP_CUT_OFF            /* cut off instead of rounded */
};

struct slip {
    enum slip_kind kind;
    const char *symbol;     /* the given concerned; NULL: the whole value */
    const char *other;      /* SLIP_SWAPPED: the one it changed places with; else NULL */
    double value;           /* what the slip gives, in the key's unit */
    const char *sentence;   /* for the student, no full stop; names and numbers of the question are in it */
};

struct slips {
    const struct slip *items;
    size_t count;           /* 0: none explains it, or more than two do; 1: this one; 2: one of the two */
};

/* What explains the wrong number of a point? ask gives the names of the values, what the formula is over and the
 * student's own earlier values; number comes from the point's evidence. None for a number that is not wrong, a
 * range, and an expected value that is 0 or not finite. */
struct slips slips_find(const struct evidence_ask *ask, const struct node *point, const struct number_evidence *number,
                        struct arena *arena);

const char *slip_kind_name(enum slip_kind kind);    /* "power-of-ten", for logs and tables */

#endif
