#include "support/same.h"

#include <string.h>

static const char *difference;

static bool differs(const char *what)
{
    difference = what;
    return false;
}

static bool same_text(const char *a, const char *b)
{
    return a && b ? strcmp(a, b) == 0 : a == b;
}

static bool same_texts(const char *const *a, size_t count, const char *const *b, size_t other, const char *what)
{
    if (count != other)
        return differs(what);
    for (size_t i = 0; i < count; i++)
        if (!same_text(a[i], b[i]))
            return differs(what);
    return true;
}

#define SAME(member) (a->member == b->member || differs(#member))
#define SAME_TEXT(member) (same_text(a->member, b->member) || differs(#member))
#define SAME_REAL(member) ((a->member >= b->member && a->member <= b->member) || differs(#member))

static bool same_rich(const struct rich *a, const struct rich *b)
{
    if (a->count != b->count)
        return differs("number of runs");
    for (size_t i = 0; i < a->count; i++)
        if (a->runs[i].style != b->runs[i].style || !same_text(a->runs[i].text, b->runs[i].text))
            return differs(a->runs[i].text);
    return true;
}

static bool same_blocks(const struct block *a, size_t count, const struct block *b, size_t other);

static bool same_row(const struct table_row *a, const struct table_row *b)
{
    if (!SAME(count) || !SAME(heading))
        return false;
    for (size_t i = 0; i < a->count; i++)
        if (!same_rich(&a->cells[i], &b->cells[i]))
            return false;
    return true;
}

static bool same_block(const struct block *a, const struct block *b)
{
    bool same = SAME(kind) && same_rich(&a->text, &b->text) && SAME_TEXT(title) && SAME_TEXT(file) && SAME_TEXT(alternative) &&
                SAME(row_count) && SAME(item_count);
    for (size_t i = 0; same && i < a->row_count; i++)
        same = same_row(&a->rows[i], &b->rows[i]);
    for (size_t i = 0; same && i < a->item_count; i++)
        same = same_rich(&a->items[i], &b->items[i]);
    return same && same_blocks(a->blocks, a->block_count, b->blocks, b->block_count);
}

static bool same_blocks(const struct block *a, size_t count, const struct block *b, size_t other)
{
    if (count != other)
        return differs("number of blocks");
    for (size_t i = 0; i < count; i++)
        if (!same_block(&a[i], &b[i]))
            return false;
    return true;
}

static bool same_number(const struct number_key *a, const struct number_key *b)
{
    if (!a || !b)
        return a == b || differs("number");
    return SAME_TEXT(symbol) && SAME_TEXT(value) && SAME_TEXT(formula) && SAME_TEXT(unit) && SAME(unit_printed) &&
           SAME_REAL(tolerance) && SAME(tolerance_relative) && SAME(has_interval) && SAME_REAL(from) && SAME_REAL(to) &&
           SAME(to_excluded) && SAME(figures) && SAME(places);
}

static bool same_wording(const struct wording *a, const struct wording *b, const char *what)
{
    return same_texts(a->items, a->count, b->items, b->count, what);
}

static bool same_levels(const struct node *a, const struct node *b)
{
    if (!SAME(level_count) || !SAME(strand_count) || !SAME(cap_count) || !SAME(band_count))
        return false;
    for (size_t i = 0; i < a->level_count; i++)
        if (a->levels[i].from != b->levels[i].from || a->levels[i].to != b->levels[i].to ||
            a->levels[i].number != b->levels[i].number || !same_text(a->levels[i].descriptor, b->levels[i].descriptor))
            return differs("level");
    for (size_t i = 0; i < a->strand_count; i++)
        if (!same_text(a->strands[i].name, b->strands[i].name) ||
            !same_texts(a->strands[i].descriptors, a->level_count, b->strands[i].descriptors, b->level_count, "strand"))
            return differs("strand");
    for (size_t i = 0; i < a->cap_count; i++)
        if (a->caps[i].level != b->caps[i].level || !same_text(a->caps[i].condition, b->caps[i].condition))
            return differs("cap");
    for (size_t i = 0; i < a->band_count; i++)
        if (a->bands[i].marks != b->bands[i].marks || !same_text(a->bands[i].descriptor, b->bands[i].descriptor))
            return differs("band");
    return true;
}

