/* ownmark timetable: which topics on which day until the examination, as a page, as JSON, as a calendar file. */
#include "base/dates.h"
#include "base/files.h"
#include "base/json.h"
#include "commands/ask-exam.h"
#include "commands/shared.h"
#include "commands/table.h"
#include "practice/calendar.h"
#include "practice/timetable-page.h"
#include "terminal/terminal.h"

#define EXAM_EXAMPLE "'ownmark settings exam-date 2027-05-18'"

/* ---- JSON ------------------------------------------------------------------------------------------------ */

static void json_sitting(struct json *json, const struct timetable_view *view, const struct timetable_sitting *sitting)
{
    json_object(json, NULL);
    json_moment(json, "start", sitting->start);
    json_moment(json, "end", sitting->end);
    json_array(json, "topics");
    for (size_t i = 0; i < sitting->part_count; i++) {
        json_object(json, NULL);
        json_text(json, "id", timetable_topic(view->bank, view->standing, sitting->parts[i].topic)->id);
        json_whole(json, "minutes", sitting->parts[i].minutes);
        json_close_object(json);
    }
    json_close_array(json);
    json_close_object(json);
}

static void json_days(struct json *json, const struct timetable_view *view)
{
    json_array(json, "days");
    for (size_t i = 0; i < view->table->count; i++) {
        const struct timetable_day *day = &view->table->days[i];
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

static void write_json(const struct timetable_view *view)
{
    struct buffer out = BUFFER_EMPTY;
    struct json json;
    json_begin(&json, &out);
    json_object(&json, NULL);
    json_text(&json, "course", bank_course(view->bank)->name);
    json_text(&json, "bank", bank_id(view->bank));
    json_day(&json, "today", view->table->today);
    json_day(&json, "exam", view->table->exam);
    json_whole(&json, "done_today", view->table->done_today);
    json_days(&json, view);
    json_whole(&json, "later_days", view->table->later_days);
    json_whole(&json, "later_minutes", view->table->later_minutes);
    json_close_object(&json);
    buffer_add(&out, "\n");
    terminal_write(buffer_text(&out), out.length);
    buffer_free(&out);
}

/* ---- The calendar file ----------------------------------------------------------------------------------- */

static enum exit_status write_calendar(const struct timetable_view *view, bool replace, struct messages *messages)
{
    struct buffer out = BUFFER_EMPTY;
    if (!view->table->count) {
        messages_error(messages, "nothing was written to %s: the timetable has no sitting", view->calendar);
        return EXIT_BAD_USE;
    }
    calendar_write(view->bank, view->standing, view->table, view->now, &out);
    bool written = file_write(view->calendar, buffer_text(&out), out.length, 0600, replace, messages);
    buffer_free(&out);
    return written ? EXIT_DONE : EXIT_SYSTEM;
}

/* ---- Running --------------------------------------------------------------------------------------------- */

static bool exam_is_ahead(day_number exam, day_number today, struct messages *messages)
{
    enum { A_YEAR = 364 };      /* to the same day of the week */
    struct buffer day = BUFFER_EMPTY;
    if (exam == NO_DAY) {
        messages_error(messages, "a timetable needs the day of the examination; set it, for example with " EXAM_EXAMPLE);
    } else if (exam < today) {
        add_day_long(&day, exam);
        buffer_add(&day, ", has passed; set the next one, for example with 'ownmark settings exam-date ");
        add_day_iso(&day, today + A_YEAR);
        messages_error(messages, "the day of the examination, %s'", buffer_text(&day));
        buffer_free(&day);
    }
    return exam != NO_DAY && exam >= today;
}

static enum exit_status show(const struct arguments *arguments, const struct timetable_view *view, struct messages *messages)
{
    enum exit_status written = view->calendar ? write_calendar(view, argument_given(arguments, "--replace"), messages)
                                              : EXIT_DONE;
    if (written != EXIT_DONE)
        return written;
    if (arguments->json) {
        write_json(view);
        return EXIT_DONE;
    }
    struct page *page = page_new();
    timetable_show(page, view);
    return show_and_end(page, EXIT_DONE);
}

static enum exit_status make_and_show(const struct arguments *arguments, struct record *record, struct bank *bank,
                                      const struct standing *standing, struct arena *arena, struct messages *messages)
{
    struct timetable table;
    struct timetable_view view = {.bank = bank, .standing = standing, .table = &table, .now = moment_now(),
                                  .calendar = argument_value(arguments, "--ics")};
    day_number exam = timetable_exam(record, bank_id(bank), arena), asked = NO_DAY;
    bool ahead = exam != NO_DAY && exam >= day_of(view.now);
    bool kept = ahead || ask_exam(arguments, record, bank, ASK_ALWAYS, &asked, messages);
    exam = asked == NO_DAY ? exam : asked;
    if (!exam_is_ahead(exam, day_of(view.now), messages))
        return EXIT_BAD_USE;
    bool all = argument_given(arguments, "--all") || view.calendar;     /* a calendar has room for every day */
    if (!timetable_make(record, bank, standing, view.now, exam, all, arena, &table, messages))
        return EXIT_SYSTEM;
    enum exit_status status = show(arguments, &view, messages);
    return kept ? status : EXIT_SYSTEM;
}

static enum exit_status read(const struct arguments *arguments, struct record *record, struct bank *bank, void *context,
                             struct messages *messages)
{
    struct arena *arena = arena_new();
    struct standing standing;
    enum exit_status status = EXIT_SYSTEM;
    (void)context;
    if (standing_read(record, bank, arena, &standing, messages)) {
        status = make_and_show(arguments, record, bank, &standing, arena, messages);
        standing_release(&standing);
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
    return read_record_and_bank(arguments, read, NULL);
}

static const struct option options[] = {
    {"--all", NULL, "every day to the exam, however far it is"},
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
