/* The slip behind a wrong number: what would common slips have given? Pure.
 *
 * The right value is changed as each slip would change it, and where the key has a formula it is worked out
 * anew with one of its values changed; a slip is named when its result is the number that was written, within the
 * key's tolerance (2 % at most) or to the figures written (at least 2), and is not the right value itself. */
#ifndef OWNMARK_ANSWER_SLIPS_H
#define OWNMARK_ANSWER_SLIPS_H

#include <stdbool.h>
#include <stddef.h>
#include "bank/model.h"
#include "bank/values.h"
#include "base/arena.h"
#include "quantity/number.h"

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

/* What explains the wrong number `given`, with `unit` behind it (NULL or "" for none)? question and part give
 * the names of the values, values what the formula is over; expected is what the number was compared with (from
 * struct number_evidence: the follow-through value where there is one), in the key's unit. None for a right
 * number, a range, an expected value that is not finite or 0. */
struct slips slips_find(const struct question *question, const struct part *part, const struct values *values,
                        const struct number_key *key, double expected, const struct number *given, const char *unit,
                        struct arena *arena);

const char *slip_kind_name(enum slip_kind kind);    /* "power-of-ten", for logs and tables */

#endif
