/* What explaining aloud says: the task, the key points, how it went. */
#include "practice/aloud-inner.h"

#include <string.h>

#include "base/text.h"
#include "practice/habits.h"

void aloud_introduce(struct aloud *aloud)
{
    struct page *page = aloud->page;
    struct buffer allowed = BUFFER_EMPTY;
    add_duration(&allowed, aloud->allowed);
    page_heading(page, 1, "%s: explain it aloud", aloud->topic->name);
    page_paragraph(page, "%s", aloud->topic->explain.ask);
    page_paragraph(page, "Speak aloud, to somebody or to an empty chair, with the book closed. You have %s for %s. Each time you "
                         "get stuck, type a letter (a friend may do it for you); Enter ends. No sound is recorded.",
                   buffer_text(&allowed), text_count((long)aloud->count, "key point", "key points"));
    buffer_free(&allowed);
}

void aloud_show_time(struct aloud *aloud)
{
    struct buffer used = BUFFER_EMPTY, allowed = BUFFER_EMPTY;
    add_duration(&used, aloud->seconds);
    add_duration(&allowed, aloud->allowed);
    page_paragraph(aloud->page, "Time: %s of %s.", buffer_text(&used), buffer_text(&allowed));
    if (aloud->seconds > aloud->allowed)
        page_paragraph(aloud->page, "The time was up before you were. That is common at first; it gets shorter with each telling.");
    buffer_free(&used);
    buffer_free(&allowed);
}

size_t aloud_next_point(const struct aloud *aloud)
{
    return strcspn(aloud->ticks, "-");
}

void aloud_show_point(struct aloud *aloud)
{
    size_t point = aloud_next_point(aloud);
    page_gap(aloud->page);
    page_heading(aloud->page, 3, "Key point %zu of %zu", point + 1, aloud->count);
    page_paragraph(aloud->page, "%s", aloud->points[point]);
}

static void show_points_with(struct aloud *aloud, char tick, const char *heading)
{
    if (!explain_count(aloud->ticks, tick))
        return;
    page_heading(aloud->page, 3, "%s", heading);
    for (size_t i = 0; i < aloud->count; i++)
        if (aloud->ticks[i] == tick)
            page_item(aloud->page, 0, "-", "%s", aloud->points[i]);
}

/* Missed points of the topic that say the same as a key point that was left out. */
static bool show_missed(struct aloud *aloud, struct messages *messages)
{
    const struct explained explained = {.points = aloud->points, .ticks = aloud->ticks};
    struct missed_point *missed;
    size_t count, shown = 0;
    if (!record_missed(aloud->record, bank_id(aloud->bank), aloud->arena, &missed, &count, messages))
        return false;
    for (size_t i = 0; i < count; i++) {
        if (missed[i].state == MISSED_SECURE || !text_equal(missed[i].topic, aloud->topic->id))
            continue;
        const char *words = habits_point_words(aloud->record, aloud->bank, &missed[i], NULL, aloud->arena);
        if (!explained_left_out(&explained, words))
            continue;
        if (shown++ == 0)
            page_heading(aloud->page, 3, "Missed in questions as well");
        page_item(aloud->page, 0, "-", "%s (%s): %s", missed[i].question, missed[i].part, words);
    }
    return true;
}

static void say_what_next(struct aloud *aloud)
{
    bool all = explain_count(aloud->ticks, 'y') == aloud->count;
    if (all)
        page_paragraph(aloud->page, "Nothing was left out. 'ownmark practise --topic %s' shows whether it holds on paper.",
                       aloud->topic->id);
    else
        page_paragraph(aloud->page, "Read these up now and say them once more without looking. Tomorrow, 'ownmark explain %s' again; "
                                    "'ownmark practise --topic %s' asks about them.", aloud->topic->id, aloud->topic->id);
}

bool aloud_show_result(struct aloud *aloud, struct messages *messages)
{
    size_t covered = explain_count(aloud->ticks, 'y'), half = explain_count(aloud->ticks, 'h');
    struct page *page = aloud->page;
    page_gap(page);
    page_heading(page, 3, "How it went");
    page_fact(page, "covered", "%zu of %zu", covered, aloud->count);
    if (half)
        page_add(page, STYLE_PLAIN, ", and %zu half", half);
    page_fact(page, "stumbles", "%d", aloud->stumbles);
    show_points_with(aloud, 'n', "Left out");
    show_points_with(aloud, 'h', "Half covered");
    if (!show_missed(aloud, messages))
        return false;
    say_what_next(aloud);
    page_heading(page, 3, "How sure are you of this topic now?");
    topic_rating_show_steps(page);
    page_paragraph(page, "The checklist says: %s. Your own word stands.",
                   topic_rating_name(explain_rating(aloud->ticks, aloud->stumbles)));
    return true;
}
