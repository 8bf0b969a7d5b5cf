/* What several test files of this room need: parts, points and values written in C. The questions are of
 * Coastal Science, an invented course. */
#ifndef OWNMARK_TESTS_ANSWER_TRIAL_H
#define OWNMARK_TESTS_ANSWER_TRIAL_H

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <criterion/criterion.h>

#include "answer/words.h"
#include "base/arena.h"
#include "bank/model.h"
#include "bank/values.h"

#define RICH(text_) {.runs = (const struct run[]){{RUN_PLAIN, text_}}, .count = 1}
#define BLOCKS(text_) {.items = (const struct block[]){{.kind = BLOCK_PARAGRAPH, .text = RICH(text_)}}, .count = 1}
#define TEXTS(...) .items = (const char *const[]){__VA_ARGS__}, .count = sizeof((const char *const[]){__VA_ARGS__}) / sizeof(char *)
#define WORD(...) {.alternatives = (const char *const[]){__VA_ARGS__}, \
                   .count = sizeof((const char *const[]){__VA_ARGS__}) / sizeof(char *)}
#define KEYS(...) .keys = (const struct key_word[]){__VA_ARGS__}, \
                  .key_count = sizeof((const struct key_word[]){__VA_ARGS__}) / sizeof(struct key_word)
#define POINT(text_, ...) {.kind = NODE_POINT, .marks = 1, .follow = true, .text = RICH(text_), __VA_ARGS__}
#define KEY(...) &(const struct number_key){.places = -1, __VA_ARGS__}

/* Command words of the trial course, in this order. */
enum { CALCULATE, COMPARE, COMPLETE, DESCRIBE, EVALUATE, EXPLAIN, NAME, STATE, SHOW_THAT, TO_WHAT_EXTENT };

extern const struct course trial_course;

/* The seed of a property: OWNMARK_SEED when set, so that a failure can be repeated, else `usual`. */
uint64_t trial_seed(uint64_t usual);

#endif
