/* Lists of a fixed number of items: what extra and wrong items do. */
#include "marking/inside.h"

#include "bank/scheme.h"

/* What was written, boiled down: items in order, neutral and repeated ones left out. */
struct entry {
    bool right;
    size_t child;           /* right: whose point it is; the node's child_count when under no point listed */
    const char *text;
};

struct list_case {
    const struct reading *reading;
    const struct node *node;
    struct lines *children;
    bool *taken;            /* children that have their line */
    struct entry *entries;
    size_t count, right, wrong;
    size_t slots;           /* not filled yet */
    struct lines out;
};

static void add_entry(struct list_case *list, struct entry entry)
{
    list->entries[list->count++] = entry;
    list->right += entry.right;
    list->wrong += !entry.right;
}

/* A child's index from a point's index; child_count for a point of another node. */
static size_t child_of(const struct list_case *list, int point, size_t first)
{
    size_t at = first;
    for (size_t i = 0; i < list->node->child_count; i++) {
        size_t end = at + scheme_point_count(&list->node->children[i]);
        if (point >= 0 && (size_t)point >= at && (size_t)point < end)
            return i;
        at = end;
    }
    return list->node->child_count;
}

/* A point that was killed makes its item a wrong one. */
static void read_items(struct list_case *list, const struct list_input *said, size_t first)
{
    bool *met = arena_get_array(list->reading->arena, list->node->child_count, sizeof *met);
    for (size_t i = 0; i < said->item_count; i++) {
        const struct list_item *item = &said->items[i];
        size_t child = item->kind == ITEM_RIGHT ? child_of(list, item->point, first) : list->node->child_count;
        bool listed = child < list->node->child_count;
        if (item->kind == ITEM_NEUTRAL || (listed && met[child]))
            continue;
        if (listed)
            met[child] = true;
        bool right = item->kind == ITEM_RIGHT && (!listed || lines_marks(&list->children[child]) > 0);
        add_entry(list, (struct entry){right, child, item->text});
    }
}

static void read_ticks(struct list_case *list, size_t wrong)
{
    for (size_t i = 0; i < list->node->child_count; i++)
        if (lines_marks(&list->children[i]) > 0)
            add_entry(list, (struct entry){true, i, NULL});
    for (size_t i = 0; i < wrong; i++)
        add_entry(list, (struct entry){false, list->node->child_count, NULL});
}

/* What an item under no point listed is worth: no more than any of the points. */
static int least_points_worth(const struct list_case *list)
{
    int least = 0;
    for (size_t i = 0; i < list->node->child_count; i++) {
        int reach = scheme_reachable(&list->node->children[i]);
        least = i == 0 || reach < least ? reach : least;
    }
    return least;
}

static struct award_line entry_line(const struct list_case *list, const struct entry *entry)
{
    if (entry->child < list->node->child_count && list->children[entry->child].count > 0)
        return list->children[entry->child].items[0];
    int marks = least_points_worth(list);
    return (struct award_line){list->node, AWARD_NO_POINT, marks, marks, REASON_EARNED,
                               "earned: right, though not listed", NULL};
}

static void give(struct list_case *list, const struct entry *entry)
{
    lines_add(&list->out, entry_line(list, entry));
    if (entry->child < list->node->child_count)
        list->taken[entry->child] = true;
    list->slots--;
}

static void withhold(struct list_case *list, const struct entry *entry, enum award_reason reason,
                     const char *text)
{
    struct award_line line = entry_line(list, entry);
    line.marks = 0;
    line.reason = reason;
    line.text = text;
    lines_add(&list->out, line);
    if (entry->child < list->node->child_count)
        list->taken[entry->child] = true;
    list->slots--;
}

/* What was written, in the sentence's place for it; `without` where it is not known. */
static const char *quoted(const struct list_case *list, const char *before, const char *text, const char *after,
                          const char *without)
{
    return text ? arena_print(list->reading->arena, "%s'%s'%s", before, text, after) : without;
}

