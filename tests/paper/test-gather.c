/* From banks and wishes to a blueprint. Banks are those of trial.c; what is expected was worked out by hand. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "paper/gather.h"
#include "trial.h"

static const struct trial_question few[] = {
    {"k1", "a", "high", "1:2", "p1"},
    {"p1", "a", "low", "2:2m 3:1", "k1"},
    {"n1", "b", NULL, "3:4", NULL},
};

static struct bank *open_few(const char *name, const char *id)
{
    trial_bank(name, id, few, 3, "");
    return trial_open(trial_path(name));
}

static const struct aim *aim_of(const struct gathered *gathered, enum aim_kind kind, int index, size_t *at)
{
    for (*at = 0; *at < gathered->blueprint.aim_count; (*at)++)
        if (gathered->blueprint.aims[*at].kind == kind && gathered->blueprint.aims[*at].index == index)
            return &gathered->blueprint.aims[*at];
    return NULL;
}

static int gives(const struct gathered *gathered, size_t item, enum aim_kind kind, int index)
{
    size_t at;
    cr_assert(aim_of(gathered, kind, index, &at));
    return gathered->blueprint.items[item].gives[at];
}

Test(paper, questions_give_marks_to_what_they_are_about, .init = trial_begin, .fini = trial_end)
{
    struct messages messages = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    struct bank *bank = open_few("bank.xml", "one");
    struct gathered gathered;
    const struct paper_wishes wishes = {.marks = 10, .seed = 3};
    cr_assert(gather(&bank, 1, &wishes, arena, &gathered, &messages));
    const struct blueprint *blueprint = &gathered.blueprint;
    cr_assert_eq(blueprint->item_count, 3);
    cr_expect(blueprint->items[1].marks == 3 && blueprint->items[1].seconds == 180);
    cr_expect_eq(gives(&gathered, 1, AIM_OBJECTIVE, 0), 0);
    cr_expect_eq(gives(&gathered, 1, AIM_OBJECTIVE, 1), 2);
    cr_expect_eq(gives(&gathered, 1, AIM_OBJECTIVE, 2), 1);
    cr_expect_eq(gives(&gathered, 1, AIM_SKILL, 0), 2);
    cr_expect_eq(gives(&gathered, 1, AIM_TOPIC, 0), 3);
    cr_expect_eq(gives(&gathered, 1, AIM_TOPIC, 1), 0);
    cr_expect_eq(gives(&gathered, 0, AIM_DEMAND, DEMAND_HIGH), 2);
    cr_expect_eq(gives(&gathered, 2, AIM_DEMAND, DEMAND_STANDARD), 4);
    cr_assert_eq(blueprint->enemy_count, 2);    /* both name it */
    cr_expect(blueprint->enemies[0].one == 0 && blueprint->enemies[0].other == 1);
    cr_expect(gathered.minutes == 10 && blueprint->seconds == 630);     /* a minute a mark, and a twentieth more */
    bank_close(bank);
    arena_free(arena);
}

