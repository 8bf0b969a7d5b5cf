#include "bank/scheme.h"

#include <assert.h>
#include <limits.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* A hostile bank may write marks whose sum no int holds: then the largest int stands for "too many". */
static int add_marks(int a, int b)
{
    return a > INT_MAX - b ? INT_MAX : a + b;
}

static int descending(const void *left, const void *right)
{
    int a = *(const int *)left, b = *(const int *)right;
    return (a < b) - (a > b);
}

/* The sum of the best `take` children; all of them when take is as large as their number. */
static int best_children(const struct node *node, size_t take)
{
    int *marks = memory_get_zeroed(node->child_count, sizeof *marks);
    for (size_t i = 0; i < node->child_count; i++)
        marks[i] = scheme_reachable(&node->children[i]);
    if (take < node->child_count)
        qsort(marks, node->child_count, sizeof *marks, descending);
    else
        take = node->child_count;
    int sum = 0;
    for (size_t i = 0; i < take; i++)
        sum = add_marks(sum, marks[i]);
    free(marks);
    return sum;
}

static int top_of(const struct node *node)
{
    int top = 0;
    if (node->kind == NODE_LEVELS) {
        for (size_t i = 0; i < node->level_count; i++)
            top = node->levels[i].to > top ? node->levels[i].to : top;
    } else {
        for (size_t i = 0; i < node->band_count; i++)
            top = node->bands[i].marks > top ? node->bands[i].marks : top;
    }
    return top;
}

int scheme_reachable(const struct node *node)
{
    switch (node->kind) {
    case NODE_POINT:
        return node->marks > 0 ? node->marks : 0;
    case NODE_ALL: {
        int sum = best_children(node, node->child_count);
        return node->marks > 0 && node->marks < sum ? node->marks : sum;
    }
    case NODE_ANY:
    case NODE_LIST:
        return best_children(node, node->take > 0 ? (size_t)node->take : 0);
    case NODE_ROUTES:
        return best_children(node, 1);
    case NODE_LEVELS:
    case NODE_QUALITY:
        return top_of(node);
    }
    assert(false); /* every kind of node is handled */
    return 0;
}

static bool walk_points(const struct node *node, bool (*visit)(const struct node *, void *), void *context)
{
    if (node->kind == NODE_POINT)
        return visit(node, context);
    for (size_t i = 0; i < node->child_count; i++)
        if (!walk_points(&node->children[i], visit, context))
            return false;
    return true;
}

void scheme_each_point(const struct node *node, bool (*visit)(const struct node *point, void *context),
                       void *context)
{
    walk_points(node, visit, context);
}

static bool count_point(const struct node *point, void *context)
{
    (void)point;
    ++*(size_t *)context;
    return true;
}

size_t scheme_point_count(const struct node *node)
{
    size_t count = 0;
    walk_points(node, count_point, &count);
    return count;
}

static const struct node *find_among(const struct node *nodes, size_t count, const char *id)
{
    for (size_t i = 0; i < count; i++) {
        const struct node *found = scheme_find(&nodes[i], id);
        if (found)
            return found;
    }
    return NULL;
}

const struct node *scheme_find(const struct node *node, const char *id)
{
    if (node->id && strcmp(node->id, id) == 0)
        return node;
    const struct node *found = find_among(node->children, node->child_count, id);
    return found ? found : find_among(node->indicative, node->indicative_count, id);
}

static bool keep_number(const struct node *point, void *context)
{
    if (point->number)
        *(const struct node **)context = point;
    return true;
}

const struct node *scheme_answer_point(const struct node *node)
{
    const struct node *last = NULL;
    walk_points(node, keep_number, &last);
    return last;
}

bool scheme_wants_unit(const struct node *node)
{
    const struct node *point = scheme_answer_point(node);
    const struct number_key *key = point ? point->number : NULL;
    return key && key->unit && key->unit[0] && !key->unit_printed;
}

bool scheme_has_levels(const struct node *node)
{
    if (node->kind == NODE_LEVELS)
        return true;
    for (size_t i = 0; i < node->child_count; i++)
        if (scheme_has_levels(&node->children[i]))
            return true;
    return false;
}

bool scheme_gives_method(const struct node *point)
{
    return point->kind == NODE_POINT
        && (point->point_kind == POINT_METHOD || point->point_kind == POINT_IMPLIED);
}

/* Walks in document order with the method point in force. Each route starts from what stood before the
 * routes: what another route does is no method of this one; behind the routes the last one found counts. */
struct method_search {
    const struct node *wanted;      /* the accuracy point; NULL once it was met */
    const struct node *method;
};

static void search_method(const struct node *node, struct method_search *search)
{
    if (node == search->wanted) {
        search->wanted = NULL;
        return;
    }
    if (scheme_gives_method(node))
        search->method = node;
    const struct node *before = search->method, *found = before;
    for (size_t i = 0; i < node->child_count && search->wanted; i++) {
        if (node->kind == NODE_ROUTES)
            search->method = before;
        search_method(&node->children[i], search);
        if (search->method != before)
            found = search->method;
    }
    if (search->wanted)
        search->method = found;
}

const struct node *scheme_method_of(const struct node *root, const struct node *point)
{
    struct method_search search = {point, NULL};
    search_method(root, &search);
    return search.wanted ? NULL : search.method;
}
