#include <stdalign.h>
#include <stdint.h>
#include <string.h>

#include "base/arena.h"
#include "base/random.h"
#include "trial.h"

static bool is_zero(const char *memory, size_t size)
{
    for (size_t i = 0; i < size; i++)
        if (memory[i])
            return false;
    return true;
}

Test(base, arena_memory_is_zeroed_aligned_and_apart)
{
    uint64_t seed = trial_seed(71);
    struct random_source source = {seed};
    struct arena *arena = arena_new();
    enum { PIECES = 2000 };
    static char *pieces[PIECES];
    static size_t sizes[PIECES];
    for (int round = 0; round < 3; round++) {
        for (size_t i = 0; i < PIECES; i++) {
            /* Mostly small, now and then larger than any usual block. */
            sizes[i] = (size_t)random_below(&source, i % 500 == 7 ? 400000 : 200);
            pieces[i] = arena_get(arena, sizes[i]);
            cr_assert((uintptr_t)pieces[i] % alignof(max_align_t) == 0, "seed %lu", seed);
            cr_assert(is_zero(pieces[i], sizes[i]), "seed %lu, round %d, piece %zu", seed, round, i);
            memset(pieces[i], (int)(i % 255) + 1, sizes[i]);
        }
        for (size_t i = 0; i < PIECES; i++)
            for (size_t at = 0; at < sizes[i]; at++)
                cr_assert((unsigned char)pieces[i][at] == i % 255 + 1, "seed %lu, piece %zu", seed, i);
        arena_reset(arena);
    }
    arena_free(arena);
}

Test(base, arena_reset_reuses_the_first_block)
{
    struct arena *arena = arena_new();
    char *first = arena_get(arena, 10);
    memset(first, 'x', 10);
    for (int i = 0; i < 100; i++)
        arena_get(arena, 10000);
    arena_reset(arena);
    cr_assert(arena_used(arena) == 0);
    char *again = arena_get(arena, 10);
    cr_assert(again == first);
    cr_assert(is_zero(again, 10));
    arena_free(arena);
}

Test(base, arena_counts_what_it_hands_out)
{
    struct arena *arena = arena_new();
    cr_assert(arena_used(arena) == 0);
    arena_get(arena, 1);
    cr_assert(arena_used(arena) == alignof(max_align_t));
    arena_get(arena, alignof(max_align_t) + 1);
    cr_assert(arena_used(arena) == 3 * alignof(max_align_t));
    arena_get_array(arena, 1000, 1000);
    cr_assert(arena_used(arena) == 3 * alignof(max_align_t) + 1000000);
    arena_free(arena);
}

Test(base, arena_size_0_gives_unique_pointers)
{
    struct arena *arena = arena_new();
    void *a = arena_get(arena, 0), *b = arena_get_array(arena, 0, 8), *c = arena_get(arena, 1);
    cr_assert(a && b && c && a != b && b != c);
    arena_free(arena);
    arena_free(NULL);
}

Test(base, arena_texts)
{
    struct arena *arena = arena_new();
    char source[] = "shingle";
    char *copy = arena_copy_text(arena, source);
    source[0] = 'X';
    check_text(copy, "shingle");
    cr_assert_null(arena_copy_text(arena, NULL));
    check_text(arena_copy_bytes(arena, "beach profile", 5), "beach");
    check_text(arena_copy_bytes(arena, NULL, 0), "");
    cr_assert(memcmp(arena_copy_bytes(arena, "a\0b", 3), "a\0b", 4) == 0);
    check_text(arena_print(arena, "%d marks in %s", 12, "all"), "12 marks in all");
    check_text(arena_print(arena, "%s", ""), "");
    char *wide = arena_print(arena, "%*d", 50000, 7);
    cr_assert(strlen(wide) == 50000 && wide[49999] == '7');
    arena_free(arena);
}

static void ask_for_a_product_that_overflows(void)
{
    arena_get_array(arena_new(), SIZE_MAX / 4, 8);
}

static void ask_for_a_size_that_cannot_be_rounded(void)
{
    volatile size_t size = SIZE_MAX - 3;
    arena_get(arena_new(), size);
}

Test(base, arena_sizes_that_overflow_end_the_program)
{
    struct buffer output = BUFFER_EMPTY;
    cr_expect(trial_in_child(ask_for_a_product_that_overflows, &output) == 3);
    cr_expect(trial_in_child(ask_for_a_size_that_cannot_be_rounded, &output) == 3);
    buffer_free(&output);
}
