/* Why a mark was lost: one cause a lost mark, chosen by the student, proposed by the program where a rule of
 * the marking makes it plain. Blank and time are outcomes: they say what happened, not why. */
#ifndef OWNMARK_MARKING_CAUSE_H
#define OWNMARK_MARKING_CAUSE_H

#include <stdbool.h>
#include "marking/marking.h"

enum cause {
    CAUSE_NONE,             /* not named (yet) */
    CAUSE_KNOWLEDGE,
    CAUSE_COMMAND,
    CAUSE_CONTEXT,
    CAUSE_POINTS,
    CAUSE_STEM,
    CAUSE_VAGUE,
    CAUSE_UNLINKED,
    CAUSE_ONE_SIDED,
    CAUSE_NO_JUDGEMENT,
    CAUSE_SLIP,
    CAUSE_UNIT,
    CAUSE_CONTRADICTION,
    CAUSE_BLANK,
    CAUSE_TIME,
    CAUSES
};

struct cause_text {
    const char *label;      /* "one-sided": typed, logged, in tables */
    const char *title;      /* "one side of a comparison" */
    const char *meaning;    /* one sentence */
    const char *remedy;     /* what to do about it, one sentence */
    bool outcome;           /* blank, time */
};

const struct cause_text *cause_text(enum cause cause);      /* never NULL; CAUSE_NONE has the label "" */
enum cause cause_from_label(const char *label);             /* CAUSE_NONE when unknown or NULL */

/* The cause a withheld mark points to, or CAUSE_NONE where only the student can tell. */
enum cause cause_of_reason(enum award_reason reason);

#endif
