/* What one sitting added up to: for its summary. Filled from marked questions, live or on resume. */
#ifndef OWNMARK_PRACTICE_TOTALS_H
#define OWNMARK_PRACTICE_TOTALS_H

#include <stddef.h>
#include "bank/model.h"
#include "base/arena.h"
#include "practice/facts.h"
#include "practice/rating.h"
#include "record/record.h"

struct total_row {
    const char *name;           /* of topics the id */
    double got, maximum;
    bool settled;               /* topics only: rated, or passed over */
    enum topic_rating rating;
};

struct missed_line {
    int number;                 /* of the question in a paper; 0: none */
    const char *question, *part, *text;     /* the point in the scheme's words */
    const char *cause;                      /* NULL when none was given */
    double lost;
};

struct totals {
    struct total_row *objectives;   size_t objective_count;
    struct total_row *words;        size_t word_count;
    struct total_row *topics;       size_t topic_count;
    struct missed_line *missed;     size_t missed_count, missed_capacity;
    int marked, left, no_response;
    double got, maximum;
    double predicted, predicted_got, predicted_maximum;    /* over parts that were predicted */
    double seconds, allowed;
};

void totals_add_script(struct totals *totals, struct script *script, const struct mark_row *marks, size_t count,
                       double seconds_a_mark, struct arena *arena);
void totals_free(struct totals *totals);

#endif
