/* A set of names, each with a whole number: open addressing, so that looking one up costs the same among ten
 * and among ten thousand. For this room only. */
#ifndef OWNMARK_BANK_NAMES_H
#define OWNMARK_BANK_NAMES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct name_entry {
    const char *name;       /* NULL: free */
    int value;
};

struct names {
    struct name_entry *entries;
    size_t capacity;        /* 0 or a power of two */
    size_t count;
    uint64_t seed;          /* names of a hostile file cannot be made to collide */
};

struct names names_new(void);
void names_free(struct names *names);
void names_clear(struct names *names);      /* keeps the memory unless it grew large */

/* The number of a name, or NULL; valid until the next names_add. */
int *names_find(const struct names *names, const char *name);

/* False, and nothing changed, when the name is there already. The text is not copied. */
bool names_add(struct names *names, const char *name, int value);

#endif
