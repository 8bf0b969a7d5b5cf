#include "practice/timetable-page.h"

#include <math.h>

#include "base/dates.h"
#include "base/text.h"

/* ---- Words --------------------------------------------------------------------------------------------- */

static const struct topic *topic_of(const struct timetable_view *view, size_t topic)
{
    return timetable_topic(view->bank, view->standing, topic);
}

static void add_parts(struct buffer *out, const struct timetable_view *view, const struct timetable_part *parts, size_t count,
                      const char *unit)
{
    timetable_add_parts(out, view->bank, view->standing, parts, count, unit);
}

/* ---- The page: today ------------------------------------------------------------------------------------ */

static const struct timetable_day *todays(const struct timetable *table)
{
    return table->count && table->days[0].day == table->today ? &table->days[0] : NULL;
}

static double share_of(const struct timetable_view *view, size_t topic)
{
    return learner_topic(view->standing->learner, topic, view->now).share;
}

static bool is_weakest(const struct timetable_view *view, const struct timetable_day *day)
{
    for (size_t i = 1; i < day->part_count; i++)
        if (share_of(view, day->parts[i].topic) < share_of(view, day->parts[0].topic))
            return false;
    return day->part_count > 1;
}

static void show_reason(struct page *page, const struct timetable_view *view, const struct timetable_day *day)
{
    size_t topic = day->parts[0].topic;
    const struct learner *learner = view->standing->learner;
    const char *name = topic_of(view, topic)->name;
    double share = share_of(view, topic);
    double marks = learner->evidence[learner_topic_effect(&learner->course, topic)];
    if (learner_band_of(share, marks) == LEARNER_NO_EVIDENCE)
        page_paragraph(page, "%s comes first: too little is known about it yet, and marks are easiest to win where little "
                             "was done.", name);
    else if (is_weakest(view, day))
        page_paragraph(page, "%s comes first: it is the weakest of the day (about %ld of 100 marks now), and the hardest is "
                             "best met with a fresh mind.", name, lround(share * 100.0));
    else
        page_paragraph(page, "%s comes first: most marks are to be won there.", name);
}

static void show_sittings(struct page *page, const struct timetable_view *view, const struct timetable_day *day)
{
    for (size_t i = 0; i < day->sitting_count; i++) {
        const struct timetable_sitting *sitting = &day->sittings[i];
        struct buffer text = BUFFER_EMPTY;
        add_time_of_day(&text, sitting->start);
        buffer_add(&text, " to ");
        add_time_of_day(&text, sitting->end);
        buffer_add(&text, ": ");
        add_parts(&text, view, sitting->parts, sitting->part_count, " min");
        page_item(page, 0, "-", "%s", buffer_text(&text));
        buffer_free(&text);
    }
}

static void show_today(struct page *page, const struct timetable_view *view, const struct timetable_day *day)
{
    long minutes = lround((double)(day->sittings[0].end - day->sittings[0].start) / 60.0);
    long missed = timetable_missed_minutes(day);
    show_sittings(page, view, day);
    show_reason(page, view, day);
    if (!day->missed) {
        page_paragraph(page, "Begin with 'ownmark practise --minutes %ld'.", minutes);
        return;
    }
    page_paragraph(page, "Begin with 'ownmark practise --missed --minutes %ld' (%s)", missed,
                   text_count((long)day->missed, "missed point", "missed points"));
    if (missed < minutes)
        page_add(page, STYLE_PLAIN, ", then go on with 'ownmark practise --minutes %ld'", minutes - missed);
    page_add(page, STYLE_PLAIN, ".");
}

static void show_no_today(struct page *page, const struct timetable_view *view)
{
    const struct timetable *table = view->table;
    struct buffer next = BUFFER_EMPTY;
    if (table->count) {
        buffer_add(&next, " The next day is ");
        add_day_long(&next, table->days[0].day);
        buffer_add(&next, ".");
    }
    if (table->exam == table->today)
        page_paragraph(page, "The examination is today. There is nothing left to plan.");
    else if (table->wanted_today == 0)
        page_paragraph(page, "Today is free.%s", buffer_text(&next));
    else if (table->done_today >= table->wanted_today)
        page_paragraph(page, "Today's %d minutes are done.%s", table->wanted_today, buffer_text(&next));
    else
        page_paragraph(page, "Nothing more for today.%s", buffer_text(&next));
    buffer_free(&next);
}

/* ---- The page: the weeks -------------------------------------------------------------------------------- */

static day_number monday_of(day_number day)
{
    return day - day_weekday(day);
}

