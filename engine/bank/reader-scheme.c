/* Schemes: the tree of points, choices, routes, lists, levels and quality marks. */
#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "bank/reader-inner.h"
#include "bank/scheme.h"

/* ---- Nodes ---- */

/* "a.any2". By hand, because a bank has many nodes. */
static const char *numbered_id(struct reader *reader, const char *name, int number)
{
    char digits[12], *at = digits + sizeof digits;
    do
        *--at = (char)('0' + number % 10);
    while (number /= 10);
    size_t part = strlen(reader->part_id), named = strlen(name), count = (size_t)(digits + sizeof digits - at);
    char *id = arena_get(reader->arena, part + 1 + named + count + 1);
    memcpy(id, reader->part_id, part);
    id[part] = '.';
    memcpy(id + part + 1, name, named);
    memcpy(id + part + 1 + named, at, count);
    return id;
}

/* Nodes get ids of their own accord: "a.1" is the first point of part a, whatever ids other points were given, so
 * that writing one down later renames no other. */
static const char *own_id(struct reader *reader, enum node_kind kind)
{
    static const char *const names[NUMBERED_KINDS] = {
        [NODE_POINT] = "", [NODE_ALL] = "all", [NODE_ANY] = "any", [NODE_ROUTES] = "routes", [NODE_LIST] = "list",
        [NODE_LEVELS] = "levels", [NODE_QUALITY] = "quality",
    };
    return numbered_id(reader, names[kind], ++reader->numbered[kind]);
}

static struct node *new_node(struct reader *reader, enum node_kind kind)
{
    struct node *node = reader_new(reader, sizeof *node);
    struct sense_at at = reader_at(reader);
    node->kind = kind;
    node->line = at.line;
    node->column = at.column;
    node->objective = reader->part_objective;
    return node;
}

static void start_group(struct reader *reader)
{
    static const enum node_kind kinds[ELEMENT_COUNT] = {
        [ALL] = NODE_ALL, [ANY] = NODE_ANY, [ROUTES] = NODE_ROUTES, [ROUTE] = NODE_ALL, [LIST] = NODE_LIST,
        [LEVELS] = NODE_LEVELS, [QUALITY] = NODE_QUALITY,
    };
    static const char *const rules[] = {"cancel", "first"};
    struct node *node = new_node(reader, kinds[reader_frame(reader)->row->element]);
    node->id = own_id(reader, node->kind);
    node->name = reader_attribute(reader, "name");
    node->take = (int)reader_whole(reader, "take", 0);
    node->marks = (int)reader_whole(reader, "marks", 0);
    node->list_rule = (enum list_rule)reader_choice(reader, "rule", rules, 2, LIST_CANCEL);
}

static void take_wording(struct reader *reader, enum pile_kind kind, struct wording *wording)
{
    wording->items = reader_take(reader, kind, &wording->count);
}

/* The marks of a group follow from what is in it; those of "all" are a maximum that may be 0 for none. */
static void end_group(struct reader *reader)
{
    struct node *node = reader_frame(reader)->object;
    node->children = reader_take(reader, PILE_NODES, &node->child_count);
    take_wording(reader, PILE_IGNORES, &node->ignores);
    take_wording(reader, PILE_REJECTS, &node->rejects);
    if (node->kind != NODE_ALL)
        node->marks = scheme_reachable(node);
    reader_push(reader, PILE_NODES, node);
}

/* ---- Points ---- */

static bool is_indicative(struct reader *reader)
{
    return reader_parent(reader)->row->element == INDICATIVE;
}

