#include "practice/mark.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bank/scheme.h"
#include "base/json.h"
#include "base/text.h"
#include "practice/look.h"
#include "practice/show.h"
#include "practice/standing.h"
#include "practice/steps.h"

/* ---- Ticks to input ------------------------------------------------------------------------------ */

struct gathering {
    const struct part_facts *facts;
    enum pass pass;
    struct arena *arena;
    struct point_input *points;
    size_t point_count;
    struct list_input *lists;
    struct levels_input *levels;
    struct quality_input *quality;
    struct part_input *input;
};

static enum tick tick_from(const char *detail)
{
    if (text_equal(detail, "yes"))
        return TICK_YES;
    if (text_equal(detail, "no"))
        return TICK_NO;
    return text_equal(detail, "unsure") ? TICK_UNSURE : TICK_UNDECIDED;
}

/* What the second look left, for other passes than the first. */
static const struct choice *tick_choice(const struct gathering *gathering, enum event_kind kind, const char *item)
{
    const struct choice *choice = NULL;
    if (gathering->pass != PASS_FIRST)
        choice = facts_choice(gathering->facts, kind, item, PASS_FINAL);
    return choice ? choice : facts_choice(gathering->facts, kind, item, PASS_FIRST);
}

static bool gather_point(const struct node *point, void *context)
{
    struct gathering *gathering = context;
    const struct choice *choice = tick_choice(gathering, EVENT_POINT_TICKED, point->id);
    gathering->points[gathering->point_count++].tick = choice ? tick_from(choice->detail) : TICK_UNDECIDED;
    return true;
}

static size_t index_of_point(const struct node *root, const struct node *wanted);

static void gather_list(struct gathering *gathering, const struct node *node)
{
    const struct part_facts *facts = gathering->facts;
    struct list_items written = list_items_of(facts, gathering->arena);
    struct list_item *items = arena_get_array(gathering->arena, written.count, sizeof *items);
    size_t count = 0;
    for (size_t i = 0; i < written.count; i++) {
        const struct choice *choice = tick_choice(gathering, EVENT_LIST_JUDGED, facts_item(gathering->arena, node->id, "item", i));
        if (!choice)
            continue;
        struct list_item *item = &items[count++];
        item->text = written.items[i];
        item->point = AWARD_NO_POINT;
        item->kind = text_equal(choice->detail, "wrong") ? ITEM_WRONG : ITEM_NEUTRAL;
        if (text_equal(choice->detail, "right") && choice->number >= 0 && choice->number < (double)node->child_count) {
            item->kind = ITEM_RIGHT;
            item->point = (int)index_of_point(&facts->part->scheme.root, &node->children[(size_t)choice->number]);
        }
    }
    gathering->lists[gathering->input->list_count++] = (struct list_input){node->id, true, items, count, 0};
}

static int number_chosen(const struct part_facts *facts, enum event_kind kind, const char *item, int otherwise)
{
    const struct choice *choice = facts_choice(facts, kind, item, PASS_FIRST);
    return choice && !isnan(choice->number) ? (int)choice->number : otherwise;
}

static struct levels_input levels_input_of(const struct part_facts *facts, const struct node *node,
                                           struct arena *arena)
{
    size_t strands = node->strand_count ? node->strand_count : 1;
    int *ratings = arena_get_array(arena, strands, sizeof *ratings);
    bool *caps = arena_get_array(arena, node->cap_count, sizeof *caps);
    for (size_t i = 0; i < strands; i++)
        ratings[i] = number_chosen(facts, EVENT_LEVEL_CHOSEN, facts_item(arena, node->id, "strand", i), RATING_NONE);
    for (size_t i = 0; i < node->cap_count; i++)
        caps[i] = number_chosen(facts, EVENT_LEVEL_CHOSEN, facts_item(arena, node->id, "cap", i), 0) == 1;
    return (struct levels_input){
        node->id, ratings, strands, caps, node->cap_count,
        number_chosen(facts, EVENT_LEVEL_CHOSEN, node->id, OVERRIDE_NONE),
    };
}

static struct quality_input quality_input_of(const struct part_facts *facts, const struct node *node)
{
    int marks = number_chosen(facts, EVENT_QUALITY_CHOSEN, node->id, 0), band = BAND_NONE;
    for (size_t i = node->band_count; i-- > 0;)
        if (node->bands[i].marks <= marks && node->bands[i].marks > 0)
            band = (int)i;
    return (struct quality_input){node->id, band};
}

static void gather_node(struct gathering *gathering, const struct node *node)
{
    if (node->kind == NODE_LIST)
        gather_list(gathering, node);
    if (node->kind == NODE_LEVELS)
        gathering->levels[gathering->input->level_count++] = levels_input_of(gathering->facts, node, gathering->arena);
    if (node->kind == NODE_QUALITY)
        gathering->quality[gathering->input->quality_count++] = quality_input_of(gathering->facts, node);
    for (size_t i = 0; i < node->child_count; i++)
        gather_node(gathering, &node->children[i]);
}

struct search {
    const struct node *wanted;
    size_t index;
};

