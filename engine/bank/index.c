#include "bank/index.h"

#include <assert.h>
#include <limits.h>
#include <stdlib.h>

#include "bank/scheme.h"
#include "base/hash.h"
#include "base/memory.h"

struct index index_new(struct arena *arena)
{
    return (struct index){.arena = arena, .by_id = names_new()};
}

void index_free(struct index *index)
{
    free(index->summaries);
    free(index->places);
    free(index->parts);
    names_free(&index->by_id);
    *index = (struct index){.arena = NULL};
}

uint64_t index_fingerprint(const char *bytes, size_t length)
{
    return hash_bytes(UINT64_C(14695981039346656037), bytes, length);
}

static const char *const *copy_ids(struct arena *arena, const char *const *ids, size_t count)
{
    const char **copies = count ? arena_get_array(arena, count, sizeof *copies) : NULL;
    for (size_t i = 0; i < count; i++)
        copies[i] = arena_copy_text(arena, ids[i]);
    return copies;
}

bool index_add(struct index *index, const struct question_summary *summary, const struct part_summary *parts,
               struct question_place place)
{
    const char *id = arena_copy_text(index->arena, summary->id);
    if (index->count >= INT_MAX || !names_add(&index->by_id, id, (int)index->count))
        return false;
    index->summaries = memory_grow(index->summaries, &index->capacity, index->count, sizeof *index->summaries);
    index->places = memory_grow(index->places, &index->place_capacity, index->count, sizeof *index->places);
    index->summaries[index->count] = *summary;
    index->summaries[index->count].id = id;
    index->summaries[index->count].enemies = copy_ids(index->arena, summary->enemies, summary->enemy_count);
    index->summaries[index->count].ideas = copy_ids(index->arena, summary->ideas, summary->idea_count);
    index->places[index->count++] = place;
    for (size_t i = 0; i < summary->part_count; i++) {
        index->parts = memory_grow(index->parts, &index->part_capacity, index->part_count, sizeof *index->parts);
        index->parts[index->part_count++] = parts[i];
    }
    return true;
}

void index_finish(struct index *index)
{
    size_t part = 0;
    for (size_t i = 0; i < index->count; i++) {
        index->summaries[i].parts = index->parts + part;
        part += index->summaries[i].part_count;
    }
    assert(part == index->part_count);
}

static struct part_summary summary_of_part(const struct part *part)
{
    struct part_summary summary = {part->objective, part->word, part->marks, 0};
    for (size_t i = 0; i < part->skill_count; i++)
        summary.skills |= UINT64_C(1) << part->skills[i];
    return summary;
}

static bool has_numbers(const struct question *question)
{
    bool found = question->given_count > 0;
    for (size_t i = 0; i < question->part_count && !found; i++)
        found = question->parts[i].given_count > 0 || scheme_answer_point(&question->parts[i].scheme.root);
    return found;
}

/* ---- Ideas ---- */

struct ideas {
    const char **items;
    size_t count, capacity;
    struct names met;
};

static bool take_idea(const struct node *point, void *context)
{
    struct ideas *ideas = context;
    if (!point->idea || !names_add(&ideas->met, point->idea, (int)ideas->count))
        return true;
    ideas->items = memory_grow(ideas->items, &ideas->capacity, ideas->count, sizeof *ideas->items);
    ideas->items[ideas->count++] = point->idea;
    return true;
}

bool index_add_question(struct index *index, const struct question *question, const struct element_bytes *at,
                        const char *bytes)
{
    struct part_summary *parts = memory_get_zeroed(question->part_count, sizeof *parts);
    for (size_t i = 0; i < question->part_count; i++)
        parts[i] = summary_of_part(&question->parts[i]);
    struct ideas ideas = {.met = names_new()};
    for (size_t i = 0; i < question->part_count; i++)
        scheme_each_point(&question->parts[i].scheme.root, take_idea, &ideas);
    struct question_summary summary = {
        .id = question->id, .topic = question->topic, .demand = question->demand, .marks = question->marks,
        .minutes = question->minutes, .varied = question->varied, .has_numbers = has_numbers(question),
        .part_count = question->part_count, .offset = at->offset, .length = at->length,
        .fingerprint = index_fingerprint(bytes, at->length), .enemies = question->enemies,
        .enemy_count = question->enemy_count, .ideas = ideas.items, .idea_count = ideas.count,
    };
    bool added = index_add(index, &summary, parts, (struct question_place){at->line, at->column});
    names_free(&ideas.met);
    free(ideas.items);
    free(parts);
    return added;
}
