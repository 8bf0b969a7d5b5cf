/* From questions to rows. A question is held whole or not at all: half of one would be read back as another. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "authoring/cell.h"
#include "authoring/sheet-inner.h"
#include "base/text.h"

struct sheet {
    const struct course *course;
    const struct question *question;
    const struct part *part;
    struct arena *arena;
    struct buffer rows;
    const char *cells[SHEET_COLUMNS];   /* of the row in hand */
    const char *fault;                  /* why the question cannot be held; NULL */
    int points, groups;                 /* met so far in the part */
};

/* ---- Cells ---------------------------------------------------------------------------------------- */

static void set(struct sheet *sheet, enum sheet_column column, const char *text)
{
    sheet->cells[column] = text;
}

static void set_number(struct sheet *sheet, enum sheet_column column, double value)
{
    set(sheet, column, arena_print(sheet->arena, "%.15g", value));
}

static void set_buffer(struct sheet *sheet, enum sheet_column column, struct buffer *text, bool held, const char *fault)
{
    if (!held && !sheet->fault)
        sheet->fault = fault;
    set(sheet, column, arena_copy_text(sheet->arena, buffer_text(text)));
    buffer_free(text);
}

static void set_blocks(struct sheet *sheet, enum sheet_column column, const struct blocks *blocks)
{
    struct buffer text = BUFFER_EMPTY;
    bool held = cell_write_blocks(&text, blocks);
    set_buffer(sheet, column, &text, held, "it has a table, a figure, a source, a list or braces in its text");
}

static void set_wordings(struct sheet *sheet, enum sheet_column column, const struct wording *wording)
{
    struct buffer text = BUFFER_EMPTY;
    bool held = cell_write_wordings(&text, wording);
    set_buffer(sheet, column, &text, held, "a wording holds a |");
}

static void set_givens(struct sheet *sheet, enum sheet_column column, const struct given *givens, size_t count)
{
    struct buffer text = BUFFER_EMPTY;
    bool held = cell_write_givens(&text, givens, count);
    set_buffer(sheet, column, &text, held, "the name of a given holds a | or square brackets");
}

static const char *join(struct sheet *sheet, const char *const *items, size_t count)
{
    const char *list = NULL;
    for (size_t i = 0; i < count; i++)
        list = list ? arena_print(sheet->arena, "%s %s", list, items[i]) : items[i];
    return list;
}

static void end_row(struct sheet *sheet)
{
    set(sheet, SHEET_QUESTION, sheet->question->id);
    sheet_add_row(&sheet->rows, sheet->cells);
    memset(sheet->cells, 0, sizeof sheet->cells);
}

/* ---- Points --------------------------------------------------------------------------------------- */

static void set_keys(struct sheet *sheet, const struct node *point)
{
    struct buffer text = BUFFER_EMPTY;
    bool held = true;
    for (size_t i = 0; i < point->key_count; i++) {
        buffer_print(&text, "%s%s", i ? " | " : "", point->keys[i].essential ? "!" : "");
        for (size_t k = 0; k < point->keys[i].count; k++) {
            buffer_print(&text, "%s%s", k ? " / " : "", point->keys[i].alternatives[k]);
            held = held && !strchr(point->keys[i].alternatives[k], '|');
        }
    }
    set_buffer(sheet, SHEET_KEY, &text, held, "a key word holds a |");
}

static void set_key_number(struct sheet *sheet, const struct number_key *key)
{
    set(sheet, SHEET_VALUE, key->value);
    set(sheet, SHEET_FORMULA, key->formula);
    set(sheet, SHEET_SYMBOL, key->symbol);
    set(sheet, SHEET_UNIT, key->unit);
    set(sheet, SHEET_NUMBER_UNIT, key->unit_printed ? "yes" : NULL);
    if (key->tolerance > 0)
        set(sheet, SHEET_TOLERANCE, arena_print(sheet->arena, key->tolerance_relative ? "%.15g%%" : "%.15g",
                                                key->tolerance * (key->tolerance_relative ? 100 : 1)));
    if (key->figures)
        set_number(sheet, SHEET_FIGURES, key->figures);
    if (key->places >= 0)
        set_number(sheet, SHEET_PLACES, key->places);
    if (key->has_interval) {
        set_number(sheet, SHEET_FROM, key->from);
        set_number(sheet, SHEET_TO, key->to);
        set(sheet, SHEET_TO_EXCLUDED, key->to_excluded ? "yes" : NULL);
    }
}

