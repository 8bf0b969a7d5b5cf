/* How sure a student is of a topic, on four steps: the number of EVENT_TOPIC_RATED. Pure. */
#ifndef OWNMARK_PRACTICE_RATING_H
#define OWNMARK_PRACTICE_RATING_H

#include <stddef.h>
#include "learner/model.h"
#include "report/page.h"

enum topic_rating {
    TOPIC_NOT_RATED = 0,
    TOPIC_LOST,             /* "lost" */
    TOPIC_FOLLOWING,        /* "following": with the book or an example beside it */
    TOPIC_UNAIDED,          /* "unaided" */
    TOPIC_COULD_TEACH       /* "could teach it" */
};

const char *topic_rating_name(enum topic_rating rating);        /* "not rated" for anything else */

/* What was typed: the number, or the name or its beginning. TOPIC_NOT_RATED: not understood. */
enum topic_rating topic_rating_read(const char *typed);

/* The four steps as lines "1 lost: …". */
void topic_rating_show_steps(struct page *page);

/* A rating beside what the marks say. Lost stands for a share of marks in the low band, following for the middle one,
 * the other two for the high one (learner_band_of; judgement, no source). They disagree only when no share in the
 * likely range of the estimate lies in the band the rating stands for: marks that are uncertain contradict nobody. */
enum rating_against_marks { RATING_UNTOLD, RATING_AGREES, RATING_HIGHER, RATING_LOWER };
enum rating_against_marks topic_rating_compare(enum topic_rating rating, const struct learner_estimate *estimate,
                                               double marks);     /* marks: the evidence; UNTOLD when it is thin */

struct topic_rated {
    const char *id, *name;              /* the topic's */
    enum topic_rating rating;
    struct learner_estimate estimate;
    double marks;                       /* the evidence behind it */
};
/* Where they disagree, a paragraph for each way that says so and what to do next; otherwise nothing. */
void topic_rating_remarks(struct page *page, const struct topic_rated *topics, size_t count);

#endif