static bool not_yet(const struct node *point, void *context)
{
    struct search *search = context;
    if (point == search->wanted)
        return false;
    search->index++;
    return true;
}

static size_t index_of_point(const struct node *root, const struct node *wanted)
{
    struct search search = {wanted, 0};
    scheme_each_point(root, not_yet, &search);
    return search.index;
}

static size_t count_nodes(const struct node *node)
{
    size_t count = 1;
    for (size_t i = 0; i < node->child_count; i++)
        count += count_nodes(&node->children[i]);
    return count;
}

/* Words never override a tick; what kills a point is told only where the point was not ticked in the end. */
static void look_at_words(const struct script *script, size_t part, struct point_input *points, size_t count)
{
    const struct evidence *evidence = look_evidence(script, part);
    for (size_t i = 0; i < evidence->point_count && i < count; i++) {
        const struct point_evidence *found = &evidence->points[i];
        bool implied_by_none = found->point->point_kind == POINT_PLAIN || found->point->point_kind == POINT_INDEPENDENT;
        if (found->number || !implied_by_none || points[i].tick != TICK_NO)
            continue;
        points[i].rejected = found->rejected;
        points[i].rejected_words = found->rejected_words;
        points[i].contradicted = found->contradicted;
    }
}

/* Numbers are judged by arithmetic. */
static void look_at_numbers(const struct script *script, size_t part, struct point_input *points, size_t count)
{
    const struct evidence *evidence = look_evidence(script, part);
    for (size_t i = 0; i < evidence->point_count && i < count; i++) {
        const struct number_evidence *number = evidence->points[i].number;
        if (!number || !number->found)
            continue;
        points[i].value = number->value;
        points[i].figures_wrong = number->figures_wrong;
        points[i].unit = look_unit(&script->parts[part], &evidence->points[i]);
        points[i].working = number->working;
    }
}

static struct part_input *part_input_of(const struct script *script, size_t part, enum pass pass, struct arena *arena)
{
    const struct part_facts *facts = &script->parts[part];
    const struct node *root = &facts->part->scheme.root;
    size_t nodes = count_nodes(root);
    struct part_input *input = arena_get(arena, sizeof *input);
    struct gathering gathering = {
        .facts = facts, .pass = pass, .arena = arena, .input = input,
        .points = arena_get_array(arena, nodes, sizeof *gathering.points),
        .lists = arena_get_array(arena, nodes, sizeof *gathering.lists),
        .levels = arena_get_array(arena, nodes, sizeof *gathering.levels),
        .quality = arena_get_array(arena, nodes, sizeof *gathering.quality),
    };
    input->no_response = facts->no_response;
    scheme_each_point(root, gather_point, &gathering);
    gather_node(&gathering, root);
    if (!facts->no_response) {
        look_at_words(script, part, gathering.points, gathering.point_count);
        look_at_numbers(script, part, gathering.points, gathering.point_count);
    }
    input->points = gathering.points;
    input->point_count = gathering.point_count;
    input->lists = gathering.lists;
    input->levels = gathering.levels;
    input->quality = gathering.quality;
    return input;
}

const struct award *mark_award(const struct script *script, size_t part, enum pass pass, struct arena *arena)
{
    struct marking_state state = {0};
    const struct award *award = NULL;
    for (size_t i = 0; i <= part; i++) {
        award = marking_award(script->parts[i].part, part_input_of(script, i, pass, arena), &state, arena);
    }
    return award;
}

struct award_levels mark_level_proxy(const struct script *script, size_t part, const struct node *node)
{
    struct levels_input input = levels_input_of(&script->parts[part], node, script->arena);
    return marking_level(node, input.ratings, input.rating_count, input.caps, input.cap_count);
}

int mark_strand_rating(const struct script *script, size_t part, const struct node *node, size_t strand)
{
    return levels_input_of(&script->parts[part], node, script->arena).ratings[strand];
}

/* ---- Award to rows ------------------------------------------------------------------------------- */

size_t mark_slot_count(const struct award *award)
{
    size_t count = 0;
    for (size_t i = 0; i < award->line_count; i++)
        count += award->lines[i].maximum > 0;
    return count;
}

const struct award_line *mark_slot(const struct award *award, size_t slot)
{
    for (size_t i = 0; i < award->line_count; i++)
        if (award->lines[i].maximum > 0 && slot-- == 0)
            return &award->lines[i];
    return NULL;
}

/* Which slot of its node this is, from 1. */
static size_t occurrence_of(const struct award *award, size_t slot)
{
    size_t occurrence = 1;
    for (size_t i = 0; i < slot; i++)
        occurrence += mark_slot(award, i)->node == mark_slot(award, slot)->node;
    return occurrence;
}

const char *mark_slot_id(const struct award *award, size_t slot, struct arena *arena)
{
    size_t occurrence = occurrence_of(award, slot);
    const char *id = mark_slot(award, slot)->node->id;
    return occurrence == 1 ? id : arena_print(arena, "%s#%zu", id, occurrence);
}

