/* What the files of `ownmark standing` share. */
#ifndef OWNMARK_COMMANDS_STANDING_H
#define OWNMARK_COMMANDS_STANDING_H

#include "base/dates.h"
#include "practice/coverage.h"
#include "practice/rating.h"
#include "practice/standing.h"

enum standing_by { BY_TOPIC, BY_OBJECTIVE, BY_WORD, BY_SKILL };
extern const char *const standing_by_names[];   /* as typed after --by; ended by NULL */

struct standing_row {
    const char *id, *name;
    double marks;                           /* evidence: marks on offer in what was answered */
    double earned;                          /* by skill only */
    struct learner_estimate today, then;    /* by skill: only today.share, the part earned so far */
    enum learner_band band;                 /* of today */
    enum topic_rating rating;               /* by topic only */
    day_number rated;
};

struct standing_view {
    const struct bank *bank;
    struct record *record;                  /* NULL: nothing is recorded yet */
    struct standing standing;
    enum standing_by by;
    moment now, then;                       /* then: NO_MOMENT when there is no second day */
    bool asked_for;                         /* the second day is --on's, not the exam's */
    day_number exam;                        /* as set, maybe over; NO_DAY */
    struct standing_row *rows;              /* weakest first, those without enough evidence last */
    size_t count;
    struct coverage coverage;
    struct moderation moderation;
};

bool standing_row_has_evidence(const struct standing_row *row);

/* Each shows everything; false with a message when the record cannot be read. */
bool standing_show_page(const struct standing_view *view, struct messages *messages);
void standing_write_json(const struct standing_view *view);

#endif
