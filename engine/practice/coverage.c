#include "practice/coverage.h"

#include <math.h>
#include <string.h>

#include "base/dates.h"
#include "base/text.h"

/* ---- Counting -------------------------------------------------------------------------------------- */

static const struct tally *tally_of(const struct tally *tallies, size_t count, const char *id)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(tallies[i].id, id) == 0)
            return &tallies[i];
    return NULL;
}

/* The day on which `todo` more are done when `done` took the days since `first`. */
static day_number day_at_pace(size_t todo, size_t done, day_number first, day_number today)
{
    enum { FARTHEST = 3650 };
    if (!todo || !done || today - first < COVERAGE_PACE_DAYS)
        return NO_DAY;
    double days = ceil((double)todo * (double)(today - first) / (double)done);
    return days <= FARTHEST ? today + (day_number)days : NO_DAY;
}

void coverage_of(const struct course *course, const struct tally *tallies, size_t count, day_number today,
                 struct arena *arena, struct coverage *coverage)
{
    int *never = arena_get_array(arena, course->topic_count, sizeof *never);
    day_number first = today;
    *coverage = (struct coverage){.never = never};
    for (size_t i = 0; i < course->topic_count; i++) {
        const struct topic *topic = &course->topics[i];
        if (!topic->is_leaf)
            continue;
        const struct tally *tally = tally_of(tallies, count, topic->id);
        coverage->topics++;
        if (!tally || tally->first == NO_DAY) {
            never[coverage->never_count++] = (int)i;
            continue;
        }
        bool again = tally->again != NO_DAY;
        coverage->once++;
        coverage->twice += again;
        coverage->share_once += topic->share / 100.0;
        coverage->share_twice += again ? topic->share / 100.0 : 0.0;
        first = tally->first < first ? tally->first : first;
    }
    coverage->once_by = day_at_pace(coverage->never_count, coverage->once, first, today);
    coverage->twice_by = day_at_pace(coverage->topics - coverage->twice, coverage->twice, first, today);
}

enum { WEEK = 7, IN_WEEKS_FROM = 21 };      /* days */

/* ---- Saying it ------------------------------------------------------------------------------------- */

void add_days_ahead(struct buffer *out, day_number day, day_number today)
{
    if (day - today >= IN_WEEKS_FROM)
        buffer_print(out, "in %d weeks", (day - today) / WEEK);
    else
        add_day_relative(out, day, today);
}

static void show_never(struct page *page, const struct course *course, const struct coverage *coverage)
{
    page_paragraph(page, "Not met yet: ");
    for (size_t i = 0; i < coverage->never_count; i++)
        page_add(page, STYLE_PLAIN, "%s%s", i ? "; " : "", course->topics[coverage->never[i]].name);
    page_add(page, STYLE_PLAIN, ".");
}

static void show_pace(struct page *page, const struct coverage *coverage, day_number today)
{
    struct buffer once = BUFFER_EMPTY, twice = BUFFER_EMPTY;
    if (coverage->once_by != NO_DAY)
        add_day_short(&once, coverage->once_by, today);
    if (coverage->twice_by != NO_DAY)
        add_day_short(&twice, coverage->twice_by, today);
    if (twice.length && coverage->twice_by <= coverage->once_by)    /* one day says both */
        buffer_clear(&once);
    if (once.length && twice.length)
        page_add(page, STYLE_PLAIN, "At your pace so far every topic will have been met by %s, and twice by %s. ",
                 buffer_text(&once), buffer_text(&twice));
    else if (once.length || twice.length)
        page_add(page, STYLE_PLAIN, "At your pace so far every topic will have been met %sby %s. ", once.length ? "" : "twice ",
                 buffer_text(once.length ? &once : &twice));
    buffer_free(&once);
    buffer_free(&twice);
}

static void show_need(struct page *page, const struct coverage *coverage, day_number today, day_number exam)
{
    struct buffer ahead = BUFFER_EMPTY;
    size_t todo = coverage->never_count;
    long days = exam - today, every = todo ? days / (long)todo : 0;
    add_days_ahead(&ahead, exam, today);
    page_add(page, STYLE_PLAIN, "The exam is %s", buffer_text(&ahead));
    if (!todo || days < 1)
        page_add(page, STYLE_PLAIN, ".");
    else if (todo == 1)
        page_add(page, STYLE_PLAIN, "; one topic is left to meet.");
    else if (every >= IN_WEEKS_FROM)
        page_add(page, STYLE_PLAIN, ": a new topic at least every %ld weeks meets each of them before it.", every / WEEK);
    else if (every > 1)
        page_add(page, STYLE_PLAIN, ": a new topic at least every %ld days meets each of them before it.", every);
    else
        page_add(page, STYLE_PLAIN, ": %s a day meet%s each of them before it.",
                 text_count((long)(todo + (size_t)days - 1) / days, "new topic", "new topics"), todo <= (size_t)days ? "s" : "");
    buffer_free(&ahead);
}

void coverage_show(struct page *page, const struct course *course, const struct coverage *coverage, day_number today,
                   day_number exam)
{
    page_heading(page, 3, "Coverage");
    page_paragraph(page, "%zu of %s met (%ld of 100 marks of the paper)", coverage->once,
                   text_count((long)coverage->topics, "topic", "topics"), lround(coverage->share_once * 100.0));
    if (coverage->twice)
        page_add(page, STYLE_PLAIN, ", %zu of them on more than one day", coverage->twice);
    page_add(page, STYLE_PLAIN, ".");
    if (coverage->never_count)
        show_never(page, course, coverage);
    if (coverage->once_by == NO_DAY && coverage->twice_by == NO_DAY && exam == NO_DAY)
        return;
    page_paragraph(page, "%s", "");
    show_pace(page, coverage, today);
    if (exam != NO_DAY)
        show_need(page, coverage, today, exam);
}
