#include "record/map.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

enum { FIRST_CAPACITY = 64, KEPT_CAPACITY = 4096 };

/* Eight bytes at a time, each step mixed down to the low bits, which choose the slot. Made for this table and kept
 * nowhere; the multiplier is that of random_next's first mixing step. */
static uint64_t hash_of(const char *key)
{
    size_t length = strlen(key);
    uint64_t hash = length;
    for (size_t at = 0; at < length; at += sizeof hash) {
        uint64_t piece = 0;
        size_t left = length - at;
        memcpy(&piece, key + at, left < sizeof piece ? left : sizeof piece);
        hash = (hash ^ piece) * UINT64_C(0xbf58476d1ce4e5b9);
        hash ^= hash >> 32;
    }
    return hash;
}

static struct map_slot *slot_for(const struct map *map, const char *key, uint64_t hash)
{
    size_t mask = map->capacity - 1, index = (size_t)hash & mask;
    while (map->slots[index].key &&
           (map->slots[index].hash != hash || strcmp(map->slots[index].key, key) != 0))
        index = (index + 1) & mask;
    return &map->slots[index];
}

void *map_find(const struct map *map, const char *key)
{
    if (map->count == 0)
        return NULL;
    return slot_for(map, key, hash_of(key))->value;
}

static void grow(struct map *map)
{
    struct map bigger = {.capacity = map->capacity ? map->capacity * 2 : FIRST_CAPACITY, .count = map->count};
    bigger.slots = memory_get_zeroed(bigger.capacity, sizeof *bigger.slots);
    for (size_t i = 0; i < map->capacity; i++)
        if (map->slots[i].key)
            *slot_for(&bigger, map->slots[i].key, map->slots[i].hash) = map->slots[i];
    free(map->slots);
    *map = bigger;
}

void map_add(struct map *map, const char *key, void *value)
{
    assert(value);
    if ((map->count + 1) * 4 > map->capacity * 3)
        grow(map);
    uint64_t hash = hash_of(key);
    struct map_slot *slot = slot_for(map, key, hash);
    assert(!slot->key);
    *slot = (struct map_slot){key, hash, value};
    map->count++;
}

void map_clear(struct map *map)
{
    if (map->capacity > KEPT_CAPACITY) {
        map_free(map);
        return;
    }
    if (map->count)
        memset(map->slots, 0, map->capacity * sizeof *map->slots);
    map->count = 0;
}

void map_free(struct map *map)
{
    free(map->slots);
    *map = MAP_EMPTY;
}
