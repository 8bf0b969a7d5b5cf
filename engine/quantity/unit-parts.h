/* The steps from a spelling to its readings, shared by the unit-*.c files. For this room only.
 *
 * text → unit-spelling.c (one ASCII spelling) → unit-letters.c (a run of letters) → unit-grammar.c (products,
 * powers, quotients) → unit.c (what unit.h promises). */
#ifndef OWNMARK_QUANTITY_UNIT_PARTS_H
#define OWNMARK_QUANTITY_UNIT_PARTS_H

#include <stdbool.h>
#include <stddef.h>
#include "quantity/unit-table.h"

enum { UNIT_TEXT = 256, UNIT_TOKEN = 24 };

/* One of the things a spelling may mean. */
struct reading {
    struct unit unit;
    bool strict;        /* what the rules say it means; false: what may have been meant */
    bool not_si;
    bool wrong_case;    /* found only by overlooking letter case */
};

struct reading_set {
    struct reading items[UNIT_READINGS];
    size_t count;
};

struct reading reading_none(void);                       /* the dimensionless 1 */
void reading_set_add(struct reading_set *set, const struct reading *reading);   /* each once; beyond UNIT_READINGS dropped */
struct reading_set reading_set_product(const struct reading_set *a, const struct reading_set *b);
bool reading_set_raise(struct reading_set *set, int exponent);                  /* false: a power out of range */

/* The unit of a table entry with a prefix (NULL: none). */
struct reading reading_of_entry(const struct unit_entry *entry, const struct unit_prefix *prefix);

/* The readings of a run of letters whose last unit carries `exponent`, which is applied. In prose only what
 * cannot be an English word is understood. */
struct reading_set letters_read(const char *letters, size_t length, int exponent, bool prose);

/* One spelling for signs that mean the same: µ → u, Ω → ohm, £ → GBP, ⁻¹ → ^-1, · → *, − → -. */
struct unit_spelling {
    char text[UNIT_TEXT];
    unsigned short end[UNIT_TEXT];   /* for each byte, where its source ends in the original */
    size_t length;
    bool whole;                      /* false: the original was longer than this holds */
};

void spelling_read(const char *text, struct unit_spelling *spelling);

/* Reads as much of text as is a unit; returns the bytes read, 0 for none. *unsettled tells that the rules
 * do not say what a solidus divides. */
size_t grammar_read(const char *text, bool prose, struct reading_set *set, bool *unsettled);

#endif
