#include <limits.h>
#include <string.h>
#include <criterion/criterion.h>

#include "bank/scheme.h"
#include "base/arena.h"
#include "base/buffer.h"
#include "base/random.h"
#include "sample.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

/* The sums are worked out by hand from the rules in the model's comments: common practice, no source. */
Test(bank, reachable_of_each_kind)
{
    struct node points[] = {sample_point("p", 1), sample_point("q", 3), sample_point("r", 2)};
    struct node node = sample_group(NODE_ALL, 0, points, 3);
    cr_expect_eq(scheme_reachable(&node), 6);
    node.marks = 4;
    cr_expect_eq(scheme_reachable(&node), 4, "a maximum below the sum caps it");
    node.marks = 9;
    cr_expect_eq(scheme_reachable(&node), 6, "a maximum above the sum adds nothing");
    node = sample_group(NODE_ANY, 2, points, 3);
    cr_expect_eq(scheme_reachable(&node), 5, "the best two, wherever they stand");
    node.take = 0;
    cr_expect_eq(scheme_reachable(&node), 0);
    node.take = -1;
    cr_expect_eq(scheme_reachable(&node), 0);
    node.take = 7;
    cr_expect_eq(scheme_reachable(&node), 6);
    struct node routes[] = {sample_group(NODE_ALL, 0, points, 2), sample_group(NODE_ALL, 0, points, 3)};
    node = sample_group(NODE_ROUTES, 0, routes, 2);
    cr_expect_eq(scheme_reachable(&node), 6, "the best route alone");
    struct node items[] = {sample_point("x", 2), sample_point("y", 2), sample_point("z", 2)};
    node = sample_group(NODE_LIST, 2, items, 3);
    cr_expect_eq(scheme_reachable(&node), 4);
    node = sample_group(NODE_ALL, 0, NULL, 0);
    cr_expect_eq(scheme_reachable(&node), 0);
}

Test(bank, reachable_of_levels_and_quality)
{
    static const struct level levels[] = {{1, 1, 2, "low"}, {2, 3, 4, "middle"}, {3, 5, 6, "high"}};
    static const struct band bands[] = {{2, "clear"}, {1, "mostly clear"}};
    static const struct node ideas[] = {{.kind = NODE_POINT, .id = "i", .marks = 0}};
    struct node nodes[] = {
        {.kind = NODE_LEVELS, .id = "l", .levels = levels, .level_count = 3, .indicative = ideas, .indicative_count = 1},
        {.kind = NODE_QUALITY, .id = "k", .bands = bands, .band_count = 2},
    };
    struct node root = sample_group(NODE_ALL, 0, nodes, 2);
    cr_expect_eq(scheme_reachable(&nodes[0]), 6);
    cr_expect_eq(scheme_reachable(&nodes[1]), 2);
    cr_expect_eq(scheme_reachable(&root), 8);
    cr_expect(scheme_has_levels(&root));
    cr_expect_not(scheme_has_levels(&nodes[1]));
    cr_expect_eq(scheme_point_count(&root), 0, "indicative content is not counted");
    cr_expect_eq(scheme_find(&root, "i"), &ideas[0], "but it is found by its id");
    nodes[0].level_count = 0;
    nodes[1].band_count = 0;
    cr_expect_eq(scheme_reachable(&root), 0);
}

Test(bank, reachable_does_not_overflow)
{
    struct node points[] = {sample_point("p", INT_MAX), sample_point("q", INT_MAX), sample_point("r", -5)};
    struct node node = sample_group(NODE_ALL, 0, points, 3);
    cr_expect_eq(scheme_reachable(&node), INT_MAX);
    cr_expect_eq(scheme_reachable(&points[2]), 0);
}

static bool note_id(const struct node *point, void *context)
{
    buffer_print(context, "%s ", point->id);
    return strcmp(point->id, "stop") != 0;
}

Test(bank, points_in_document_order)
{
    struct node one[] = {sample_point("b1", 1), sample_point("b2", 1)};
    struct node two[] = {sample_point("c1", 1)};
    struct node routes[] = {sample_group(NODE_ALL, 0, one, 2), sample_group(NODE_ALL, 0, two, 1)};
    struct node last[] = {sample_point("d1", 1), sample_point("stop", 1), sample_point("never", 1)};
    struct node top[] = {sample_point("a", 1), sample_group(NODE_ROUTES, 0, routes, 2),
                         sample_group(NODE_ANY, 1, last, 3)};
    struct node root = sample_group(NODE_ALL, 0, top, 3);
    routes[1].id = "way";
    struct buffer seen = BUFFER_EMPTY;
    scheme_each_point(&root, note_id, &seen);
    cr_expect_str_eq(buffer_text(&seen), "a b1 b2 c1 d1 stop ");
    buffer_free(&seen);
    cr_expect_eq(scheme_point_count(&root), 7);
    cr_expect_eq(scheme_find(&root, "c1"), &two[0]);
    cr_expect_eq(scheme_find(&root, "way"), &routes[1]);
    cr_expect_null(scheme_find(&root, "c2"));
    cr_expect_null(scheme_find(&root, ""));
}

