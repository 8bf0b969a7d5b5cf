/* ownmark timetable: which topics on which day until the examination, as a page, as JSON, as a calendar file. */
#include <math.h>

#include "base/dates.h"
#include "base/files.h"
#include "base/json.h"
#include "base/text.h"
#include "commands/shared.h"
#include "commands/table.h"
#include "practice/calendar.h"
#include "terminal/terminal.h"

#define EXAM_EXAMPLE "'ownmark settings exam-date 2027-05-18'"

struct view {
    const struct bank *bank;
    struct standing standing;
    struct timetable table;
    moment now;
    const char *calendar;       /* the file that was written; NULL */
};

/* ---- Words --------------------------------------------------------------------------------------------- */

static const struct topic *topic_of(const struct view *view, size_t topic)
{
    return timetable_topic(view->bank, &view->standing, topic);
}

static void add_parts(struct buffer *out, const struct view *view, const struct timetable_part *parts, size_t count,
                      const char *unit)
{
    timetable_add_parts(out, view->bank, &view->standing, parts, count, unit);
}

/* ---- The page: today ------------------------------------------------------------------------------------ */

static const struct timetable_day *todays(const struct timetable *table)
{
    return table->count && table->days[0].day == table->today ? &table->days[0] : NULL;
}

static double share_of(const struct view *view, size_t topic)
{
    return learner_topic(view->standing.learner, topic, view->now).share;
}

static bool is_weakest(const struct view *view, const struct timetable_day *day)
{
    for (size_t i = 1; i < day->part_count; i++)
        if (share_of(view, day->parts[i].topic) < share_of(view, day->parts[0].topic))
            return false;
    return day->part_count > 1;
}

