/* Text keys to pointers: open addressing, nothing is ever taken out. Keys belong to the caller. */
#ifndef OWNMARK_RECORD_MAP_H
#define OWNMARK_RECORD_MAP_H

#include <stddef.h>
#include <stdint.h>

struct map_slot {
    const char *key;    /* NULL: free */
    uint64_t hash;
    void *value;
};

struct map {
    struct map_slot *slots;
    size_t capacity;    /* 0 or a power of two, at most three quarters used */
    size_t count;
};

#define MAP_EMPTY ((struct map){NULL, 0, 0})

/* The value, or NULL when the key is not there. */
void *map_find(const struct map *map, const char *key);

/* key must not be there yet and must stay as it is; value is not NULL. */
void map_add(struct map *map, const char *key, void *value);

void map_clear(struct map *map);    /* keeps the memory unless it grew large */
void map_free(struct map *map);     /* back to MAP_EMPTY */

#endif