Test(paper, wishes_narrow_the_choice, .init = trial_begin, .fini = trial_end)
{
    struct messages messages = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    struct bank *bank = open_few("bank.xml", "one");
    struct gathered gathered;
    size_t at;
    const char *topics[] = {"a"};
    struct paper_wishes wishes = {.marks = 10, .minutes = 9, .topics = topics, .topic_count = 1};
    cr_assert(gather(&bank, 1, &wishes, arena, &gathered, &messages));
    cr_expect_eq(gathered.blueprint.item_count, 2);
    cr_expect(gathered.minutes == 9 && gathered.blueprint.seconds == 9 * 60 + 30);
    cr_expect_eq(aim_of(&gathered, AIM_TOPIC, 0, &at)->low, 10, "the topic's share is all of the paper");
    cr_expect_null(aim_of(&gathered, AIM_TOPIC, 1, &at));
    cr_expect_eq(aim_of(&gathered, AIM_SKILL, 0, &at)->least, 0);
    cr_expect_eq(aim_of(&gathered, AIM_SKILL, 0, &at)->low, 2);
    wishes = (struct paper_wishes){.marks = 10, .only_demands = {true, false, true}};
    cr_assert(gather(&bank, 1, &wishes, arena, &gathered, &messages));
    cr_expect_eq(gathered.blueprint.item_count, 2);
    wishes = (struct paper_wishes){.marks = 10, .topics = topics, .topic_count = 1, .only_demands = {false, true, false}};
    cr_expect(!gather(&bank, 1, &wishes, arena, &gathered, &messages));
    cr_expect_str_eq(messages.items[0].text, "no question of the bank has the topic and demand that were asked for; ask for more");
    topics[0] = "c";
    wishes = (struct paper_wishes){.marks = 10, .topics = topics, .topic_count = 1};
    cr_expect(!gather(&bank, 1, &wishes, arena, &gathered, &messages));
    bank_close(bank);
    arena_free(arena);
    messages_free(&messages);
}

/* The seed gives costs and numbers; each question has its own, whatever else is in the bank. */
Test(paper, seeds_decide_and_nothing_else, .init = trial_begin, .fini = trial_end)
{
    struct messages messages = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    struct bank *banks[2] = {open_few("bank.xml", "one"), NULL};
    trial_bank("other.xml", "two", few, 3, "");
    banks[1] = trial_open(trial_path("other.xml"));
    struct gathered alone, both, other;
    const struct paper_wishes wishes = {.marks = 10, .seed = 3}, differently = {.marks = 10, .seed = 4};
    cr_assert(gather(banks, 1, &wishes, arena, &alone, &messages));
    cr_assert(gather(banks, 2, &wishes, arena, &both, &messages));
    cr_assert(gather(banks, 1, &differently, arena, &other, &messages));
    cr_assert_eq(both.blueprint.item_count, 6);
    bool differ = false;
    for (size_t i = 0; i < 3; i++) {
        cr_expect_eq(alone.blueprint.items[i].cost, both.blueprint.items[i].cost);
        cr_expect_eq(alone.blueprint.items[i].tie, both.blueprint.items[i].tie);
        differ = differ || alone.blueprint.items[i].tie != other.blueprint.items[i].tie;
        cr_expect_eq(gather_variant(&alone, i), 0, "it does not vary");
        cr_expect(both.blueprint.items[i].cost % both.blueprint.items[i].marks == 0 &&
                  both.blueprint.items[i].cost <= 9 * both.blueprint.items[i].marks);
    }
    cr_expect(differ);
    cr_expect_eq(both.places[4].bank, 1);
    bank_close(banks[0]);
    bank_close(banks[1]);
    arena_free(arena);
}

Test(paper, demand_rises_through_the_paper, .init = trial_begin, .fini = trial_end)
{
    struct messages messages = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    struct bank *bank = open_few("bank.xml", "one");
    struct gathered gathered;
    const struct paper_wishes wishes = {.marks = 10};
    size_t *order;
    cr_assert(gather(&bank, 1, &wishes, arena, &gathered, &messages));
    cr_assert_eq(gather_order(&gathered, (bool[]){true, true, true}, arena, &order), 3);
    cr_expect(order[0] == 1 && order[1] == 2 && order[2] == 0);
    cr_assert_eq(gather_order(&gathered, (bool[]){true, false, false}, arena, &order), 1);
    cr_expect_eq(order[0], 0);
    bank_close(bank);
    arena_free(arena);
}

