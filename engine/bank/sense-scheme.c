/* Can a part's scheme give the marks the part carries, and is each of its rules one that can be applied? */
#include <string.h>

#include "bank/scheme.h"
#include "bank/sense-inner.h"
#include "base/text.h"

/* The walk in document order: what an accuracy point may rest on. As scheme_method_of, but for all the points at
 * once, because a scheme may be long. */
struct walk {
    struct check *check;
    bool method_seen;
};

static void check_node(struct walk *walk, const struct node *node);

static const char *point_name(const struct node *node)
{
    return node->id ? node->id : "without an id";
}

static void check_needs(struct check *check, const struct node *point)
{
    const struct names *nodes = &check->sense->nodes;
    for (size_t i = 0; i < point->need_count; i++) {
        const char *need = point->needs[i];
        const int *is_point = names_find(nodes, need);
        if (is_point && *is_point)
            continue;
        const char *nearest = is_point ? "" : sense_suggestion(check->sense, need, nodes, NULL, check->messages);
        sense_fault(check, "point '%s' needs '%s', which is no point that stands before it in this question%s",
                    point_name(point), need,
                    *nearest ? nearest : ": name the id of an earlier point, of this part or one before");
    }
}

static void check_point(struct walk *walk, const struct node *point)
{
    struct check *check = walk->check;
    if (point->marks < 1)
        sense_fault(check, "point '%s' carries %d marks: give it 1 or more, or put it among the indicative "
                    "points of levels", point_name(point), point->marks);
    check_needs(check, point);
    if (point->point_kind == POINT_ACCURACY && point->need_count == 0 && !walk->method_seen)
        sense_fault(check, "accuracy point '%s' has no method point before it: add one, name an earlier point in "
                    "needs=\"…\", or make it kind=\"independent\"", point_name(point));
    if (scheme_gives_method(point))
        walk->method_seen = true;
}

static void check_take(struct check *check, const struct node *node, const char *element, const char *children)
{
    if (node->take < 1 || (size_t)node->take > node->child_count)
        sense_fault(check, "<%s> says take=\"%d\" but holds %zu %s: take must be from 1 to their number", element,
                    node->take, node->child_count, children);
}

static void check_list(struct check *check, const struct node *list)
{
    check_take(check, list, "list", "points");
    for (size_t i = 1; i < list->child_count; i++)
        if (list->children[i].marks != list->children[0].marks) {
            sense_fault(check, "the points of a <list> carry different marks (%d and %d): any of them may stand "
                        "for an item that was asked for, so give all the same", list->children[0].marks,
                        list->children[i].marks);
            return;
        }
}

static void check_level(struct check *check, const struct node *node, size_t index)
{
    const struct level *level = &node->levels[index];
    int wanted = index ? node->levels[index - 1].to + 1 : 1;
    if (level->from > level->to)
        sense_fault(check, "level %zu goes from %d to %d marks: write the lower number first", index + 1,
                    level->from, level->to);
    if (level->from != wanted)
        sense_fault(check, "level %zu starts at %d marks but must start at %d: levels are written lowest first, from "
                    "1 mark upwards, without gaps", index + 1, level->from, wanted);
}

static void check_levels(struct check *check, const struct node *node)
{
    for (size_t i = 0; i < node->level_count; i++)
        check_level(check, node, i);
    for (size_t i = 0; i < node->cap_count; i++)
        if (node->caps[i].level < 1 || (size_t)node->caps[i].level > node->level_count)
            sense_fault(check, "the cap '%s' names level %d, but the levels go from 1 to %zu",
                        node->caps[i].condition, node->caps[i].level, node->level_count);
}

static void check_bands(struct check *check, const struct node *node)
{
    for (size_t i = 1; i < node->band_count; i++)
        if (node->bands[i].marks >= node->bands[i - 1].marks)
            sense_fault(check, "the quality band of %d marks stands after the band of %d: write the highest first, "
                        "each once", node->bands[i].marks, node->bands[i - 1].marks);
    if (scheme_reachable(node) < 1)
        sense_fault(check, "no band of <quality> carries a mark: give the highest band 1 or more");
}

static void add_id(struct check *check, const struct node *node)
{
    if (node->id && !names_add(&check->sense->nodes, node->id, node->kind == NODE_POINT))
        sense_fault(check, "the id '%s' stands twice in this question: give each point its own", node->id);
}

static void check_indicative(struct check *check, const struct node *point)
{
    add_id(check, point);
    if (point->marks != 0)
        sense_fault(check, "the indicative point '%s' says marks=\"%d\", but indicative content carries no marks: take "
                    "it out", point_name(point), point->marks);
}

static void check_kind(struct walk *walk, const struct node *node)
{
    struct check *check = walk->check;
    switch (node->kind) {
    case NODE_POINT:
        check_point(walk, node);
        break;
    case NODE_ANY:
        check_take(check, node, "any", "choices");
        break;
    case NODE_LIST:
        check_list(check, node);
        break;
    case NODE_LEVELS:
        check_levels(check, node);
        break;
    case NODE_QUALITY:
        check_bands(check, node);
        break;
    case NODE_ALL:
    case NODE_ROUTES:
        break;
    }
}

static void check_children(struct walk *walk, const struct node *node)
{
    bool before = walk->method_seen, found = before;
    for (size_t i = 0; i < node->child_count; i++) {
        if (node->kind == NODE_ROUTES)
            walk->method_seen = before;
        check_node(walk, &node->children[i]);
        found = found || walk->method_seen;
    }
    walk->method_seen = found;
}

static void check_node(struct walk *walk, const struct node *node)
{
    struct check *check = walk->check;
    unsigned long line = check->line, column = check->column;
    if (node->line) {
        check->line = node->line;
        check->column = node->column;
    }
    check_kind(walk, node);
    add_id(check, node);        /* after the point's needs: it cannot need itself */
    check_children(walk, node);
    for (size_t i = 0; i < node->indicative_count; i++)
        check_indicative(check, &node->indicative[i]);
    check->line = line;
    check->column = column;
}

static bool is_only_quality(const struct node *root)
{
    for (size_t i = 0; i < root->child_count; i++)
        if (root->children[i].kind != NODE_QUALITY)
            return false;
    return root->child_count > 0;
}

static void check_total(struct check *check)
{
    const struct part *part = check->part;
    if (part->marks < 1) {
        sense_fault(check, "it carries %d marks: give it 1 or more", part->marks);
        return;
    }
    int reachable = scheme_reachable(&part->scheme.root);
    if (reachable != part->marks)
        sense_fault(check, "the scheme can give %s at most, but the part says marks=\"%d\": change the points or "
                    "the part's marks until both are the same", text_count(reachable, "mark", "marks"),
                    part->marks);
    if (is_only_quality(&part->scheme.root))
        sense_fault(check, "the scheme has nothing but <quality>, whose marks are given only where the rest earned "
                    "one: add points or levels");
}

void sense_check_scheme(struct check *check)
{
    size_t errors = check->messages->errors;
    struct walk walk = {check, false};
    check_node(&walk, &check->part->scheme.root);
    if (check->messages->errors == errors)      /* a sum of faulty parts would only say the fault again */
        check_total(check);
}
