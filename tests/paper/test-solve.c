/* The solver against exhaustive search, which tries every subset of a small bank and judges it by blueprint_judge alone;
 * blueprint_judge against sums written out by hand. No outside source. */
#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

#include "base/random.h"
#include "paper/blueprint.h"

static const struct solve_options patient = {.seconds = 60};

/* ---- Shares ------------------------------------------------------------------------------------------------- */

/* 40 % of 60 marks is 24, the tolerance 2 marks (3 points are 1.8); of 100 it is 40, and 3 points are 3. */
Test(paper, shares_have_their_tolerance)
{
    struct aim aim = {.weight = 1};
    aim_set_share(&aim, 40, 60);
    cr_expect(aim.least == 22 && aim.low == 24 && aim.high == 24 && aim.most == 26);
    aim_set_share(&aim, 40, 100);
    cr_expect(aim.least == 37 && aim.most == 43);
    aim_set_share(&aim, 8, 60);     /* 4.8 */
    cr_expect(aim.least == 3 && aim.low == 4 && aim.high == 5 && aim.most == 6);
    aim_set_share(&aim, 0, 60);
    cr_expect(aim.least == 0 && aim.low == 0 && aim.high == 0 && aim.most == 2);
    aim_set_share(&aim, 100, 1);
    cr_expect(aim.least == 0 && aim.low == 1 && aim.high == 1 && aim.most == 1);
    aim_set_share(&aim, 12.5, 40);
    cr_expect(aim.low == 5 && aim.high == 5);
}

/* 8 % of 60 is 4.8, of 20 it is 1.6, of 25 it is 2. */
Test(paper, topics_have_room_for_whole_questions_but_are_covered)
{
    struct aim aim = {.weight = 1};
    aim_set_topic_share(&aim, 8, 60);
    cr_expect(aim.least == 2 && aim.low == 4 && aim.high == 5 && aim.most == 7);
    aim_set_topic_share(&aim, 8, 25);
    cr_expect(aim.least == 1 && aim.low == 2 && aim.high == 2 && aim.most == 5);
    aim_set_topic_share(&aim, 8, 20);
    cr_expect(aim.least == 0 && aim.low == 1 && aim.high == 2 && aim.most == 4);
    aim_set_topic_share(&aim, 50, 200);
    cr_expect(aim.least == 94 && aim.most == 106);
}

Test(paper, a_least_share_has_no_most_and_a_loose_one_neither)
{
    struct aim aim = {.weight = 1};
    aim_set_least_share(&aim, 20, 60);
    cr_expect(aim.least == 12 && aim.low == 12 && aim.high == 14 && aim.most == 60);
    aim_set_least_share(&aim, 100, 10);
    cr_expect(aim.least == 10 && aim.high == 10 && aim.most == 10);
    aim_set_loose_share(&aim, 8, 60);
    cr_expect(aim.least == 0 && aim.low == 4 && aim.high == 5 && aim.most == 60);
}

/* ---- Judging ------------------------------------------------------------------------------------------------ */

Test(paper, a_choice_is_judged_in_whole_numbers)
{
    static const struct aim aims[] = {{AIM_OBJECTIVE, 0, 2, 3, 4, 5, 1000}};
    static const int two[] = {2}, three[] = {3}, none[] = {0};
    static const struct item items[] = {{4, 300, 7, 0, two, false}, {5, 300, 1, 0, three, false}, {3, 100, 2, 0, none, true}};
    static const struct enemies pairs[] = {{0, 1}};
    const struct blueprint blueprint = {9, 600, aims, 1, items, 3, pairs, 1};
    struct arena *arena = arena_new();
    struct verdict verdict;
    blueprint_judge(&blueprint, (bool[]){true, true, false}, arena, &verdict);
    cr_expect(verdict.marks == 9 && verdict.seconds == 600 && verdict.given[0] == 5 && verdict.enemies_meet);
    cr_expect(verdict.cost == 7 + 1 + 1000 && verdict.missed == 0 && !verdict.meets_all);
    blueprint_judge(&blueprint, (bool[]){true, false, true}, arena, &verdict);
    cr_expect(verdict.marks == 7 && verdict.given[0] == 2 && verdict.cost == 9 + 1000 && verdict.uses_kept_out);
    cr_expect_eq(verdict.missed, 2 * 10000L);
    blueprint_judge(&blueprint, (bool[]){false, false, true}, arena, &verdict);     /* 6 marks and 2 of the aim missed */
    cr_expect_eq(verdict.missed, 6 * 10000L + 2 * 1000L);
    cr_expect_eq(verdict.cost, 2 + 1000);
    blueprint_judge(&(struct blueprint){9, 500, aims, 1, items, 3, NULL, 0}, (bool[]){true, true, false}, arena, &verdict);
    cr_expect_eq(verdict.missed, 100 * 10L);
    arena_free(arena);
}

