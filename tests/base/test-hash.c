#include <string.h>

#include "base/hash.h"
#include "trial.h"

/* The standard offset basis and the three values: draft-eastlake-fnv, appendix of test vectors. */
Test(base, hash_known_values)
{
    const uint64_t basis = UINT64_C(14695981039346656037);
    cr_expect(hash_bytes(basis, "", 0) == basis);
    cr_expect(hash_bytes(basis, "a", 1) == UINT64_C(0xaf63dc4c8601ec8c));
    cr_expect(hash_bytes(basis, "foobar", 6) == UINT64_C(0x85944171f73967e8));
}

Test(base, hash_goes_on_from_its_seed)
{
    const uint64_t basis = UINT64_C(14695981039346656037);
    cr_expect(hash_bytes(hash_bytes(basis, "foo", 3), "bar", 3) == hash_bytes(basis, "foobar", 6));
    cr_expect(hash_bytes(basis, "a\0", 2) != hash_bytes(basis, "a", 1));
}

/* First lane as above; the second computed by Python's integers from the same definition, offset
 * 6c62272e07bb0142 (upper half of the 128-bit basis). */
Test(base, hash_content_is_two_lanes_in_hex)
{
    char hex[33];
    hash_content("foobar", 6, hex);
    check_text(hex, "85944171f73967e8d261c5099350d8f3");
    hash_content("", 0, hex);
    check_text(hex, "cbf29ce4842223256c62272e07bb0142");
}

Test(base, hash_content_sees_each_changed_bit)
{
    char text[] = "Explain why the lagoon is less saline in winter.", was[33], is[33];
    hash_content(text, strlen(text), was);
    for (size_t i = 0; text[i]; i++) {
        for (int bit = 0; bit < 8; bit++) {
            char kept = text[i];
            text[i] = (char)(kept ^ (1 << bit));
            hash_content(text, sizeof text - 1, is);
            cr_assert(strcmp(was, is) != 0, "byte %zu, bit %d", i, bit);
            cr_assert(memcmp(was, is, 16) != 0 && memcmp(was + 16, is + 16, 16) != 0);
            text[i] = kept;
        }
    }
}
