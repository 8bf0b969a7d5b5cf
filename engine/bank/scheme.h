/* Questions about a scheme tree that every room asks. Pure. */
#ifndef OWNMARK_BANK_SCHEME_H
#define OWNMARK_BANK_SCHEME_H

#include <stdbool.h>
#include <stddef.h>
#include "bank/model.h"

/* The most marks the tree can give under its own rules, before the part's maximum. */
int scheme_reachable(const struct node *node);

/* Points in document order, depth first; routes' children included, indicative content not. visit returning
 * false stops the walk. */
void scheme_each_point(const struct node *node, bool (*visit)(const struct node *point, void *context),
                       void *context);
size_t scheme_point_count(const struct node *node);
const struct node *scheme_find(const struct node *node, const char *id);   /* any node by id; NULL */

/* The point with a number that answers the part (the last one with a number), or NULL. */
const struct node *scheme_answer_point(const struct node *node);

/* Has the student to write a unit: the answer has one, and it is not printed. */
bool scheme_wants_unit(const struct node *node);

bool scheme_has_levels(const struct node *node);

/* Is it a point that an accuracy point may rest on: a method point, or one that is implied? */
bool scheme_gives_method(const struct node *point);

/* The nearest such point before `point` in document order beneath root, or NULL. Sibling routes do not see each
 * other's points. */
const struct node *scheme_method_of(const struct node *root, const struct node *point);

#endif
