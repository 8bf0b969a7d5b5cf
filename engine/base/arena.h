/* An arena: many small allocations with one lifetime, freed together.
 *
 * Each document (a question, a bank's course, a screen) owns one. Nothing allocated from an arena is
 * freed by itself. Allocation never fails (see base/memory.h). */
#ifndef OWNMARK_BASE_ARENA_H
#define OWNMARK_BASE_ARENA_H

#include <stddef.h>

struct arena;

struct arena *arena_new(void);
void arena_free(struct arena *arena); /* NULL is allowed */

/* Forgets every allocation but keeps the first block, so that a loop over 10,000 questions reuses it. */
void arena_reset(struct arena *arena);

/* Bytes handed out since the last reset, each request rounded up to the alignment, for tests and for
 * memory budgets. */
size_t arena_used(const struct arena *arena);

/* Zeroed memory, aligned for any type. A size of 0 gives a valid unique pointer. */
void *arena_get(struct arena *arena, size_t size);
void *arena_get_array(struct arena *arena, size_t count, size_t size);

char *arena_copy_text(struct arena *arena, const char *text);                    /* NULL gives NULL */
char *arena_copy_bytes(struct arena *arena, const char *bytes, size_t length);   /* adds a final NUL */
char *arena_print(struct arena *arena, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

#endif