static bool same_nodes(const struct node *a, size_t count, const struct node *b, size_t other);

static bool same_keys(const struct node *a, const struct node *b)
{
    if (!SAME(key_count))
        return false;
    for (size_t i = 0; i < a->key_count; i++)
        if (a->keys[i].essential != b->keys[i].essential ||
            !same_texts(a->keys[i].alternatives, a->keys[i].count, b->keys[i].alternatives, b->keys[i].count, "key"))
            return differs("key");
    return true;
}

static bool same_node(const struct node *a, const struct node *b)
{
    return SAME(kind) && SAME_TEXT(id) && SAME(marks) && SAME(point_kind) && same_rich(&a->text, &b->text) &&
           same_texts(a->needs, a->need_count, b->needs, b->need_count, "needs") && SAME(objective) && SAME(follow) &&
           SAME_TEXT(idea) && same_wording(&a->accepts, &b->accepts, "accept") &&
           same_wording(&a->ignores, &b->ignores, "ignore") && same_wording(&a->rejects, &b->rejects, "reject") &&
           same_keys(a, b) && same_number(a->number, b->number) && SAME(take) && SAME(list_rule) && SAME_TEXT(name) &&
           same_levels(a, b) && same_nodes(a->indicative, a->indicative_count, b->indicative, b->indicative_count) &&
           same_nodes(a->children, a->child_count, b->children, b->child_count);
}

static bool same_nodes(const struct node *a, size_t count, const struct node *b, size_t other)
{
    if (count != other)
        return differs("number of nodes");
    for (size_t i = 0; i < count; i++)
        if (!same_node(&a[i], &b[i]))
            return false;
    return true;
}

static bool same_givens(const struct given *left, size_t count, const struct given *right, size_t other)
{
    if (count != other)
        return differs("number of givens");
    for (size_t i = 0; i < count; i++) {
        const struct given *a = &left[i], *b = &right[i];
        if (!SAME_TEXT(symbol) || !SAME_TEXT(name) || !SAME_TEXT(unit) || !SAME(form) || !SAME_TEXT(low) || !SAME_TEXT(high) ||
            !SAME_TEXT(step) || !SAME_TEXT(formula) || !SAME(places) ||
            !same_texts(a->choices, a->choice_count, b->choices, b->choice_count, "choices"))
            return false;
    }
    return true;
}

static bool same_indices(const int *a, size_t count, const int *b, size_t other, const char *what)
{
    return (count == other && (!count || memcmp(a, b, count * sizeof *a) == 0)) || differs(what);
}

static bool same_part(const struct part *a, const struct part *b)
{
    return SAME_TEXT(id) && SAME(objective) && SAME(word) && SAME(marks) && SAME(lines) &&
           same_indices(a->skills, a->skill_count, b->skills, b->skill_count, "skills") &&
           same_blocks(a->ask.items, a->ask.count, b->ask.items, b->ask.count) &&
           same_givens(a->givens, a->given_count, b->givens, b->given_count) &&
           SAME(scheme.working_required) && SAME(scheme.unit_penalty) && SAME(scheme.crossed_out) &&
           same_node(&a->scheme.root, &b->scheme.root) &&
           same_blocks(a->model.items, a->model.count, b->model.items, b->model.count) &&
           same_blocks(a->note.items, a->note.count, b->note.items, b->note.count);
}

bool same_question(const struct question *a, const struct question *b, const char **where)
{
    bool same = SAME_TEXT(id) && SAME(topic) && same_indices(a->also, a->also_count, b->also, b->also_count, "also") &&
                SAME(demand) && SAME(marks) && SAME_REAL(minutes) && SAME_TEXT(caution) && SAME(varied) && SAME(part_count) &&
                same_texts(a->enemies, a->enemy_count, b->enemies, b->enemy_count, "enemies") &&
                same_blocks(a->stem.items, a->stem.count, b->stem.items, b->stem.count) &&
                same_givens(a->givens, a->given_count, b->givens, b->given_count) &&
                same_blocks(a->note.items, a->note.count, b->note.items, b->note.count);
    for (size_t i = 0; same && i < a->part_count; i++)
        same = same_part(&a->parts[i], &b->parts[i]);
    *where = same ? NULL : difference;
    return same;
}