/* ---- Small random banks ------------------------------------------------------------------------------------- */

enum { AIMS = 6, MOST_ITEMS = 13, BANKS = 50 };

static struct blueprint random_blueprint(struct random_source *source, struct arena *arena)
{
    struct blueprint blueprint = {.marks = 8 + (int)random_below(source, 16), .aim_count = AIMS,
                                  .item_count = 9 + random_below(source, MOST_ITEMS - 8)};
    struct aim *aims = arena_get_array(arena, AIMS, sizeof *aims);
    struct item *items = arena_get_array(arena, blueprint.item_count, sizeof *items);
    struct enemies *enemies = arena_get_array(arena, 4, sizeof *enemies);
    for (int i = 0; i < 3; i++)
        aim_set_share(&aims[i], (double[]){40, 40, 20}[i], blueprint.marks);
    aim_set_least_share(&aims[3], 20, blueprint.marks);
    aim_set_loose_share(&aims[4], 50, blueprint.marks);
    aim_set_loose_share(&aims[5], 50, blueprint.marks);
    for (int i = 0; i < AIMS; i++)
        aims[i].weight = 10;
    for (size_t i = 0; i < blueprint.item_count; i++) {
        int *gives = arena_get_array(arena, AIMS, sizeof *gives), marks = 1 + (int)random_below(source, 6);
        for (int mark = 0; mark < marks; mark++)
            gives[random_below(source, 3)]++;
        gives[3] = random_below(source, 2) ? gives[1] : 0;
        gives[4 + random_below(source, 2)] = marks;
        items[i] = (struct item){marks, 72 * marks + (random_below(source, 4) ? 0 : 30), (int)random_below(source, 10) * marks, 0,
                                 gives, random_below(source, 8) == 0};
        if (i && random_below(source, 3) == 0) {    /* alike but for the cost: the solver takes them together */
            items[i] = items[random_below(source, i)];
            items[i].cost = (int)random_below(source, 3) * items[i].marks;
        }
    }
    blueprint.enemy_count = random_below(source, 5);
    for (size_t i = 0; i < blueprint.enemy_count; i++) {
        enemies[i].one = random_below(source, blueprint.item_count);
        enemies[i].other = (enemies[i].one + 1 + random_below(source, blueprint.item_count - 1)) % blueprint.item_count;
    }
    blueprint.seconds = 72 * blueprint.marks + (int)random_below(source, 60) - 20;
    blueprint.aims = aims;
    blueprint.items = items;
    blueprint.enemies = enemies;
    return blueprint;
}

static int largest(const struct blueprint *blueprint)
{
    int most = 0;
    for (size_t i = 0; i < blueprint->item_count; i++)
        most = blueprint->items[i].marks > most ? blueprint->items[i].marks : most;
    return most;
}

static bool may_be(const struct blueprint *blueprint, enum solve_kind kind, const struct verdict *verdict)
{
    if (kind == SOLVE_STRICT)
        return verdict->meets_all;
    return verdict->marks <= blueprint->marks + largest(blueprint) &&
           (kind == SOLVE_NEAREST_WITH_ALL || !verdict->uses_kept_out) &&
           (kind != SOLVE_NEAREST || !verdict->enemies_meet);
}

/* The least cost of all subsets; -1 when none may be. */
static long search(const struct blueprint *blueprint, enum solve_kind kind)
{
    struct arena *arena = arena_new();
    long best = -1;
    for (unsigned long set = 0; set < 1UL << blueprint->item_count; set++) {
        bool chosen[MOST_ITEMS] = {false};
        struct verdict verdict;
        for (size_t i = 0; i < blueprint->item_count; i++)
            chosen[i] = set >> i & 1;
        arena_reset(arena);
        blueprint_judge(blueprint, chosen, arena, &verdict);
        long cost = verdict.cost + verdict.missed;
        if (may_be(blueprint, kind, &verdict) && (best < 0 || cost < best))
            best = cost;
    }
    arena_free(arena);
    return best;
}

static void compare_with_search(const struct blueprint *blueprint, enum solve_kind kind, int number, int *possible)
{
    struct arena *arena = arena_new();
    struct choice choice;
    long best = search(blueprint, kind);
    blueprint_solve(blueprint, kind, &patient, arena, &choice);
    if (best < 0) {
        cr_expect_eq(choice.outcome, SOLVE_NONE, "bank %d kind %d: outcome %d", number, (int)kind, (int)choice.outcome);
    } else {
        cr_expect_eq(choice.outcome, SOLVE_BEST, "bank %d kind %d: outcome %d", number, (int)kind, (int)choice.outcome);
        cr_expect_eq(choice.verdict.cost + choice.verdict.missed, best, "bank %d kind %d: %ld, best %ld", number, (int)kind,
                     choice.verdict.cost + choice.verdict.missed, best);
        cr_expect(may_be(blueprint, kind, &choice.verdict));
        *possible += kind == SOLVE_STRICT;
    }
    arena_free(arena);
}