static void set_point(struct sheet *sheet, const struct node *point, const char *own_id, int own_marks)
{
    static const char *const kinds[] = {NULL, "method", "accuracy", "independent", "implied"};
    struct buffer text = BUFFER_EMPTY;
    bool held = cell_write_rich(&text, &point->text);
    set_buffer(sheet, SHEET_POINT, &text, held, "the text of a point has braces");
    set(sheet, SHEET_ID, strcmp(point->id, own_id) == 0 ? NULL : point->id);
    set(sheet, SHEET_KIND, kinds[point->point_kind]);
    if (point->marks != own_marks)
        set_number(sheet, SHEET_POINT_MARKS, point->marks);
    set(sheet, SHEET_NEEDS, join(sheet, point->needs, point->need_count));
    if (point->objective != sheet->part->objective)
        set(sheet, SHEET_POINT_OBJECTIVE, sheet->course->objectives[point->objective].id);
    set(sheet, SHEET_FOLLOW, point->follow ? NULL : "no");
    set(sheet, SHEET_IDEA, point->idea);
    set_wordings(sheet, SHEET_ACCEPT, &point->accepts);
    set_wordings(sheet, SHEET_IGNORE, &point->ignores);
    set_wordings(sheet, SHEET_REJECT, &point->rejects);
    set_keys(sheet, point);
    if (point->number)
        set_key_number(sheet, point->number);
}

static void add_point(struct sheet *sheet, const struct node *point, const char *group)
{
    set_point(sheet, point, arena_print(sheet->arena, "%s.%d", sheet->part->id, ++sheet->points), 1);
    set(sheet, SHEET_GROUP, group);
    end_row(sheet);
}

/* ---- Groups --------------------------------------------------------------------------------------- */

/* A remark keeps two groups that look alike apart. */
static const char *label(struct sheet *sheet, const char *words)
{
    return arena_print(sheet->arena, "%s (%d)", words, ++sheet->groups);
}

static void add_group_points(struct sheet *sheet, const struct node *node, const char *group)
{
    for (size_t i = 0; i < node->child_count; i++) {
        if (node->children[i].kind != NODE_POINT && !sheet->fault)
            sheet->fault = "it has a group of points inside another";
        if (i == 0 && node->kind == NODE_LIST) {
            set_wordings(sheet, SHEET_LIST_IGNORE, &node->ignores);
            set_wordings(sheet, SHEET_LIST_REJECT, &node->rejects);
        }
        add_point(sheet, &node->children[i], group);
    }
}

static void add_routes(struct sheet *sheet, const struct node *node)
{
    for (size_t i = 0; i < node->child_count; i++) {
        const char *name = node->children[i].name;
        if (name[strlen(name) - 1] == ')' && !sheet->fault)
            sheet->fault = "the name of a route ends with a bracket";
        const char *group = arena_print(sheet->arena, "route %s", name);
        if (strlen(group) > SHEET_GROUP_LIMIT && !sheet->fault)
            sheet->fault = "the name of a route is too long";
        add_group_points(sheet, &node->children[i], group);
    }
}

static void add_described(struct sheet *sheet, const char *group, const char *text)
{
    set(sheet, SHEET_GROUP, group);
    set(sheet, SHEET_POINT, text);
    end_row(sheet);
}

static void add_levels(struct sheet *sheet, const struct node *node)
{
    struct arena *arena = sheet->arena;
    if (node->strand_count && !sheet->fault)
        sheet->fault = "its levels have strands";
    for (size_t i = 0; i < node->level_count; i++) {
        const struct level *level = &node->levels[i];
        add_described(sheet, level->from == level->to ? arena_print(arena, "level %d", level->to)
                                                      : arena_print(arena, "level %d-%d", level->from, level->to),
                      level->descriptor);
    }
    for (size_t i = 0; i < node->cap_count; i++)
        add_described(sheet, arena_print(arena, "cap %d", node->caps[i].level), node->caps[i].condition);
    for (size_t i = 0; i < node->indicative_count; i++) {
        set_point(sheet, &node->indicative[i], arena_print(arena, "%s.i%zu", sheet->part->id, i + 1), 0);
        set(sheet, SHEET_GROUP, "indicative");
        end_row(sheet);
    }
}

static void add_node(struct sheet *sheet, const struct node *node)
{
    struct arena *arena = sheet->arena;
    switch (node->kind) {
    case NODE_POINT: add_point(sheet, node, NULL); break;
    case NODE_ANY: add_group_points(sheet, node, label(sheet, arena_print(arena, "any %d", node->take))); break;
    case NODE_LIST:
        add_group_points(sheet, node, label(sheet, arena_print(arena, "list %d%s", node->take,
                                                               node->list_rule == LIST_FIRST ? " first" : "")));
        break;
    case NODE_ALL:
        if (!node->marks && !sheet->fault)
            sheet->fault = "it has a group without a maximum";
        add_group_points(sheet, node, label(sheet, arena_print(arena, "all %d", node->marks)));
        break;
    case NODE_ROUTES: add_routes(sheet, node); break;
    case NODE_LEVELS: add_levels(sheet, node); break;
    case NODE_QUALITY:
        for (size_t i = 0; i < node->band_count; i++)
            add_described(sheet, arena_print(arena, "band %d", node->bands[i].marks), node->bands[i].descriptor);
        break;
    }
}

