/* Demands that cannot be met, each explained. Banks and expected words were worked out by hand; no outside source. */
#include <stdlib.h>
#include <string.h>

#include "paper/explain.h"
#include "report/text.h"
#include "trial.h"

#define QUESTIONS(...) (const struct trial_question[]){__VA_ARGS__}
#define COUNT(array) (sizeof(array) / sizeof *(array))

/* Twelve marks of each topic; a paper of 10 marks can be made of them in many ways. */
static const struct trial_question plenty[] = {
    {"k1", "a", "low", "1:2", NULL},         {"k2", "b", "low", "1:2", NULL},         {"k3", "a", "low", "1:1", NULL},
    {"k4", "b", "low", "1:1", NULL},         {"p1", "a", "standard", "2:2m", NULL},   {"p2", "b", "standard", "2:2m", NULL},
    {"p3", "a", "standard", "2:1m", NULL},   {"p4", "b", "standard", "2:1", NULL},    {"n1", "a", "high", "3:2", NULL},
    {"n2", "b", "high", "3:2", NULL},
};

struct outcome {
    struct gathered gathered;
    struct choice strict, nearest, with_enemies, with_all;
    struct arena *arena;
    struct bank *bank;
    struct paper_wishes wishes;
    char *said;             /* misses and bars as text */
};

static void explain(struct outcome *outcome)
{
    struct page *page = page_new();
    struct buffer out = BUFFER_EMPTY;
    explain_misses(page, &outcome->gathered, &outcome->nearest.verdict);
    explain_bars(page, &outcome->nearest.verdict, &outcome->with_enemies.verdict, &outcome->with_all.verdict);
    page_render_text(page, &(struct text_look){.width = 100}, &out);
    outcome->said = buffer_take(&out);
    page_free(page);
}

static void try(struct outcome *outcome, const struct trial_question *questions, size_t count, struct paper_wishes wishes)
{
    const struct solve_options options = {.seconds = 20};
    struct messages messages = MESSAGES_EMPTY;
    trial_bank("bank.xml", "trial", questions, count, "");
    outcome->bank = trial_open(trial_path("bank.xml"));
    outcome->arena = arena_new();
    outcome->wishes = wishes;
    cr_assert(gather(&outcome->bank, 1, &outcome->wishes, outcome->arena, &outcome->gathered, &messages));
    const struct blueprint *blueprint = &outcome->gathered.blueprint;
    blueprint_solve(blueprint, SOLVE_STRICT, &options, outcome->arena, &outcome->strict);
    blueprint_solve(blueprint, SOLVE_NEAREST, &options, outcome->arena, &outcome->nearest);
    blueprint_solve(blueprint, SOLVE_NEAREST_WITH_ENEMIES, &options, outcome->arena, &outcome->with_enemies);
    blueprint_solve(blueprint, SOLVE_NEAREST_WITH_ALL, &options, outcome->arena, &outcome->with_all);
    explain(outcome);
}

static void put_away(struct outcome *outcome)
{
    free(outcome->said);
    arena_free(outcome->arena);
    bank_close(outcome->bank);
}

static void expect_said(const struct trial_question *questions, size_t count, struct paper_wishes wishes, const char *said)
{
    struct outcome outcome;
    try(&outcome, questions, count, wishes);
    cr_expect_eq(outcome.strict.outcome, SOLVE_NONE);
    cr_expect_eq(outcome.nearest.outcome, SOLVE_BEST);
    cr_expect_str_eq(outcome.said, said);
    put_away(&outcome);
}

Test(paper, what_can_be_met_needs_no_words, .init = trial_begin, .fini = trial_end)
{
    struct outcome outcome;
    try(&outcome, plenty, COUNT(plenty), (struct paper_wishes){.marks = 10});
    cr_expect_eq(outcome.strict.outcome, SOLVE_BEST);
    cr_expect(outcome.nearest.verdict.meets_all);
    cr_expect_eq(outcome.nearest.verdict.cost, outcome.strict.verdict.cost);
    cr_expect_str_eq(outcome.said, "");
    put_away(&outcome);
}

Test(paper, too_many_marks_for_the_bank, .init = trial_begin, .fini = trial_end)
{
    expect_said(plenty, COUNT(plenty), (struct paper_wishes){.marks = 18},
                "- the total: 16 marks of 18, 2 too few; all questions that may be used hold 16 marks\n");
}

Test(paper, an_odd_total_of_even_questions, .init = trial_begin, .fini = trial_end)
{
    const struct trial_question *even = QUESTIONS({"k1", "a", NULL, "1:2", NULL}, {"k2", "b", NULL, "1:2", NULL},
                                                  {"p1", "a", NULL, "2:2m", NULL}, {"p2", "b", NULL, "2:2m", NULL},
                                                  {"n1", "b", NULL, "3:2", NULL});
    expect_said(even, 5, (struct paper_wishes){.marks = 9}, "- the total: 8 marks of 9, 1 too few\n");
}

