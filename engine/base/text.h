/* UTF-8 text: validity, width, safety for a terminal, words, likeness. Built on libunistring.
 *
 * All text inside the program is valid UTF-8; whatever comes from outside passes text_is_valid first. */
#ifndef OWNMARK_BASE_TEXT_H
#define OWNMARK_BASE_TEXT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "base/buffer.h"

/* Well-formed UTF-8 without NUL. */
bool text_is_valid(const char *bytes, size_t length);

/* Columns on a terminal: wide characters 2, combining marks 0. Control characters count 0. */
size_t text_width(const char *text);
size_t text_width_bytes(const char *text, size_t length);

/* Bytes of the longest prefix of whole grapheme clusters that is at most `columns` wide. */
size_t text_fit(const char *text, size_t columns);
size_t text_fit_bytes(const char *text, size_t length, size_t columns);

/* Adds text with everything a terminal would obey made visible: C0 except newline and tab (tab becomes
 * a space), DEL, C1, bidirectional controls, line and paragraph separators, tag characters appear as
 * <U+009B>; invalid bytes as <0xFF>; more than 8 combining marks in a row are cut to 8.
 * This is the only door from untrusted text to a terminal or to standard error. */
void text_add_safe(struct buffer *out, const char *text);
void text_add_safe_bytes(struct buffer *out, const char *bytes, size_t length);

/* Is this character one of those made visible above (newline and tab are not)? */
bool text_is_unsafe_character(uint32_t character);

/* White space is what Unicode calls so. Trimming works in place and returns the start; folding makes one
 * space of each run, newlines too, at the ends as well, but leaves no-break spaces as they are. */
char *text_trim(char *text);
void text_add_folded_space(struct buffer *out, const char *text);
bool text_is_blank(const char *text);

/* Is it an id, as banks and what names them have it: a letter, then letters, digits, '.', '_' or '-', 64 at most in all
 * (ASCII)? */
bool text_is_id(const char *text, size_t length);

/* Lower-cased (full case folding) and NFC, superscripts and subscripts kept; appended to out. A byte
 * that is not UTF-8 becomes U+FFFD. */
void text_add_case_folded(struct buffer *out, const char *text);
bool text_equal_ignoring_case(const char *a, const char *b);   /* after folding, spaces trimmed */
bool text_starts_with(const char *text, const char *prefix);   /* byte for byte */
bool text_equal(const char *a, const char *b);                 /* byte for byte; NULL equals only NULL */

/* Damerau-Levenshtein distance (restricted: adjacent swaps count 1) in characters after case folding.
 * Stops at limit + 1. */
size_t text_distance(const char *a, const char *b, size_t limit);

/* The candidate nearest to `word`, or NULL when none is within a third of its length (at least 1):
 * "did you mean 'explain'?". Ties: the earlier candidate. */
const char *text_nearest(const char *word, const char *const *candidates, size_t count);

/* Lines of text at most `columns` wide by Unicode line breaking (UAX #14), continuation lines start with
 * `indent` spaces; a word longer than the line is broken between grapheme clusters. Newlines in text are
 * kept, spaces at the end of a line are not. `first` is the column (from 0) at which the first line starts.
 * Appended to out without a final newline. The text is made safe before, not here.
 * An indent that leaves less than 2 columns is reduced to leave 2. */
void text_add_wrapped(struct buffer *out, const char *text, size_t columns, size_t indent, size_t first);

/* "1 mark", "3 marks": text_count(n, "mark", "marks"). The result lives in static rotating storage of
 * 8 entries: use it at once in a print. */
const char *text_count(long n, const char *one, const char *many);

#endif
