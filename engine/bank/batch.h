/* The numbers of several variants of one question, worked out side by side: each formula is compiled once and
 * evaluated for all of them. values_draw is a batch of one; the sense checks take many. For this room only. */
#ifndef OWNMARK_BANK_BATCH_H
#define OWNMARK_BANK_BATCH_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "bank/values.h"
#include "base/random.h"
#include "quantity/formula.h"

struct drawing {
    struct random_source source;
    size_t index;               /* what is left of the variant's number, when every variant is made */
    struct bound_value *items;
    struct binding *bindings;   /* the same values, as formulae take them */
};

struct batch {
    struct arena *arena;
    struct drawing *drawings;
    size_t count;
    bool every;                 /* all variants there are, not a sample of them */
    bool bare;                  /* texts of constants and answers are not wanted: they stay as written or "" */
    size_t bound, capacity;     /* values in each drawing */
    size_t constants;           /* how many of those are constants: they come first */
    double *worked;             /* what the last batch_number gave, one a drawing; NAN without value and formula */
};

/* The variant of one seed, with the constants bound. Everything hangs in arena. */
struct batch batch_of_seed(const struct course *course, const struct question *question, uint64_t seed,
                           struct arena *arena);

/* For trial, bare: every variant of the question when there are at most limit, else those of the seeds from 0. */
struct batch batch_of_many(const struct course *course, const struct question *question, size_t limit,
                           struct arena *arena);

/* The next given in document order, the next number to find. NULL, or what is wrong, in the arena. */
const char *batch_given(struct batch *batch, const struct given *given);
const char *batch_number(struct batch *batch, const struct number_key *key);

/* "H = 1.2, T = 6.0": the givens so far of one drawing, in the arena; "" for none. */
const char *batch_givens_text(const struct batch *batch, size_t drawing);

#endif
