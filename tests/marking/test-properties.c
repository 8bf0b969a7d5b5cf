/* What holds for every scheme and every set of ticks. The seed is printed; OWNMARK_SEED repeats a run. */
#include <stdio.h>
#include <stdlib.h>

#include "trial.h"

#include "bank/scheme.h"
#include "base/random.h"

enum { ROUNDS = 1500, BREADTH = 4, DEPTH = 3 };

struct maker {
    struct random_source source;
    struct arena *arena;
    size_t points;
    bool lists, levels, implicit_methods;   /* what may be made */
    char ids[TRIAL_POINTS][8];
};

static struct maker maker_new(const char *property, uint64_t usual, struct arena *arena)
{
    const char *asked = getenv("OWNMARK_SEED");
    uint64_t seed = asked ? strtoull(asked, NULL, 10) : usual;
    fprintf(stderr, "%s: seed %llu\n", property, (unsigned long long)seed);
    return (struct maker){.source = {seed}, .arena = arena};
}

static int below(struct maker *maker, int bound)
{
    return (int)random_below(&maker->source, (uint64_t)bound);
}

/* Needs name one or two earlier points; an accuracy point without a need would look for the nearest method. */
static void make_needs(struct maker *maker, struct node *point, size_t earlier)
{
    bool forced = point->point_kind == POINT_ACCURACY && !maker->implicit_methods;
    if (earlier == 0 || (!forced && below(maker, 3) > 0))
        return;
    const char **needs = arena_get_array(maker->arena, 2, sizeof *needs);
    point->need_count = (size_t)(1 + below(maker, 2));
    for (size_t i = 0; i < point->need_count; i++)
        needs[i] = maker->ids[below(maker, (int)earlier)];
    point->needs = needs;
}

static struct node make_point(struct maker *maker)
{
    static const enum point_kind kinds[] = {POINT_PLAIN, POINT_METHOD, POINT_ACCURACY, POINT_INDEPENDENT, POINT_IMPLIED};
    size_t index = maker->points++;
    snprintf(maker->ids[index], sizeof maker->ids[index], "p%zu", index);
    struct node point = {.kind = NODE_POINT, .id = maker->ids[index], .marks = 1 + (below(maker, 5) == 0), .follow = true,
                         .point_kind = kinds[below(maker, 5)]};
    if (point.point_kind == POINT_ACCURACY && index == 0 && !maker->implicit_methods)
        point.point_kind = POINT_PLAIN;
    make_needs(maker, &point, index);
    if (below(maker, 3) == 0) {
        struct number_key *key = arena_get(maker->arena, sizeof *key);
        *key = (struct number_key){.value = "42", .unit = "N", .places = -1, .figures = below(maker, 2) ? 3 : 0};
        point.number = key;
    }
    return point;
}

static const struct level three_levels[] = {{1, 1, 2, "some"}, {2, 3, 4, "more"}, {3, 5, 6, "most"}};
static const struct band two_bands[] = {{3, "high"}, {1, "basic"}};

static struct node make_node(struct maker *maker, int depth);

static struct node make_group(struct maker *maker, enum node_kind kind, int depth)
{
    struct node node = {.kind = kind, .child_count = (size_t)(1 + below(maker, BREADTH))};
    struct node *children = arena_get_array(maker->arena, node.child_count, sizeof *children);
    for (size_t i = 0; i < node.child_count; i++) {
        if (kind == NODE_ROUTES)
            children[i] = make_group(maker, NODE_ALL, depth - 1);
        else if (kind == NODE_LIST)
            children[i] = make_point(maker);
        else
            children[i] = make_node(maker, depth - 1);
        if (maker->points > TRIAL_POINTS - 12)
            node.child_count = i + 1;
    }
    node.children = children;
    node.id = arena_print(maker->arena, "g%llu", (unsigned long long)random_next(&maker->source));
    if (kind == NODE_ANY || kind == NODE_LIST)
        node.take = 1 + below(maker, (int)node.child_count);
    if (kind == NODE_LIST)
        node.list_rule = below(maker, 2) ? LIST_CANCEL : LIST_FIRST;
    if (kind == NODE_ALL && below(maker, 3) == 0)
        node.marks = 1 + below(maker, 4);
    return node;
}

static struct node make_node(struct maker *maker, int depth)
{
    int choice = depth <= 0 || maker->points > TRIAL_POINTS - 16 ? 0 : below(maker, 10);
    if (choice >= 8 && maker->lists)
        return make_group(maker, NODE_LIST, depth);
    if (choice == 7 && maker->levels)
        return (struct node){.kind = NODE_LEVELS, .id = "levels", .levels = three_levels, .level_count = 3};
    if (choice == 6 && maker->levels)
        return (struct node){.kind = NODE_QUALITY, .id = "quality", .bands = two_bands, .band_count = 2};
    switch (choice) {
    case 5: return make_group(maker, NODE_ROUTES, depth);
    case 4: return make_group(maker, NODE_ALL, depth);
    case 3: return make_group(maker, NODE_ANY, depth);
    default: return make_point(maker);
    }
}

static struct trial *make_trial(struct maker *maker)
{
    maker->points = 0;
    struct node root = make_group(maker, NODE_ALL, DEPTH);
    int reach = scheme_reachable(&root);
    struct trial *trial = trial_new(root, below(maker, 4) == 0 ? (reach + 1) / 2 : reach);
    trial->part.scheme.working_required = below(maker, 8) == 0;
    trial->part.scheme.unit_penalty = below(maker, 4) > 0;
    return trial;
}

