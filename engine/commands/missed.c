/* ownmark missed: points not earned, why, and when they come back. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/dates.h"
#include "base/json.h"
#include "base/text.h"
#include "commands/shared.h"
#include "commands/table.h"
#include "marking/cause.h"
#include "practice/explain.h"
#include "practice/habits.h"
#include "terminal/terminal.h"

enum by { BY_CAUSE, BY_TOPIC, BY_WORD };

struct view {
    const struct bank *bank;
    struct record *record;
    struct arena *arena;
    enum by by;
    struct missed_point *points;    /* in the order they are shown: by heading, then by due day */
    size_t count;
    struct explanations explained;
    day_number today;
};

static const char *const state_words[] = {
    [MISSED_OPEN] = "open", [MISSED_RECOVERING] = "recovering", [MISSED_SECURE] = "secure",
};

/* ---- Order ---------------------------------------------------------------------------------------- */

static const char *topic_name(const struct view *view, const char *id)
{
    const struct course *course = bank_course(view->bank);
    for (size_t i = 0; i < course->topic_count; i++)
        if (text_equal(course->topics[i].id, id))
            return course->topics[i].name;
    return id;
}

static const char *heading_of(const struct view *view, const struct missed_point *point)
{
    enum cause cause = cause_from_label(point->cause);
    switch (view->by) {
    case BY_CAUSE: return cause == CAUSE_NONE ? "no cause named" : cause_text(cause)->title;
    case BY_TOPIC: return topic_name(view, point->topic);
    case BY_WORD: return point->word ? point->word : "no command word";
    }
    return "";
}

static int compare_points(const void *a, const void *b, void *context)
{
    const struct missed_point *x = a, *y = b;
    int order = strcmp(heading_of(context, x), heading_of(context, y));
    if (order)
        return order;
    if (x->state != y->state)
        return x->state < y->state ? -1 : 1;
    if (x->due != y->due)
        return x->due < y->due ? -1 : 1;
    return strcmp(x->question, y->question);
}

/* ---- Showing -------------------------------------------------------------------------------------- */

static double lost_under(const struct view *view, size_t first, size_t *end)
{
    double lost = 0;
    const char *heading = heading_of(view, &view->points[first]);
    for (*end = first; *end < view->count && strcmp(heading_of(view, &view->points[*end]), heading) == 0; ++*end)
        lost += view->points[*end].lost;
    return lost;
}

/* The key point close to this one that was left out when its topic was explained the last time; NULL. *when: the day. */
static const char *left_out(const struct view *view, const struct missed_point *point, const char *words, day_number *when)
{
    const struct course *course = bank_course(view->bank);
    const struct explained *latest = NULL;
    for (size_t i = 0; i < course->topic_count && !latest; i++)
        if (text_equal(course->topics[i].id, point->topic))
            latest = explanations_latest(&view->explained, (int)i, true);
    if (!latest || point->state == MISSED_SECURE)
        return NULL;
    *when = latest->day;
    return explained_left_out(latest, words);
}

static void add_left_out(struct page *page, const struct view *view, const struct missed_point *point, const char *words)
{
    struct buffer day = BUFFER_EMPTY;
    day_number when;
    const char *key_point = left_out(view, point, words, &when);
    if (key_point) {
        add_day_short(&day, when, view->today);
        page_add(page, STYLE_PLAIN, " Also left out when you explained the topic on %s: \"%s\"", buffer_text(&day), key_point);
    }
    buffer_free(&day);
}

static void show_point(struct page *page, const struct view *view, const struct missed_point *point)
{
    struct buffer due = BUFFER_EMPTY;
    const char *words = habits_point_words(view->record, view->bank, point, view->arena);
    page_item(page, 0, "-", "%s (%s): %s. ", point->question, point->part, words);
    if (point->state == MISSED_SECURE) {
        page_add(page, STYLE_GOOD, "Secure.");
    } else {
        add_day_relative(&due, missed_due(&point->cycle, view->today), view->today);
        page_add(page, STYLE_QUIET, "%s, next look %s.", point->state == MISSED_OPEN ? "Open" : "Recovering", buffer_text(&due));
    }
    add_left_out(page, view, point, words);
    buffer_free(&due);
}

static void show_headings(struct page *page, const struct view *view)
{
    for (size_t i = 0, end; i < view->count; i = end) {
        double lost = lost_under(view, i, &end);
        page_heading(page, 3, "%s: %s", heading_of(view, &view->points[i]), text_count(lround(lost), "mark", "marks"));
        for (size_t j = i; j < end; j++)
            show_point(page, view, &view->points[j]);
    }
}