Test(paper, the_choice_is_the_one_that_exhaustive_search_finds, .timeout = 300)
{
    const char *given = getenv("OWNMARK_SEED");
    uint64_t seed = given ? strtoull(given, NULL, 10) : random_fresh_seed();
    cr_log_info("seed %llu", (unsigned long long)seed);
    struct random_source source = {seed};
    int possible = 0;
    for (int number = 0; number < BANKS; number++) {
        struct arena *arena = arena_new();
        struct blueprint blueprint = random_blueprint(&source, arena);
        for (enum solve_kind kind = SOLVE_STRICT; kind <= SOLVE_NEAREST_WITH_ALL; kind++)
            compare_with_search(&blueprint, kind, number, &possible);
        arena_free(arena);
    }
    cr_log_info("%d of %d banks hold a paper that meets all", possible, BANKS);
    cr_expect(possible >= 1, "seed %llu: too few banks with a paper for a trial", (unsigned long long)seed);
}

/* Ten that are alike but for cost and tie, two of which fit: the two cheapest, and of equals those with the least tie. */
Test(paper, of_items_that_are_alike_the_cheapest_are_taken)
{
    static const struct aim aims[] = {{AIM_OBJECTIVE, 0, 0, 10, 10, 10, 10}};
    static const int gives[] = {5};
    struct item items[10];
    struct choice choice;
    struct arena *arena = arena_new();
    for (int i = 0; i < 10; i++)
        items[i] = (struct item){.marks = 5, .seconds = 300, .cost = 5 * ((9 - i) / 3), .tie = 9 - i, .gives = gives};
    const struct blueprint blueprint = {.marks = 10, .seconds = 600, .aims = aims, .aim_count = 1, .items = items,
                                        .item_count = 10};
    blueprint_solve(&blueprint, SOLVE_STRICT, &patient, arena, &choice);
    cr_assert_eq(choice.outcome, SOLVE_BEST);
    cr_expect_eq(choice.verdict.cost, 0);
    cr_expect(choice.chosen[9] && choice.chosen[8] && !choice.chosen[7]);
    arena_free(arena);
}

/* No items, or none that fit: nothing to choose, and the nearest is the empty paper. */
Test(paper, without_items_there_is_no_choice)
{
    static const int gives[] = {0};
    static const struct item large[] = {{.marks = 50, .seconds = 1, .gives = gives}};
    struct arena *arena = arena_new();
    struct choice choice;
    blueprint_solve(&(struct blueprint){.marks = 10, .seconds = 600}, SOLVE_STRICT, &patient, arena, &choice);
    cr_expect_eq(choice.outcome, SOLVE_NONE);
    blueprint_solve(&(struct blueprint){.marks = 10, .seconds = 600}, SOLVE_NEAREST, &patient, arena, &choice);
    cr_expect_eq(choice.outcome, SOLVE_BEST);
    cr_expect_eq(choice.verdict.missed, 10 * 10000L);
    const struct blueprint blueprint = {.marks = 10, .seconds = 600, .items = large, .item_count = 1};
    blueprint_solve(&blueprint, SOLVE_STRICT, &patient, arena, &choice);
    cr_expect_eq(choice.outcome, SOLVE_NONE);
    cr_expect(!choice.chosen[0]);
    arena_free(arena);
}

static bool stop_at_once(void *asked, const struct solve_progress *progress)
{
    ++*(int *)asked;
    cr_expect(progress->elapsed >= 0 && progress->gap >= 0 && progress->gap <= 1);
    return false;
}

/* Time that is over at once, or somebody who does not want to go on: what is there counts, and is never said to be best. */
Test(paper, stopping_early_never_claims_the_best)
{
    struct random_source source = {4};
    for (int i = 0; i < 20; i++) {
        struct arena *arena = arena_new();
        struct blueprint blueprint = random_blueprint(&source, arena);
        struct choice choice, best;
        int asked = 0;
        blueprint_solve(&blueprint, SOLVE_NEAREST, &patient, arena, &best);
        blueprint_solve(&blueprint, SOLVE_NEAREST,
                        &(struct solve_options){.seconds = 1e-9, .go_on = stop_at_once, .context = &asked}, arena, &choice);
        if (choice.outcome == SOLVE_FOUND || choice.outcome == SOLVE_BEST) {
            long cost = choice.verdict.cost + choice.verdict.missed, least = best.verdict.cost + best.verdict.missed;
            cr_expect(choice.outcome == SOLVE_BEST ? cost == least : cost >= least);
            cr_expect(choice.bound <= (double)least + 1e-6);
        } else {
            cr_expect_eq(choice.outcome, SOLVE_STOPPED);
        }
        arena_free(arena);
    }
}
