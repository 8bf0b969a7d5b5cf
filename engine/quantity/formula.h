/* Formulae over named values, evaluated by muParser. Names are ASCII letters, digits and _, starting with a
 * letter; ^ is power; sqrt abs min max exp ln log10 sin cos tan asin acos atan (radians) and pi are known. */
#ifndef OWNMARK_QUANTITY_FORMULA_H
#define OWNMARK_QUANTITY_FORMULA_H

#include <stdbool.h>
#include <stddef.h>
#include "base/buffer.h"

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

struct formula_result formula_value(const char *formula, const struct binding *bindings, size_t count);

/* Calls visit for every name the formula uses (each once, in order of first use), functions and pi left
 * out. False when it cannot be parsed (result->fault tells). */
bool formula_names(const char *formula, void (*visit)(const char *name, void *context), void *context,
                   struct formula_result *result);

bool formula_name_is_valid(const char *name);

#endif