static void start_point(struct reader *reader)
{
    static const char *const kinds[] = {"plain", "method", "accuracy", "independent", "implied"};
    struct node *node = new_node(reader, NODE_POINT);
    bool indicative = is_indicative(reader);
    const char *automatic = indicative ? numbered_id(reader, "i", ++reader->indicative_numbered)
                                       : own_id(reader, NODE_POINT);
    node->id = reader_attribute_or(reader, "id", automatic);
    node->point_kind = (enum point_kind)reader_choice(reader, "kind", kinds, 5, POINT_PLAIN);
    node->marks = (int)reader_whole(reader, "marks", indicative ? 0 : 1);
    node->needs = reader_list(reader, "needs", &node->need_count);
    node->follow = reader_yes(reader, "follow", true);
    node->idea = reader_attribute(reader, "idea");
    const char *objective = reader_attribute(reader, "objective");
    if (objective)
        node->objective = sense_objective(reader->reading->sense, reader_at(reader), objective,
                                          reader->reading->messages);
}

static void end_point(struct reader *reader)
{
    struct node *node = reader_frame(reader)->object;
    node->text = reader_prose(reader);
    if (node->text.count == 0)
        reader_fault(reader, NULL, "'point' has no text; wanted the idea that earns the mark");
    take_wording(reader, PILE_ACCEPTS, &node->accepts);
    take_wording(reader, PILE_IGNORES, &node->ignores);
    take_wording(reader, PILE_REJECTS, &node->rejects);
    node->keys = reader_take(reader, PILE_KEYS, &node->key_count);
    reader_push(reader, PILE_NODES, node);
}

static void end_wording(struct reader *reader)
{
    enum element element = reader_frame(reader)->row->element;
    const char *text = reader_text(reader);
    reader_push(reader, element == ACCEPT ? PILE_ACCEPTS : element == IGNORE ? PILE_IGNORES : PILE_REJECTS, &text);
}

/* ---- Key words ---- */

static void start_key(struct reader *reader)
{
    struct key_word *key = reader_new(reader, sizeof *key);
    key->essential = reader_yes(reader, "essential", false);
}

/* "second / time / rate": any one of the alternatives will do. */
static void end_key(struct reader *reader)
{
    struct key_word *key = reader_frame(reader)->object;
    char *text = (char *)reader_text(reader);
    size_t most = 1;
    for (const char *at = text; *at; at++)
        most += *at == '/';
    const char **alternatives = arena_get_array(reader->arena, most, sizeof *alternatives);
    for (char *rest = text, *word; (word = strsep(&rest, "/")) != NULL;) {
        word += strspn(word, " ");
        size_t length = strlen(word);
        while (length > 0 && word[length - 1] == ' ')
            word[--length] = '\0';
        if (length > 0)
            alternatives[key->count++] = word;
    }
    key->alternatives = alternatives;
    if (key->count == 0)
        reader_fault(reader, NULL, "'key' has no word; wanted a word, or several with '/' between them");
    else
        reader_push(reader, PILE_KEYS, key);
}

/* ---- Numbers ---- */

static void read_tolerance(struct reader *reader, struct number_key *number)
{
    const char *tolerance = reader_attribute(reader, "tolerance");
    if (!tolerance)
        return;
    number->tolerance_relative = strchr(tolerance, '%') != NULL;
    number->tolerance = reader_number(tolerance) / (number->tolerance_relative ? 100 : 1);
}

static void read_interval(struct reader *reader, struct number_key *number)
{
    bool from = reader_has_attribute(reader, "from"), to = reader_has_attribute(reader, "to");
    number->has_interval = from && to;
    number->from = reader_decimal(reader, "from", 0);
    number->to = reader_decimal(reader, "to", 0);
    number->to_excluded = reader_yes(reader, "to-excluded", false);
    if (from != to)
        reader_fault(reader, NULL, "'number' lacks '%s'; an interval wants from and to", from ? "to" : "from");
    else if (from && number->from > number->to)
        reader_fault(reader, "from", "the interval goes from %g to %g; write the lower number first", number->from,
                     number->to);
    else if (!to && number->to_excluded)
        reader_fault(reader, "to-excluded", "'number' has to-excluded but no interval; wanted from and to");
}

