/* Points that begin with a label ("site: the land it stands on", "situation: where it lies"): what is said under another point's
 * label is said of that. Only labels that the question names count; "good:" and "figures:" sort the points and say nothing. */
#include "answer/judgement.h"

#include <string.h>

#include "bank/scheme.h"

enum { LABEL_WORDS = 3 };

/* The one carrying word of the label that the question names; NULL when the point has none. */
static const struct word *label_of(const struct reading *reading, const struct node *point)
{
    struct buffer plain = BUFFER_EMPTY;
    plain_add_rich(&plain, &point->text, reading->ask->values);
    const char *text = arena_copy_text(reading->arena, buffer_text(&plain));
    buffer_free(&plain);
    const char *colon = strchr(text, ':');
    struct words words = words_of(colon ? arena_copy_bytes(reading->arena, text, (size_t)(colon - text)) : "", reading->arena);
    for (size_t i = 0; i < words.count && words.count <= LABEL_WORDS; i++)
        if (word_carries(&words.items[i]) && words_hold(&reading->asked, &words.items[i]))
            return &words.items[i];
    return NULL;
}

struct labels {
    const struct reading *reading;
    const struct node *own;
    const struct word **others;
    size_t count;
};

static bool add_other(const struct node *point, void *context)
{
    struct labels *labels = context;
    const struct word *label = point != labels->own ? label_of(labels->reading, point) : NULL;
    if (label)
        labels->others[labels->count++] = label;
    return true;
}

static bool is_other(const struct labels *labels, const struct word *word)
{
    for (size_t i = 0; i < labels->count; i++)
        if (strcmp(labels->others[i]->stem, word->stem) == 0)
            return true;
    return false;
}

/* The nearest label before the hit, in its sentence, is another point's. */
static bool stands_under_other(const struct labels *labels, const struct word *own, const struct hit *hit)
{
    const struct words *words = &labels->reading->words;
    for (size_t i = hit->first + 1; i-- > 0 && words->items[i].sentence == words->items[hit->first].sentence;) {
        if (strcmp(words->items[i].stem, own->stem) == 0)
            return false;
        if (is_other(labels, &words->items[i]))
            return true;
    }
    return false;
}

bool label_is_kept(const struct judgement *judgement)
{
    const struct reading *reading = judgement->reading;
    const struct node *root = &reading->ask->part->scheme.root;
    const struct word *own = label_of(reading, judgement->point);
    if (!own)
        return true;
    struct labels labels = {reading, judgement->point,
                            arena_get_array(reading->arena, scheme_point_count(root), sizeof *labels.others), 0};
    scheme_each_point(root, add_other, &labels);
    for (size_t i = 0; i < judgement->group_count; i++)
        if (stands_under_other(&labels, own, judgement->groups[i].chosen))
            return false;
    return true;
}
