/* How alike two words are. */
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <unistr.h>

#include "base/memory.h"
#include "base/text.h"

/* The characters of the case-folded text; the caller frees. */
static uint32_t *folded_characters(const char *text, size_t *count)
{
    struct buffer folded = BUFFER_EMPTY;
    text_add_case_folded(&folded, text);
    uint32_t *characters = memory_get(folded.length * sizeof *characters);
    const uint8_t *at = (const uint8_t *)buffer_text(&folded);
    size_t left = folded.length;
    *count = 0;
    while (left > 0) {
        int taken = u8_mbtouc(&characters[*count], at, left);
        at += taken;
        left -= (size_t)taken;
        ++*count;
    }
    buffer_free(&folded);
    return characters;
}

static size_t smaller(size_t a, size_t b)
{
    return a < b ? a : b;
}

/* Fills row i of the distance table (i >= 1) from the two rows before; returns the row's minimum.
 * The minimum never falls from row to row, because a swap costs as much as the row it steps over. */
static size_t fill_row(size_t *row, const size_t *before, const size_t *two_before, size_t i,
                       const uint32_t *a, const uint32_t *b, size_t columns)
{
    size_t least = row[0] = i;
    for (size_t j = 1; j <= columns; j++) {
        size_t cost = before[j - 1] + (a[i - 1] != b[j - 1]);
        cost = smaller(cost, smaller(before[j], row[j - 1]) + 1);
        if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
            cost = smaller(cost, two_before[j - 2] + 1);
        row[j] = cost;
        least = smaller(least, cost);
    }
    return least;
}

static size_t distance_of_characters(const uint32_t *a, size_t rows, const uint32_t *b, size_t columns,
                                     size_t limit)
{
    size_t *memory = memory_get_zeroed(3, (columns + 1) * sizeof *memory);
    size_t *row = memory, *before = memory + columns + 1, *two_before = before + columns + 1;
    for (size_t j = 0; j <= columns; j++)
        row[j] = j;
    size_t least = 0;
    for (size_t i = 1; i <= rows && least <= limit; i++) {
        size_t *oldest = two_before;
        two_before = before;
        before = row;
        row = oldest;
        least = fill_row(row, before, two_before, i, a, b, columns);
    }
    size_t distance = least > limit ? limit + 1 : smaller(row[columns], limit + 1);
    free(memory);
    return distance;
}

size_t text_distance(const char *a, const char *b, size_t limit)
{
    size_t rows, columns;
    uint32_t *left = folded_characters(a, &rows), *right = folded_characters(b, &columns);
    size_t longer = rows > columns ? rows : columns;
    limit = smaller(limit, longer); /* no distance is greater, and limit + 1 stays a number */
    size_t distance = longer - smaller(rows, columns) > limit
                          ? limit + 1
                          : distance_of_characters(left, rows, right, columns, limit);
    free(left);
    free(right);
    return distance;
}

static size_t character_count(const char *word)
{
    size_t count;
    free(folded_characters(word, &count));
    return count;
}

const char *text_nearest(const char *word, const char *const *candidates, size_t count)
{
    const char *nearest = NULL;
    size_t third = character_count(word) / 3;
    size_t limit = third > 1 ? third : 1;
    for (size_t i = 0; i < count; i++) {
        size_t distance = text_distance(word, candidates[i], limit);
        if (distance > limit)
            continue;
        nearest = candidates[i];
        if (distance == 0)
            break;
        limit = distance - 1; /* only a nearer one replaces it */
    }
    return nearest;
}