Test(bank, answer_point_is_the_last_with_a_number)
{
    static const struct number_key key = {.value = "1", .unit = "", .places = -1};
    struct node points[] = {sample_point("p", 1), sample_point("q", 1), sample_point("r", 1)};
    struct node root = sample_group(NODE_ALL, 0, points, 3);
    cr_expect_null(scheme_answer_point(&root));
    points[0].number = &key;
    cr_expect_eq(scheme_answer_point(&root), &points[0]);
    points[1].number = &key;
    cr_expect_eq(scheme_answer_point(&root), &points[1]);
}

Test(bank, a_unit_is_wanted_where_the_answer_has_one_that_is_not_printed)
{
    static const struct number_key metres = {.unit = "m"}, printed = {.unit = "m", .unit_printed = true}, ratio = {.unit = ""},
                                   without = {.unit = NULL};
    struct node points[] = {sample_point("a", 1), sample_point("b", 1)};
    struct node root = sample_group(NODE_ALL, 0, points, 2);
    cr_expect_not(scheme_wants_unit(&root), "no number");
    points[0].number = &metres;
    cr_expect(scheme_wants_unit(&root));
    points[1].number = &ratio;
    cr_expect_not(scheme_wants_unit(&root), "the answer is the last number");
    points[1].number = &printed;
    cr_expect_not(scheme_wants_unit(&root));
    points[1].number = &without;
    cr_expect_not(scheme_wants_unit(&root));
    points[1].number = &metres;
    cr_expect(scheme_wants_unit(&root));
}

Test(bank, method_of_an_accuracy_point)
{
    struct node one[] = {sample_point("m1", 1), sample_point("a1", 1)};
    struct node two[] = {sample_point("a2", 1), sample_point("c2", 1), sample_point("a3", 1)};
    one[0].point_kind = POINT_METHOD;
    two[1].point_kind = POINT_IMPLIED;
    struct node routes[] = {sample_group(NODE_ALL, 0, one, 2), sample_group(NODE_ALL, 0, two, 3)};
    struct node top[] = {sample_point("a0", 1), sample_group(NODE_ROUTES, 0, routes, 2), sample_point("a4", 1)};
    struct node root = sample_group(NODE_ALL, 0, top, 3);
    cr_expect_null(scheme_method_of(&root, &top[0]), "nothing stands before it");
    cr_expect_eq(scheme_method_of(&root, &one[1]), &one[0]);
    cr_expect_null(scheme_method_of(&root, &two[0]), "another route's method is none of this one");
    cr_expect_eq(scheme_method_of(&root, &two[2]), &two[1], "an implied point serves as the method");
    cr_expect_eq(scheme_method_of(&root, &top[2]), &two[1], "behind the routes the last one counts");
    struct node elsewhere = sample_point("x", 1);
    cr_expect_null(scheme_method_of(&root, &elsewhere));
    cr_expect_not(scheme_gives_method(&one[1]));
    cr_expect_not(scheme_gives_method(&root));
}

static struct node random_node(struct random_source *source, struct arena *arena, unsigned depth)
{
    static const enum node_kind kinds[] = {NODE_ALL, NODE_ANY, NODE_ROUTES, NODE_LIST};
    if (depth == 0 || random_below(source, 3) == 0)
        return sample_point("p", 1 + (int)random_below(source, 3));
    size_t count = 1 + random_below(source, 5);
    struct node *children = arena_get_array(arena, count, sizeof *children);
    for (size_t i = 0; i < count; i++)
        children[i] = random_node(source, arena, depth - 1);
    struct node node = sample_group(kinds[random_below(source, COUNT(kinds))], 1 + (int)random_below(source, count),
                                    children, count);
    if (node.kind == NODE_ALL)
        node.marks = (int)random_below(source, 8);
    return node;
}

/* What can be said of any tree without adding it up: between its best child and the sum of its children, and
 * with one more to take never less. */
static void check_bounds(const struct node *node, uint64_t seed)
{
    int reachable = scheme_reachable(node), sum = 0, best = 0;
    for (size_t i = 0; i < node->child_count; i++) {
        int child = scheme_reachable(&node->children[i]);
        sum += child;
        best = child > best ? child : best;
        check_bounds(&node->children[i], seed);
    }
    if (node->kind == NODE_POINT)
        return;
    bool capped = node->kind == NODE_ALL && node->marks > 0;
    cr_expect(reachable <= sum, "seed %llu", (unsigned long long)seed);
    cr_expect(reachable >= best || (capped && reachable == node->marks), "seed %llu", (unsigned long long)seed);
    cr_expect(node->kind != NODE_ROUTES || reachable == best, "seed %llu", (unsigned long long)seed);
    if (node->kind == NODE_ANY || node->kind == NODE_LIST) {
        struct node more = *node;
        more.take++;
        cr_expect(scheme_reachable(&more) >= reachable, "seed %llu", (unsigned long long)seed);
        more.take = (int)node->child_count;
        cr_expect_eq(scheme_reachable(&more), sum, "seed %llu", (unsigned long long)seed);
    }
}

Test(bank, reachable_lies_within_bounds)
{
    uint64_t seed = sample_seed(20250301);
    struct random_source source = {seed};
    struct arena *arena = arena_new();
    for (int i = 0; i < 500; i++) {
        arena_reset(arena);
        struct node node = random_node(&source, arena, 5);
        check_bounds(&node, seed);
    }
    arena_free(arena);
}
