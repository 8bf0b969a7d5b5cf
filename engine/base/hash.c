#include "base/hash.h"

#include <inttypes.h>
#include <stdio.h>

/* The prime and the first offset are those of the 64-bit hash (draft-eastlake-fnv); the second offset is
 * the upper half of the 128-bit one, taken because it owes nothing to us. */
static const uint64_t prime = UINT64_C(1099511628211);
static const uint64_t first_offset = UINT64_C(14695981039346656037);
static const uint64_t second_offset = UINT64_C(0x6c62272e07bb0142);

uint64_t hash_bytes(uint64_t seed, const void *bytes, size_t length)
{
    const unsigned char *byte = bytes;
    uint64_t hash = seed;
    for (size_t i = 0; i < length; i++)
        hash = (hash ^ byte[i]) * prime;
    return hash;
}

void hash_content(const void *bytes, size_t length, char hex[33])
{
    snprintf(hex, 33, "%016" PRIx64 "%016" PRIx64, hash_bytes(first_offset, bytes, length),
             hash_bytes(second_offset, bytes, length));
}