static bool show_view(const struct view *view, struct messages *messages)
{
    struct page *page = page_new();
    page_heading(page, 1, "Missed points");
    if (!view->count)
        page_paragraph(page, "No missed point is on record. 'ownmark practise' finds them.");
    show_headings(page, view);
    bool read = !view->count || habits_of_losing(view->record, view->bank, page, messages);
    if (view->count)
        page_paragraph(page, "A point is secure once it was earned again and then on three later days. 'ownmark practise --missed' "
                             "asks what is due.");
    show_and_end(page, EXIT_DONE);
    return read;
}

static void write_json(const struct view *view)
{
    struct buffer out = BUFFER_EMPTY;
    struct json json;
    json_begin(&json, &out);
    json_array(&json, NULL);
    for (size_t i = 0; i < view->count; i++) {
        const struct missed_point *point = &view->points[i];
        const char *words = habits_point_words(view->record, view->bank, point, view->arena);
        day_number when;
        struct buffer due = BUFFER_EMPTY;
        if (point->state != MISSED_SECURE) {
            int year, month, day;
            day_to_civil(missed_due(&point->cycle, view->today), &year, &month, &day);
            buffer_print(&due, "%04d-%02d-%02d", year, month, day);
        }
        json_object(&json, NULL);
        json_text(&json, "question", point->question);
        json_text(&json, "part", point->part);
        json_text(&json, "point", words);
        json_text(&json, "topic", point->topic);
        json_text(&json, "command_word", point->word);
        json_text(&json, "cause", point->cause);
        json_text(&json, "state", state_words[point->state]);
        json_text(&json, "next", due.length ? buffer_text(&due) : NULL);
        json_number(&json, "lost", point->lost);
        json_text(&json, "left_out_when_explaining", left_out(view, point, words, &when));
        json_close_object(&json);
        buffer_free(&due);
    }
    json_close_array(&json);
    buffer_add(&out, "\n");
    terminal_write(buffer_text(&out), out.length);
    buffer_free(&out);
}

/* ---- Running -------------------------------------------------------------------------------------- */

static bool read_by(const char *text, enum by *by, struct messages *messages)
{
    static const char *const names[] = {[BY_CAUSE] = "cause", [BY_TOPIC] = "topic", [BY_WORD] = "command-word"};
    *by = BY_CAUSE;
    for (size_t i = 0; text && i < sizeof names / sizeof *names; i++) {
        if (strcmp(text, names[i]) == 0) {
            *by = (enum by)i;
            return true;
        }
    }
    if (text)
        messages_error(messages, "--by '%s' is not one of cause, topic, command-word", text);
    return text == NULL;
}

static enum exit_status show_missed(const struct arguments *arguments, struct view *view, struct messages *messages)
{
    view->arena = arena_new();
    view->today = day_of(moment_now());
    bool read = !view->record ||
                record_missed(view->record, bank_id(view->bank), view->arena, &view->points, &view->count, messages);
    read = read && explanations_read(view->record, view->bank, view->arena, &view->explained, messages);
    if (read && view->count)
        qsort_r(view->points, view->count, sizeof *view->points, compare_points, view);
    if (read && arguments->json)
        write_json(view);
    else if (read)
        read = show_view(view, messages);
    arena_free(view->arena);
    return read ? EXIT_DONE : EXIT_SYSTEM;
}

static enum exit_status run(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    struct view view = {0};
    if (!read_by(argument_value(arguments, "--by"), &view.by, &messages))
        return say_and_end(&messages, EXIT_BAD_USE);
    view.record = open_record_for(arguments, RECORD_READ, &messages);
    if (!view.record && messages.count)
        return say_and_end(&messages, EXIT_SYSTEM);
    struct bank *bank = open_bank_for(arguments, view.record, &messages);
    view.bank = bank;
    enum exit_status status = bank ? show_missed(arguments, &view, &messages) : EXIT_BAD_USE;
    bank_close(bank);
    record_close(view.record);
    return say_and_end(&messages, status);
}

static const struct option options[] = {
    {"--by", "WHAT", "cause (usual), topic or command-word"},
    {NULL, NULL, NULL},
};

const struct command command_missed = {
    .name = "missed",
    .summary = "points not earned, why, and when they come back",
    .words = "[BANK]",
    .words_most = 1,
    .help = "Lists every marking point that was lost, grouped by cause, topic or command word, with its state: open (lost), "
            "recovering (earned again since), secure (earned again on three later days). Says which one habit would win most "
            "marks.",
    .example = "ownmark missed --by topic",
    .prints_results = true,
    .options = options,
    .run = run,
};
