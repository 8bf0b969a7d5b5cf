/* What the tests of papers share: a folder of their own and small banks in it. */
#ifndef OWNMARK_TESTS_PAPER_TRIAL_H
#define OWNMARK_TESTS_PAPER_TRIAL_H

#include <stddef.h>
#include <criterion/criterion.h>

#include "bank/bank.h"
#include "base/buffer.h"

void trial_begin(void);
void trial_end(void);
const char *trial_path(const char *name);       /* in rotating static storage of 4 */
void trial_write(const char *name, const char *text);
char *trial_read(const char *name);             /* the caller frees */

/* A question of a small bank. parts: "1:2 2:1m" is a part of 2 marks for AO1 and one of 1 mark for AO2 with maths. */
struct trial_question {
    const char *id, *topic, *demand, *parts, *enemies;
};

/* A sound bank of these questions: AO1 40, AO2 40, AO3 20; maths at least 20; topics a and b with 50 each; a minute a
 * mark. more: put into each stem as it is (XML); "" for nothing. */
void trial_bank(const char *name, const char *id, const struct trial_question *questions, size_t count, const char *more);

struct bank *trial_open(const char *path);      /* without a cache; a fault fails the test */

#endif
