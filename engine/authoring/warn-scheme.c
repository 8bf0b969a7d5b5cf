/* Would two markers do the same with this scheme? */
#include <string.h>

#include "answer/judgement.h"
#include "authoring/warnings-inner.h"
#include "bank/scheme.h"
#include "base/buffer.h"
#include "base/text.h"

/* Common practice, no source. */
enum { POINT_MARKS_MOST = 2, POINTS_A_MARK = 4 };

struct points {
    const struct node *items[64];
    size_t count;
};

static bool take_point(const struct node *point, void *context)
{
    struct points *points = context;
    if (points->count < sizeof points->items / sizeof *points->items)
        points->items[points->count++] = point;
    return true;
}

static struct weak at_node(const struct weak *weak, const struct node *node)
{
    struct weak here = *weak;
    here.line = node->line, here.column = node->column;
    return here;
}

/* ---- Marks and points ----------------------------------------------------------------------------- */

static void check_keeping(const struct weak *weak, const struct part *part, const struct points *points)
{
    const struct command_word *word = &weak->course->words[part->word];
    for (size_t i = 0; i < points->count; i++)
        if (points->items[i]->marks > POINT_MARKS_MOST) {
            struct weak here = at_node(weak, points->items[i]);
            weak_warn(&here, "point %s carries %d marks at once; with a point a mark everybody marks alike",
                      points->items[i]->id, points->items[i]->marks);
        }
    if (!scheme_has_levels(&part->scheme.root) && points->count > (size_t)(part->marks * POINTS_A_MARK))
        weak_warn(weak, "%zu points for %s; name the few that a student may be expected to find", points->count,
                  text_count(part->marks, "mark", "marks"));
    if (part->marks == 1 && weak->course->objectives[word->objective].kind == OBJECTIVE_ANALYSE &&
        (text_equal(word->word, "evaluate") || text_equal(word->word, "discuss") || text_equal(word->word, "assess") ||
         text_equal(word->word, "to what extent")))
        weak_warn(weak, "one mark for '%s': a judgement with its reasons needs more", word->word);
}

/* ---- Key words ------------------------------------------------------------------------------------ */

static bool share_a_word(const struct weak *weak, const struct key_word *a, const struct key_word *b)
{
    for (size_t i = 0; i < a->count; i++) {
        const struct words x = words_of(a->alternatives[i], weak->arena);
        for (size_t k = 0; k < b->count; k++) {
            const struct words y = words_of(b->alternatives[k], weak->arena);
            bool same = x.count == y.count && x.count > 0;
            for (size_t w = 0; same && w < x.count; w++)
                same = text_equal(x.items[w].stem, y.items[w].stem);
            if (same)
                return true;
        }
    }
    return false;
}

/* Whatever has b's key words has a's as well. */
static bool keys_lie_in(const struct weak *weak, const struct node *a, const struct node *b)
{
    for (size_t i = 0; i < a->key_count; i++) {
        bool found = false;
        for (size_t k = 0; k < b->key_count && !found; k++)
            found = share_a_word(weak, &a->keys[i], &b->keys[k]);
        if (!found)
            return false;
    }
    return a->key_count > 0;
}

static void check_shared_keys(const struct weak *weak, const struct points *points)
{
    for (size_t i = 0; i < points->count; i++)
        for (size_t k = i + 1; k < points->count; k++)
            if (keys_lie_in(weak, points->items[i], points->items[k]) &&
                keys_lie_in(weak, points->items[k], points->items[i])) {
                struct weak here = at_node(weak, points->items[k]);
                weak_warn(&here, "points %s and %s have the same key words: the second look cannot tell them apart",
                          points->items[i]->id, points->items[k]->id);
            }
}

/* ---- Accepts and rejects -------------------------------------------------------------------------- */

/* "no wind blows" does not say "wind blows". */
static bool is_denied(const struct words *text, const struct words *phrase)
{
    for (size_t i = 0; i < phrase->count; i++)
        if (is_negated_in(text, &phrase->items[i]) != is_negated_in(phrase, &phrase->items[i]))
            return true;
    return false;
}

static bool holds_phrase(const struct words *text, const struct words *phrase)
{
    for (size_t start = 0; phrase->count && start + phrase->count <= text->count; start++) {
        size_t same = 0;
        while (same < phrase->count && text_equal(text->items[start + same].stem, phrase->items[same].stem))
            same++;
        if (same == phrase->count)
            return true;
    }
    return false;
}

static void check_point_wordings(const struct weak *weak, const struct node *point, const struct wording *rejects)
{
    struct weak here = at_node(weak, point);
    struct buffer own = BUFFER_EMPTY;
    plain_add_rich(&own, &point->text, weak->values);
    for (size_t r = 0; r < rejects->count; r++) {
        const struct words reject = words_of(rejects->items[r], weak->arena);
        for (size_t a = 0; a <= point->accepts.count; a++) {
            const char *accept = a < point->accepts.count ? point->accepts.items[a] : buffer_text(&own);
            const struct words accepted = words_of(accept, weak->arena);
            if (holds_phrase(&accepted, &reject) && !is_denied(&accepted, &reject))
                weak_warn(&here, "'%s' is credited and holds the rejected words '%s': one of the two has to give way",
                          accept, rejects->items[r]);
        }
    }
    buffer_free(&own);
}

static void check_wordings(const struct weak *weak, const struct node *node, const struct wording *list)
{
    if (node->kind == NODE_POINT) {
        check_point_wordings(weak, node, &node->rejects);
        if (list)
            check_point_wordings(weak, node, list);
    }
    for (size_t i = 0; i < node->child_count; i++)
        check_wordings(weak, &node->children[i], node->kind == NODE_LIST ? &node->rejects : list);
}

void weak_scheme(const struct weak *weak, const struct part *part)
{
    struct points points = {.count = 0};
    scheme_each_point(&part->scheme.root, take_point, &points);
    check_keeping(weak, part, &points);
    check_shared_keys(weak, &points);
    check_wordings(weak, &part->scheme.root, NULL);
}