Test(paper, banks_must_go_together, .init = trial_begin, .fini = trial_end)
{
    struct messages messages = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    struct bank *one = open_few("bank.xml", "one"), *same = open_few("same.xml", "one");
    struct bank *foreign = trial_open("tests/data/paper-bank.xml");
    struct gathered gathered;
    const struct paper_wishes wishes = {.marks = 10};
    cr_expect(!gather((struct bank *[]){one, same}, 2, &wishes, arena, &gathered, &messages));
    cr_expect(!gather((struct bank *[]){one, foreign}, 2, &wishes, arena, &gathered, &messages));
    cr_assert_eq(messages.count, 2);
    cr_expect(strstr(messages.items[0].text, "the bank's id 'one' is that of"));
    cr_expect_str_eq(messages.items[1].text, "its course is 'Short Shore Course', and that of the first bank 'Trials & errors'; "
                                             "a paper takes banks of one course");
    bank_close(one);
    bank_close(same);
    bank_close(foreign);
    arena_free(arena);
    messages_free(&messages);
}

/* Its questions have 5, 7 and 9 marks with few mixes of objectives: no number of each gives 100 marks within the shares.
 * A solver that tries the topics of each finds no end. */
static void expect_none_of_a_hundred(struct bank *bank)
{
    struct messages messages = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    struct gathered gathered;
    struct choice choice;
    const struct paper_wishes wishes = {.marks = 100, .seed = 1};
    cr_assert(gather(&bank, 1, &wishes, arena, &gathered, &messages));
    blueprint_solve(&gathered.blueprint, SOLVE_STRICT, &(struct solve_options){.seconds = 20}, arena, &choice);
    cr_expect_eq(choice.outcome, SOLVE_NONE);
    arena_free(arena);
}

/* The whole way on the generated bank: found, proven, and within 1 % of its bound. */
Test(paper, ten_thousand_questions, .init = trial_begin, .fini = trial_end, .timeout = 120)
{
    const char *generator = getenv("MAKE_BANK");
    char command[512];
    cr_assert(generator, "MAKE_BANK does not name the generator");
    snprintf(command, sizeof command, "'%s' 10000 >'%s'", generator, trial_path("large.xml"));
    cr_assert_eq(system(command), 0);
    struct messages messages = MESSAGES_EMPTY;
    struct bank *bank = trial_open(trial_path("large.xml"));
    for (uint64_t seed = 1; seed <= 5; seed++) {
        struct arena *arena = arena_new();
        struct gathered gathered;
        struct choice choice;
        const struct paper_wishes wishes = {.marks = 60, .seed = seed};
        cr_assert(gather(&bank, 1, &wishes, arena, &gathered, &messages));
        blueprint_solve(&gathered.blueprint, SOLVE_STRICT, &(struct solve_options){.seconds = 60}, arena, &choice);
        cr_expect(choice.outcome == SOLVE_BEST || choice.outcome == SOLVE_FOUND);
        cr_expect(choice.verdict.meets_all);
        cr_expect((double)choice.verdict.cost <= choice.bound * 1.01 + 1e-6, "cost %ld, bound %g", choice.verdict.cost,
                  choice.bound);
        arena_free(arena);
    }
    expect_none_of_a_hundred(bank);
    bank_close(bank);
}

/* The shipped bank, as a teacher would: the same seed twice is the same paper, another seed another. */
Test(paper, the_same_seed_gives_the_same_paper)
{
    struct messages messages = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    struct bank *bank = trial_open("banks/coastal-science.xml");
    struct choice choices[3];
    size_t count = 0;
    for (uint64_t i = 0; i < 3; i++) {
        struct gathered gathered;
        const struct paper_wishes wishes = {.marks = 40, .seed = 5 + i / 2};
        cr_assert(gather(&bank, 1, &wishes, arena, &gathered, &messages));
        blueprint_solve(&gathered.blueprint, SOLVE_STRICT, &(struct solve_options){.seconds = 60}, arena, &choices[i]);
        cr_assert_eq(choices[i].outcome, SOLVE_BEST);
        count = gathered.blueprint.item_count;
    }
    cr_expect_arr_eq(choices[0].chosen, choices[1].chosen, count * sizeof(bool));
    cr_expect_arr_neq(choices[0].chosen, choices[2].chosen, count * sizeof(bool));
    bank_close(bank);
    arena_free(arena);
}
