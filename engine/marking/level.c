#include "marking/inside.h"

#include <assert.h>

static int held(int value, int low, int high)
{
    return value < low ? low : value > high ? high : value;
}

/* Levels are numbered from 1 up without gaps, lowest first (the bank's check). */
static int top_level(const struct node *levels)
{
    return (int)levels->level_count;
}

static size_t count_below(const int *ratings, size_t count, int level, int top)
{
    size_t below = 0;
    for (size_t i = 0; i < count; i++)
        below += held(ratings[i], 0, top) < level;
    return below;
}

/* The lower median: the highest level that more than half of the ratings, or just half, do not fall below. */
static int lower_median(const int *ratings, size_t count, int top)
{
    for (int level = 0; level < top; level++)
        if (2 * count_below(ratings, count, level + 1, top) >= count)
            return level;
    return top;
}

static int hold_down(struct award_levels *result, const bool *caps, size_t cap_count)
{
    int level = result->level;
    for (size_t i = 0; i < cap_count && i < result->node->cap_count; i++)
        if (caps[i] && result->node->caps[i].level < level) {
            level = result->node->caps[i].level;
            result->cap = (int)i;
        }
    return level;
}

static int mark_in_level(const struct level *level, size_t above, size_t below)
{
    if (above > 0 && below == 0)
        return level->to;
    if (below > 0 && above == 0)
        return level->from;
    return (level->from + level->to) / 2;
}

struct award_levels marking_level(const struct node *levels, const int *ratings, size_t rating_count,
                                  const bool *caps, size_t cap_count)
{
    assert(levels->kind == NODE_LEVELS);
    struct award_levels result = {.node = levels, .cap = -1, .override = OVERRIDE_NONE};
    size_t wanted = levels->strand_count > 0 ? levels->strand_count : 1;
    result.rated = rating_count >= wanted;
    for (size_t i = 0; i < wanted && result.rated; i++)
        result.rated = ratings[i] >= 0;
    if (!result.rated)
        return result;
    int top = top_level(levels);
    result.level = lower_median(ratings, wanted, top);
    result.level = held(hold_down(&result, caps, cap_count), 0, top);
    if (result.level == 0)
        return result;
    size_t below = count_below(ratings, wanted, result.level, top);
    size_t above = wanted - count_below(ratings, wanted, result.level + 1, top);
    result.proxy = mark_in_level(&levels->levels[result.level - 1], above, below);
    result.marks = result.proxy;
    return result;
}
