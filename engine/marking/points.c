/* Which points stand: the ticks, what speaks against a point whatever its tick, and what points owe each other.
 *
 * Earned is the least set closed under two rules: a claimed point stands when each point it needs is earned or
 * implied by it; and what an earned point implies is earned. Both only ever add points, so the order in which
 * they are applied, and the order of the points, makes no difference. */
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

/* How many method and implied points stand unbroken before the nearest one, among its siblings: the answer
 * rests on them too, though it does not need them. Siblings that are points have neighbouring indices. */
static size_t run_before(const struct point_case *nearest)
{
    size_t place = nearest->place;
    while (place > 0 && scheme_gives_method(&nearest->parent->children[place - 1]))
        place--;
    return nearest->place - place;
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

/* ---- The closure --------------------------------------------------------------------------------- */

static bool implies(struct points *points, size_t by, size_t index);

static bool met(struct points *points, size_t by, size_t need, bool implied_too)
{
    return points->items[need].earned || (implied_too && implies(points, by, need));
}

/* Are the needs of `index` met, counting what `by` implies if implied_too? */
static bool needs_are_met(struct points *points, size_t by, size_t index, bool implied_too)
{
    const struct point_case *point = &points->items[index];
    if (point->unmet_elsewhere)
        return false;
    for (size_t i = 0; i < point->need_count; i++)
        if (!met(points, by, point->needs[i], implied_too))
            return false;
    for (size_t i = 0; i < point->way_count; i++)
        if (met(points, by, point->ways[i], implied_too))
            return true;
    return point->way_count == 0;
}

/* Does `by`, once earned, show `index` and all that index needs? A walk visits each point once; a point met
 * again while its own needs are walked (a circle, which no checked bank has) is not implied. */
static bool implies(struct points *points, size_t by, size_t index)
{
    struct point_case *point = &points->items[index];
    if (point->visit == points->visits)
        return point->visit_implies;
    point->visit = points->visits;
    point->visit_implies = false;
    bool can = point->node->point_kind == POINT_IMPLIED
            || (points->items[by].answer_only && point->node->point_kind != POINT_INDEPENDENT);
    if (!point->killed && can && index != by)
        point->visit_implies = needs_are_met(points, by, index, true);
    return point->visit_implies;
}

static bool credit_implied(struct points *points, size_t by, size_t index);

/* Goes on below points that were earned anyhow: what `by` shows does not shrink when they are ticked. */
static bool credit_one(struct points *points, size_t by, size_t index)
{
    struct point_case *point = &points->items[index];
    if (point->credit_visit == points->visits)
        return false;
    point->credit_visit = points->visits;
    bool credited = !point->earned && implies(points, by, index);
    if (credited) {
        point->earned = true;
        point->implied_by = by;
    }
    return (point->earned && credit_implied(points, by, index)) || credited;
}

/* Of several ways each is credited: only the best route counts in the end, and to single out the one that was
 * seen would let one more tick take marks away. */
static bool credit_implied(struct points *points, size_t by, size_t index)
{
    const struct point_case *point = &points->items[index];
    bool changed = false;
    for (size_t i = 0; i < point->need_count; i++)
        changed |= credit_one(points, by, point->needs[i]);
    for (size_t i = 0; i < point->way_count; i++) {
        size_t nearest = point->ways[i];
        changed |= credit_one(points, by, nearest);
        for (size_t k = run_before(&points->items[nearest]); k > 0; k--)
            changed |= credit_one(points, by, nearest - k);
    }
    return changed;
}

static bool stands(const struct points *points, size_t index)
{
    return points->items[index].earned && points->items[index].implied_by == index;
}

static void settle_earned(struct points *points)
{
    for (bool changed = true; changed;) {
        changed = false;
        for (size_t i = 0; i < points->count; i++) {
            struct point_case *point = &points->items[i];
            points->visits++;
            if (!stands(points, i) && point->claimed && needs_are_met(points, i, i, true)) {
                point->earned = changed = true;
                point->implied_by = i;
            }
            if (stands(points, i))
                changed |= credit_implied(points, i, i);
        }
    }
}

/* What a point waits for: the first unmet need. */
static const char *unmet_need(const struct points *points, const struct point_case *point)
{
    for (size_t i = 0; i < point->need_count; i++)
        if (!points->items[point->needs[i]].earned)
            return points->items[point->needs[i]].node->id;
    return point->way_count > 0 ? points->items[point->ways[0]].node->id : point->unmet_elsewhere;
}

static void settle_reason(struct points *points, size_t index)
{
    struct point_case *point = &points->items[index];
    if (point->earned && point->implied_by != index) {
        const struct point_case *by = &points->items[point->implied_by];
        point->reason = point->node->point_kind == POINT_IMPLIED ? REASON_IMPLIED : REASON_ANSWER_SHOWS_METHOD;
        point->other = by->node->id;
    } else if (point->claimed && !point->earned) {
        point->reason = REASON_NEEDS;
        point->other = unmet_need(points, point);
    }
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
    settle_earned(&points);
    for (size_t i = 0; i < count; i++)
        settle_reason(&points, i);
    return points;
}
