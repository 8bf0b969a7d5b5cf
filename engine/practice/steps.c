#include "practice/steps.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bank/scheme.h"
#include "base/memory.h"
#include "base/text.h"

enum { LIST_ITEMS_LIMIT = 20 };

void steps_free(struct steps *steps)
{
    free(steps->items);
    *steps = (struct steps){0};
}

static void add_step(struct steps *steps, struct step step)
{
    steps->items = memory_grow(steps->items, &steps->capacity, steps->count, sizeof *steps->items);
    steps->items[steps->count++] = step;
}

/* ---- How much is asked --------------------------------------------------------------------------- */

bool part_asks_word(const struct part *part)
{
    return part->marks >= 2;
}

bool part_asks_givens(const struct question *question, const struct part *part)
{
    return part->marks >= 2 && part->given_count + question->given_count > 0 &&
           scheme_answer_point(&part->scheme.root) != NULL;
}

bool part_asks_wanted(const struct part *part)
{
    return part->marks >= 3;
}

bool part_asks_plan(const struct part *part)
{
    return part->marks >= 4;
}

bool part_asks_prediction(const struct part *part)
{
    return part->marks >= 2;
}

/* ---- The order ----------------------------------------------------------------------------------- */

static const char between_two[] = " and ";

static void add_item(struct list_items *list, char *text)
{
    char *trimmed = text_trim(text);
    if (*trimmed && list->count < LIST_ITEMS_LIMIT)
        list->items[list->count++] = trimmed;
}

static void add_parted_by_and(struct list_items *list, char *text)
{
    for (char *found; (found = strstr(text, between_two)); text = found + strlen(between_two)) {
        *found = '\0';
        add_item(list, text);
    }
    add_item(list, text);
}

static struct list_items split(const struct part_facts *facts, void (*add)(struct list_items *, char *), struct arena *arena)
{
    struct list_items list = {arena_get_array(arena, LIST_ITEMS_LIMIT, sizeof *list.items), 0};
    char *copy = arena_copy_text(arena, buffer_text(&facts->texts[TEXT_ANSWER]));
    char *rest = NULL;
    for (char *item = strtok_r(copy, "\n,;", &rest); item; item = strtok_r(NULL, "\n,;", &rest))
        add(&list, item);
    return list;
}

static const struct node *list_within(const struct node *node)
{
    const struct node *found = node->kind == NODE_LIST ? node : NULL;
    for (size_t i = 0; !found && i < node->child_count; i++)
        found = list_within(&node->children[i]);
    return found;
}

static bool has_and(const struct node *list)
{
    for (size_t i = 0; i < list->child_count; i++) {
        const struct node *point = &list->children[i];
        for (size_t k = 0; k < point->text.count; k++)
            if (strstr(point->text.runs[k].text, between_two))
                return true;
        for (size_t k = 0; k < point->accepts.count; k++)
            if (strstr(point->accepts.items[k], between_two))
                return true;
    }
    return false;
}

struct list_items list_items_of(const struct part_facts *facts, struct arena *arena)
{
    struct list_items list = split(facts, add_item, arena);
    const struct node *node = list_within(&facts->part->scheme.root);
    return node && list.count < (size_t)node->take && !has_and(node) ? split(facts, add_parted_by_and, arena) : list;
}

int facts_route(const struct part_facts *facts, const struct node *routes)
{
    if (routes->child_count < 2)
        return ROUTE_ALL;
    const struct choice *choice = facts_choice(facts, EVENT_POINT_TICKED, routes->id, PASS_FIRST);
    if (!choice || isnan(choice->number))
        return ROUTE_UNKNOWN;
    int route = (int)choice->number;
    return route >= 0 && route < (int)routes->child_count ? route : ROUTE_ALL;
}

static void add_levels(size_t part, const struct node *node, struct steps *steps)
{
    size_t strands = node->strand_count ? node->strand_count : 1;
    for (size_t i = 0; i < strands; i++)
        add_step(steps, (struct step){STEP_STRAND, part, node, i, NULL});
    for (size_t i = 0; i < node->cap_count; i++)
        add_step(steps, (struct step){STEP_CAP, part, node, i, NULL});
    add_step(steps, (struct step){STEP_BEST_FIT, part, node, 0, NULL});
}

static void add_node(const struct script *script, size_t part, const struct node *node, struct steps *steps);

static void add_children(const struct script *script, size_t part, const struct node *node, struct steps *steps)
{
    for (size_t i = 0; i < node->child_count; i++)
        add_node(script, part, &node->children[i], steps);
}

static void add_routes(const struct script *script, size_t part, const struct node *node, struct steps *steps)
{
    int route = facts_route(&script->parts[part], node);
    if (node->child_count > 1)
        add_step(steps, (struct step){STEP_ROUTE, part, node, 0, NULL});
    if (route == ROUTE_ALL)
        add_children(script, part, node, steps);
    else if (route >= 0)
        add_node(script, part, &node->children[route], steps);
}

static void add_list(const struct script *script, size_t part, const struct node *node, struct steps *steps)
{
    struct list_items items = list_items_of(&script->parts[part], script->arena);
    for (size_t i = 0; i < items.count; i++)
        add_step(steps, (struct step){STEP_LIST_ITEM, part, node, i, NULL});
}

