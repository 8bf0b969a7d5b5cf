/* The tree of a scheme, read into lines: every node gives lines whose maxima add up to what it can reach. */
#include "marking/inside.h"

#include <assert.h>
#include "bank/scheme.h"

static struct lines no_lines(const struct reading *reading)
{
    return (struct lines){.arena = reading->arena};
}

/* ---- Points -------------------------------------------------------------------------------------- */

void line_lose_unit(struct award_line *line, const struct point_case *point, struct arena *arena)
{
    assert(line->marks > 0);
    line->marks--;
    line->reason = point->unit_offence;
    line->text = arena_print(arena, "1 mark lost: the unit is %s",
                             point->unit_offence == REASON_UNIT_MISSING ? "missing" : "wrong");
}

void line_lose_figures(struct award_line *line, const struct point_case *point, struct arena *arena)
{
    assert(line->marks > 0);
    line->marks--;
    line->reason = REASON_FIGURES;
    line->text = reason_of_figures(point->node->number, arena);
}

static const char *rests_on(const struct point_case *point)
{
    bool speaks = point->reason == REASON_NEEDS || point->reason == REASON_IMPLIED ||
                  point->reason == REASON_ANSWER_SHOWS_METHOD;
    return speaks ? point->other : NULL;
}

static struct award_line point_line(const struct reading *reading, size_t index)
{
    const struct point_case *point = &reading->points->items[index];
    int maximum = scheme_reachable(point->node);
    struct award_line line = {point->node, (int)index, maximum, point->earned ? maximum : 0, point->reason,
                              reason_of_point(point, reading->arena), rests_on(point)};
    if (reading->unit_each && point->unit_offence != REASON_EARNED && line.marks > 0)
        line_lose_unit(&line, point, reading->arena);
    if (reading->figures_each && point->figures_offence && line.marks > 0)
        line_lose_figures(&line, point, reading->arena);
    return line;
}

/* ---- Choices among children ---------------------------------------------------------------------- */

static struct lines *children_lines(const struct reading *reading, const struct node *node, size_t *point)
{
    struct lines *children = arena_get_array(reading->arena, node->child_count, sizeof *children);
    for (size_t i = 0; i < node->child_count; i++)
        children[i] = tree_lines(reading, &node->children[i], point);
    return children;
}

/* Has this loss more to tell than that the point was not in the answer? */
static bool has_something_to_say(const struct lines *lines)
{
    for (size_t i = 0; i < lines->count; i++)
        if (lines->items[i].reason != REASON_NOT_SHOWN)
            return true;
    return false;
}

/* What was chosen is worth less than another choice could be. */
static void add_short(const struct reading *reading, const struct node *node, int missing, struct lines *out)
{
    int reach = scheme_reachable(node);
    lines_add(out, (struct award_line){node, AWARD_NO_POINT, missing, 0, REASON_ROUTE_SHORT,
              arena_print(reading->arena, "not given: this way of answering reaches %d of %d", reach - missing,
                          reach), NULL});
}

void tree_fill(const struct reading *reading, const struct node *node, const struct lines *children,
               const bool *taken, size_t slots, int found, struct lines *out)
{
    int left = scheme_reachable(node) - lines_maximum(out);
    for (size_t i = 0; i < node->child_count && slots > 0; i++) {
        if (taken[i] || lines_marks(&children[i]) > 0 || !has_something_to_say(&children[i]))
            continue;
        lines_add_all(out, &children[i]);
        left -= lines_maximum(&children[i]);
        slots--;
    }
    const char *text = arena_print(reading->arena, "not given: %d asked for, %d found", node->take, found);
    for (; slots > 0 && left > 0; slots--) {
        int share = (left + (int)slots - 1) / (int)slots;
        lines_add(out, (struct award_line){node, AWARD_NO_POINT, share, 0, REASON_TOO_FEW, text, NULL});
        left -= share;
    }
    if (left > 0)
        add_short(reading, node, left, out);
}

/* The `take` best children, kept in their order. */
static size_t take_best(const struct lines *children, size_t count, size_t take, bool *taken)
{
    size_t found = 0;
    for (; found < take; found++) {
        size_t best = count;
        for (size_t i = 0; i < count; i++)
            if (!taken[i] && lines_marks(&children[i]) > (best < count ? lines_marks(&children[best]) : 0))
                best = i;
        if (best == count)
            break;
        taken[best] = true;
    }
    return found;
}

static struct lines any_lines(const struct reading *reading, const struct node *node, size_t *point)
{
    struct lines out = no_lines(reading), *children = children_lines(reading, node, point);
    bool *taken = arena_get_array(reading->arena, node->child_count, sizeof *taken);
    size_t take = node->take > 0 ? (size_t)node->take : 0;
    take = take < node->child_count ? take : node->child_count;
    size_t found = take_best(children, node->child_count, take, taken);
    for (size_t i = 0; i < node->child_count; i++)
        if (taken[i])
            lines_add_all(&out, &children[i]);
    tree_fill(reading, node, children, taken, take - found, (int)found, &out);
    return out;
}

static struct lines all_lines(const struct reading *reading, const struct node *node, size_t *point)
{
    struct lines out = no_lines(reading), *children = children_lines(reading, node, point);
    for (size_t i = 0; i < node->child_count; i++)
        lines_add_all(&out, &children[i]);
    if (node->marks > 0)
        lines_limit(&out, node->marks);
    return out;
}

/* ---- Routes -------------------------------------------------------------------------------------- */

