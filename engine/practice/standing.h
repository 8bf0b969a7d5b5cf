/* Where the student stands in a course: the learner's state from the record, laid out in the course's order. */
#ifndef OWNMARK_PRACTICE_STANDING_H
#define OWNMARK_PRACTICE_STANDING_H

#include "bank/bank.h"
#include "base/arena.h"
#include "base/message.h"
#include "learner/model.h"
#include "record/record.h"

/* How course indices and learner indices meet: the learner's topics are the leaves, its units the main topics. */
struct standing {
    struct learner *learner;
    const size_t *leaf_of_topic;    /* [course topics]: learner topic, or LEARNER_NONE for a main topic with sub-topics */
    const int *topic_of_leaf;       /* [learner topics]: course topic */
    const int *topic_of_unit;       /* [learner units]: course topic of the main topic */
};

/* All in arena but the learner, which standing_release frees. A record of NULL gives the priors. */
bool standing_read(struct record *record, const struct bank *bank, struct arena *arena, struct standing *standing,
                   struct messages *messages);
void standing_release(struct standing *standing);

/* The moment of the examination by the settings (9 in the morning of its day); when none is set or it has passed, 60 days
 * from now. *known tells which. */
moment standing_exam(struct record *record, const char *bank, moment now, bool *known);

/* The author's demand as a rating in log-odds. Common practice, no source: a step of 0.7 either way. */
double standing_difficulty(enum demand demand);

#endif
