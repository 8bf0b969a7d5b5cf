/* Making a blueprint smaller without losing its best choice. Private to this room. */
#ifndef OWNMARK_PAPER_REDUCE_H
#define OWNMARK_PAPER_REDUCE_H

#include "paper/blueprint.h"

/* Items that a solver need not tell apart: all of them give the same marks, seconds and aims at the same cost, and none
 * has enemies (or there is only one). The first is taken first. */
struct group {
    const size_t *items;        /* indices into the blueprint's */
    size_t count;
};

/* The groups that a best choice of at most `most_marks` marks can need, in the arena. Of items that give the same, only
 * as many of the cheapest as fit into the marks are there. With open_all, kept-out items are taken like others; without,
 * none. */
size_t reduce_items(const struct blueprint *blueprint, int most_marks, bool open_all, struct arena *arena,
                    struct group **groups);

/* How far the nearest sum of marks of some of these items lies from the paper's marks (0: some reach it exactly): no
 * choice can do better, whatever else is asked. */
int reduce_distance(const struct blueprint *blueprint, const struct group *groups, size_t count);

/* Marks that the nearest choice may have too many: those of the largest item. */
int reduce_most_over(const struct blueprint *blueprint);

#endif