static size_t decided_lines(const struct lines *lines)
{
    size_t count = 0;
    for (size_t i = 0; i < lines->count; i++)
        count += lines->items[i].reason != REASON_NOT_SHOWN && lines->items[i].reason != REASON_UNDECIDED;
    return count;
}

/* Most marks; among equals the one that more was said about; then the first. */
static size_t best_route(const struct lines *routes, size_t count)
{
    size_t best = 0;
    for (size_t i = 1; i < count; i++) {
        int gain = lines_marks(&routes[i]) - lines_marks(&routes[best]);
        if (gain > 0 || (gain == 0 && decided_lines(&routes[i]) > decided_lines(&routes[best])))
            best = i;
    }
    return best;
}

static void add_route_note(const struct reading *reading, const struct node *node, const struct lines *routes,
                           size_t best, struct lines *out)
{
    int marks = lines_marks(&routes[best]), second = 0;
    for (size_t i = 0; i < node->child_count; i++)
        if (i != best && lines_marks(&routes[i]) > second)
            second = lines_marks(&routes[i]);
    if (marks == 0)
        return;
    const char *name = node->children[best].name ? node->children[best].name : node->children[best].id;
    const char *why = second == 0 ? "" : second == marks ? ": no other gives more marks" : ": it gives more marks";
    lines_add(out, (struct award_line){node, AWARD_NO_POINT, 0, 0, REASON_ROUTE_COUNTS,
                                       arena_print(reading->arena, "route '%s' counts%s", name, why), NULL});
}

static struct lines routes_lines(const struct reading *reading, const struct node *node, size_t *point)
{
    struct lines out = no_lines(reading), *routes = children_lines(reading, node, point);
    if (node->child_count == 0)
        return out;
    size_t best = best_route(routes, node->child_count);
    add_route_note(reading, node, routes, best, &out);
    lines_add_all(&out, &routes[best]);
    int missing = scheme_reachable(node) - lines_maximum(&routes[best]);
    if (missing > 0)
        add_short(reading, node, missing, &out);
    return out;
}

/* ---- Levels and quality -------------------------------------------------------------------------- */

struct award_levels tree_levels(const struct part_input *input, const struct node *node)
{
    const struct levels_input *said = input->no_response ? NULL : input_of_levels(input, node);
    if (!said)
        return marking_level(node, NULL, 0, NULL, 0);
    struct award_levels levels = marking_level(node, said->ratings, said->rating_count, said->caps, said->cap_count);
    if (said->override == OVERRIDE_NONE)
        return levels;
    int ceiling = scheme_reachable(node);
    for (size_t i = 0; i < said->cap_count && i < node->cap_count; i++)
        for (size_t k = 0; said->caps[i] && k < node->level_count; k++)
            if (node->levels[k].number == node->caps[i].level && node->levels[k].to < ceiling) {
                ceiling = node->levels[k].to;
                levels.cap = (int)i;
            }
    levels.override = said->override;
    levels.marks = said->override < 0 ? 0 : said->override > ceiling ? ceiling : said->override;
    return levels;
}

static struct lines levels_lines(const struct reading *reading, const struct node *node)
{
    struct lines out = no_lines(reading);
    const struct award_levels levels = tree_levels(reading->input, node);
    struct award_line line = {node, AWARD_NO_POINT, scheme_reachable(node), levels.marks, REASON_LEVEL,
                              reason_of_levels(&levels, reading->arena), NULL};
    if (levels.override != OVERRIDE_NONE)
        line.reason = REASON_OVERRIDE;
    else if (!levels.rated)
        line.reason = REASON_UNDECIDED;
    if (line.marks == 0 && line.reason != REASON_UNDECIDED)
        line.reason = REASON_NOT_SHOWN;
    if (reading->input->no_response) {
        line.reason = REASON_NO_RESPONSE;
        line.text = "no response";
    }
    lines_add(&out, line);
    return out;
}

static struct lines quality_lines(const struct reading *reading, const struct node *node)
{
    struct lines out = no_lines(reading);
    const struct quality_input *said = input_of_quality(reading->input, node);
    int maximum = scheme_reachable(node), marks = 0;
    if (said && said->band >= 0 && (size_t)said->band < node->band_count)
        marks = node->bands[said->band].marks;
    struct award_line line = {node, AWARD_NO_POINT, maximum, marks, REASON_BAND,
                              "earned: the quality of the writing is in this band", NULL};
    if (reading->input->no_response) {
        line.reason = REASON_NO_RESPONSE;
        line.text = "no response";
    } else if (marks == 0) {
        line.reason = said ? REASON_NOT_SHOWN : REASON_UNDECIDED;
        line.text = said ? "not given: no band is reached" : "not decided yet: counts as not earned";
    } else if (!reading->content) {
        line.reason = REASON_NO_CONTENT;
        line.text = "not given: quality marks need some credit for what is said";
    }
    if (line.reason != REASON_BAND)
        line.marks = 0;
    lines_add(&out, line);
    return out;
}

/* ---- The tree ------------------------------------------------------------------------------------ */

struct lines tree_lines(const struct reading *reading, const struct node *node, size_t *point)
{
    struct lines out = no_lines(reading);
    switch (node->kind) {
    case NODE_POINT:
        lines_add(&out, point_line(reading, (*point)++));
        return out;
    case NODE_ALL: return all_lines(reading, node, point);
    case NODE_ANY: return any_lines(reading, node, point);
    case NODE_ROUTES: return routes_lines(reading, node, point);
    case NODE_LIST: return list_lines(reading, node, point);
    case NODE_LEVELS: return levels_lines(reading, node);
    case NODE_QUALITY: return quality_lines(reading, node);
    }
    assert(false && "every kind of node is read");
    return out;
}
