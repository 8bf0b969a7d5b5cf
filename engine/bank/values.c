#include "bank/values.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bank/batch.h"
#include "base/memory.h"

static const char *draw_givens(struct batch *batch, const struct given *givens, size_t count)
{
    const char *fault = NULL;
    for (size_t i = 0; i < count && !fault; i++)
        fault = batch_given(batch, &givens[i]);
    return fault;
}

static const char *draw_numbers(struct batch *batch, const struct node *node)
{
    const char *fault = NULL;
    if (node->kind == NODE_POINT && node->number && node->number->symbol)
        fault = batch_number(batch, node->number);
    for (size_t i = 0; i < node->child_count && !fault; i++)
        fault = draw_numbers(batch, &node->children[i]);
    return fault;
}

static const char *draw_question(struct batch *batch, const struct question *question)
{
    const char *fault = draw_givens(batch, question->givens, question->given_count);
    for (size_t i = 0; i < question->part_count && !fault; i++) {
        const struct part *part = &question->parts[i];
        fault = draw_givens(batch, part->givens, part->given_count);
        fault = fault ? fault : draw_numbers(batch, &part->scheme.root);
    }
    return fault;
}

static struct values values_of(const struct batch *batch)
{
    struct bound_value *items = arena_get_array(batch->arena, batch->bound, sizeof *items);
    for (size_t i = 0; i < batch->bound; i++) {
        const struct column *column = &batch->columns[i];
        items[i] = (struct bound_value){column->symbol, batch_text(batch, i, 0), column->unit,
                                        batch_value(batch, i, 0), column->key != NULL};
    }
    return (struct values){items, batch->bound};
}

bool values_draw(const struct course *course, const struct question *question, uint64_t seed,
                 struct arena *arena, struct values *values, struct messages *messages)
{
    struct batch batch = batch_of_seed(course, question, seed, arena);
    const char *fault = draw_question(&batch, question);
    if (fault)
        messages_add(messages, SEVERITY_ERROR, (struct place){NULL, 0, 0},
                     arena_print(arena, "question %s", question->id), "%s", fault);
    *values = (struct values){NULL, 0};
    if (!fault)
        *values = values_of(&batch);
    return !fault;
}

const struct bound_value *values_find(const struct values *values, const char *symbol)
{
    for (size_t i = 0; i < values->count; i++)
        if (strcmp(values->items[i].symbol, symbol) == 0)
            return &values->items[i];
    return NULL;
}

double values_expected(const struct values *values, const struct number_key *key)
{
    if (key->value)
        return strtod(key->value, NULL);
    if (!key->formula)
        return NAN;
    const struct bound_value *bound = key->symbol ? values_find(values, key->symbol) : NULL;
    if (bound)
        return bound->value;
    struct binding *bindings = memory_get_zeroed(values->count, sizeof *bindings);
    for (size_t i = 0; i < values->count; i++)
        bindings[i] = (struct binding){values->items[i].symbol, values->items[i].value};
    struct formula_result result = formula_value(key->formula, bindings, values->count);
    free(bindings);
    return result.understood ? result.value : NAN;
}
