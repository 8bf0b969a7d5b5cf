#include "base/memory.h"

#include <assert.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { EXIT_SYSTEM_FAILED = 3, FIRST_CAPACITY = 8 };

static void (*last_act)(void);

void memory_set_last_act(void (*act)(void))
{
    last_act = act;
}

_Noreturn void memory_exhausted(void)
{
    static const char line[] = "ownmark: out of memory; what was saved so far is safe\n";

    void (*act)(void) = last_act;
    last_act = NULL; /* so that an act which itself runs out of memory is not called again */
    if (act)
        act();
    /* No stdio and no atexit functions: both may allocate. Nothing can be done if the write fails. */
    ssize_t written = write(STDERR_FILENO, line, sizeof line - 1);
    (void)written;
    _exit(EXIT_SYSTEM_FAILED);
}

static void *checked(void *memory)
{
    if (!memory)
        memory_exhausted();
    return memory;
}

void *memory_get(size_t size)
{
    return checked(malloc(size ? size : 1));
}

void *memory_get_zeroed(size_t count, size_t size)
{
    return checked(count && size ? calloc(count, size) : calloc(1, 1));
}

void *memory_resize(void *old, size_t size)
{
    return checked(realloc(old, size ? size : 1));
}

void *memory_resize_array(void *old, size_t count, size_t size)
{
    return checked(count && size ? reallocarray(old, count, size) : realloc(old, 1));
}

char *memory_copy_text(const char *text)
{
    assert(text);
    return checked(strdup(text));
}

void *memory_grow(void *array, size_t *capacity, size_t count, size_t element_size)
{
    assert(count <= *capacity);
    assert(element_size > 0);
    if (count < *capacity)
        return array;
    if (*capacity > SIZE_MAX / 2)
        memory_exhausted();
    *capacity = *capacity ? *capacity * 2 : FIRST_CAPACITY;
    return memory_resize_array(array, *capacity, element_size);
}
