#include "marking/marking.h"

#include <assert.h>
#include <math.h>
#include "base/text.h"
#include "quantity/formula.h"

struct entering {
    const struct own_value *own;
    size_t count;
    bool zero;              /* an own value 0 enters the formula */
};

static const struct own_value *find_own(const struct own_value *own, size_t count, const char *symbol)
{
    for (size_t i = 0; i < count; i++)
        if (text_equal(own[i].symbol, symbol))
            return &own[i];
    return NULL;
}

static void note_zero(const char *name, void *context)
{
    struct entering *entering = context;
    const struct own_value *own = find_own(entering->own, entering->count, name);
    entering->zero = entering->zero || (own && own->value == 0);
}

static struct values replaced(const struct values *values, const struct own_value *own, size_t own_count,
                              struct arena *arena)
{
    struct bound_value *items = arena_get_array(arena, values->count, sizeof *items);
    for (size_t i = 0; i < values->count; i++) {
        items[i] = values->items[i];
        const struct own_value *mine = items[i].is_answer ? find_own(own, own_count, items[i].symbol) : NULL;
        if (mine)
            items[i].value = mine->value;
    }
    return (struct values){items, values->count};
}

/* Differences within the noise of binary arithmetic are none. */
static bool same(double a, double b)
{
    return isfinite(a) && fabs(a - b) <= 1e-12 * fmax(fabs(a), fabs(b));
}

struct follow marking_follow(const struct values *values, const struct node *point,
                             const struct own_value *own, size_t own_count, struct arena *arena)
{
    assert(point->number);
    /* Without its symbol the key is computed anew, and not looked up among the values as they were drawn. */
    struct number_key unnamed = *point->number;
    unnamed.symbol = NULL;
    const struct number_key *key = &unnamed;
    double right = values_expected(values, key);
    struct follow follow = {FOLLOW_SAME, right, right};
    if (!key->formula || own_count == 0 || !isfinite(right))
        return follow;
    struct values mine = replaced(values, own, own_count, arena);
    double expected = values_expected(&mine, key);
    if (same(expected, right))
        return follow;
    struct entering entering = {own, own_count, false};
    struct formula_result fault;
    formula_names(key->formula, note_zero, &entering, &fault);
    if (!point->follow)
        follow.reason = FOLLOW_NOT_ALLOWED;
    else if (entering.zero || expected == 0 || !isfinite(expected))
        follow.reason = FOLLOW_TRIVIAL;
    else
        follow = (struct follow){FOLLOW_APPLIES, expected, right};
    return follow;
}
