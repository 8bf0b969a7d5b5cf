/* Making a blueprint smaller without losing its best choice. Private to this room. */
#ifndef OWNMARK_PAPER_REDUCE_H
#define OWNMARK_PAPER_REDUCE_H

#include "paper/blueprint.h"

/* The items that a best choice of at most `most_marks` marks can need, as ascending indices in the arena. Items that
 * give the same (marks, seconds, aims), have no enemies and are not kept out can stand for each other: of those, only
 * as many of the cheapest as fit into the marks. With open_all, kept-out items are taken like others; without, none. */
size_t reduce_items(const struct blueprint *blueprint, int most_marks, bool open_all, struct arena *arena, size_t **kept);

/* How far the nearest sum of marks of some of these items lies from the paper's marks (0: some reach it exactly): no
 * choice can do better, whatever else is asked. */
int reduce_distance(const struct blueprint *blueprint, const size_t *kept, size_t count);

/* Marks that the nearest choice may have too many: those of the largest item. */
int reduce_most_over(const struct blueprint *blueprint);

#endif