static bool is_earned(const struct award *award, const struct node *node)
{
    for (size_t i = 0; i < award->line_count; i++)
        if (award->lines[i].node == node && award->lines[i].marks > 0)
            return true;
    return false;
}

static void add_point_words(const struct script *script, const struct node *point, struct buffer *out)
{
    char *text = show_plain(&point->text, &script->values);
    buffer_add(out, text_trim(text));
    free(text);
}

static void add_unearned(const struct script *script, const struct award *award, const struct node *node,
                         struct buffer *out)
{
    size_t earned = 0, left = 0;
    for (size_t i = 0; i < node->child_count; i++)
        *(is_earned(award, &node->children[i]) ? &earned : &left) += node->children[i].kind == NODE_POINT;
    const char *between = left < 2 ? "" : earned ? "another of: " : "one of: ";
    for (size_t i = 0; i < node->child_count; i++) {
        if (node->children[i].kind != NODE_POINT || is_earned(award, &node->children[i]))
            continue;
        buffer_add(out, between);
        add_point_words(script, &node->children[i], out);
        between = "; ";
    }
}

void mark_slot_words(const struct script *script, const struct award *award, size_t slot, struct buffer *out)
{
    const struct award_line *line = mark_slot(award, slot);
    size_t before = out->length;
    if (line->node->kind == NODE_POINT)
        add_point_words(script, line->node, out);
    else if (line->node->kind == NODE_LEVELS)
        buffer_add(out, "level of response");
    else if (line->node->kind == NODE_QUALITY)
        buffer_add(out, "quality of the writing");
    else
        add_unearned(script, award, line->node, out);
    if (out->length == before)
        buffer_add(out, line->text);
}

/* The marks the first ticks earned in the same slot: the same occurrence of the same node. */
static double first_marks(const struct award *final, size_t slot, const struct award *first)
{
    size_t slots = mark_slot_count(first);
    for (size_t i = 0; i < slots; i++)
        if (mark_slot(first, i)->node == mark_slot(final, slot)->node &&
            occurrence_of(first, i) == occurrence_of(final, slot))
            return mark_slot(first, i)->marks;
    return 0;
}

static const char *skills_of(const struct course *course, const struct part *part, struct arena *arena)
{
    struct buffer names = BUFFER_EMPTY;
    for (size_t i = 0; i < part->skill_count; i++)
        buffer_print(&names, "%s%s", i ? " " : "", course->skills[part->skills[i]].id);
    const char *copy = names.length ? arena_copy_text(arena, buffer_text(&names)) : NULL;
    buffer_free(&names);
    return copy;
}

static struct mark_row row_of(const struct script *script, const struct part_facts *facts, const struct award *final,
                              size_t slot, const struct award *first)
{
    const struct award_line *line = mark_slot(final, slot);
    const struct course *course = script->course;
    bool is_point = line->node->kind == NODE_POINT;
    double first_got = first_marks(final, slot, first);
    bool predicted_full = !isnan(facts->predicted) && facts->predicted >= facts->part->marks;
    return (struct mark_row){
        .part = facts->part->id,
        .item = mark_slot_id(final, slot, script->arena),
        .topic = course->topics[script->question->topic].id,
        .objective = course->objectives[is_point ? line->node->objective : facts->part->objective].id,
        .word = course->words[facts->part->word].word,
        .idea = is_point ? line->node->idea : NULL,
        .skills = skills_of(course, facts->part, script->arena),
        .difficulty = standing_difficulty(script->question->demand),
        .got = line->marks,
        .first = first_got,
        .maximum = line->maximum,
        .confident = predicted_full || first_got >= line->maximum,
        .no_response = facts->no_response,
    };
}

const struct mark_row *mark_rows_of(const struct script *script, size_t *count)
{
    size_t limit = 0;
    const struct award **finals = arena_get_array(script->arena, script->question->part_count, sizeof *finals);
    for (size_t i = 0; i < script->question->part_count; i++) {
        finals[i] = mark_award(script, i, PASS_FINAL, script->arena);
        limit += mark_slot_count(finals[i]);
    }
    struct mark_row *rows = arena_get_array(script->arena, limit, sizeof *rows);
    *count = 0;
    for (size_t i = 0; i < script->question->part_count; i++) {
        const struct award *first = mark_award(script, i, PASS_FIRST, script->arena);
        for (size_t slot = 0; slot < mark_slot_count(finals[i]); slot++)
            rows[(*count)++] = row_of(script, &script->parts[i], finals[i], slot, first);
    }
    return rows;
}

void mark_reasons(const struct award *award, struct buffer *out)
{
    struct json json;
    json_begin(&json, out);
    json_array(&json, NULL);
    for (size_t i = 0; i < award->line_count; i++) {
        const struct award_line *line = &award->lines[i];
        json_object(&json, NULL);
        json_text(&json, "item", line->node->id);
        json_whole(&json, "marks", line->marks);
        json_whole(&json, "of", line->maximum);
        json_text(&json, "reason", award_reason_name(line->reason));
        json_text(&json, "text", line->text);
        json_close_object(&json);
    }
    json_close_array(&json);
}
