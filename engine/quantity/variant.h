/* The values of a variant's givens: drawn from a list or a range of decimal texts, exactly. 0.1 + 2 × 0.1 is
 * 0.3 here and never 0.30000000000000004. Pure: the same random source gives the same variant everywhere. */
#ifndef OWNMARK_QUANTITY_VARIANT_H
#define OWNMARK_QUANTITY_VARIANT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "base/buffer.h"
#include "base/random.h"

enum { VARIANT_MOST_STEPS = 10000 };

/* low, low + step, … up to and including high, as decimal texts ("0.5", "-2", "1e3"). */
struct variant_range { const char *low, *high, *step; };

/* How many values the range holds (1 to VARIANT_MOST_STEPS + 1). 0 and *cause (a static text, without full
 * stop: "the step is not greater than 0") when a text is no plain decimal number, has more than 18 digits
 * on the range's finest place, high lies below low, the step is not positive, or there are more than
 * VARIANT_MOST_STEPS steps. */
size_t variant_range_count(const struct variant_range *range, const char **cause);

/* Appends low + index × step, with as many decimal places as the step is written with (more only if low
 * needs them), "-" for minus. False and *cause as above, and when index is not below the count. */
bool variant_range_value(const struct variant_range *range, size_t index, struct buffer *out, const char **cause);

/* A range read once, for many values of it: value i is (low + i × step) / 10^places. */
struct variant_steps {
    int64_t low, step;
    int places;
    size_t count;
};

/* False and *cause as variant_range_count. */
bool variant_range_read(const struct variant_range *range, struct variant_steps *steps, const char **cause);

/* The double nearest to value `index` (below the count), as strtod reads the text of variant_range_value. */
double variant_steps_value(const struct variant_steps *steps, size_t index);

/* Appends one value of the range, each equally likely. False and *cause as above; nothing is appended or
 * drawn then. */
bool variant_draw_range(struct random_source *source, const struct variant_range *range, struct buffer *out,
                        const char **cause);

/* Appends one of the texts as it is written, each equally likely. False and *cause when the list is empty or
 * any of its texts is no number; nothing is appended or drawn then. */
bool variant_draw_list(struct random_source *source, const char *const *texts, size_t count, struct buffer *out,
                       const char **cause);

#endif
