#include "bank/names.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/hash.h"
#include "base/memory.h"
#include "base/random.h"

enum { FIRST_CAPACITY = 32, KEPT_CAPACITY = 1024 };

struct names names_new(void)
{
    return (struct names){NULL, 0, 0, random_fresh_seed()};
}

void names_free(struct names *names)
{
    free(names->entries);
    names->entries = NULL;
    names->capacity = names->count = 0;
}

void names_clear(struct names *names)
{
    if (names->count == 0)
        return;
    /* One huge question must not make each later one pay for clearing its table. */
    if (names->capacity > KEPT_CAPACITY) {
        names_free(names);
        return;
    }
    memset(names->entries, 0, names->capacity * sizeof *names->entries);
    names->count = 0;
}

/* The entry of the name, or the free one where it belongs: the table is never full. */
static struct name_entry *slot_of(const struct names *names, const char *name)
{
    assert(names->count < names->capacity);
    uint64_t hash = hash_bytes(names->seed, name, strlen(name));
    size_t at = (size_t)(hash ^ (hash >> 32)) & (names->capacity - 1);
    while (names->entries[at].name && strcmp(names->entries[at].name, name) != 0)
        at = (at + 1) & (names->capacity - 1);
    return &names->entries[at];
}

static void grow(struct names *names)
{
    struct names larger = *names;
    larger.capacity = names->capacity ? names->capacity * 2 : FIRST_CAPACITY;
    larger.entries = memory_get_zeroed(larger.capacity, sizeof *larger.entries);
    for (size_t i = 0; i < names->capacity; i++)
        if (names->entries[i].name)
            *slot_of(&larger, names->entries[i].name) = names->entries[i];
    free(names->entries);
    *names = larger;
}

int *names_find(const struct names *names, const char *name)
{
    if (names->count == 0)
        return NULL;
    struct name_entry *slot = slot_of(names, name);
    return slot->name ? &slot->value : NULL;
}

bool names_add(struct names *names, const char *name, int value)
{
    assert(name);
    if ((names->count + 1) * 2 > names->capacity)
        grow(names);
    struct name_entry *slot = slot_of(names, name);
    if (slot->name)
        return false;
    *slot = (struct name_entry){name, value};
    names->count++;
    return true;
}
