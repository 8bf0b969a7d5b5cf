/* How sure a student is of a topic, on four steps: the number of EVENT_TOPIC_RATED. Pure. */
#ifndef OWNMARK_PRACTICE_RATING_H
#define OWNMARK_PRACTICE_RATING_H

#include "report/page.h"

enum topic_rating {
    TOPIC_NOT_RATED = 0,
    TOPIC_LOST,             /* "lost" */
    TOPIC_FOLLOWING,        /* "following": with the book or an example beside it */
    TOPIC_UNAIDED,          /* "unaided" */
    TOPIC_COULD_TEACH       /* "could teach it" */
};

const char *topic_rating_name(enum topic_rating rating);        /* "not rated" for anything else */
const char *topic_rating_meaning(enum topic_rating rating);     /* one short clause; "" for anything else */

/* What was typed: the number, or the name or its beginning. TOPIC_NOT_RATED: not understood. */
enum topic_rating topic_rating_read(const char *typed);

/* The four steps as lines "1 lost: …". */
void topic_rating_show_steps(struct page *page);

#endif