static void add_node(const struct script *script, size_t part, const struct node *node, struct steps *steps)
{
    switch (node->kind) {
    case NODE_POINT: add_step(steps, (struct step){STEP_POINT, part, node, 0, NULL}); break;
    case NODE_ALL:
    case NODE_ANY: add_children(script, part, node, steps); break;
    case NODE_ROUTES: add_routes(script, part, node, steps); break;
    case NODE_LIST: add_list(script, part, node, steps); break;
    case NODE_LEVELS: add_levels(part, node, steps); break;
    case NODE_QUALITY: add_step(steps, (struct step){STEP_QUALITY, part, node, 0, NULL}); break;
    }
}

void steps_of_ticking(const struct script *script, size_t part, struct steps *steps)
{
    const struct part_facts *facts = &script->parts[part];
    steps->count = 0;
    if (!facts->no_response && !facts->skipped[STAGE_CHECK])
        add_node(script, part, &facts->part->scheme.root, steps);
}

/* ---- Settled or not ------------------------------------------------------------------------------ */

enum event_kind step_event(const struct step *step)
{
    switch (step->kind) {
    case STEP_LIST_ITEM: return EVENT_LIST_JUDGED;
    case STEP_STRAND:
    case STEP_CAP:
    case STEP_BEST_FIT: return EVENT_LEVEL_CHOSEN;
    case STEP_QUALITY: return EVENT_QUALITY_CHOSEN;
    case STEP_SECOND_LOOK: return EVENT_SECOND_LOOK;
    case STEP_CAUSE: return EVENT_CAUSE_GIVEN;
    default: return EVENT_POINT_TICKED;
    }
}

const char *step_item(const struct script *script, const struct step *step)
{
    switch (step->kind) {
    case STEP_LIST_ITEM: return facts_item(script->arena, step->node->id, "item", step->index);
    case STEP_STRAND: return facts_item(script->arena, step->node->id, "strand", step->index);
    case STEP_CAP: return facts_item(script->arena, step->node->id, "cap", step->index);
    case STEP_CAUSE: return step->item;
    case STEP_SECOND_LOOK:
        return step->node->kind == NODE_LIST ? facts_item(script->arena, step->node->id, "item", step->index) : step->node->id;
    default: return step->node->id;
    }
}

bool step_is_settled(const struct script *script, const struct step *step)
{
    const struct part_facts *facts = &script->parts[step->part];
    switch (step->kind) {
    case STEP_WORD: return facts->settled[TEXT_WORD] || facts->skipped[STAGE_READ];
    case STEP_GIVENS: return facts->settled[TEXT_GIVENS] || facts->skipped[STAGE_READ];
    case STEP_WANTED: return facts->settled[TEXT_WANTED] || facts->skipped[STAGE_READ];
    case STEP_PLAN: return facts->settled[TEXT_PLAN] || facts->skipped[STAGE_PLAN];
    case STEP_PREDICT: return facts->predicted_settled || facts->skipped[STAGE_PLAN];
    case STEP_ANSWER: return facts->settled[TEXT_ANSWER];
    case STEP_REWRITE: return facts->settled[TEXT_REWRITE];
    case STEP_DONE: return false;
    default: return facts_choice(facts, step_event(step), step_item(script, step), PASS_FIRST) != NULL;
    }
}

static bool first_unsettled(const struct script *script, size_t part, struct step *next)
{
    const struct part *asked = script->parts[part].part;
    bool whole = !script->answers_only;
    const struct { enum step_kind kind; bool wanted; } order[] = {
        {STEP_WORD, whole && part_asks_word(asked)},
        {STEP_GIVENS, whole && part_asks_givens(script->question, asked)},
        {STEP_WANTED, whole && part_asks_wanted(asked)},
        {STEP_PLAN, whole && part_asks_plan(asked)},
        {STEP_PREDICT, whole && part_asks_prediction(asked)},
        {STEP_ANSWER, true},
    };
    for (size_t i = 0; i < sizeof order / sizeof *order; i++) {
        struct step step = {order[i].kind, part, NULL, 0, NULL};
        if (order[i].wanted && !step_is_settled(script, &step)) {
            *next = step;
            return true;
        }
    }
    return false;
}

struct step steps_before_ticking(const struct script *script)
{
    struct step next = {STEP_DONE, 0, NULL, 0, NULL};
    for (size_t part = 0; part < script->question->part_count; part++)
        if (first_unsettled(script, part, &next))
            return next;
    return next;
}

bool steps_next_tick(const struct script *script, size_t part, struct step *next)
{
    struct steps steps = {0};
    bool found = false;
    steps_of_ticking(script, part, &steps);
    for (size_t i = 0; i < steps.count && !found; i++) {
        found = !step_is_settled(script, &steps.items[i]);
        if (found)
            *next = steps.items[i];
    }
    steps_free(&steps);
    return found;
}

bool steps_last_tick(const struct script *script, size_t part, struct step *last)
{
    struct steps steps = {0};
    bool found = false;
    steps_of_ticking(script, part, &steps);
    for (size_t i = 0; i < steps.count; i++) {
        if (!step_is_settled(script, &steps.items[i]))
            break;
        *last = steps.items[i];
        found = true;
    }
    steps_free(&steps);
    return found;
}
