/* The steps of a question in their order, and which is next: the first that the facts do not settle. The machine
 * has no other cursor, so leaving and coming back ends at the same place. Pure. */
#ifndef OWNMARK_PRACTICE_STEPS_H
#define OWNMARK_PRACTICE_STEPS_H

#include <stdbool.h>
#include <stddef.h>
#include "practice/facts.h"

enum step_kind {
    STEP_WORD,          /* read: name the command word */
    STEP_GIVENS,        /* read: list what is given */
    STEP_WANTED,        /* read: say what is wanted */
    STEP_PLAN,          /* plan: one line a point */
    STEP_PREDICT,       /* plan: predict the mark */
    STEP_ANSWER,
    STEP_ROUTE,         /* check: which way was gone; node = the routes */
    STEP_POINT,         /* node = the point */
    STEP_LIST_ITEM,     /* node = the list, index = the item as written */
    STEP_STRAND,        /* node = the levels, index = strand (0 when there are none) */
    STEP_CAP,           /* node = the levels, index = cap */
    STEP_BEST_FIT,      /* node = the levels */
    STEP_QUALITY,       /* node = the quality pot */
    STEP_SECOND_LOOK,   /* node = the point where tick and writing disagree; or the list, index = item */
    STEP_CAUSE,         /* index = slot of the award that lost marks, item = its id */
    STEP_REWRITE,       /* put it right */
    STEP_DONE           /* nothing left in this question */
};

struct step {
    enum step_kind kind;
    size_t part;
    const struct node *node;
    size_t index;
    const char *item;   /* STEP_CAUSE only */
};

struct steps {
    struct step *items;
    size_t count, capacity;
};

void steps_free(struct steps *steps);

/* How much of a stage a part of so many marks gets (docs/practice.md): the stages weigh as much as the marks do. */
bool part_asks_word(const struct part *part);
bool part_asks_givens(const struct question *question, const struct part *part);
bool part_asks_wanted(const struct part *part);
bool part_asks_plan(const struct part *part);
bool part_asks_prediction(const struct part *part);

/* The ticking steps of one part in order (routes not taken are left out). */
void steps_of_ticking(const struct script *script, size_t part, struct steps *steps);

bool step_is_settled(const struct script *script, const struct step *step);

/* The next step before any marking is asked for: reading, planning and answering of all parts, then the ticking
 * of part `checking`; STEP_DONE when all that is settled. */
struct step steps_before_ticking(const struct script *script);
bool steps_next_tick(const struct script *script, size_t part, struct step *next);
bool steps_last_tick(const struct script *script, size_t part, struct step *last);   /* for `back` */

/* What was written for a list, item by item: split at line ends, commas and semicolons; where those give fewer than
 * are asked for, at "and" too ("the wind and the fetch"), unless an answer of the list has one in it. In arena. */
struct list_items {
    const char **items;
    size_t count;
};
struct list_items list_items_of(const struct part_facts *facts, struct arena *arena);

/* Which event settles a ticking step, and its item; in the script's arena. */
enum event_kind step_event(const struct step *step);
const char *step_item(const struct script *script, const struct step *step);

/* The route chosen for a routes node: index into children, or -1 for all of them. */
enum { ROUTE_UNKNOWN = -2, ROUTE_ALL = -1 };
int facts_route(const struct part_facts *facts, const struct node *routes);

#endif
