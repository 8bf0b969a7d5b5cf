/* Which points stand: the ticks, what speaks against a point whatever its tick, and what points owe each other.
 * Who earns what in the end is worked out in closure.c. */
#include "marking/inside.h"

#include <assert.h>
#include <string.h>
#include "bank/scheme.h"
#include "base/text.h"

#define FIND_INPUT(name, type, array, length)                                                          \
    const struct type *name(const struct part_input *input, const struct node *node)                    \
    {                                                                                                  \
        for (size_t i = 0; i < input->length; i++)                                                     \
            if (text_equal(input->array[i].node, node->id))                                            \
                return &input->array[i];                                                               \
        return NULL;                                                                                   \
    }

FIND_INPUT(input_of_list, list_input, lists, list_count)
FIND_INPUT(input_of_levels, levels_input, levels, level_count)
FIND_INPUT(input_of_quality, quality_input, quality, quality_count)

/* ---- Gathering ----------------------------------------------------------------------------------- */

static void gather(struct points *points, const struct node *node, const struct node *parent, size_t place)
{
    if (node->kind == NODE_POINT) {
        struct point_case *point = &points->items[points->count];
        *point = (struct point_case){.node = node, .parent = parent, .place = place, .implied_by = points->count};
        points->count++;
        return;
    }
    for (size_t i = 0; i < node->child_count; i++)
        gather(points, &node->children[i], node, i);
}

/* In a list whose items were judged one by one, the items decide what was written, not the ticks. */
static void take_list_items(struct point_case *point, size_t index, const struct part_input *input)
{
    if (!point->parent || point->parent->kind != NODE_LIST)
        return;
    const struct list_input *list = input_of_list(input, point->parent);
    if (!list || !list->known)
        return;
    point->input.tick = TICK_NO;
    for (size_t i = 0; i < list->item_count; i++)
        if (list->items[i].kind == ITEM_RIGHT && list->items[i].point >= 0
            && (size_t)list->items[i].point == index)
            point->input.tick = TICK_YES;
}

/* ---- One point by itself ------------------------------------------------------------------------- */

static bool value_is_wrong(const struct point_case *point)
{
    return point->input.value == VALUE_WRONG
        || (point->input.value == VALUE_FOLLOWS && !point->node->follow);
}

static bool is_result(const struct node *node)
{
    return node->number || node->point_kind == POINT_ACCURACY;
}

static enum award_reason against(const struct point_case *point, const struct scheme *scheme)
{
    const struct point_input *input = &point->input;
    if (input->rejected)
        return REASON_REJECTED;
    if (input->contradicted)
        return REASON_CONTRADICTED;
    if (input->crossed_out && (input->replaced || scheme->crossed_out == CROSSED_OUT_IGNORED))
        return REASON_CROSSED_OUT;
    if (scheme->working_required && is_result(point->node) && input->working == WORKING_NONE)
        return REASON_UNSUPPORTED;
    return REASON_EARNED;
}

static enum award_reason claim(const struct point_case *point)
{
    switch (point->input.tick) {
    case TICK_NO: return REASON_NOT_SHOWN;
    case TICK_UNSURE: return REASON_UNSURE;
    case TICK_UNDECIDED: return REASON_UNDECIDED;
    case TICK_YES: break;
    }
    if (point->node->number && value_is_wrong(point))
        return REASON_ON_YOUR_WORD;
    if (point->node->number && point->input.value == VALUE_FOLLOWS)
        return REASON_FOLLOWED;
    return point->node->point_kind == POINT_METHOD ? REASON_METHOD_SEEN : REASON_EARNED;
}

static void judge(struct point_case *point, const struct part *part, bool no_response)
{
    enum award_reason objection = against(point, &part->scheme);
    point->killed = no_response || objection != REASON_EARNED;
    point->claimed = !point->killed && point->input.tick == TICK_YES;
    bool told_by_tick = objection == REASON_EARNED
                     || (objection == REASON_UNSUPPORTED && point->input.tick != TICK_YES);
    point->reason = no_response ? REASON_NO_RESPONSE : told_by_tick ? claim(point) : objection;
    point->answer_only = point->claimed && is_result(point->node) && !part->scheme.working_required
                      && point->input.working == WORKING_NONE
                      && (point->input.value == VALUE_RIGHT || point->input.value == VALUE_NOT_LOOKED_AT);
}

/* ---- Penalties the scheme demands ---------------------------------------------------------------- */

/* Two points on different routes never count together. */
static bool exclude_each_other(const struct node *node, const struct node *a, const struct node *b)
{
    for (size_t i = 0; i < node->child_count; i++) {
        const struct node *child = &node->children[i];
        bool has_a = scheme_find(child, a->id) == a, has_b = scheme_find(child, b->id) == b;
        if (has_a && has_b)
            return exclude_each_other(child, a, b);
        if (has_a || has_b)
            return node->kind == NODE_ROUTES;
    }
    return false;
}

