/* Allocation that never returns NULL.
 *
 * Running out of memory ends the program: everything the user entered is already durable (the record
 * commits before each prompt), so there is nothing to rescue by going on half-alive. */
#ifndef OWNMARK_BASE_MEMORY_H
#define OWNMARK_BASE_MEMORY_H

#include <stddef.h>

/* As malloc, calloc, realloc and strdup; sizes of 0 are served as 1. Free with free(). */
void *memory_get(size_t size);
void *memory_get_zeroed(size_t count, size_t size);
void *memory_resize(void *old, size_t size);
void *memory_resize_array(void *old, size_t count, size_t size);
char *memory_copy_text(const char *text);

/* Called once, before the message, when memory is exhausted: the terminal room registers the function
 * that puts the terminal back. It must not allocate. NULL takes it away. */
void memory_set_last_act(void (*act)(void));

/* Writes one line to standard error and ends the program with exit status 3 (the system failed). */
_Noreturn void memory_exhausted(void);

/* Makes room for one more element: array_reserve(&items, &capacity, count, sizeof *items).
 * Returns the (possibly moved) array; capacity grows by doubling. */
void *memory_grow(void *array, size_t *capacity, size_t count, size_t element_size);

#endif
