/* The numbers of several variants of one question, worked out side by side: each formula is compiled once and
 * evaluated for all of them, and a text is made only when it is asked for. values_draw is a batch of one; the sense
 * checks take many. For this room only. */
#ifndef OWNMARK_BANK_BATCH_H
#define OWNMARK_BANK_BATCH_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "bank/values.h"
#include "base/random.h"
#include "quantity/formula.h"

/* One constant, given or number, in all drawings. One of constant, given and key is set. */
struct column {
    const struct constant *constant;
    const struct given *given;
    const struct number_key *key;
    const char *symbol, *unit;
    double *values;             /* one a drawing, or one for all of them */
    bool same;                  /* one for all */
    size_t *picked;             /* [drawing] of a list or a range: which of its values; else NULL */
    double *exact;              /* [drawing] of a computed given: before it was rounded; else NULL */
    int places;                 /* after the point, of a range or a computed given; -1 for all others */
};

struct batch {
    struct arena *arena;
    size_t count;               /* of drawings */
    bool every;                 /* all variants there are, not a sample of them */
    struct random_source *sources;  /* [drawing] */
    size_t *left;               /* [drawing] of the variant's number, when every variant is made */
    struct column *columns;
    struct formula_column *named;   /* the same columns, as formulae take them */
    size_t bound, capacity;     /* columns that have values */
    size_t constants;           /* how many of those are constants: they come first */
    double *worked;             /* [drawing]: what the last batch_number gave; NAN without value and formula */
};

/* The variant of one seed, with the constants bound. Everything hangs in arena. */
struct batch batch_of_seed(const struct course *course, const struct question *question, uint64_t seed,
                           struct arena *arena);

/* For trial: every variant of the question when there are at most limit, else those of the seeds from 0. */
struct batch batch_of_many(const struct course *course, const struct question *question, size_t limit,
                           struct arena *arena);

/* The next given in document order, the next number to find. NULL, or what is wrong, in the arena. */
const char *batch_given(struct batch *batch, const struct given *given);
const char *batch_number(struct batch *batch, const struct number_key *key);

double batch_value(const struct batch *batch, size_t column, size_t drawing);
/* As it is shown, in the arena. */
const char *batch_text(const struct batch *batch, size_t column, size_t drawing);

/* "H = 1.2, T = 6.0": the givens so far of one drawing, in the arena; "" for none. */
const char *batch_givens_text(const struct batch *batch, size_t drawing);

#endif
