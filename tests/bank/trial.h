/* What the tests of reading share: a folder of their own, banks made by changing one thing in the bank that uses every
 * element, and the messages that come of it. */
#ifndef OWNMARK_TESTS_BANK_TRIAL_H
#define OWNMARK_TESTS_BANK_TRIAL_H

#include <stdbool.h>
#include <stddef.h>
#include <criterion/criterion.h>

#include "base/buffer.h"
#include "base/message.h"

#define EVERY_ELEMENT "tests/data/every-element.xml"

/* A new folder with figures/profile.svg in it, which is also where the cache is kept; removed by trial_end. */
void trial_begin(void);
void trial_end(void);
const char *trial_path(const char *name);       /* in rotating static storage of 4 */
void trial_write(const char *name, const char *bytes, size_t length);

/* The bank that uses every element; the caller frees. */
char *trial_every_element(void);

/* text with its only `from` replaced; the caller frees. position, if not NULL: where `to` starts. */
char *trial_replaced(const char *text, const char *from, const char *to, size_t *position);

/* Writes the text as bank.xml and checks it. True when it is sound. */
bool trial_check(const char *text, size_t length, struct messages *messages);

/* Exactly one message, with this text and subject (NULL: none). */
void trial_one(const struct messages *messages, const char *subject, const char *text);

/* Line and column of an offset, counted by walking over the characters. */
void trial_place(const char *text, size_t offset, unsigned long *line, unsigned long *column);

/* A bank of n questions from the generator; the caller frees. */
char *trial_generated(const char *arguments);

#endif