static void show_day(struct page *page, const struct timetable_view *view, const struct timetable_day *day)
{
    struct buffer date = BUFFER_EMPTY, work = BUFFER_EMPTY;
    add_day_short(&date, day->day, day->day);
    if (day->missed)
        buffer_print(&work, "%s; ", text_count((long)day->missed, "missed point", "missed points"));
    add_parts(&work, view, day->parts, day->part_count, "");
    page_cell(page, "%.3s %s", weekday_name(day_weekday(day->day)), buffer_text(&date));
    page_cell(page, "%d", day->minutes);
    page_cell(page, "%s", buffer_text(&work));
    buffer_free(&date);
    buffer_free(&work);
}

static void show_weeks(struct page *page, const struct timetable_view *view)
{
    const struct timetable *table = view->table;
    for (size_t i = 0; i < table->count; i++) {
        day_number monday = monday_of(table->days[i].day);
        if (i == 0 || monday != monday_of(table->days[i - 1].day)) {
            struct buffer date = BUFFER_EMPTY;
            add_day_short(&date, monday, table->today);
            page_heading(page, 3, "Week of Monday %s", buffer_text(&date));
            buffer_free(&date);
            page_table(page, NULL, "lrl", true);
            page_cell(page, "Day");
            page_cell(page, "Minutes");
            page_cell(page, "Topics, with minutes each");
        }
        show_day(page, view, &table->days[i]);
    }
}

/* What --all would add: the rest of the plan, which need not reach the exam. */
static void add_what_all_shows(struct buffer *out, const struct timetable *table)
{
    day_number planned = table->today + TIMETABLE_PLANNED_DAYS;
    if (table->last + 1 >= planned) {
        buffer_add(out, "they are laid out when they are nearer");
        return;
    }
    buffer_add(out, "'ownmark timetable --all' lays them out");
    if (table->exam > planned) {
        buffer_add(out, " up to ");
        add_day_short(out, planned - 1, table->today);
    }
}

static void show_later(struct page *page, const struct timetable_view *view)
{
    const struct timetable *table = view->table;
    struct buffer last = BUFFER_EMPTY, more = BUFFER_EMPTY;
    add_day_short(&last, table->last, table->today);
    add_what_all_shows(&more, table);
    if (table->later_days)
        page_paragraph(page, "After %s there are %s with %ld minutes in all until the exam; %s.", buffer_text(&last),
                       text_count(table->later_days, "day", "days"), table->later_minutes, buffer_text(&more));
    buffer_free(&last);
    buffer_free(&more);
}

static bool any_missed(const struct timetable *table)
{
    for (size_t i = 0; i < table->count; i++)
        if (table->days[i].missed)
            return true;
    return false;
}

static void show_remarks(struct page *page, const struct timetable_view *view)
{
    const struct timetable *table = view->table;
    if (any_missed(table))
        page_paragraph(page, "Missed points come first. Their time is part of the day's minutes, so that the topics get a "
                             "little less than is shown.");
    if (!table->count && !table->later_days && table->exam > table->today + 1)
        page_paragraph(page, "No minutes are left before the exam. 'ownmark settings minutes-saturday 20' gives Saturdays 20 "
                             "minutes, 'ownmark settings' shows all days.");
    if (table->untold != LEARNER_NONE)
        page_paragraph(page, "When was %s taught, or when will it be? 'ownmark settings taught:%s 2027-01-15', with the right "
                             "day, makes the timetable better; 'ownmark settings taught' asks about all topics.",
                       topic_of(view, table->untold)->name, topic_of(view, table->untold)->id);
    if (view->calendar) {
        page_paragraph(page, "Written for your calendar: %s", view->calendar);
        page_paragraph(page, "When a newer file is imported, its sittings take the place of these.");
    }
    page_paragraph(page, "%s", "");
    page_add(page, STYLE_QUIET, "Made anew each time from what you did. Minutes, start and days off: 'ownmark settings'.");
}

void timetable_show(struct page *page, const struct timetable_view *view)
{
    struct buffer exam = BUFFER_EMPTY;
    add_day_long(&exam, view->table->exam);
    page_heading(page, 1, "%s: timetable to the exam on %s", bank_course(view->bank)->name, buffer_text(&exam));
    buffer_free(&exam);
    page_heading(page, 3, "Today");
    const struct timetable_day *day = todays(view->table);
    if (day)
        show_today(page, view, day);
    else
        show_no_today(page, view);
    show_weeks(page, view);
    show_later(page, view);
    show_remarks(page, view);
}
