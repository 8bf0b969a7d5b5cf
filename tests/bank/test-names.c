#include <stdio.h>
#include <criterion/criterion.h>

#include "bank/names.h"
#include "base/arena.h"

Test(bank, names_are_kept_once)
{
    struct names names = names_new();
    cr_expect_null(names_find(&names, "a"));
    cr_expect(names_add(&names, "a", 1));
    cr_expect(names_add(&names, "", 2));
    cr_expect_not(names_add(&names, "a", 3));
    cr_expect_eq(*names_find(&names, "a"), 1);
    cr_expect_eq(*names_find(&names, ""), 2);
    cr_expect_null(names_find(&names, "b"));
    cr_expect_eq(names.count, 2);
    names_clear(&names);
    cr_expect_null(names_find(&names, "a"));
    cr_expect(names_add(&names, "a", 4));
    names_free(&names);
    cr_expect_null(names_find(&names, "a"));
}

Test(bank, names_survive_growing)
{
    struct arena *arena = arena_new();
    struct names names = names_new();
    for (int i = 0; i < 5000; i++)
        cr_assert(names_add(&names, arena_print(arena, "n%d", i), i));
    for (int i = 0; i < 5000; i++) {
        char name[16];
        snprintf(name, sizeof name, "n%d", i);
        int *value = names_find(&names, name);
        cr_assert(value && *value == i, "%s", name);
    }
    cr_expect_null(names_find(&names, "n5000"));
    names_clear(&names);
    cr_expect_eq(names.count, 0);
    cr_expect_leq(names.capacity, 1024, "a large table is not cleared again and again");
    names_free(&names);
    arena_free(arena);
}