/* ---- Parts and questions -------------------------------------------------------------------------- */

static void set_scheme(struct sheet *sheet, const struct scheme *scheme)
{
    const char *flags[3];
    size_t count = 0;
    if (scheme->working_required)
        flags[count++] = "working required";
    if (!scheme->unit_penalty)
        flags[count++] = "no unit penalty";
    if (scheme->crossed_out == CROSSED_OUT_IGNORED)
        flags[count++] = "crossed-out ignored";
    struct buffer text = BUFFER_EMPTY;
    const struct wording wording = {flags, count};
    bool held = cell_write_wordings(&text, &wording);
    set_buffer(sheet, SHEET_SCHEME, &text, held, NULL);
}

static void set_part(struct sheet *sheet, const struct part *part)
{
    const char *skills = NULL;
    for (size_t i = 0; i < part->skill_count; i++)
        skills = arena_print(sheet->arena, "%s%s%s", skills ? skills : "", skills ? " " : "",
                             sheet->course->skills[part->skills[i]].id);
    if (sheet->question->part_count > 1 || strcmp(part->id, "a") != 0)
        set(sheet, SHEET_PART, part->id);
    set(sheet, SHEET_OBJECTIVE, sheet->course->objectives[part->objective].id);
    set(sheet, SHEET_COMMAND, sheet->course->words[part->word].word);
    set_number(sheet, SHEET_MARKS, part->marks);
    set(sheet, SHEET_SKILLS, skills);
    if (part->lines != 2 * part->marks)
        set_number(sheet, SHEET_LINES, part->lines);
    set_blocks(sheet, SHEET_ASK, &part->ask);
    set_blocks(sheet, SHEET_MODEL, &part->model);
    set_blocks(sheet, SHEET_NOTE, &part->note);
    set_givens(sheet, SHEET_PART_GIVENS, part->givens, part->given_count);
    set_scheme(sheet, &part->scheme);
}

static void set_question(struct sheet *sheet)
{
    static const char *const demands[] = {"low", "standard", "high"};
    const struct question *question = sheet->question;
    const char *also = NULL;
    for (size_t i = 0; i < question->also_count; i++)
        also = arena_print(sheet->arena, "%s%s%s", also ? also : "", also ? " " : "",
                           sheet->course->topics[question->also[i]].id);
    double usual = question->marks * sheet->course->minutes_per_mark;
    set(sheet, SHEET_TOPIC, sheet->course->topics[question->topic].id);
    set(sheet, SHEET_ALSO, also);
    set(sheet, SHEET_DEMAND, demands[question->demand]);
    if (question->minutes > usual + 1e-9 || question->minutes < usual - 1e-9)
        set_number(sheet, SHEET_MINUTES, question->minutes);
    set(sheet, SHEET_ENEMIES, join(sheet, question->enemies, question->enemy_count));
    set(sheet, SHEET_CAUTION, question->caution);
    set_blocks(sheet, SHEET_STEM, &question->stem);
    set_blocks(sheet, SHEET_QUESTION_NOTE, &question->note);
    set_givens(sheet, SHEET_GIVENS, question->givens, question->given_count);
}

static void add_question(struct sheet *sheet)
{
    set_question(sheet);
    for (size_t i = 0; i < sheet->question->part_count; i++) {
        sheet->part = &sheet->question->parts[i];
        sheet->points = sheet->groups = 0;
        set_part(sheet, sheet->part);
        for (size_t k = 0; k < sheet->part->scheme.root.child_count; k++)
            add_node(sheet, &sheet->part->scheme.root.children[k]);
    }
}

bool sheet_write(struct bank *bank, const size_t *indices, size_t count, struct buffer *out, struct messages *messages)
{
    size_t all = count ? count : bank_question_count(bank);
    bool read = true;
    sheet_add_headings(out);
    for (size_t i = 0; read && i < all; i++) {
        struct sheet sheet = {.course = bank_course(bank), .arena = arena_new()};
        sheet.question = bank_question(bank, count ? indices[i] : i, sheet.arena, messages);
        read = sheet.question != NULL;
        if (read)
            add_question(&sheet);
        if (read && sheet.fault)
            messages_add(messages, SEVERITY_WARNING, (struct place){bank_path(bank), sheet.question->line, sheet.question->column},
                         arena_print(sheet.arena, "question %s", sheet.question->id), "left out, for a table cannot hold it: %s",
                         sheet.fault);
        else if (read)
            buffer_add(out, buffer_text(&sheet.rows));
        buffer_free(&sheet.rows);
        arena_free(sheet.arena);
    }
    return read;
}
