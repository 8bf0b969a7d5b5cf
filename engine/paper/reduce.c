#include "paper/reduce.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* qsort has no context, and qsort_r's is not the same everywhere: the sorted things carry what they need. */
struct candidate {
    const struct item *item;
    size_t index, aim_count;
};

static int order(long a, long b)
{
    return (a > b) - (a < b);
}

static int compare_kind(const struct candidate *a, const struct candidate *b)
{
    int marks = order(a->item->marks, b->item->marks), seconds = order(a->item->seconds, b->item->seconds);
    if (marks || seconds)
        return marks ? marks : seconds;
    return memcmp(a->item->gives, b->item->gives, a->aim_count * sizeof(int));
}

static int compare(const void *left, const void *right)
{
    const struct candidate *a = left, *b = right;
    int kind = compare_kind(a, b), cost = order(a->item->cost, b->item->cost);
    return kind ? kind : cost ? cost : order((long)a->index, (long)b->index);
}

static int ascending(const void *left, const void *right)
{
    return order((long)*(const size_t *)left, (long)*(const size_t *)right);
}

static bool *having_enemies(const struct blueprint *blueprint)
{
    bool *has = memory_get_zeroed(blueprint->item_count + 1, sizeof *has);
    for (size_t i = 0; i < blueprint->enemy_count; i++)
        has[blueprint->enemies[i].one] = has[blueprint->enemies[i].other] = true;
    return has;
}

/* Those that can stand for each other are put into `candidates`, the others are kept at once. */
static size_t sort_out(const struct blueprint *blueprint, int most_marks, bool open_all, struct candidate *candidates,
                       size_t *kept, size_t *kept_count)
{
    bool *has_enemies = having_enemies(blueprint);
    size_t count = 0;
    for (size_t i = 0; i < blueprint->item_count; i++) {
        const struct item *item = &blueprint->items[i];
        if (item->marks > most_marks || (item->kept_out && !open_all))
            continue;
        if (has_enemies[i])
            kept[(*kept_count)++] = i;
        else
            candidates[count++] = (struct candidate){item, i, blueprint->aim_count};
    }
    free(has_enemies);
    return count;
}

size_t reduce_items(const struct blueprint *blueprint, int most_marks, bool open_all, struct arena *arena, size_t **kept)
{
    struct candidate *candidates = memory_get_zeroed(blueprint->item_count + 1, sizeof *candidates);
    size_t kept_count = 0;
    *kept = arena_get_array(arena, blueprint->item_count + 1, sizeof **kept);
    size_t count = sort_out(blueprint, most_marks, open_all, candidates, *kept, &kept_count);
    qsort(candidates, count, sizeof *candidates, compare);
    for (size_t i = 0, first = 0; i < count; i++) {
        if (compare_kind(&candidates[first], &candidates[i]) != 0)
            first = i;
        if (i - first < (size_t)(most_marks / candidates[i].item->marks))
            (*kept)[kept_count++] = candidates[i].index;
    }
    free(candidates);
    qsort(*kept, kept_count, sizeof **kept, ascending);
    return kept_count;
}

int reduce_most_over(const struct blueprint *blueprint)
{
    int most = 0;
    for (size_t i = 0; i < blueprint->item_count; i++)
        if (blueprint->items[i].marks > most)
            most = blueprint->items[i].marks;
    return most;
}

int reduce_distance(const struct blueprint *blueprint, const size_t *kept, size_t count)
{
    int most = blueprint->marks + reduce_most_over(blueprint), distance = 0;
    bool *reached = memory_get_zeroed((size_t)most + 1, sizeof *reached);
    reached[0] = true;
    for (size_t i = 0; i < count; i++) {
        int marks = blueprint->items[kept[i]].marks;
        for (int sum = most; sum >= marks; sum--)
            reached[sum] = reached[sum] || reached[sum - marks];
    }
    while (!(distance <= blueprint->marks && reached[blueprint->marks - distance]) &&
           !(blueprint->marks + distance <= most && reached[blueprint->marks + distance]))
        distance++;
    free(reached);
    return distance;
}
