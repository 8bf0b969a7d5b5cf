#include "practice/show.h"

#include <math.h>
#include <stdio.h>

#include "bank/scheme.h"
#include "base/buffer.h"
#include "base/text.h"
#include "quantity/unit.h"

static void show_wording(struct page *page, int level, const char *label, const struct wording *wording)
{
    if (!wording->count)
        return;
    page_item(page, level, label, "%s", "");
    for (size_t i = 0; i < wording->count; i++)
        page_add(page, STYLE_PLAIN, "%s%s", i ? "; " : "", wording->items[i]);
}

void show_right_value(struct buffer *out, const struct number_key *key, double value)
{
    struct buffer number = BUFFER_EMPTY;
    values_show_answer(&number, key, value);
    quantity_print(out, buffer_text(&number), key->unit);
    buffer_free(&number);
}

/* The tolerance in words: "within 2 %", "within 0.1". */
static void add_tolerance(struct buffer *out, const struct number_key *key)
{
    if (key->tolerance > 0 && key->tolerance_relative)
        buffer_print(out, ", within %g %%", key->tolerance * 100);
    else if (key->tolerance > 0)
        buffer_print(out, ", within %g", key->tolerance);
    if (key->figures)
        buffer_print(out, ", to %s", text_count(key->figures, "significant figure", "significant figures"));
    else if (key->places == 0)
        buffer_add(out, ", as a whole number");
    else if (key->places > 0)
        buffer_print(out, ", to %s", text_count(key->places, "decimal place", "decimal places"));
}

static void add_interval(struct buffer *out, const struct number_key *key)
{
    char number[32];
    snprintf(number, sizeof number, "%g", key->from);
    quantity_print(out, number, key->unit);
    buffer_add(out, " to ");
    snprintf(number, sizeof number, "%g", key->to);
    quantity_print(out, number, key->unit);
    buffer_add(out, key->to_excluded ? " (not included)" : "");
}

static void show_number(struct page *page, int level, const struct number_key *key, const struct values *values)
{
    struct buffer wanted = BUFFER_EMPTY;
    double expected = values ? values_expected(values, key) : (double)NAN;
    if (isfinite(expected))
        show_right_value(&wanted, key, expected);
    else if (key->has_interval)
        add_interval(&wanted, key);
    add_tolerance(&wanted, key);
    page_item(page, level, "value:", "%s", buffer_text(&wanted));
    buffer_free(&wanted);
}

/* What a point is held against, set in below its text. */
static void show_point_rules(struct page *page, int level, const struct node *point, const struct values *values)
{
    if (point->number)
        show_number(page, level, point->number, values);
    show_wording(page, level, "accept:", &point->accepts);
    show_wording(page, level, "ignore:", &point->ignores);
    show_wording(page, level, "reject:", &point->rejects);
}

void show_point(struct page *page, const struct node *point, const struct values *values)
{
    page_paragraph(page, "%s", "");
    show_rich(page, &point->text, values);
    if (point->marks > 1)
        show_marks(page, point->marks);
    show_point_rules(page, 1, point, values);
}

/* ---- A whole scheme, as a marker reads it ---------------------------------------------------------- */

static const char *kind_words(enum point_kind kind)
{
    switch (kind) {
    case POINT_METHOD: return "method";
    case POINT_ACCURACY: return "accuracy";
    case POINT_INDEPENDENT: return "independent";
    case POINT_IMPLIED: return "implied";
    case POINT_PLAIN: break;
    }
    return NULL;
}

static void add_point_terms(struct page *page, const struct scheme_view *view, const struct node *point)
{
    const char *kind = kind_words(point->point_kind);
    page_add(page, STYLE_STRONG, "  [%s%s%s]", kind ? kind : "", kind ? ", " : "",
             text_count(point->marks, "mark", "marks"));
    for (size_t i = 0; i < point->need_count; i++)
        page_add(page, STYLE_QUIET, "%s%s", i ? ", " : " only with ", point->needs[i]);
    if (point->number && !point->follow)
        page_add(page, STYLE_QUIET, " correct answer only");
    if (point->objective != view->part->objective)
        page_add(page, STYLE_QUIET, " %s", view->course->objectives[point->objective].id);
}

static void show_keys(struct page *page, int level, const struct node *point)
{
    if (!point->key_count)
        return;
    page_item(page, level, "key words:", "%s", "");
    for (size_t i = 0; i < point->key_count; i++) {
        const struct key_word *key = &point->keys[i];
        for (size_t k = 0; k < key->count; k++)
            page_add(page, key->essential ? STYLE_EMPHASIS : STYLE_PLAIN, "%s%s", k ? " / " : i ? "; " : "",
                     key->alternatives[k]);
        if (key->essential)
            page_add(page, STYLE_QUIET, " (must be there)");
    }
}

static void show_node(struct page *page, const struct scheme_view *view, const struct node *node, int level);

static void show_children(struct page *page, const struct scheme_view *view, const struct node *node, int level)
{
    for (size_t i = 0; i < node->child_count; i++)
        show_node(page, view, &node->children[i], level);
}

