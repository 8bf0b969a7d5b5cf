/* A blueprint as a mixed integer program in GLPK's form. Private to this room.
 *
 *   least   sum of costs x + weights (under + over) + penalties of misses
 *   with    sum of marks x + short - long                          = marks
 *           sum of gives x + under + missed_under
 *                          - over  - missed_over    within low … high     for each aim
 *           sum of seconds x - late                               <= seconds
 *           x of one + x of its enemy                             <= 1
 *
 * and, where groups of items are of few kinds, a whole column for how many of a kind are taken.
 * The columns of misses (short, long, missed, late) are there only where the kind of solving allows them; under and over
 * end at least and most. All coefficients are whole, and so is every column in some best solution. */
#ifndef OWNMARK_PAPER_MODEL_H
#define OWNMARK_PAPER_MODEL_H

#include <glpk.h>
#include "paper/blueprint.h"
#include "paper/reduce.h"

struct model {
    const struct blueprint *blueprint;
    enum solve_kind kind;
    const struct group *groups; /* groups[i] has column i + 1: how many of it are taken */
    size_t group_count;
    int distance;               /* of reduce_distance */
    struct arena *arena;
};

/* A new problem; glp_delete_prob frees. Everything of it lives in GLPK's memory but what the arena holds. */
glp_prob *model_build(const struct model *model);

#endif