static void say_anything(struct maker *maker, struct trial *trial, bool kill)
{
    static const enum tick ticks[] = {TICK_UNDECIDED, TICK_YES, TICK_YES, TICK_NO, TICK_UNSURE, TICK_YES};
    for (size_t i = 0; i < trial->input.point_count; i++)
        trial->points[i] = (struct point_input){
            .tick = ticks[below(maker, 6)], .rejected = kill && below(maker, 8) == 0,
            .value = (enum value_shown)below(maker, 4), .unit = (enum unit_shown)below(maker, 5),
            .working = (enum working_shown)below(maker, 3), .figures_wrong = below(maker, 3) == 0};
}

static void gather_lists(struct maker *maker, const struct node *node, struct list_input *lists, size_t *count)
{
    static const enum item_kind kinds[] = {ITEM_RIGHT, ITEM_WRONG, ITEM_NEUTRAL};
    if (node->kind == NODE_LIST && *count < 8) {
        struct list_item *items = arena_get_array(maker->arena, 6, sizeof *items);
        struct list_input *list = &lists[(*count)++];
        *list = (struct list_input){.node = node->id, .known = below(maker, 2), .items = items,
                                    .item_count = (size_t)below(maker, 7), .wrong = (size_t)below(maker, 4)};
        for (size_t i = 0; i < list->item_count; i++)
            items[i] = (struct list_item){kinds[below(maker, 3)], below(maker, TRIAL_POINTS) - 1, "item"};
    }
    for (size_t i = 0; i < node->child_count; i++)
        gather_lists(maker, &node->children[i], lists, count);
}

/* 0 <= award <= maximum, lines add up: trial_award checks. From the contract; no outside source. */
Test(marking, property_sums_and_bounds)
{
    struct arena *arena = arena_new();
    struct maker maker = maker_new("sums and bounds", 20260301, arena);
    maker.lists = maker.levels = maker.implicit_methods = true;
    for (int round = 0; round < ROUNDS; round++) {
        struct trial *trial = make_trial(&maker);
        say_anything(&maker, trial, true);
        struct list_input lists[8];
        struct levels_input levels = {.node = "levels", .ratings = (const int[]){below(&maker, 5) - 1}, .rating_count = 1,
                                      .override = below(&maker, 3) ? OVERRIDE_NONE : below(&maker, 9) - 1};
        struct quality_input quality = {"quality", below(&maker, 4) - 1};
        trial->input.lists = lists;
        gather_lists(&maker, &trial->part.scheme.root, lists, &trial->input.list_count);
        trial->input.levels = &levels;
        trial->input.quality = &quality;
        trial->input.level_count = trial->input.quality_count = 1;
        trial->input.no_response = below(&maker, 20) == 0;
        const struct award *award = trial_award(trial);
        trial_award_on(trial);
        cr_assert(!award->no_response || award->marks == 0);
        trial_end(trial);
        arena_reset(arena);
    }
    arena_free(arena);
}

/* One more tick never costs a mark where no list rule, reject or level applies. */
Test(marking, property_one_more_tick)
{
    struct arena *arena = arena_new();
    struct maker maker = maker_new("one more tick", 20260302, arena);
    maker.implicit_methods = true;
    int raised = 0;
    for (int round = 0; round < ROUNDS; round++) {
        struct trial *trial = make_trial(&maker);
        say_anything(&maker, trial, false);
        int before = trial_award(trial)->marks;
        size_t chosen = (size_t)below(&maker, (int)trial->input.point_count);
        trial->points[chosen].tick = TICK_YES;
        int after = trial_award(trial)->marks;
        cr_assert_geq(after, before, "round %d: ticking p%zu took %d to %d", round, chosen, before, after);
        raised += after > before;
        trial_end(trial);
        arena_reset(arena);
    }
    cr_expect_gt(raised, ROUNDS / 20);
    arena_free(arena);
}

/* Turns the children of every node round, and the points' inputs with them. */
static struct node reversed(struct arena *arena, const struct node *node, const struct point_input *from, size_t *at,
                            struct point_input *to, size_t *end)
{
    struct node turned = *node;
    if (node->kind == NODE_POINT) {
        to[--*end] = from[(*at)++];
        return turned;
    }
    struct node *children = arena_get_array(arena, node->child_count, sizeof *children);
    for (size_t i = 0; i < node->child_count; i++)
        children[node->child_count - 1 - i] = reversed(arena, &node->children[i], from, at, to, end);
    turned.children = children;
    return turned;
}

/* The order of siblings makes no difference. Left out: the first n of a list and an accuracy point's nearest
 * method, where the rules speak of order, and units, which belong to the last number. */
Test(marking, property_order)
{
    struct arena *arena = arena_new();
    struct maker maker = maker_new("order", 20260303, arena);
    for (int round = 0; round < ROUNDS; round++) {
        struct trial *trial = make_trial(&maker);
        trial->part.scheme.unit_penalty = false;
        say_anything(&maker, trial, true);
        size_t at = 0, end = trial->input.point_count;
        struct trial *turned = trial_new(trial->part.scheme.root, trial->part.marks);
        turned->part.scheme = trial->part.scheme;
        turned->part.scheme.root = reversed(arena, &trial->part.scheme.root, trial->points, &at, turned->points, &end);
        cr_assert_eq(end, 0);
        int one = trial_award(trial)->marks, other = trial_award(turned)->marks;
        cr_assert_eq(one, other, "round %d: %d marks, turned round %d", round, one, other);
        trial_end(trial);
        trial_end(turned);
        arena_reset(arena);
    }
    arena_free(arena);
}
