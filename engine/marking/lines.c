#include "marking/inside.h"

#include <assert.h>
#include <string.h>

void lines_add(struct lines *lines, struct award_line line)
{
    assert(line.marks >= 0 && line.marks <= line.maximum);
    if (lines->count == lines->capacity) {
        size_t capacity = lines->capacity ? 2 * lines->capacity : 8;
        struct award_line *items = arena_get_array(lines->arena, capacity, sizeof *items);
        if (lines->count > 0)
            memcpy(items, lines->items, lines->count * sizeof *items);
        lines->items = items;
        lines->capacity = capacity;
    }
    lines->items[lines->count++] = line;
}

void lines_add_all(struct lines *lines, const struct lines *more)
{
    for (size_t i = 0; i < more->count; i++)
        lines_add(lines, more->items[i]);
}

int lines_marks(const struct lines *lines)
{
    int sum = 0;
    for (size_t i = 0; i < lines->count; i++)
        sum += lines->items[i].marks;
    return sum;
}

int lines_maximum(const struct lines *lines)
{
    int sum = 0;
    for (size_t i = 0; i < lines->count; i++)
        sum += lines->items[i].maximum;
    return sum;
}

static int smaller(int a, int b)
{
    return a < b ? a : b;
}

/* Lines that lose all of their maximum go; notes, which never had one, stay. */
void lines_limit(struct lines *lines, int maximum)
{
    if (lines_maximum(lines) <= maximum)
        return;
    int for_marks = maximum, kept = 0;
    for (size_t i = 0; i < lines->count; i++)
        kept += lines->items[i].marks;
    int for_losses = maximum - smaller(kept, maximum);
    size_t count = 0;
    for (size_t i = 0; i < lines->count; i++) {
        struct award_line line = lines->items[i];
        bool note = line.maximum == 0;
        int lost = smaller(line.maximum - line.marks, for_losses);
        line.marks = smaller(line.marks, for_marks);
        line.maximum = line.marks + lost;
        for_marks -= line.marks;
        for_losses -= lost;
        if (line.maximum > 0 || note)
            lines->items[count++] = line;
    }
    lines->count = count;
}