/* 20 % of 20 is 4, and 2 fewer are let pass. */
Test(paper, an_objective_the_bank_lacks, .init = trial_begin, .fini = trial_end)
{
    const struct trial_question *lacking = QUESTIONS(
        {"k1", "a", NULL, "1:5", NULL}, {"k2", "b", NULL, "1:5", NULL}, {"p1", "a", NULL, "2:5m", NULL},
        {"p2", "b", NULL, "2:4m", NULL}, {"n1", "b", NULL, "3:1", NULL});
    expect_said(lacking, 5, (struct paper_wishes){.marks = 20},
                "- AO3: 1 mark, where 2 to 6 are wanted, 1 too few; all questions that may be used hold 1\n");
}

Test(paper, an_objective_of_which_there_is_too_much, .init = trial_begin, .fini = trial_end)
{
    const struct trial_question *knowing = QUESTIONS({"k1", "a", NULL, "1:4 2:1m", NULL}, {"k2", "b", NULL, "1:3 2:1m 3:1", NULL});
    expect_said(knowing, 2, (struct paper_wishes){.marks = 10},
                "- AO1: 7 marks, where 2 to 6 are wanted, 1 too many\n");
}

Test(paper, a_skill_the_bank_lacks, .init = trial_begin, .fini = trial_end)
{
    const struct trial_question *wordy = QUESTIONS({"k1", "a", NULL, "1:4", NULL}, {"p1", "b", NULL, "2:4", NULL},
                                                   {"n1", "b", NULL, "3:1", NULL}, {"n2", "a", NULL, "3:1m", NULL});
    expect_said(wordy, 4, (struct paper_wishes){.marks = 10},
                "- Mathematics: 1 mark, where at least 2 are wanted, 1 too few; all questions that may be used hold 1\n");
}

Test(paper, a_topic_the_bank_lacks, .init = trial_begin, .fini = trial_end)
{
    const struct trial_question *lopsided = QUESTIONS({"k1", "a", NULL, "1:4", NULL}, {"p1", "a", NULL, "2:4m", NULL},
                                                      {"n1", "b", NULL, "3:1", NULL}, {"n2", "a", NULL, "3:1", NULL});
    expect_said(lopsided, 4, (struct paper_wishes){.marks = 10},
                "- Topic A: 9 marks, where 2 to 8 are wanted, 1 too many\n"
                "- Topic B: 1 mark, where 2 to 8 are wanted, 1 too few; all questions that may be used hold 1\n");
}

Test(paper, too_little_time, .init = trial_begin, .fini = trial_end)
{
    expect_said(plenty, COUNT(plenty), (struct paper_wishes){.marks = 10, .minutes = 6},
                "- the time: these questions need 10 minutes, 4 minutes too much for 6 minutes\n");
}

/* 80 % of 10 is 8, and 2 fewer are let pass; the others may have 3 each. */
Test(paper, a_demand_the_bank_lacks, .init = trial_begin, .fini = trial_end)
{
    expect_said(plenty, COUNT(plenty),
                (struct paper_wishes){.marks = 10, .has_demand_shares = true, .demand_shares = {10, 10, 80}},
                "- high demand: 4 marks, where at least 6 are wanted, 2 too few; all questions that may be used hold\n"
                "  4\n");
}

Test(paper, enemies_in_the_way, .init = trial_begin, .fini = trial_end)
{
    const struct trial_question *foes = QUESTIONS({"k1", "a", NULL, "1:4", NULL}, {"p1", "b", NULL, "2:4m", "k1"},
                                                  {"n1", "a", NULL, "3:1", NULL}, {"n2", "b", NULL, "3:1", NULL});
    struct outcome outcome;
    try(&outcome, foes, 4, (struct paper_wishes){.marks = 10});
    cr_expect_eq(outcome.strict.outcome, SOLVE_NONE);
    cr_expect(strstr(outcome.said, "- the total: 6 marks of 10, 4 too few\n"), "%s", outcome.said);
    cr_expect(strstr(outcome.said, "Questions that give each other away (enemies) are in the way: if they could stand "
                                   "together, all\ncould be met."), "%s", outcome.said);
    cr_expect(!strstr(outcome.said, "papers to avoid"), "%s", outcome.said);
    put_away(&outcome);
}

Test(paper, papers_to_avoid_in_the_way, .init = trial_begin, .fini = trial_end)
{
    static const struct paper_bank bank = {.id = "trial", .path = "bank.xml"};
    static const struct paper_question used[] = {{.bank = 0, .id = "p1"}, {.bank = 0, .id = "p2"}, {.bank = 0, .id = "none"}};
    static const struct paper avoid = {.banks = &bank, .bank_count = 1, .questions = used, .question_count = 3};
    struct outcome outcome;
    try(&outcome, plenty, COUNT(plenty), (struct paper_wishes){.marks = 16, .avoid = &avoid, .avoid_count = 1});
    cr_expect_eq(outcome.strict.outcome, SOLVE_NONE);
    cr_expect(!outcome.nearest.verdict.uses_kept_out);
    cr_expect(strstr(outcome.said, "- the total: 12 marks of 16, 4 too few; all questions that may be used hold 12 marks\n"),
              "%s", outcome.said);
    cr_expect(strstr(outcome.said, "The papers to avoid are in the way: with their questions all could be met."), "%s",
              outcome.said);
    cr_expect(!strstr(outcome.said, "enemies"), "%s", outcome.said);
    put_away(&outcome);
}
