/* What ticks are worth: a scheme, the student's ticks and what the answer shows go in; an award with a reason
 * for every mark given or withheld comes out. Pure: the same input gives the same award.
 *
 * The rules, their sources and an example for each are in docs/marking.md. In one breath: a point counts once;
 * nothing is deducted for errors but by a list rule, a unit or figures the scheme demands; undecided and not
 * sure count as not earned; a tick is the student's word, and arithmetic never overrules it except where the
 * scheme demands something by rule (working, unit, figures) or where a right answer implies its method. */
#ifndef OWNMARK_MARKING_MARKING_H
#define OWNMARK_MARKING_MARKING_H

#include <stdbool.h>
#include <stddef.h>
#include "bank/model.h"
#include "bank/values.h"
#include "base/arena.h"

/* ---- What goes in -------------------------------------------------------------------------------- */

enum tick { TICK_UNDECIDED, TICK_YES, TICK_NO, TICK_UNSURE };

enum value_shown {
    VALUE_NOT_LOOKED_AT,
    VALUE_RIGHT,
    VALUE_FOLLOWS,          /* right only for the student's own earlier values */
    VALUE_WRONG
};

enum unit_shown {
    UNIT_NOT_LOOKED_AT,
    UNIT_FITS,              /* another scale that gives the right amount fits too */
    UNIT_LEFT_OUT,
    UNIT_WRONG,
    UNIT_UNCLEAR            /* may be read as the right one, or not read at all: never penalised */
};

enum working_shown { WORKING_NOT_LOOKED_AT, WORKING_SEEN, WORKING_NONE };

/* One point. All zero: nothing decided, nothing looked at. */
struct point_input {
    enum tick tick;
    bool rejected;              /* a wording the scheme rejects stands in the answer: kills the point */
    const char *rejected_words; /* that wording, for the reason; may be NULL */
    bool contradicted;          /* the answer says the opposite elsewhere: kills the point */
    bool crossed_out;           /* seen only in writing that was crossed out … */
    bool replaced;              /* … and that something else was written for */
    /* points with a number only */
    enum value_shown value;
    bool figures_wrong;         /* not the significant figures or decimal places asked for */
    enum unit_shown unit;
    enum working_shown working; /* behind this number */
};

/* A list: what was written, in order. Without `known`, the ticks of its points count as the right items and
 * `wrong` as the wrong ones, in unknown order. */
enum item_kind { ITEM_RIGHT, ITEM_WRONG, ITEM_NEUTRAL };

struct list_item {
    enum item_kind kind;
    int point;              /* ITEM_RIGHT: index of its point, or -1 when right but under no point listed */
    const char *text;       /* as written, for the reason; may be NULL */
};

struct list_input {
    const char *node;       /* id */
    bool known;
    const struct list_item *items;  size_t item_count;
    size_t wrong;
};

enum { RATING_NONE = -1, OVERRIDE_NONE = -1, BAND_NONE = -1, AWARD_NO_POINT = -1 };

struct levels_input {
    const char *node;       /* id */
    const int *ratings;     size_t rating_count;    /* one a strand (one in all without strands): a level's
                                                       number, 0 nothing creditworthy, RATING_NONE not rated */
    const bool *caps;       size_t cap_count;       /* which of the node's caps apply; may be fewer: rest do not */
    int override;           /* the student's own best fit in marks; OVERRIDE_NONE */
};

struct quality_input {
    const char *node;       /* id */
    int band;               /* index into the node's bands; BAND_NONE: none reached or not decided */
};

/* Nodes without an entry count as undecided. Indices of points: the order of scheme_each_point. */
struct part_input {
    bool no_response;       /* nothing was written: worth 0, and told apart from a wrong answer */
    const struct point_input *points;       size_t point_count;    /* missing ones are undecided */
    const struct list_input *lists;         size_t list_count;
    const struct levels_input *levels;      size_t level_count;
    const struct quality_input *quality;    size_t quality_count;
};

/* Carried from part to part of one asking of a question; start with all zero. */
struct marking_state {
    bool unit_used;         /* a mark was lost for a unit: no second one in this question */
    bool figures_used;      /* the same for significant figures or decimal places */
    const struct marking_earned *earned;    /* points earned in earlier parts; in the arena of marking_award */
};

struct marking_earned {
    const char *id;
    const struct marking_earned *next;
};

/* ---- What comes out ------------------------------------------------------------------------------ */

