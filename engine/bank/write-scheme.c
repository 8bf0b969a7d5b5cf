/* Schemes as XML. Ids that the reader gives by itself are not written: "a.2" is the second point of part a, whatever ids the
 * others have, so leaving one out renames none. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "bank/write-inner.h"

struct scheme_writing {
    const struct writing *writing;
    const struct part *part;
    int points;             /* met so far, indicative ones apart */
};

static void write_node(struct markup *around, struct scheme_writing *scheme, const struct node *node);

static void write_children(struct markup *around, struct scheme_writing *scheme, const struct node *node)
{
    for (size_t i = 0; i < node->child_count; i++)
        write_node(around, scheme, &node->children[i]);
}

static void write_wordings(struct markup *element, const char *name, const struct wording *wording)
{
    for (size_t i = 0; i < wording->count; i++)
        markup_text(markup_child(element, name), wording->items[i]);
}

/* ---- Points --------------------------------------------------------------------------------------- */

static void write_keys(struct markup *element, const struct node *point, struct arena *arena)
{
    for (size_t i = 0; i < point->key_count; i++) {
        const struct key_word *key = &point->keys[i];
        struct markup *child = markup_child(element, "key");
        markup_attribute(child, "essential", key->essential ? "yes" : NULL);
        for (size_t k = 0; k < key->count; k++)
            markup_text(child, k ? arena_print(arena, " / %s", key->alternatives[k]) : key->alternatives[k]);
    }
}

/* As a person writes it, "10" and not "1e+01": fewest places that give value * factor back when they are read and divided by factor. */
static const char *decimal(struct arena *arena, double value, double factor)
{
    char text[64];
    bool plain = value == 0 || (fabs(value) >= 1e-6 && fabs(value) < 1e15);
    for (int digits = plain ? 0 : 1; digits <= 22; digits++) {
        snprintf(text, sizeof text, plain ? "%.*f" : "%.*g", digits, value * factor);
        double back = strtod(text, NULL) / factor;
        if (back >= value && back <= value)
            break;
    }
    return arena_copy_text(arena, text);
}

const char *write_decimal(struct arena *arena, double value)
{
    return decimal(arena, value, 1);
}

/* 2 % is kept as 2 / 100. */
static const char *tolerance(struct arena *arena, const struct number_key *key)
{
    if (!(key->tolerance > 0))
        return NULL;
    return key->tolerance_relative ? arena_print(arena, "%s%%", decimal(arena, key->tolerance, 100))
                                   : write_decimal(arena, key->tolerance);
}

static void write_number(struct markup *point, const struct number_key *key, struct arena *arena)
{
    struct markup *element = markup_child(point, "number");
    markup_attribute(element, "symbol", key->symbol);
    markup_attribute(element, "value", key->value);
    markup_attribute(element, "formula", key->formula);
    markup_attribute(element, "unit", *key->unit ? key->unit : NULL);
    markup_attribute(element, "unit-printed", key->unit_printed ? "yes" : NULL);
    markup_attribute(element, "tolerance", tolerance(arena, key));
    if (key->figures)
        markup_whole(element, "figures", key->figures);
    if (key->places >= 0)
        markup_whole(element, "places", key->places);
    if (key->has_interval) {
        markup_attribute(element, "from", write_decimal(arena, key->from));
        markup_attribute(element, "to", write_decimal(arena, key->to));
        markup_attribute(element, "to-excluded", key->to_excluded ? "yes" : NULL);
    }
}

static void write_point(struct markup *around, const struct scheme_writing *scheme, const struct node *point,
                        const char *own_id, int own_marks)
{
    static const char *const kinds[] = {NULL, "method", "accuracy", "independent", "implied"};
    struct arena *arena = scheme->writing->arena;
    struct markup *element = markup_child(around, "point");
    markup_attribute(element, "id", strcmp(point->id, own_id) == 0 ? NULL : point->id);
    markup_attribute(element, "kind", kinds[point->point_kind]);
    if (point->marks != own_marks)
        markup_whole(element, "marks", point->marks);
    markup_attribute(element, "needs", write_list(arena, point->needs, point->need_count));
    if (point->objective != scheme->part->objective)
        markup_attribute(element, "objective", scheme->writing->course->objectives[point->objective].id);
    markup_attribute(element, "follow", point->follow ? NULL : "no");
    markup_attribute(element, "idea", point->idea);
    write_rich(element, &point->text);
    if (point->number)
        write_number(element, point->number, arena);
    write_wordings(element, "accept", &point->accepts);
    write_wordings(element, "ignore", &point->ignores);
    write_wordings(element, "reject", &point->rejects);
    write_keys(element, point, arena);
}

