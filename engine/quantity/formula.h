/* Formulae over named values, evaluated by muParser. Names are ASCII letters, digits and _, starting with a
 * letter; ^ is power; sqrt abs min max exp ln log10 sin cos tan asin acos atan (radians) and pi are known. */
#ifndef OWNMARK_QUANTITY_FORMULA_H
#define OWNMARK_QUANTITY_FORMULA_H

#include <stdbool.h>
#include <stddef.h>
#include "base/buffer.h"

enum { FORMULA_LONGEST = 1024, FORMULA_NAME_LONGEST = 60 };   /* bytes */

struct binding {
    const char *name;
    double value;
};

struct formula_result {
    bool understood;        /* false: `fault` tells what and where */
    double value;           /* may be infinite or NaN: the caller decides */
    size_t fault_at;        /* byte offset in the formula, counted from 0 */
    char fault[160];        /* "unknown name 'rho'", ready for a message */
};

/* The value with these bindings, of which the first of a name counts and unused ones are ignored; value is
 * meaningful only if understood. Refused: more than FORMULA_LONGEST bytes, 32 nested brackets or 64 names,
 * and everything that is not arithmetic (assignment, text, comparison, several values). The formulae used
 * last stay compiled, so that a loop over variants costs little. One thread only. */
struct formula_result formula_value(const char *formula, const struct binding *bindings, size_t count);

/* The values of one name in many rows. */
struct formula_column {
    const char *name;
    const double *values;
    bool same;              /* one value for all rows */
};

/* As formula_value, for each of the rows 0 to row_count - 1: results[row]; `value` stays 0. When it is not
 * understood, the results are not meaningful. */
struct formula_result formula_fill(const char *formula, const struct formula_column *columns, size_t count,
                                   size_t row_count, double *results);

/* Calls visit for every name the formula uses (each once, in order of first use), functions and pi left
 * out. False when it cannot be parsed (result->fault tells). */
bool formula_names(const char *formula, void (*visit)(const char *name, void *context), void *context,
                   struct formula_result *result);

/* A name a binding can have: well-formed, at most FORMULA_NAME_LONGEST bytes, and no function's or pi. */
bool formula_name_is_valid(const char *name);

#endif
