/* A small reproducible generator (SplitMix64, Steele, Lea & Flood 2014): the same seed gives the same
 * variant of a question on every machine. Not for secrets. */
#ifndef OWNMARK_BASE_RANDOM_H
#define OWNMARK_BASE_RANDOM_H

#include <stdint.h>

struct random_source { uint64_t state; };

uint64_t random_next(struct random_source *source);
uint64_t random_below(struct random_source *source, uint64_t bound); /* 0 … bound-1, unbiased; bound >= 1 */
double random_unit(struct random_source *source);                    /* [0, 1) */
uint64_t random_fresh_seed(void);                                     /* from the system (getrandom) */

#endif
