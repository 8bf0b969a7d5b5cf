#include "answer/model-answer.h"

#include "bank/scheme.h"
#include "base/buffer.h"

bool model_recognises(const struct point_evidence *evidence)
{
    const struct node *point = evidence->point;
    if (evidence->verdict != CANT_TELL)
        return evidence->verdict == LOOKS_EARNED;
    if (!point->number && !point->key_count && !point->accepts.count)
        return true;
    return evidence->ground == GROUND_FROM_THE_ASK || evidence->ground == GROUND_FAR_APART ||
           evidence->ground == GROUND_CONTRADICTED ||
           (evidence->ground == GROUND_SOME_WORDS && point->key_count && !evidence->missing);
}

enum { POTS = 4 };

struct pots {
    struct quality_input items[POTS];
    size_t count;
};

/* How well a model answer is written a person judges; it is taken to be in the highest band. */
static void gather_pots(const struct node *node, struct pots *pots)
{
    if (node->kind == NODE_QUALITY && pots->count < POTS)
        pots->items[pots->count++] = (struct quality_input){node->id, 0};
    for (size_t i = 0; i < node->child_count; i++)
        gather_pots(&node->children[i], pots);
}

static const char *model_text(const struct part *part, const struct values *values, struct arena *arena)
{
    struct buffer text = BUFFER_EMPTY;
    plain_add_blocks(&text, &part->model, values);
    const char *copy = arena_copy_text(arena, buffer_text(&text));
    buffer_free(&text);
    return copy;
}

static int marks_of(const struct part *part, const struct evidence *evidence, struct arena *arena)
{
    struct marking_state state = {0};
    struct point_input *inputs = arena_get_array(arena, evidence->point_count + 1, sizeof *inputs);
    struct pots pots = {.count = 0};
    gather_pots(&part->scheme.root, &pots);
    const struct part_input input = {.points = inputs, .point_count = evidence->point_count,
                                     .quality = pots.items, .quality_count = pots.count};
    for (size_t i = 0; i < evidence->point_count; i++)
        inputs[i] = (struct point_input){.tick = model_recognises(&evidence->points[i]) ? TICK_YES : TICK_NO};
    evidence_numbers(evidence, inputs, evidence->point_count);
    return marking_award(part, &input, &state, arena)->marks;
}

struct model_result model_answer_earns(const struct course *course, const struct question *question, size_t index,
                                       const struct values *values, const struct vocabulary *vocabulary,
                                       struct arena *arena)
{
    const struct part *part = &question->parts[index];
    if (!part->model.count)
        return (struct model_result){.maximum = part->marks};
    const char **answers = arena_get_array(arena, question->part_count, sizeof *answers);
    for (size_t i = 0; i < question->part_count; i++)
        answers[i] = question->parts[i].model.count ? model_text(&question->parts[i], values, arena) : NULL;
    struct evidence_ask ask = {.course = course, .question = question, .part = part, .values = values,
                               .vocabulary = vocabulary};
    ask.own = answer_own_values(course, question, values, answers, index, &ask.own_count, arena);
    const struct evidence *evidence = evidence_of(&ask, answers[index], arena);
    bool person = scheme_has_levels(&part->scheme.root);
    return (struct model_result){true, person, person ? 0 : marks_of(part, evidence, arena), part->marks, evidence};
}
