/* Who earns what, once every point was judged by itself.
 *
 * Earned is the least set closed under two rules: a claimed point stands when each point it needs is earned or
 * implied by it; and what a standing point implies is earned. Both only ever add points, so the order in which
 * they are applied, and the order of the points, makes no difference. */
#include "marking/inside.h"

#include "bank/scheme.h"

/* How many method and implied points stand unbroken before the nearest one, among its siblings: the answer
 * rests on them too, though it does not need them. Siblings that are points have neighbouring indices. */
static size_t run_before(const struct point_case *nearest)
{
    size_t place = nearest->place;
    while (place > 0 && scheme_gives_method(&nearest->parent->children[place - 1]))
        place--;
    return nearest->place - place;
}

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

void points_close(struct points *points)
{
    settle_earned(points);
    for (size_t i = 0; i < points->count; i++)
        settle_reason(points, i);
}
