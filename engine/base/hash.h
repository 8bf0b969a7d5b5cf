/* A 128-bit content hash (FNV-1a, two lanes of 64 bits with different offsets): tells whether a question's
 * text is the same as when it was answered. Guards against change, not against an adversary. */
#ifndef OWNMARK_BASE_HASH_H
#define OWNMARK_BASE_HASH_H

#include <stddef.h>
#include <stdint.h>

uint64_t hash_bytes(uint64_t seed, const void *bytes, size_t length); /* 64-bit FNV-1a from seed */
void hash_content(const void *bytes, size_t length, char hex[33]);    /* 32 hex digits and NUL */

#endif
