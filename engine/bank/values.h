/* The numbers of one asking of a question: givens drawn from a seed, constants of the data sheet, expected
 * answers computed from them. Pure (quantity room for arithmetic). */
#ifndef OWNMARK_BANK_VALUES_H
#define OWNMARK_BANK_VALUES_H

#include <stdbool.h>
#include <stdint.h>
#include "base/arena.h"
#include "base/buffer.h"
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
 * arena: constants, the question's givens, then for each part its givens and the numbers that have a symbol.
 * Each formula sees what stands before it. Drawn and computed givens are what is shown, to the last digit;
 * answers are kept unrounded, only their texts are rounded (values_show_answer). False with a message when a
 * formula gives no finite number or a range cannot be counted exactly (more than 18 digits). The question must
 * have passed sense_question. */
bool values_draw(const struct course *course, const struct question *question, uint64_t seed,
                 struct arena *arena, struct values *values, struct messages *messages);

const struct bound_value *values_find(const struct values *values, const char *symbol);   /* NULL */

/* The expected value of a number key under these values, in its unit; NAN when it has only an interval. */
double values_expected(const struct values *values, const struct number_key *key);

/* An answer as it is shown, without its unit: to the figures or places the key demands, else a written value as
 * it was written, and a computed one to 3 figures. value must be finite. */
void values_show_answer(struct buffer *out, const struct number_key *key, double value);

#endif