static void start_number(struct reader *reader)
{
    struct number_key *number = reader_new(reader, sizeof *number);
    struct node *point = reader_parent(reader)->object;
    number->symbol = reader_attribute(reader, "symbol");
    number->value = reader_attribute(reader, "value");
    number->formula = reader_attribute(reader, "formula");
    number->unit = reader_attribute_or(reader, "unit", "");
    number->unit_printed = reader_yes(reader, "unit-printed", false);
    number->figures = (int)reader_whole(reader, "figures", 0);
    number->places = (int)reader_whole(reader, "places", -1);
    read_tolerance(reader, number);
    read_interval(reader, number);
    if (number->value && number->formula)
        reader_fault(reader, NULL, "'number' has a value and a formula; keep one");
    else if (!number->value && !number->formula && !number->has_interval)
        reader_fault(reader, NULL, "'number' has no value; wanted one of value, formula, or from and to");
    else if (number->figures && number->places >= 0)
        reader_fault(reader, NULL, "'number' demands figures and places; keep one");
    point->number = number;
}

/* ---- Levels and quality ---- */

static void start_level(struct reader *reader)
{
    struct level *level = reader_new(reader, sizeof *level);
    const char *marks = reader_attribute_or(reader, "marks", "");
    level->number = (int)reader->piles[PILE_LEVELS].count - (int)reader_parent(reader)->heights[PILE_LEVELS] + 1;
    level->from = level->to = atoi(marks);
    const char *behind = marks + strspn(marks, "0123456789");
    if (*behind)
        level->to = atoi(behind + strcspn(behind, "0123456789"));
}

static void end_level(struct reader *reader)
{
    struct level *level = reader_frame(reader)->object;
    level->descriptor = reader_text(reader);
    reader_push(reader, PILE_LEVELS, level);
}

static size_t levels_so_far(const struct reader *reader, int of)
{
    return reader->piles[PILE_LEVELS].count - reader->frames[of].heights[PILE_LEVELS];
}

static void start_strand(struct reader *reader)
{
    struct strand *strand = reader_new(reader, sizeof *strand);
    strand->name = reader_attribute_or(reader, "name", "");
    strand->descriptors = arena_get_array(reader->arena, levels_so_far(reader, reader->depth - 1),
                                          sizeof *strand->descriptors);
}

static void end_strand(struct reader *reader)
{
    reader_push(reader, PILE_STRANDS, reader_frame(reader)->object);
}

/* What "at" and "cap" share: a level's number, and a text. */
static void start_of_level(struct reader *reader)
{
    struct level_cap *cap = reader_new(reader, sizeof *cap);
    cap->level = (int)reader_whole(reader, "level", 0);
}

static void end_strand_at(struct reader *reader)
{
    const struct level_cap *at = reader_frame(reader)->object;
    struct strand *strand = reader_parent(reader)->object;
    const char **descriptors = (const char **)strand->descriptors;
    const char *text = reader_text(reader);
    size_t levels = levels_so_far(reader, reader->depth - 2);
    if (!sense_strand_level(reader->reading->sense, reader_at(reader), strand->name, at->level, levels,
                            reader->reading->messages))
        return;
    assert(at->level >= 1 && (size_t)at->level <= levels);
    if (descriptors[at->level - 1])
        reader_fault(reader, "level", "the strand '%s' describes level %d twice; keep one", strand->name, at->level);
    descriptors[at->level - 1] = text;
}

static void end_cap(struct reader *reader)
{
    struct level_cap *cap = reader_frame(reader)->object;
    cap->condition = reader_text(reader);
    reader_push(reader, PILE_CAPS, cap);
}

/* Points of indicative content carry no marks, which the schema cannot tell from those that do. */
static void end_indicative(struct reader *reader)
{
    struct node *levels = reader_parent(reader)->object;
    levels->indicative = reader_take(reader, PILE_NODES, &levels->indicative_count);
}

static void end_levels(struct reader *reader)
{
    struct node *node = reader_frame(reader)->object;
    node->levels = reader_take(reader, PILE_LEVELS, &node->level_count);
    node->strands = reader_take(reader, PILE_STRANDS, &node->strand_count);
    node->caps = reader_take(reader, PILE_CAPS, &node->cap_count);
    node->marks = scheme_reachable(node);
    reader_push(reader, PILE_NODES, node);
}