static void write_own_point(struct markup *around, struct scheme_writing *scheme, const struct node *point)
{
    write_point(around, scheme, point, arena_print(scheme->writing->arena, "%s.%d", scheme->part->id, ++scheme->points), 1);
}

/* ---- Levels and quality --------------------------------------------------------------------------- */

static void write_strand(struct markup *around, const struct strand *strand, size_t levels)
{
    struct markup *element = markup_child(around, "strand");
    markup_attribute(element, "name", strand->name);
    for (size_t i = 0; i < levels; i++) {
        if (!strand->descriptors || !strand->descriptors[i])
            continue;
        struct markup *at = markup_child(element, "at");
        markup_whole(at, "level", (long)i + 1);
        markup_text(at, strand->descriptors[i]);
    }
}

static void write_levels(struct markup *around, const struct scheme_writing *scheme, const struct node *node)
{
    struct arena *arena = scheme->writing->arena;
    struct markup *element = markup_child(around, "levels");
    for (size_t i = 0; i < node->level_count; i++) {
        const struct level *level = &node->levels[i];
        struct markup *child = markup_child(element, "level");
        markup_attribute(child, "marks", level->from == level->to ? arena_print(arena, "%d", level->to)
                                                                  : arena_print(arena, "%d-%d", level->from, level->to));
        markup_text(child, level->descriptor);
    }
    for (size_t i = 0; i < node->strand_count; i++)
        write_strand(element, &node->strands[i], node->level_count);
    for (size_t i = 0; i < node->cap_count; i++) {
        struct markup *cap = markup_child(element, "cap");
        markup_whole(cap, "level", node->caps[i].level);
        markup_text(cap, node->caps[i].condition);
    }
    struct markup *indicative = node->indicative_count ? markup_child(element, "indicative") : NULL;
    for (size_t i = 0; i < node->indicative_count; i++)
        write_point(indicative, scheme, &node->indicative[i], arena_print(arena, "%s.i%zu", scheme->part->id, i + 1), 0);
}

static void write_quality(struct markup *around, const struct node *node)
{
    struct markup *element = markup_child(around, "quality");
    for (size_t i = 0; i < node->band_count; i++) {
        struct markup *band = markup_child(element, "band");
        markup_whole(band, "marks", node->bands[i].marks);
        markup_text(band, node->bands[i].descriptor);
    }
}

/* ---- The tree ------------------------------------------------------------------------------------- */

static void write_routes(struct markup *around, struct scheme_writing *scheme, const struct node *node)
{
    struct markup *element = markup_child(around, "routes");
    for (size_t i = 0; i < node->child_count; i++) {
        struct markup *route = markup_child(element, "route");
        markup_attribute(route, "name", node->children[i].name);
        write_children(route, scheme, &node->children[i]);
    }
}

static void write_list_node(struct markup *around, struct scheme_writing *scheme, const struct node *node)
{
    struct markup *element = markup_child(around, "list");
    markup_whole(element, "take", node->take);
    markup_attribute(element, "rule", node->list_rule == LIST_FIRST ? "first" : NULL);
    write_children(element, scheme, node);
    write_wordings(element, "ignore", &node->ignores);
    write_wordings(element, "reject", &node->rejects);
}

static void write_node(struct markup *around, struct scheme_writing *scheme, const struct node *node)
{
    struct markup *element;
    switch (node->kind) {
    case NODE_POINT: write_own_point(around, scheme, node); break;
    case NODE_ALL:
        element = markup_child(around, "all");
        if (node->marks)
            markup_whole(element, "marks", node->marks);
        write_children(element, scheme, node);
        break;
    case NODE_ANY:
        element = markup_child(around, "any");
        markup_whole(element, "take", node->take);
        write_children(element, scheme, node);
        break;
    case NODE_ROUTES: write_routes(around, scheme, node); break;
    case NODE_LIST: write_list_node(around, scheme, node); break;
    case NODE_LEVELS: write_levels(around, scheme, node); break;
    case NODE_QUALITY: write_quality(around, node); break;
    }
}

void write_scheme(struct markup *around, const struct writing *writing, const struct part *part)
{
    struct scheme_writing scheme = {writing, part, 0};
    struct markup *element = markup_child(around, "scheme");
    markup_attribute(element, "working", part->scheme.working_required ? "required" : NULL);
    markup_attribute(element, "unit-penalty", part->scheme.unit_penalty ? NULL : "no");
    markup_attribute(element, "crossed-out", part->scheme.crossed_out == CROSSED_OUT_IGNORED ? "ignored" : NULL);
    write_children(element, &scheme, &part->scheme.root);
}
