/* The award: the best reading of the tree, with each penalty taken once. */
#include "marking/inside.h"

#include <assert.h>
#include "bank/scheme.h"

/* A penalty that costs one mark a question can fall in two ways: one offending point pays for all of them, or
 * the choices in the tree (any n from, routes, maxima) pass every offending point by. Which is better for
 * the student is found by trying both, so that one more tick never lowers an award. */
struct trial {
    struct lines lines;
    bool unit_paid, figures_paid;
};

struct awarding {
    const struct part *part;
    const struct part_input *input;
    const struct marking_state *state;
    struct arena *arena;
    struct points points;
    int maximum;
};

static const struct point_case *point_of(const struct awarding *awarding, const struct award_line *line)
{
    return line->point == AWARD_NO_POINT ? NULL : &awarding->points.items[line->point];
}

static bool is_unit_loss(enum award_reason reason)
{
    return reason == REASON_UNIT_MISSING || reason == REASON_UNIT_WRONG;
}

static void pay(const struct awarding *awarding, struct trial *trial, bool unit_once, bool figures_once)
{
    for (size_t i = 0; i < trial->lines.count; i++) {
        struct award_line *line = &trial->lines.items[i];
        const struct point_case *point = point_of(awarding, line);
        if (point && unit_once && !trial->unit_paid && point->unit_offence != REASON_EARNED && line->marks > 0)
            line_lose_unit(line, point, awarding->arena);
        if (is_unit_loss(line->reason))
            trial->unit_paid = true;
        if (point && figures_once && !trial->figures_paid && point->figures_offence && line->marks > 0)
            line_lose_figures(line, point, awarding->arena);
        if (line->reason == REASON_FIGURES)
            trial->figures_paid = true;
    }
}

static struct trial read_once(const struct awarding *awarding, bool unit_each, bool figures_each, bool content)
{
    size_t point = 0;
    struct reading reading = {awarding->input, &awarding->points, awarding->arena, unit_each, figures_each, content};
    struct trial trial = {.lines = tree_lines(&reading, &awarding->part->scheme.root, &point)};
    assert(point == awarding->points.count);
    lines_limit(&trial.lines, awarding->maximum);
    pay(awarding, &trial, !unit_each && !awarding->state->unit_used, !figures_each && !awarding->state->figures_used);
    return trial;
}

/* Quality marks wait for what the rest earns without them. */
static struct trial read_tree(const struct awarding *awarding, bool unit_each, bool figures_each)
{
    struct trial trial = read_once(awarding, unit_each, figures_each, false);
    return lines_marks(&trial.lines) > 0 ? read_once(awarding, unit_each, figures_each, true) : trial;
}

static struct trial best_trial(const struct awarding *awarding)
{
    bool unit = false, figures = false;
    for (size_t i = 0; i < awarding->points.count; i++) {
        unit = unit || awarding->points.items[i].unit_offence != REASON_EARNED;
        figures = figures || awarding->points.items[i].figures_offence;
    }
    int units = unit && !awarding->state->unit_used, precisions = figures && !awarding->state->figures_used;
    struct trial best = read_tree(awarding, false, false);
    for (int way = 1; way < 4; way++) {
        if ((way & 1) > units || (way >> 1) > precisions)
            continue;
        struct trial other = read_tree(awarding, way & 1, way >> 1);
        if (lines_marks(&other.lines) > lines_marks(&best.lines))
            best = other;
    }
    return best;
}

static size_t collect_levels(const struct part_input *input, const struct node *node, struct award_levels *levels)
{
    size_t count = 0;
    if (node->kind == NODE_LEVELS) {
        if (levels)
            *levels = tree_levels(input, node);
        return 1;
    }
    for (size_t i = 0; i < node->child_count; i++)
        count += collect_levels(input, &node->children[i], levels ? levels + count : NULL);
    return count;
}

static void update_state(struct marking_state *state, const struct awarding *awarding, const struct trial *trial)
{
    state->unit_used = state->unit_used || trial->unit_paid;
    state->figures_used = state->figures_used || trial->figures_paid;
    for (size_t i = 0; i < awarding->points.count; i++) {
        const struct point_case *point = &awarding->points.items[i];
        if (!point->earned || !point->node->id)
            continue;
        struct marking_earned *earned = arena_get(awarding->arena, sizeof *earned);
        *earned = (struct marking_earned){point->node->id, state->earned};
        state->earned = earned;
    }
}

static bool waits(const struct lines *lines)
{
    for (size_t i = 0; i < lines->count; i++)
        if (lines->items[i].reason == REASON_UNDECIDED || lines->items[i].reason == REASON_UNSURE)
            return true;
    return false;
}

static int smaller(int a, int b)
{
    return a < b ? a : b;
}

const struct award *marking_award(const struct part *part, const struct part_input *input,
                                  struct marking_state *state, struct arena *arena)
{
    struct awarding awarding = {part, input, state, arena, points_settle(part, input, state, arena),
                                smaller(part->marks, scheme_reachable(&part->scheme.root))};
    struct trial trial = best_trial(&awarding);
    struct award *award = arena_get(arena, sizeof *award);
    *award = (struct award){.marks = lines_marks(&trial.lines), .maximum = awarding.maximum,
                            .no_response = input->no_response, .undecided = waits(&trial.lines),
                            .unit_lost = trial.unit_paid, .figures_lost = trial.figures_paid,
                            .lines = trial.lines.items, .line_count = trial.lines.count};
    award->level_count = collect_levels(input, &part->scheme.root, NULL);
    struct award_levels *levels = arena_get_array(arena, award->level_count, sizeof *levels);
    collect_levels(input, &part->scheme.root, levels);
    award->levels = levels;
    update_state(state, &awarding, &trial);
    assert(award->marks <= award->maximum && lines_maximum(&trial.lines) == award->maximum);
    return award;
}