static void show_scheme_point(struct page *page, const struct scheme_view *view, const struct node *point, int level)
{
    page_item(page, level, point->id, "%s", "");
    show_rich(page, &point->text, view->values);
    add_point_terms(page, view, point);
    show_point_rules(page, level + 1, point, view->values);
    if (view->keys)
        show_keys(page, level + 1, point);
}

static void show_list(struct page *page, const struct scheme_view *view, const struct node *node, int level)
{
    page_item(page, level, "list", "%s asked for. %s", text_count(node->take, "item", "items"),
              node->list_rule == LIST_CANCEL ? "When there are more, each wrong one cancels a right one."
                                             : "Only the first so many are marked.");
    show_wording(page, level + 1, "ignore:", &node->ignores);
    show_wording(page, level + 1, "reject:", &node->rejects);
    show_children(page, view, node, level + 1);
}

static void show_level(struct page *page, const struct node *node, size_t index, int level)
{
    const struct level *shown = &node->levels[index];
    char marker[32], marks[32];
    snprintf(marker, sizeof marker, "level %d", shown->number);
    if (shown->from == shown->to)
        snprintf(marks, sizeof marks, "%s", text_count(shown->to, "mark", "marks"));
    else
        snprintf(marks, sizeof marks, "%d to %d marks", shown->from, shown->to);
    page_item(page, level, marker, "%s", shown->descriptor ? shown->descriptor : "");
    page_add(page, STYLE_STRONG, "  [%s]", marks);
    for (size_t i = 0; i < node->strand_count; i++)
        if (node->strands[i].descriptors && node->strands[i].descriptors[index])
            page_item(page, level + 1, node->strands[i].name, "%s", node->strands[i].descriptors[index]);
}

/* Highest level first, as a marker reads down until one fits. */
static void show_levels(struct page *page, const struct scheme_view *view, const struct node *node, int level)
{
    for (size_t i = node->level_count; i-- > 0;)
        show_level(page, node, i, level);
    for (size_t i = 0; i < node->cap_count; i++)
        page_item(page, level, "at most", "level %d when: %s", node->caps[i].level, node->caps[i].condition);
    if (node->indicative_count)
        page_item(page, level, "content", "an answer may use these; they are no list to tick off:");
    for (size_t i = 0; i < node->indicative_count; i++) {
        page_item(page, level + 1, "-", "%s", "");
        show_rich(page, &node->indicative[i].text, view->values);
    }
}

static void show_quality(struct page *page, const struct node *node, int level)
{
    page_item(page, level, "quality", "how well it is written; nothing where the rest earned nothing:");
    for (size_t i = 0; i < node->band_count; i++) {
        char marker[32];
        snprintf(marker, sizeof marker, "%d", node->bands[i].marks);
        page_item(page, level + 1, marker, "%s", node->bands[i].descriptor);
    }
}

static void show_routes(struct page *page, const struct scheme_view *view, const struct node *node, int level)
{
    page_item(page, level, "routes", "whichever of these earns most:");
    for (size_t i = 0; i < node->child_count; i++) {
        page_item(page, level + 1, "-", "%s", node->children[i].name ? node->children[i].name : node->children[i].id);
        show_children(page, view, &node->children[i], level + 2);
    }
}

static void show_node(struct page *page, const struct scheme_view *view, const struct node *node, int level)
{
    switch (node->kind) {
    case NODE_POINT: show_scheme_point(page, view, node, level); break;
    case NODE_ALL:
        if (node->marks)
            page_item(page, level, "group", "at most %s of these:", text_count(node->marks, "mark", "marks"));
        show_children(page, view, node, level + (node->marks > 0));
        break;
    case NODE_ANY:
        page_item(page, level, "any", "%d of these:", node->take);
        show_children(page, view, node, level + 1);
        break;
    case NODE_ROUTES: show_routes(page, view, node, level); break;
    case NODE_LIST: show_list(page, view, node, level); break;
    case NODE_LEVELS: show_levels(page, view, node, level); break;
    case NODE_QUALITY: show_quality(page, node, level); break;
    }
}

static bool find_unit(const struct node *point, void *found)
{
    *(bool *)found = point->number && *point->number->unit;
    return !*(bool *)found;
}

static bool wants_a_unit(const struct node *root)
{
    bool found = false;
    scheme_each_point(root, find_unit, &found);
    return found;
}

void show_scheme(struct page *page, const struct scheme_view *view)
{
    const struct scheme *scheme = &view->part->scheme;
    show_children(page, view, &scheme->root, 0);
    if (scheme->working_required)
        page_item(page, 0, "note", "working has to be shown: an answer without it earns nothing.");
    if (scheme->unit_penalty && wants_a_unit(&scheme->root))
        page_item(page, 0, "note", "a missing or wrong unit loses the final mark, once in the question.");
    if (scheme->crossed_out == CROSSED_OUT_IGNORED)
        page_item(page, 0, "note", "crossed-out work is not marked, even where nothing replaces it.");
}