static void add_wrong(struct list_case *list, const struct entry *entry)
{
    const char *text = quoted(list, "not given: ", entry->text, " is wrong",
                              "not given: a wrong item stands in this place");
    lines_add(&list->out, (struct award_line){list->node, AWARD_NO_POINT, least_points_worth(list), 0,
                                              REASON_LIST_WRONG, text, NULL});
    list->slots--;
}

static const struct entry *next_wrong(const struct list_case *list, size_t *at)
{
    while (*at < list->count && list->entries[*at].right)
        ++*at;
    return *at < list->count ? &list->entries[(*at)++] : NULL;
}

/* The first `kept` of the right entries count, the others are withheld; slots that no right item fills show the
 * wrong ones. */
static void keep_first(struct list_case *list, size_t kept, enum award_reason reason)
{
    size_t at = 0;
    for (size_t i = 0; i < list->count && list->slots > 0; i++) {
        const struct entry *entry = &list->entries[i];
        if (!entry->right)
            continue;
        if (kept > 0) {
            give(list, entry);
            kept--;
            continue;
        }
        const struct entry *wrong = next_wrong(list, &at);
        const char *text = reason == REASON_LIST_LATE
            ? "not given: more items than asked for, and the order is not known"
            : quoted(list, "cancelled by a wrong extra item: ", wrong ? wrong->text : NULL, "",
                     "cancelled by a wrong extra item");
        withhold(list, entry, reason, text);
    }
    const struct entry *wrong;
    while (list->slots > 0 && (wrong = next_wrong(list, &at)))
        add_wrong(list, wrong);
}

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

static size_t less(size_t a, size_t b)
{
    return a > b ? a - b : 0;
}

/* Only items beyond the number asked for make wrong ones cost something. */
static void cancel_extras(struct list_case *list)
{
    size_t asked = list->slots;
    bool extras = list->count > asked;
    keep_first(list, extras ? less(least(asked, list->right), list->wrong) : list->right, REASON_LIST_CANCELLED);
}

static void first_in_order(struct list_case *list)
{
    for (size_t i = 0; i < list->count; i++) {
        const struct entry *entry = &list->entries[i];
        if (list->slots > 0 && entry->right)
            give(list, entry);
        else if (list->slots > 0)
            add_wrong(list, entry);
        else if (entry->right)
            lines_add(&list->out, (struct award_line){list->node, AWARD_NO_POINT, 0, 0, REASON_LIST_LATE,
                      quoted(list, "right, but written after the items that count: ", entry->text, "",
                             "right, but written after the items that count"), NULL});
    }
}

/* Where only counts are known, the wrong items are taken as written first. */
static void first_by_count(struct list_case *list)
{
    size_t asked = list->slots;
    size_t certain = list->count > asked ? less(asked, list->wrong) : list->right;
    keep_first(list, least(certain, list->right), REASON_LIST_LATE);
}

struct lines list_lines(const struct reading *reading, const struct node *node, size_t *point)
{
    const struct list_input *said = reading->input->no_response ? NULL : input_of_list(reading->input, node);
    struct list_case list = {.reading = reading, .node = node, .out = {.arena = reading->arena}};
    size_t first = *point, limit = node->child_count + (said ? said->item_count + said->wrong : 0);
    list.children = arena_get_array(reading->arena, node->child_count, sizeof *list.children);
    for (size_t i = 0; i < node->child_count; i++)
        list.children[i] = tree_lines(reading, &node->children[i], point);
    list.taken = arena_get_array(reading->arena, node->child_count, sizeof *list.taken);
    list.entries = arena_get_array(reading->arena, limit, sizeof *list.entries);
    list.slots = least(node->take > 0 ? (size_t)node->take : 0, node->child_count);
    bool known = said && said->known;
    if (known)
        read_items(&list, said, first);
    else
        read_ticks(&list, said ? said->wrong : 0);
    if (node->list_rule == LIST_CANCEL)
        cancel_extras(&list);
    else if (known)
        first_in_order(&list);
    else
        first_by_count(&list);
    tree_fill(reading, node, list.children, list.taken, list.slots, (int)list.right, &list.out);
    lines_limit(&list.out, scheme_reachable(node));
    return list.out;
}
