/* The numbers of one asking of a question: givens drawn from a seed, constants of the data sheet, expected
 * answers computed from them. Pure (quantity room for arithmetic). */
#ifndef OWNMARK_BANK_VALUES_H
#define OWNMARK_BANK_VALUES_H

#include <stdbool.h>
#include <stdint.h>
#include "base/arena.h"
#include "base/message.h"
#include "bank/model.h"

struct bound_value {
    const char *symbol;
    const char *text;           /* as it is shown: decimal text */
    const char *unit;
    double value;
    bool is_answer;             /* a number_key, not a given or a constant */
};

struct values {
    const struct bound_value *items;
    size_t count;
};

/* Draws and computes everything for `seed` (0 for a question that does not vary is as good as any). Results in
 * arena. False with a message when a formula gives no finite number. Answers with a symbol are computed too,
 * in document order; answer texts are rounded to the figures or places demanded, else to 3 figures. */
bool values_draw(const struct course *course, const struct question *question, uint64_t seed,
                 struct arena *arena, struct values *values, struct messages *messages);

const struct bound_value *values_find(const struct values *values, const char *symbol);   /* NULL */

/* The expected value of a number key under these values, in its unit; NAN when it has only an interval. */
double values_expected(const struct values *values, const struct number_key *key);

#endif
