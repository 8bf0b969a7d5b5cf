#include "base/arena.h"

#include <assert.h>
#include <stdalign.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

enum { FIRST_BLOCK = 16 * 1024, LARGEST_USUAL_BLOCK = 256 * 1024 };

/* The bytes handed out follow the header; the header's alignment makes theirs right for any type. */
struct block {
    alignas(max_align_t) struct block *older;
    size_t size;
    size_t used;
};

struct arena {
    struct block *newest;   /* the list ends with the first block, which arena_reset keeps */
    size_t handed_out;
};

static struct block *block_new(size_t size, struct block *older)
{
    if (size > SIZE_MAX - sizeof(struct block))
        memory_exhausted();
    struct block *block = memory_get(sizeof *block + size);
    block->older = older;
    block->size = size;
    block->used = 0;
    return block;
}

struct arena *arena_new(void)
{
    struct arena *arena = memory_get(sizeof *arena);
    arena->newest = block_new(FIRST_BLOCK, NULL);
    arena->handed_out = 0;
    return arena;
}

void arena_reset(struct arena *arena)
{
    while (arena->newest->older) {
        struct block *block = arena->newest;
        arena->newest = block->older;
        free(block);
    }
    arena->newest->used = 0;
    arena->handed_out = 0;
}

void arena_free(struct arena *arena)
{
    if (!arena)
        return;
    arena_reset(arena);
    free(arena->newest);
    free(arena);
}

size_t arena_used(const struct arena *arena)
{
    return arena->handed_out;
}

static size_t rounded_up(size_t size)
{
    const size_t step = alignof(max_align_t);
    if (size > SIZE_MAX - step)
        memory_exhausted();
    return size ? (size + step - 1) / step * step : step;
}

static void add_block(struct arena *arena, size_t at_least)
{
    size_t size = arena->newest->size;
    size = size < LARGEST_USUAL_BLOCK / 2 ? size * 2 : LARGEST_USUAL_BLOCK;
    arena->newest = block_new(size > at_least ? size : at_least, arena->newest);
}

void *arena_get(struct arena *arena, size_t size)
{
    size_t taken = rounded_up(size);
    if (arena->newest->size - arena->newest->used < taken)
        add_block(arena, taken);

    struct block *block = arena->newest;
    char *memory = (char *)(block + 1) + block->used;
    block->used += taken;
    arena->handed_out += taken;
    assert(block->used <= block->size);
    return memset(memory, 0, taken);
}

void *arena_get_array(struct arena *arena, size_t count, size_t size)
{
    if (size && count > SIZE_MAX / size)
        memory_exhausted();
    return arena_get(arena, count * size);
}

char *arena_copy_text(struct arena *arena, const char *text)
{
    return text ? arena_copy_bytes(arena, text, strlen(text)) : NULL;
}

char *arena_copy_bytes(struct arena *arena, const char *bytes, size_t length)
{
    char *copy = arena_get_array(arena, length + 1, 1);
    if (length)
        memcpy(copy, bytes, length);
    return copy;
}

char *arena_print(struct arena *arena, const char *format, ...)
{
    va_list arguments, again;
    va_start(arguments, format);
    va_copy(again, arguments);
    int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    assert(length >= 0);
    char *text = arena_get(arena, (size_t)length + 1);
    vsnprintf(text, (size_t)length + 1, format, again);
    va_end(again);
    return text;
}