static void start_band(struct reader *reader)
{
    struct band *band = reader_new(reader, sizeof *band);
    band->marks = (int)reader_whole(reader, "marks", 0);
}

static void end_band(struct reader *reader)
{
    struct band *band = reader_frame(reader)->object;
    band->descriptor = reader_text(reader);
    reader_push(reader, PILE_BANDS, band);
}

static void end_quality(struct reader *reader)
{
    struct node *node = reader_frame(reader)->object;
    node->bands = reader_take(reader, PILE_BANDS, &node->band_count);
    node->marks = scheme_reachable(node);
    reader_push(reader, PILE_NODES, node);
}

/* ---- The scheme as a whole ---- */

static void start_scheme(struct reader *reader)
{
    static const char *const workings[] = {"optional", "required"}, *const crossed[] = {"marked", "ignored"};
    struct part *part = reader_parent(reader)->object;
    struct scheme *scheme = &part->scheme;
    struct sense_at at = reader_at(reader);
    reader_frame(reader)->object = scheme;
    scheme->working_required = reader_choice(reader, "working", workings, 2, 0) == 1;
    scheme->unit_penalty = reader_yes(reader, "unit-penalty", true);
    scheme->crossed_out = (enum crossed_out)reader_choice(reader, "crossed-out", crossed, 2, CROSSED_OUT_MARKED);
    scheme->root = (struct node){.kind = NODE_ALL, .objective = part->objective, .line = at.line, .column = at.column};
    scheme->root.id = arena_print(reader->arena, "%s.scheme", reader->part_id);
}

static void end_scheme(struct reader *reader)
{
    struct scheme *scheme = reader_frame(reader)->object;
    scheme->root.children = reader_take(reader, PILE_NODES, &scheme->root.child_count);
}

#define GROUPS (PARENT(SCHEME) | PARENT(ALL) | PARENT(ANY) | PARENT(ROUTE))
#define WORDING_IN (PARENT(POINT) | PARENT(LIST))

const struct element_row rows_of_scheme[] = {
    {SCHEME, "scheme", PARENT(PART), start_scheme, end_scheme, false},
    {POINT, "point", GROUPS | PARENT(LIST) | PARENT(INDICATIVE), start_point, end_point, true},
    {ACCEPT, "accept", PARENT(POINT), NULL, end_wording, false},
    {IGNORE, "ignore", WORDING_IN, NULL, end_wording, false},
    {REJECT, "reject", WORDING_IN, NULL, end_wording, false},
    {KEY, "key", PARENT(POINT), start_key, end_key, false},
    {NUMBER, "number", PARENT(POINT), start_number, NULL, false},
    {ALL, "all", GROUPS, start_group, end_group, false},
    {ANY, "any", GROUPS, start_group, end_group, false},
    {LIST, "list", GROUPS, start_group, end_group, false},
    {ROUTES, "routes", GROUPS, start_group, end_group, false},
    {ROUTE, "route", PARENT(ROUTES), start_group, end_group, false},
    {LEVELS, "levels", PARENT(SCHEME), start_group, end_levels, false},
    {LEVEL, "level", PARENT(LEVELS), start_level, end_level, false},
    {STRAND, "strand", PARENT(LEVELS), start_strand, end_strand, false},
    {STRAND_AT, "at", PARENT(STRAND), start_of_level, end_strand_at, false},
    {CAP, "cap", PARENT(LEVELS), start_of_level, end_cap, false},
    {INDICATIVE, "indicative", PARENT(LEVELS), NULL, end_indicative, false},
    {QUALITY, "quality", PARENT(SCHEME), start_group, end_quality, false},
    {BAND, "band", PARENT(QUALITY), start_band, end_band, false},
};
const size_t rows_of_scheme_count = sizeof rows_of_scheme / sizeof *rows_of_scheme;
