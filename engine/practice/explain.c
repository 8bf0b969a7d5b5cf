#include "practice/explain.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bank/course.h"
#include "base/text.h"
#include "practice/keywords.h"

double explain_seconds(size_t points, double allowance)
{
    return 30.0 * (double)(points + 1) * allowance;
}

bool explain_is_decided(const char *ticks)
{
    return strchr(ticks, '-') == NULL;
}

size_t explain_count(const char *ticks, char tick)
{
    size_t count = 0;
    for (; *ticks; ticks++)
        count += *ticks == tick;
    return count;
}

enum topic_rating explain_rating(const char *ticks, int stumbles)
{
    size_t points = strlen(ticks), halves = 2 * explain_count(ticks, 'y') + explain_count(ticks, 'h');
    if (!points)
        return TOPIC_NOT_RATED;
    if (halves * 3 < points * 2)
        return TOPIC_LOST;
    if (halves * 3 < points * 4)
        return TOPIC_FOLLOWING;
    return halves == points * 2 && stumbles <= 2 ? TOPIC_COULD_TEACH : TOPIC_UNAIDED;
}

/* ---- What the record has -------------------------------------------------------------------------------- */

/* The lines of a text; *count of them. */
static const char *const *lines_of(const char *text, struct arena *arena, size_t *count)
{
    char *rest = arena_copy_text(arena, text), *line;
    const char **lines = arena_get_array(arena, strlen(text) + 1, sizeof *lines);
    *count = 0;
    while ((line = strsep(&rest, "\n")) != NULL)
        lines[(*count)++] = line;
    return lines;
}

static bool ticks_are_sound(const char *ticks, size_t points)
{
    return ticks && strlen(ticks) == points && strspn(ticks, "yhn-") == points;
}

static bool take_event(struct record *record, const struct course *course, const struct event *event, struct arena *arena,
                       struct explained *explained)
{
    const char *text = event->content ? record_content(record, event->content, arena) : NULL;
    size_t count = 0;
    *explained = (struct explained){.topic = course_topic(course, event->item), .at = event->at, .day = event->day, .ticks = event->detail,
                                    .stumbles = (int)event->number, .seconds = event->text ? strtod(event->text, NULL) : (double)NAN};
    if (text)
        explained->points = lines_of(text, arena, &count);
    return text && explained->topic >= 0 && ticks_are_sound(event->detail, count);
}

/* Where a new one goes: in place of the undecided one of its topic, else to the end. */
static struct explained *place_for(struct explanations *explanations, int topic)
{
    for (size_t i = explanations->count; i-- > 0;) {
        struct explained *item = &explanations->items[i];
        if (item->topic != topic)
            continue;
        if (explain_is_decided(item->ticks))
            break;
        return item;
    }
    return &explanations->items[explanations->count++];
}

static int compare_times(const void *a, const void *b)
{
    const struct explained *x = a, *y = b;
    return x->at < y->at ? -1 : x->at > y->at;
}

bool explanations_read(struct record *record, const struct bank *bank, struct arena *arena, struct explanations *explanations,
                       struct messages *messages)
{
    struct event *events = NULL;
    size_t count = 0;
    if (record && !record_topic_events(record, bank_id(bank), EVENT_TOPIC_EXPLAINED, arena, &events, &count, messages))
        return false;
    *explanations = (struct explanations){arena_get_array(arena, count, sizeof(struct explained)), 0};
    for (size_t i = 0; i < count; i++) {
        struct explained explained;
        if (take_event(record, bank_course(bank), &events[i], arena, &explained))
            *place_for(explanations, explained.topic) = explained;
    }
    if (explanations->count)
        qsort(explanations->items, explanations->count, sizeof *explanations->items, compare_times);
    return true;
}

const struct explained *explanations_latest(const struct explanations *explanations, int topic, bool decided)
{
    for (size_t i = explanations->count; i-- > 0;) {
        const struct explained *item = &explanations->items[i];
        if (item->topic == topic && (!decided || explain_is_decided(item->ticks)))
            return decided || !explain_is_decided(item->ticks) ? item : NULL;
    }
    return NULL;
}

static bool are_close(const char *a, const char *b)
{
    struct arena *arena = arena_new();
    struct key_words x = key_words_of_text(a, NULL, arena), y = key_words_of_text(b, NULL, arena);
    size_t shared = key_words_in(&x, b), shorter = x.count < y.count ? x.count : y.count;
    arena_free(arena);
    return shared >= 2 && shared * 2 > shorter;
}

const char *explained_left_out(const struct explained *explained, const char *words)
{
    for (size_t i = 0; explained->ticks[i]; i++)
        if ((explained->ticks[i] == 'n' || explained->ticks[i] == 'h') && are_close(explained->points[i], words))
            return explained->points[i];
    return NULL;
}
