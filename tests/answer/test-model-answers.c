/* Every model answer of the shipped banks earns full marks: the points that the evidence recognises are ticked, nothing else
 * is, and the award must be whole; what the command word asks is met too. 20 variants of each varied question, each part
 * marked with what the model answers of the earlier parts say. Where a person judges, by levels or by quality, the top is
 * assumed and the model answer has to touch half of the indicative content, which is more than one answer need hold.
 *
 * What is recognised, answer/model-answer.h says: more than what looks earned. So that it does not become too kind, a part
 * with a wording may not give full marks to the model answers of questions about something else.
 *
 * What is wanted here is the banks' own promise; no source. */
#include <criterion/criterion.h>

#include <stdio.h>
#include <string.h>

#include "answer/evidence.h"
#include "answer/model-answer.h"
#include "bank/bank.h"
#include "bank/scheme.h"
#include "bank/values.h"

enum { VARIANTS = 20, PARTS_MOST = 26, JUDGED_MOST = 4, STRANDS_MOST = 16, FOREIGN = 2 };

struct trial {
    const char *path;
    struct bank *bank;
    const struct question *question;
    uint64_t seed;
    struct values values;
    struct arena *arena;                /* of one variant */
    struct vocabulary *vocabulary;      /* of course and question, as the program makes it for each answer */
    struct marking_state state;
    const char *answers[PARTS_MOST];    /* the model answers of the question's parts */
    const char *foreign[FOREIGN];       /* model answers of questions about something else */
    size_t tried, failures, foreign_tried;
    char told_id[160];                  /* the part told of last: its other variants are counted, not told */
};

static bool complain(struct trial *trial, const struct part *part, const char *what)
{
    char id[sizeof trial->told_id];
    snprintf(id, sizeof id, "%s (%s)", trial->question->id, part->id);
    bool anew = strcmp(id, trial->told_id) != 0;
    memcpy(trial->told_id, id, sizeof id);
    trial->failures++;
    if (anew)
        fprintf(stderr, "%s: question %s, seed %u: %s\n", trial->path, id, (unsigned)trial->seed, what);
    return anew;
}

static void tell_points(const struct evidence *evidence)
{
    for (size_t i = 0; i < evidence->point_count; i++) {
        const struct point_evidence *point = &evidence->points[i];
        if (!model_recognises(point))
            fprintf(stderr, "    %s: %s, %s%s%s\n", point->point->id, evidence_verdict_name(point->verdict), point->reason,
                    point->missing ? "; missing: " : "", point->missing ? point->missing : "");
    }
}

/* ---- The award ----------------------------------------------------------------------------------- */

/* What a person would judge, taken to be at the top. */
struct judged {
    struct levels_input levels[JUDGED_MOST];
    struct quality_input quality[JUDGED_MOST];
    int ratings[JUDGED_MOST][STRANDS_MOST];
    size_t level_count, quality_count;
};

static void judge_levels(const struct node *node, struct judged *judged)
{
    size_t at = judged->level_count++, strands = node->strand_count ? node->strand_count : 1;
    const struct level *highest = &node->levels[node->level_count - 1];
    cr_assert(at < JUDGED_MOST && strands <= STRANDS_MOST);
    for (size_t i = 0; i < strands; i++)
        judged->ratings[at][i] = highest->number;
    judged->levels[at] = (struct levels_input){node->id, judged->ratings[at], strands, NULL, 0, highest->to};
}

static void judge_at_the_top(const struct node *node, struct judged *judged)
{
    if (node->kind == NODE_LEVELS)
        judge_levels(node, judged);
    if (node->kind == NODE_QUALITY) {
        cr_assert(judged->quality_count < JUDGED_MOST);
        judged->quality[judged->quality_count++] = (struct quality_input){node->id, 0};
    }
    for (size_t i = 0; i < node->child_count; i++)
        judge_at_the_top(&node->children[i], judged);
}

static int marks_of(struct trial *trial, const struct part *part, const struct evidence *evidence)
{
    struct judged judged = {.level_count = 0};
    struct point_input *inputs = arena_get_array(trial->arena, evidence->point_count, sizeof *inputs);
    judge_at_the_top(&part->scheme.root, &judged);
    for (size_t i = 0; i < evidence->point_count; i++)
        inputs[i].tick = model_recognises(&evidence->points[i]) ? TICK_YES : TICK_NO;
    evidence_numbers(evidence, inputs, evidence->point_count);
    struct part_input input = {
        .points = inputs, .point_count = evidence->point_count, .levels = judged.levels, .level_count = judged.level_count,
        .quality = judged.quality, .quality_count = judged.quality_count,
    };
    return marking_award(part, &input, &trial->state, trial->arena)->marks;
}

/* ---- One part ------------------------------------------------------------------------------------ */

static void try_indicative(struct trial *trial, const struct part *part, const struct evidence_ask *ask, const char *answer)
{
    char what[160];
    size_t count, touched = 0;
    const struct point_evidence *points = evidence_indicative(ask, answer, &count, trial->arena);
    for (size_t i = 0; i < count; i++)
        touched += model_recognises(&points[i]);
    snprintf(what, sizeof what, "the model answer touches %zu of %zu points of the indicative content", touched, count);
    if (2 * touched < count)
        complain(trial, part, what);
}