static void show_reason(struct page *page, const struct view *view, const struct timetable_day *day)
{
    size_t topic = day->parts[0].topic;
    const struct learner *learner = view->standing.learner;
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

static void show_sittings(struct page *page, const struct view *view, const struct timetable_day *day)
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

static void show_today(struct page *page, const struct view *view, const struct timetable_day *day)
{
    long minutes = lround((double)(day->sittings[0].end - day->sittings[0].start) / 60.0);
    show_sittings(page, view, day);
    show_reason(page, view, day);
    if (day->missed)
        page_paragraph(page, "Begin with 'ownmark practise --missed --minutes %ld' (%s), then go on with 'ownmark practise'.",
                       minutes, text_count((long)day->missed, "missed point", "missed points"));
    else
        page_paragraph(page, "Begin with 'ownmark practise --minutes %ld'.", minutes);
}

static void show_no_today(struct page *page, const struct view *view)
{
    const struct timetable *table = &view->table;
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

static void show_day(struct page *page, const struct view *view, const struct timetable_day *day)
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

static void show_weeks(struct page *page, const struct view *view)
{
    const struct timetable *table = &view->table;
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

static void show_later(struct page *page, const struct view *view)
{
    const struct timetable *table = &view->table;
    struct buffer last = BUFFER_EMPTY;
    add_day_short(&last, table->last, table->today);
    if (table->later_days)
        page_paragraph(page, "After %s there are %s with %ld minutes in all until the exam; they are laid out when they are "
                             "nearer.", buffer_text(&last), text_count(table->later_days, "day", "days"), table->later_minutes);
    buffer_free(&last);
}

static void show_remarks(struct page *page, const struct view *view)
{
    const struct timetable *table = &view->table;
    if (!table->count && !table->later_days && table->exam > table->today + 1)
        page_paragraph(page, "No minutes are left before the exam. 'ownmark settings minutes-saturday 20' gives Saturdays 20 "
                             "minutes, 'ownmark settings' shows all days.");
    if (table->untold != LEARNER_NONE)
        page_paragraph(page, "When was %s taught, or when will it be? 'ownmark settings taught:%s 2027-01-15', with the right "
                             "day, makes the timetable better.", topic_of(view, table->untold)->name,
                       topic_of(view, table->untold)->id);
    if (view->calendar)
        page_paragraph(page, "Written for your calendar: %s. A newer file replaces these sittings when it is imported.",
                       view->calendar);
    page_paragraph(page, "%s", "");
    page_add(page, STYLE_QUIET, "Made anew each time from what you did. Minutes, start and days off: 'ownmark settings'.");
}

static void show_view(const struct view *view)
{
    struct page *page = page_new();
    struct buffer exam = BUFFER_EMPTY;
    add_day_long(&exam, view->table.exam);
    page_heading(page, 1, "%s: timetable to the exam on %s", bank_course(view->bank)->name, buffer_text(&exam));
    buffer_free(&exam);
    page_heading(page, 3, "Today");
    const struct timetable_day *day = todays(&view->table);
    if (day)
        show_today(page, view, day);
    else
        show_no_today(page, view);
    show_weeks(page, view);
    show_later(page, view);
    show_remarks(page, view);
    show_and_end(page, EXIT_DONE);
}

/* ---- JSON ------------------------------------------------------------------------------------------------ */

static void json_moment(struct json *json, const char *name, moment when)
{
    struct buffer text = BUFFER_EMPTY;
    add_iso(&text, when);
    json_text(json, name, buffer_text(&text));
    buffer_free(&text);
}

static void json_sitting(struct json *json, const struct view *view, const struct timetable_sitting *sitting)
{
    json_object(json, NULL);
    json_moment(json, "start", sitting->start);
    json_moment(json, "end", sitting->end);
    json_array(json, "topics");
    for (size_t i = 0; i < sitting->part_count; i++) {
        json_object(json, NULL);
        json_text(json, "id", topic_of(view, sitting->parts[i].topic)->id);
        json_whole(json, "minutes", sitting->parts[i].minutes);
        json_close_object(json);
    }
    json_close_array(json);
    json_close_object(json);
}

static void json_days(struct json *json, const struct view *view)
{
    json_array(json, "days");
    for (size_t i = 0; i < view->table.count; i++) {
        const struct timetable_day *day = &view->table.days[i];
        json_object(json, NULL);
        json_day(json, "day", day->day);
        json_whole(json, "minutes", day->minutes);
        json_whole(json, "missed_points", (int64_t)day->missed);
        json_array(json, "sittings");
        for (size_t j = 0; j < day->sitting_count; j++)
            json_sitting(json, view, &day->sittings[j]);
        json_close_array(json);
        json_close_object(json);
    }
    json_close_array(json);
}

static void write_json(const struct view *view)
{
    struct buffer out = BUFFER_EMPTY;
    struct json json;
    json_begin(&json, &out);
    json_object(&json, NULL);
    json_text(&json, "course", bank_course(view->bank)->name);
    json_text(&json, "bank", bank_id(view->bank));
    json_day(&json, "today", view->table.today);
    json_day(&json, "exam", view->table.exam);
    json_whole(&json, "done_today", view->table.done_today);
    json_days(&json, view);
    json_whole(&json, "later_days", view->table.later_days);
    json_whole(&json, "later_minutes", view->table.later_minutes);
    json_close_object(&json);
    buffer_add(&out, "\n");
    terminal_write(buffer_text(&out), out.length);
    buffer_free(&out);
}

/* ---- The calendar file ----------------------------------------------------------------------------------- */

static bool write_calendar(const struct view *view, const char *path, bool replace, struct messages *messages)
{
    struct buffer out = BUFFER_EMPTY;
    if (!view->table.count) {
        messages_error(messages, "nothing was written to %s: the timetable has no sitting", path);
        return false;
    }
    calendar_write(view->bank, &view->standing, &view->table, view->now, &out);
    bool written = file_write(path, buffer_text(&out), out.length, 0600, replace, messages);
    buffer_free(&out);
    return written;
}

/* ---- Running --------------------------------------------------------------------------------------------- */

static bool exam_is_ahead(day_number exam, day_number today, struct messages *messages)
{
    struct buffer day = BUFFER_EMPTY;
    if (exam == NO_DAY) {
        messages_error(messages, "a timetable needs the day of the examination; set it, for example with " EXAM_EXAMPLE);
    } else if (exam < today) {
        add_day_long(&day, exam);
        messages_error(messages, "the day of the examination, %s, has passed; set the next one, for example with " EXAM_EXAMPLE,
                       buffer_text(&day));
        buffer_free(&day);
    }
    return exam != NO_DAY && exam >= today;
}

static enum exit_status show_timetable(const struct arguments *arguments, struct record *record, struct view *view,
                                       struct arena *arena, struct messages *messages)
{
    const char *calendar = argument_value(arguments, "--ics");
    day_number exam = timetable_exam(record, bank_id(view->bank), arena);
    if (!exam_is_ahead(exam, day_of(view->now), messages))
        return EXIT_BAD_USE;
    if (!timetable_make(record, view->bank, &view->standing, view->now, exam, arena, &view->table, messages))
        return EXIT_SYSTEM;
    if (calendar && !write_calendar(view, calendar, argument_given(arguments, "--replace"), messages))
        return EXIT_SYSTEM;
    view->calendar = calendar;
    if (arguments->json)
        write_json(view);
    else
        show_view(view);
    return EXIT_DONE;
}

static enum exit_status run_with(const struct arguments *arguments, struct record *record, const struct bank *bank,
                                 struct messages *messages)
{
    struct arena *arena = arena_new();
    struct view view = {.bank = bank, .now = moment_now()};
    enum exit_status status = EXIT_SYSTEM;
    if (standing_read(record, bank, arena, &view.standing, messages)) {
        status = show_timetable(arguments, record, &view, arena, messages);
        standing_release(&view.standing);
    }
    arena_free(arena);
    return status;
}

static enum exit_status run(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    if (argument_given(arguments, "--replace") && !argument_given(arguments, "--ics")) {
        messages_error(&messages, "--replace belongs to --ics FILE");
        return say_and_end(&messages, EXIT_BAD_USE);
    }
    struct record *record = open_record_for(arguments, RECORD_READ, &messages);
    if (!record && messages.count)
        return say_and_end(&messages, EXIT_SYSTEM);
    struct bank *bank = open_bank_for(arguments, record, &messages);
    enum exit_status status = bank ? run_with(arguments, record, bank, &messages) : EXIT_BAD_USE;
    bank_close(bank);
    record_close(record);
    return say_and_end(&messages, status);
}

static const struct option options[] = {
    {"--ics", "FILE", "write the sittings as a calendar file too; readable only by you"},
    {"--replace", NULL, "write over an existing file"},
    {NULL, NULL, NULL},
};

const struct command command_timetable = {
    .name = "timetable",
    .summary = "what to practise on which day until the exam",
    .words = "[BANK]",
    .words_most = 1,
    .help = "Lays out the topics over the days until the exam, from the minutes you give each weekday, so that most marks are "
            "gained on the day. Sittings have at most 45 minutes with 10 between them, and end by 21:00. It needs 'ownmark "
            "settings exam-date'; minutes-monday to minutes-sunday, start and days-off are settings too. It is made anew each "
            "time from what you did.",
    .example = "ownmark timetable --ics revision.ics",
    .prints_results = true,
    .options = options,
    .run = run,
};