enum award_reason {
    /* given */
    REASON_EARNED,
    REASON_METHOD_SEEN,
    REASON_IMPLIED,             /* a later mark shows it */
    REASON_ANSWER_SHOWS_METHOD, /* right answer without working */
    REASON_FOLLOWED,            /* right for the student's own earlier value */
    REASON_ON_YOUR_WORD,        /* ticked although the number does not agree */
    REASON_LEVEL,               /* levels: proxy; some or all of the marks */
    REASON_OVERRIDE,            /* levels: the student's best fit */
    REASON_BAND,
    /* not given */
    REASON_NOT_SHOWN,
    REASON_UNDECIDED,
    REASON_UNSURE,
    REASON_REJECTED,
    REASON_CONTRADICTED,
    REASON_CROSSED_OUT,
    REASON_NEEDS,               /* a point it needs was not earned */
    REASON_UNSUPPORTED,         /* working is demanded, none is shown */
    REASON_UNIT_MISSING,
    REASON_UNIT_WRONG,
    REASON_FIGURES,
    REASON_TOO_FEW,             /* any n from, list: fewer than asked for */
    REASON_LIST_CANCELLED,
    REASON_LIST_WRONG,          /* the item in this place is wrong */
    REASON_LIST_LATE,           /* right, but written after the first n (then a note), or the order is not known */
    REASON_ROUTE_SHORT,         /* the route or choice reaches fewer marks than another */
    REASON_NO_CONTENT,          /* quality: the rest earned nothing */
    REASON_NO_RESPONSE,
    /* notes: maximum 0 */
    REASON_ROUTE_COUNTS,
    AWARD_REASONS
};

/* One slot that can earn marks. Notes about the marking are lines with maximum 0. */
struct award_line {
    const struct node *node;    /* the point; the any, list, levels, quality or routes node where no point is meant */
    int point;                  /* index, or AWARD_NO_POINT */
    int maximum;
    int marks;
    enum award_reason reason;
    const char *text;           /* plain English for the student, no full stop; texts of answers are in it as
                                   they were given: not safe for a terminal */
    const char *rests_on;       /* id of the point that text speaks of without naming it: the need that was not met, the
                                   later mark that shows this one; NULL for none */
};

/* Levels: the proxy and the student's choice kept apart; `marks` is what counts. */
struct award_levels {
    const struct node *node;
    bool rated;
    int level;                  /* after caps; 0: nothing creditworthy */
    int cap;                    /* index of the cap that held it down; -1: none */
    int proxy;
    int override;               /* as given; OVERRIDE_NONE. A cap that applies holds it down too */
    int marks;
};

struct award {
    int marks;                  /* 0 … maximum; the lines' marks add up to it */
    int maximum;                /* the part's marks (or what its scheme can reach, if that is less); the lines'
                                   maxima add up to it */
    bool no_response;
    bool undecided;             /* some line waits for a decision: undecided, unsure, not rated */
    int unit_lost;              /* 1: the unit penalty fell here */
    int figures_lost;
    const struct award_line *lines;     size_t line_count;      /* in the order of the scheme */
    const struct award_levels *levels;  size_t level_count;
};

/* Awards a part. `state` is read and brought up to date: call once a part, in the question's order. The
 * result and what it points to live in arena or in part and input. Never fails. */
const struct award *marking_award(const struct part *part, const struct part_input *input,
                                  struct marking_state *state, struct arena *arena);

/* Was the mark given (wholly or in part)? A short name for logs and tables: "needs", "unit-missing". */
bool award_reason_is_given(enum award_reason reason);
const char *award_reason_name(enum award_reason reason);

/* ---- Levels alone -------------------------------------------------------------------------------- */

/* The level proxy: median of the ratings (lower of two), held down by the caps that apply; ratings above it
 * and none below give the level's top mark, below and none above its lowest, else its middle rounded down.
 * Ratings beyond the levels are taken as the nearest one. marks = proxy, override OVERRIDE_NONE. */
struct award_levels marking_level(const struct node *levels, const int *ratings, size_t rating_count,
                                  const bool *caps, size_t cap_count);

/* ---- Follow-through ------------------------------------------------------------------------------ */

/* What the student wrote for an earlier number of the question, in that number's unit. */
struct own_value {
    const char *symbol;
    double value;
};

enum follow_reason {
    FOLLOW_APPLIES,         /* expected was computed from the student's values and differs from the scheme's */
    FOLLOW_SAME,            /* nothing earlier enters, or what enters makes no difference */
    FOLLOW_NOT_ALLOWED,     /* correct answer only */
    FOLLOW_TRIVIAL          /* an own value 0 enters, or the result would be 0 or no finite number */
};

struct follow {
    enum follow_reason reason;
    double expected;        /* the value to compare with: the student's when FOLLOW_APPLIES, else the scheme's */
    double scheme_value;    /* NAN for a key with only an interval */
};

/* What a point's number should be, given the student's earlier values. point has a number. Compare first with
 * scheme_value (VALUE_RIGHT), then, when FOLLOW_APPLIES, with expected (VALUE_FOLLOWS): the first error loses
 * its mark once, and what is right after it counts. */
struct follow marking_follow(const struct values *values, const struct node *point,
                             const struct own_value *own, size_t own_count, struct arena *arena);

#endif
