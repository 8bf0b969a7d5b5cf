/* Around a timetable: what is likely to be kept of it, and the order in which its blocks are worked through. */
#include "learner/plan.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

#define KEPT_AT_FIRST 4.0
#define ROUNDING 1e-9

double learner_timetable_kept(size_t kept, size_t planned)
{
    assert(kept <= planned);
    return ((double)kept + KEPT_AT_FIRST) / ((double)planned + KEPT_AT_FIRST);
}

void learner_timetable_likely(double kept, const size_t *slots, size_t day_count, size_t *likely)
{
    double carried = 0.0;
    for (size_t d = 0; d < day_count; d++) {
        carried += d == 0 ? (double)slots[d] : kept * (double)slots[d];
        likely[d] = (size_t)fmin(floor(carried + ROUNDING), (double)slots[d]);
        carried -= (double)likely[d];
    }
}

/* Moves blocks[from] to blocks[to], to <= from, the others one up: keeps their order. */
static void bring_forward(struct learner_block *blocks, size_t from, size_t to)
{
    struct learner_block moved = blocks[from];
    memmove(&blocks[to + 1], &blocks[to], (from - to) * sizeof *blocks);
    blocks[to] = moved;
}

static void sort_by_day(struct learner_block *blocks, size_t count)
{
    for (size_t i = 1; i < count; i++) {
        size_t to = i;
        while (to > 0 && blocks[to - 1].day > blocks[i].day)
            to--;
        bring_forward(blocks, i, to);
    }
}

static size_t count_topic(const struct learner_block *blocks, size_t count, size_t topic)
{
    size_t found = 0;
    for (size_t i = 0; i < count; i++)
        found += blocks[i].topic == topic ? 1 : 0;
    return found;
}

/* Which block comes next after `previous`. A topic that fills at least half of what is left must come now or
 * it will have to follow itself at the end; otherwise the first that is not the same again. */
static size_t pick_next(const struct learner_block *blocks, size_t count, size_t previous)
{
    size_t first = count;
    for (size_t i = 0; i < count; i++) {
        if (blocks[i].topic == previous)
            continue;
        if (2 * count_topic(blocks, count, blocks[i].topic) > count)
            return i;
        if (first == count)
            first = i;
    }
    return first < count ? first : 0;
}

void learner_timetable_arrange(struct learner_block *blocks, size_t count)
{
    sort_by_day(blocks, count);
    for (size_t start = 0, end; start < count; start = end) {
        for (end = start + 1; end < count && blocks[end].day == blocks[start].day;)
            end++;
        size_t previous = LEARNER_NONE;
        for (size_t i = start; i < end; i++) {
            bring_forward(blocks, i + pick_next(&blocks[i], end - i, previous), i);
            previous = blocks[i].topic;
        }
    }
}

static int compare_blocks(const void *a, const void *b, void *shares)
{
    const struct learner_block *x = a, *y = b;
    const double *share = shares;
    if (x->day != y->day)
        return x->day < y->day ? -1 : 1;
    if (share[x->topic] < share[y->topic] || share[x->topic] > share[y->topic])
        return share[x->topic] < share[y->topic] ? -1 : 1;
    return x->topic < y->topic ? -1 : x->topic > y->topic;
}

void learner_timetable_order(const struct learner *learner, moment now, struct learner_block *blocks, size_t count)
{
    size_t topics = learner->course.topics;
    double *share = memory_get_zeroed(topics, sizeof *share);
    for (size_t i = 0; i < topics; i++)
        share[i] = learner_topic(learner, i, now).share;
    if (count > 0)
        qsort_r(blocks, count, sizeof *blocks, compare_blocks, share);
    free(share);
    learner_timetable_arrange(blocks, count);
}
