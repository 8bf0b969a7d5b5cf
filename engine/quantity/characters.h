/* Single characters of UTF-8 text, classed as numbers and units need them. For this room only. Pure. */
#ifndef OWNMARK_QUANTITY_CHARACTERS_H
#define OWNMARK_QUANTITY_CHARACTERS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "base/buffer.h"

/* The character at the start of text and its length in bytes; 0 and length 0 at the end. A byte that is
 * no UTF-8 counts as U+FFFD of length 1. length may be NULL. */
uint32_t character_at(const char *text, size_t *length);

/* The character that ends just before `at` (which lies in text); 0 and length 0 at the start. */
uint32_t character_before(const char *text, const char *at, size_t *length);

bool character_is_space(uint32_t code);      /* spaces of any width and tab; no line break */
bool character_is_minus(uint32_t code);      /* hyphen, minus, en dash and their look-alikes */
bool character_is_letter(uint32_t code);     /* alphabetic in any script; superscripts and subscripts are not */
bool character_is_digit(uint32_t code);      /* 0 to 9 */
int character_superscript(uint32_t code);    /* ⁰ to ⁹ as 0 to 9; -1: none */
bool character_is_super_minus(uint32_t code);
int character_subscript(uint32_t code);      /* ₀ to ₉ as 0 to 9; -1: none */

const char *skip_spaces(const char *text);
const char *skip_blanks(const char *text);   /* line breaks too */

/* Behind `word` if text starts with it, letter case (ASCII) overlooked, and no letter follows; else NULL. */
const char *skip_word(const char *text, const char *word);

void add_superscript(struct buffer *out, int value);

/* Length of a leading £, $, € or ¥; 0: none. */
size_t currency_length(const char *text);

#endif