/* The unit belongs to the end of a calculation: no later number on the same way. */
static bool ends_calculation(const struct points *points, size_t index, const struct node *root)
{
    for (size_t i = index + 1; i < points->count; i++)
        if (points->items[i].node->number
            && !exclude_each_other(root, points->items[index].node, points->items[i].node))
            return false;
    return true;
}

static void note_offences(struct points *points, size_t index, const struct scheme *scheme)
{
    struct point_case *point = &points->items[index];
    const struct number_key *key = point->node->number;
    if (!key)
        return;
    point->figures_offence = point->input.figures_wrong && (key->figures > 0 || key->places >= 0);
    bool unit_asked = scheme->unit_penalty && !scheme->working_required && !key->unit_printed && key->unit
                   && key->unit[0];
    if (unit_asked && (point->input.unit == UNIT_LEFT_OUT || point->input.unit == UNIT_WRONG)
        && ends_calculation(points, index, &scheme->root))
        point->unit_offence = point->input.unit == UNIT_WRONG ? REASON_UNIT_WRONG : REASON_UNIT_MISSING;
}

/* ---- What points owe each other ------------------------------------------------------------------ */

static bool earned_earlier(const struct marking_state *state, const char *id)
{
    for (const struct marking_earned *earned = state->earned; earned; earned = earned->next)
        if (strcmp(earned->id, id) == 0)
            return true;
    return false;
}

static size_t find_point(const struct points *points, const char *id)
{
    for (size_t i = 0; i < points->count; i++)
        if (text_equal(points->items[i].node->id, id))
            return i;
    return points->count;
}

static size_t find_node(const struct points *points, const struct node *node)
{
    for (size_t i = 0; i < points->count; i++)
        if (points->items[i].node == node)
            return i;
    return points->count;
}

/* The outermost routes node that holds `method` but not `point`: a point behind alternative ways rests on
 * whichever was taken. NULL when there is none. */
static const struct node *routes_between(const struct node *node, const struct node *point,
                                         const struct node *method)
{
    for (size_t i = 0; i < node->child_count; i++) {
        const struct node *child = &node->children[i];
        if (scheme_find(child, method->id) != method)
            continue;
        if (scheme_find(child, point->id) != point && child->kind == NODE_ROUTES)
            return child;
        return routes_between(child, point, method);
    }
    return NULL;
}

static bool keep_method(const struct node *point, void *context)
{
    if (scheme_gives_method(point))
        *(const struct node **)context = point;
    return true;
}

/* The last method point of each route; just `method` where there are no routes between. */
static void add_ways(const struct points *points, struct point_case *point, const struct node *method,
                     const struct node *root, struct arena *arena)
{
    const struct node *routes = routes_between(root, point->node, method);
    size_t limit = routes ? routes->child_count : 1;
    point->ways = arena_get_array(arena, limit, sizeof *point->ways);
    for (size_t i = 0; i < limit; i++) {
        const struct node *last = routes ? NULL : method;
        if (routes)
            scheme_each_point(&routes->children[i], keep_method, &last);
        if (last)
            point->ways[point->way_count++] = find_node(points, last);
    }
    assert(point->way_count > 0);
}

static void link_needs(struct points *points, size_t index, const struct part *part,
                       const struct marking_state *state, struct arena *arena)
{
    struct point_case *point = &points->items[index];
    const struct node *node = point->node;
    point->needs = arena_get_array(arena, node->need_count, sizeof *point->needs);
    for (size_t i = 0; i < node->need_count; i++) {
        size_t need = find_point(points, node->needs[i]);
        if (need < points->count)
            point->needs[point->need_count++] = need;
        else if (!earned_earlier(state, node->needs[i]) && !point->unmet_elsewhere)
            point->unmet_elsewhere = node->needs[i];
    }
    if (node->need_count > 0 || node->point_kind != POINT_ACCURACY)
        return;
    const struct node *method = scheme_method_of(&part->scheme.root, node);
    if (method)
        add_ways(points, point, method, &part->scheme.root, arena);
}

struct points points_settle(const struct part *part, const struct part_input *input,
                            const struct marking_state *state, struct arena *arena)
{
    size_t count = scheme_point_count(&part->scheme.root);
    struct points points = {.items = arena_get_array(arena, count, sizeof *points.items)};
    gather(&points, &part->scheme.root, NULL, 0);
    assert(points.count == count);
    for (size_t i = 0; i < count; i++) {
        struct point_case *point = &points.items[i];
        if (i < input->point_count)
            point->input = input->points[i];
        take_list_items(point, i, input);
        judge(point, part, input->no_response);
        note_offences(&points, i, &part->scheme);
        link_needs(&points, i, part, state, arena);
    }
    points_close(&points);
    return points;
}