static void try_part(struct trial *trial, size_t index)
{
    char what[96];
    const struct course *course = bank_course(trial->bank);
    const struct part *part = &trial->question->parts[index];
    struct evidence_ask ask = {course, trial->question, part, &trial->values, trial->vocabulary, NULL, 0};
    ask.own = answer_own_values(course, trial->question, &trial->values, trial->answers, index, &ask.own_count, trial->arena);
    const struct evidence *evidence = evidence_of(&ask, trial->answers[index], trial->arena);
    trial->tried++;
    for (size_t i = 0; i < evidence->need_count; i++)
        if (!evidence->needs[i].met)
            complain(trial, part, evidence->needs[i].reason);
    try_indicative(trial, part, &ask, trial->answers[index]);
    int marks = marks_of(trial, part, evidence);
    snprintf(what, sizeof what, "the model answer earns %d of %d", marks, part->marks);
    if (marks != part->marks && complain(trial, part, what))
        tell_points(evidence);
}

static bool find_wording(const struct node *point, void *found)
{
    *(bool *)found = *(bool *)found || point->number || point->key_count || point->accepts.count;
    return true;
}

static bool gives_full_marks(struct trial *trial, const struct part *part, const char *answer)
{
    struct evidence_ask ask = {bank_course(trial->bank), trial->question, part, &trial->values, trial->vocabulary, NULL, 0};
    const struct evidence *evidence = evidence_of(&ask, answer, trial->arena);
    trial->state = (struct marking_state){0};
    return marks_of(trial, part, evidence) == part->marks;
}

/* One may hit a single key word by chance; all of them mean that the key words are too wide. */
static void try_foreign(struct trial *trial, const struct part *part)
{
    bool wording = false;
    size_t full = 0;
    scheme_each_point(&part->scheme.root, find_wording, &wording);
    for (size_t i = 0; wording && i < FOREIGN; i++)
        full += gives_full_marks(trial, part, trial->foreign[i]);
    trial->foreign_tried += wording;
    if (full == FOREIGN)
        complain(trial, part, "the model answers of other questions earn full marks too");
}

/* ---- Questions and banks ------------------------------------------------------------------------- */

static const char *model_text(const struct part *part, const struct values *values, struct arena *arena)
{
    struct buffer text = BUFFER_EMPTY;
    plain_add_blocks(&text, &part->model, values);
    const char *copy = arena_copy_text(arena, buffer_text(&text));
    buffer_free(&text);
    return copy;
}

static const char *model_of(struct trial *trial, size_t index, struct messages *messages)
{
    struct values values;
    const struct question *question = bank_question(trial->bank, index, trial->arena, messages);
    cr_assert(values_draw(bank_course(trial->bank), question, 1, trial->arena, &values, messages));
    return model_text(&question->parts[0], &values, trial->arena);
}

static void write_answers(struct trial *trial)
{
    const struct question *question = trial->question;
    cr_assert(question->part_count <= PARTS_MOST);
    for (size_t i = 0; i < question->part_count; i++) {
        trial->answers[i] = model_text(&question->parts[i], &trial->values, trial->arena);
        if (!question->parts[i].model.count)
            complain(trial, &question->parts[i], "there is no model answer");
    }
}

/* A third of the bank away and more: other topics. */
static void try_with_foreign(struct trial *trial, size_t index, struct messages *messages)
{
    size_t count = bank_question_count(trial->bank);
    for (size_t i = 0; i < FOREIGN; i++)
        trial->foreign[i] = model_of(trial, (index + (i + 1) * count / (FOREIGN + 1)) % count, messages);
    for (size_t i = 0; i < trial->question->part_count; i++)
        try_foreign(trial, &trial->question->parts[i]);
}

static void try_question(struct trial *trial, size_t index, uint64_t seed, struct messages *messages)
{
    trial->arena = arena_new();
    trial->seed = seed;
    trial->question = bank_question(trial->bank, index, trial->arena, messages);
    cr_assert(trial->question != NULL);
    cr_assert(values_draw(bank_course(trial->bank), trial->question, seed, trial->arena, &trial->values, messages));
    trial->vocabulary = vocabulary_new(trial->arena);
    vocabulary_add_course(trial->vocabulary, bank_course(trial->bank));
    vocabulary_add_question(trial->vocabulary, trial->question);
    write_answers(trial);
    trial->state = (struct marking_state){0};
    for (size_t i = 0; i < trial->question->part_count; i++)
        try_part(trial, i);
    if (seed == 1)
        try_with_foreign(trial, index, messages);
    arena_free(trial->arena);
}

static void try_bank(const char *path)
{
    struct messages messages = MESSAGES_EMPTY;
    struct trial trial = {.path = path};
    trial.bank = bank_open(path, false, &messages);
    messages_print(&messages);
    cr_assert(trial.bank != NULL, "%s cannot be opened", path);
    for (size_t i = 0; i < bank_question_count(trial.bank); i++) {
        uint64_t variants = bank_summary(trial.bank, i)->varied ? VARIANTS : 1;
        for (uint64_t seed = 1; seed <= variants; seed++)
            try_question(&trial, i, seed, &messages);
    }
    cr_expect_eq(trial.failures, 0, "%s: %zu of %zu model answers fall short", path, trial.failures, trial.tried);
    cr_expect_gt(trial.tried, 0);
    cr_expect_gt(trial.foreign_tried, 0);
    bank_close(trial.bank);
    messages_free(&messages);
}

Test(answer, model_answers_of_coastal_science, .timeout = 300)
{
    try_bank("banks/coastal-science.xml");
}

Test(answer, model_answers_of_settlement_study, .timeout = 300)
{
    try_bank("banks/settlement-study.xml");
}

Test(answer, model_answers_of_small_business, .timeout = 300)
{
    try_bank("banks/small-business.xml");
}
