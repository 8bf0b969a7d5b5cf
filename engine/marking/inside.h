/* Inside the marking room: which points stand, and the lines of an award. Not for other rooms. */
#ifndef OWNMARK_MARKING_INSIDE_H
#define OWNMARK_MARKING_INSIDE_H

#include "marking/marking.h"

/* ---- Points: which ones stand (points.c, closure.c) --------------------------------------------------------- */

/* One point with all that was said about it. needs and ways are indices into points.items. */
struct point_case {
    const struct node *node;
    const struct node *parent;
    size_t place;               /* among the parent's children */
    struct point_input input;
    enum award_reason reason;   /* without the needs: why it is claimed or not; at the end: with them */
    const char *other;          /* id that reason speaks of: the need, or the later mark */
    bool claimed;               /* ticked, and nothing the scheme says is against it */
    bool killed;                /* not even implied */
    bool answer_only;           /* a right answer that shows its method without working */
    bool earned;
    size_t implied_by;          /* index; own index: not implied */
    const char *unmet_elsewhere;    /* a need in an earlier part that was not earned there */
    size_t *needs;  size_t need_count;  /* every one is needed */
    size_t *ways;   size_t way_count;   /* accuracy: its method; one of several where routes stand before it */
    size_t visit;               /* mark of the last walk over it, and what it found */
    bool visit_implies;
    size_t credit_visit;
    enum award_reason unit_offence;     /* REASON_UNIT_… the scheme penalises, or REASON_EARNED for none */
    bool figures_offence;
};

struct points {
    struct point_case *items;
    size_t count;
    size_t visits;
};

/* Settles every point of the part: reason, other and earned are final. In arena. */
struct points points_settle(const struct part *part, const struct part_input *input,
                            const struct marking_state *state, struct arena *arena);

/* The second half of it: from claimed, killed, needs and ways to earned, reason and other. */
void points_close(struct points *points);

/* What was said of a list, levels or quality node; NULL when nothing was. */
const struct list_input *input_of_list(const struct part_input *input, const struct node *node);
const struct levels_input *input_of_levels(const struct part_input *input, const struct node *node);
const struct quality_input *input_of_quality(const struct part_input *input, const struct node *node);

/* ---- Lines (lines.c) ----------------------------------------------------------------------------- */

struct lines {
    struct award_line *items;
    size_t count, capacity;
    struct arena *arena;
};

void lines_add(struct lines *lines, struct award_line line);
void lines_add_all(struct lines *lines, const struct lines *more);
int lines_marks(const struct lines *lines);
int lines_maximum(const struct lines *lines);

/* Cuts the lines to a maximum: marks earned are kept first, then what was lost, both in order. */
void lines_limit(struct lines *lines, int maximum);

/* ---- The tree (tree.c, list.c) ------------------------------------------------------------------- */

/* One reading of the tree. `each` penalties are taken from every offending point; the others are left out,
 * because they were used up or because award.c takes one mark for all of them. */
struct reading {
    const struct part_input *input;
    const struct points *points;
    struct arena *arena;
    bool unit_each, figures_each;
    bool content;               /* the rest earned something: quality may count */
};

struct lines tree_lines(const struct reading *reading, const struct node *node, size_t *point);
/* With the override, held down by the caps that apply. */
struct award_levels tree_levels(const struct part_input *input, const struct node *node);
struct lines list_lines(const struct reading *reading, const struct node *node, size_t *point);

/* Fills up what a choice of children leaves over: `slots` lines up to the node's reach, unearned children with
 * something to say first, then lines that say too few were given. */
void tree_fill(const struct reading *reading, const struct node *node, const struct lines *children,
               const bool *taken, size_t slots, int found, struct lines *out);

/* Takes the mark of a penalty from a line of a point. */
void line_lose_unit(struct award_line *line, const struct point_case *point, struct arena *arena);
void line_lose_figures(struct award_line *line, const struct point_case *point, struct arena *arena);

/* ---- Texts (reason.c) ---------------------------------------------------------------------------- */

const char *reason_of_point(const struct point_case *point, struct arena *arena);
const char *reason_of_figures(const struct number_key *key, struct arena *arena);
const char *reason_of_levels(const struct award_levels *levels, struct arena *arena);

#endif
