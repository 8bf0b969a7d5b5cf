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

/* For every course topic that has questions, the expected share of the marks today and the marks met so far (0 for main
 * topics with sub-topics), in arena. */
struct topic_standing {
    const double *share, *marks;
};
bool standing_of_topics(struct record *record, const struct bank *bank, struct arena *arena,
                        struct topic_standing *topics, struct messages *messages);

/* The author's demand as a rating in log-odds. Common practice, no source: a step of 0.7 either way. */
double standing_difficulty(enum demand demand);

#endif
