#include "paper/reduce.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* qsort has no context, and qsort_r's is not the same everywhere: the sorted things carry what they need. */
struct candidate {
    const struct item *item;
    size_t index, aim_count;
    bool alone;                 /* has enemies */
};

static int order(long a, long b)
{
    return (a > b) - (a < b);
}

static int compare_kind(const struct candidate *a, const struct candidate *b)
{
    int marks = order(a->item->marks, b->item->marks), seconds = order(a->item->seconds, b->item->seconds);
    if (a->alone || b->alone)
        return order((long)a->index, (long)b->index);
    if (marks || seconds)
        return marks ? marks : seconds;
    return memcmp(a->item->gives, b->item->gives, a->aim_count * sizeof(int));
}

static int compare(const void *left, const void *right)
{
    const struct candidate *a = left, *b = right;
    if (a->alone != b->alone)
        return a->alone ? -1 : 1;
    int kind = compare_kind(a, b), cost = order(a->item->cost, b->item->cost), tie = order(a->item->tie, b->item->tie);
    return kind ? kind : cost ? cost : tie ? tie : order((long)a->index, (long)b->index);
}

static void mark_enemies(const struct blueprint *blueprint, bool *alone)
{
    for (size_t i = 0; i < blueprint->enemy_count; i++)
        alone[blueprint->enemies[i].one] = alone[blueprint->enemies[i].other] = true;
}

static size_t collect(const struct blueprint *blueprint, int most_marks, bool open_all, struct candidate *candidates)
{
    bool *alone = memory_get_zeroed(blueprint->item_count + 1, sizeof *alone);
    size_t count = 0;
    mark_enemies(blueprint, alone);
    for (size_t i = 0; i < blueprint->item_count; i++) {
        const struct item *item = &blueprint->items[i];
        if (item->marks <= most_marks && (!item->kept_out || open_all))
            candidates[count++] = (struct candidate){item, i, blueprint->aim_count, alone[i]};
    }
    free(alone);
    return count;
}

/* Sorted candidates into groups; `first` is the first of those that give the same. */
static size_t divide(const struct candidate *candidates, size_t count, int most_marks, size_t *items, struct group *groups)
{
    size_t group_count = 0, first = 0;
    for (size_t i = 0, kept = 0; i < count; i++) {
        bool new_kind = i == 0 || compare_kind(&candidates[first], &candidates[i]) != 0;
        first = new_kind ? i : first;
        if (i - first >= (size_t)(most_marks / candidates[i].item->marks))
            continue;
        if (new_kind || candidates[i - 1].item->cost != candidates[i].item->cost)
            groups[group_count++] = (struct group){items + kept, 0};
        items[kept++] = candidates[i].index;
        groups[group_count - 1].count++;
    }
    return group_count;
}

size_t reduce_items(const struct blueprint *blueprint, int most_marks, bool open_all, struct arena *arena,
                    struct group **groups)
{
    struct candidate *candidates = memory_get_zeroed(blueprint->item_count + 1, sizeof *candidates);
    size_t count = collect(blueprint, most_marks, open_all, candidates);
    qsort(candidates, count, sizeof *candidates, compare);
    size_t *items = arena_get_array(arena, count + 1, sizeof *items);
    *groups = arena_get_array(arena, count + 1, sizeof **groups);
    count = divide(candidates, count, most_marks, items, *groups);
    free(candidates);
    return count;
}

int reduce_most_over(const struct blueprint *blueprint)
{
    int most = 0;
    for (size_t i = 0; i < blueprint->item_count; i++)
        if (blueprint->items[i].marks > most)
            most = blueprint->items[i].marks;
    return most;
}

static void reach(bool *reached, int most, int marks)
{
    for (int sum = most; sum >= marks; sum--)
        reached[sum] = reached[sum] || reached[sum - marks];
}

int reduce_distance(const struct blueprint *blueprint, const struct group *groups, size_t count)
{
    int most = blueprint->marks + reduce_most_over(blueprint), distance = 0;
    bool *reached = memory_get_zeroed((size_t)most + 1, sizeof *reached);
    reached[0] = true;
    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < groups[i].count; j++)
            reach(reached, most, blueprint->items[groups[i].items[0]].marks);
    while (!(distance <= blueprint->marks && reached[blueprint->marks - distance]) &&
           !(blueprint->marks + distance <= most && reached[blueprint->marks + distance]))
        distance++;
    free(reached);
    return distance;
}
