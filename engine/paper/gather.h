/* From banks and a teacher's wishes to a blueprint, and from a choice back to the questions. */
#ifndef OWNMARK_PAPER_GATHER_H
#define OWNMARK_PAPER_GATHER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "bank/bank.h"
#include "base/arena.h"
#include "base/message.h"
#include "paper/blueprint.h"
#include "paper/file.h"

struct paper_wishes {
    int marks;                              /* 1 to PAPER_MARKS_LIMIT */
    int minutes;                            /* 0: by the course's pace; then 5 % more is let pass */
    const char *const *topics;              size_t topic_count;     /* ids; none: all topics. With topics, skills are
                                                                     * aimed at but need not have their shares */
    bool only_demands[3];                   /* questions of these demands; none set: of all */
    bool has_demand_shares;
    double demand_shares[3];                /* per cent of the marks, add up to 100 */
    const struct paper *avoid;              size_t avoid_count;
    uint64_t seed;
};

struct gathered_item {
    size_t bank;                            /* index */
    size_t index;                           /* of the question in it */
};

struct gathered {
    struct blueprint blueprint;
    const struct gathered_item *places;     /* as blueprint.items */
    struct bank *const *banks;              size_t bank_count;
    const struct course *course;            /* of the first bank: aims name its objectives, skills and topics */
    int minutes;                            /* as the paper states them */
    const struct paper_wishes *wishes;
};

/* Refused with messages: banks of different courses (the name must be the same, and every objective, skill and topic of
 * the others be in the first by id), two banks of one id, an unknown topic, wishes no question of the banks fits.
 * Everything hangs in arena; banks and wishes stay the caller's and must outlast it. */
bool gather(struct bank *const *banks, size_t bank_count, const struct paper_wishes *wishes, struct arena *arena,
            struct gathered *gathered, struct messages *messages);

/* The chosen items as they stand on the paper: demand rises, within a demand the marks; then as in the course. Indices
 * of items, in the arena. */
size_t gather_order(const struct gathered *gathered, const bool *chosen, struct arena *arena, size_t **order);

/* The seed of a question's numbers: of the paper's seed and the question, whatever else is in the paper. */
uint64_t gather_variant(const struct gathered *gathered, size_t item);

const struct question_summary *gather_summary(const struct gathered *gathered, size_t item);
/* The index in gathered->course of a question's topic. */
int gather_topic(const struct gathered *gathered, size_t item);

#endif
