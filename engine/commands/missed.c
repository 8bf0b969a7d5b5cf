/* ownmark missed: points not earned, why, and when they come back. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bank/course.h"
#include "base/dates.h"
#include "base/json.h"
#include "base/text.h"
#include "commands/shared.h"
#include "commands/table.h"
#include "marking/cause.h"
#include "practice/explain.h"
#include "practice/habits.h"
#include "terminal/terminal.h"

enum { DUE_IN_A_DAY = 12 };     /* a sitting of 20 minutes full; more at once only frightens. Ours */

enum by { BY_CAUSE, BY_TOPIC, BY_WORD };
enum { SHOWN_OF_GROUP = 6 };        /* points of a heading, unless all are asked for */
static const char *const by_words[] = {[BY_CAUSE] = "cause", [BY_TOPIC] = "topic", [BY_WORD] = "command-word", NULL};

struct view {
    const struct bank *bank;
    struct record *record;
    struct arena *arena;
    size_t by;                      /* enum by */
    bool all;                       /* all of a heading, secure ones too */
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
    int topic = course_topic(course, id);
    return topic < 0 ? id : course->topics[topic].name;
}

static const char *heading_of(const struct view *view, const struct missed_point *point)
{
    enum cause cause = cause_from_label(point->cause);
    switch ((enum by)view->by) {
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
    order = strcmp(x->question, y->question);
    order = order ? order : strcmp(x->part, y->part);
    return order ? order : strcmp(x->item, y->item);
}

/* ---- Showing -------------------------------------------------------------------------------------- */

/* The points under one heading. */
struct group { size_t first, end; double open, secure; };   /* marks lost */

static size_t gather_groups(const struct view *view, struct group *groups)
{
    size_t count = 0;
    for (size_t i = 0; i < view->count; i++) {
        const struct missed_point *point = &view->points[i];
        if (i == 0 || strcmp(heading_of(view, point), heading_of(view, &view->points[i - 1])) != 0)
            groups[count++] = (struct group){.first = i};
        struct group *group = &groups[count - 1];
        group->end = i + 1;
        *(point->state == MISSED_SECURE ? &group->secure : &group->open) += point->lost;
    }
    return count;
}

/* Where most is to be won back comes first. */
static int compare_groups(const void *a, const void *b)
{
    const struct group *x = a, *y = b;
    if (x->open < y->open || x->open > y->open)
        return x->open > y->open ? -1 : 1;
    return x->first < y->first ? -1 : x->first > y->first;
}

/* The key point close to this one that was left out when its topic was explained the last time; NULL. *when: the day. */
static const char *left_out(const struct view *view, const struct missed_point *point, const char *words, day_number *when)
{
    int topic = course_topic(bank_course(view->bank), point->topic);
    const struct explained *latest = topic < 0 ? NULL : explanations_latest(&view->explained, topic, true);
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

static void add_next_look(struct buffer *out, const struct view *view, const struct missed_point *point)
{
    day_number due = missed_due(&point->cycle, view->today);
    if (due - view->today > 1) {
        add_day_short(out, due, view->today);
        buffer_add(out, ", ");
    }
    add_day_relative(out, due, view->today);
}

/* Marks of a list are points of their own ("a.1#1", "a.1#2") with the same words. */
static bool reads_alike(const struct missed_point *a, const struct missed_point *b)
{
    size_t length = strcspn(a->item, "#");
    return a->state == b->state && a->due == b->due && strcmp(a->question, b->question) == 0 && strcmp(a->part, b->part) == 0 &&
           length == strcspn(b->item, "#") && strncmp(a->item, b->item, length) == 0;
}

static void show_point(struct page *page, const struct view *view, const struct missed_point *point, double marks)
{
    struct buffer due = BUFFER_EMPTY;
    const char *asked, *words = habits_point_words(view->record, view->bank, point, &asked, view->arena);
    page_item(page, 0, "-", "%s (%s): %s%s%s", point->question, point->part, words, asked, *asked ? " " : ". ");
    if (marks > point->lost)
        page_add(page, STYLE_PLAIN, "%s. ", text_count(lround(marks), "mark", "marks"));
    if (point->state == MISSED_SECURE) {
        page_add(page, STYLE_GOOD, "Secure.");
    } else {
        add_next_look(&due, view, point);
        page_add(page, STYLE_QUIET, "%s; next look %s.", point->state == MISSED_OPEN ? "Open" : "Recovering", buffer_text(&due));
    }
    if (view->by != BY_CAUSE && cause_from_label(point->cause) != CAUSE_NONE)
        page_add(page, STYLE_PLAIN, " Lost through %s.", cause_text(cause_from_label(point->cause))->title);
    add_left_out(page, view, point, words);
    buffer_free(&due);
}

static void show_group(struct page *page, const struct view *view, const struct group *group)
{
    double marks = group->open + (view->all ? group->secure : 0);
    if (marks <= 0)
        return;
    page_heading(page, 3, "%s: %s", heading_of(view, &view->points[group->first]), text_count(lround(marks), "mark", "marks"));
    size_t lines = 0;
    for (size_t i = group->first, next; i < group->end; i = next) {
        const struct missed_point *point = &view->points[i];
        marks = 0;
        for (next = i; next < group->end && reads_alike(point, &view->points[next]); next++)
            marks += view->points[next].lost;
        if (!view->all && point->state == MISSED_SECURE)
            continue;
        if (view->all || lines < SHOWN_OF_GROUP)
            show_point(page, view, point, marks);
        lines++;
    }
    if (!view->all && lines > SHOWN_OF_GROUP)
        page_item(page, 0, "-", "and %zu more; 'ownmark missed --all' lists them.", lines - SHOWN_OF_GROUP);
}

static void show_groups(struct page *page, const struct view *view)
{
    struct group *groups = arena_get_array(view->arena, view->count, sizeof *groups);
    size_t count = gather_groups(view, groups);
    qsort(groups, count, sizeof *groups, compare_groups);
    for (size_t i = 0; i < count; i++)
        show_group(page, view, &groups[i]);
}

static size_t count_state(const struct view *view, enum missed_state state)
{
    size_t count = 0;
    for (size_t i = 0; i < view->count; i++)
        count += view->points[i].state == state;
    return count;
}

static size_t count_due(const struct view *view)
{
    size_t count = 0;
    for (size_t i = 0; i < view->count; i++)
        count += view->points[i].state != MISSED_SECURE && missed_due(&view->points[i].cycle, view->today) == view->today;
    return count;
}

static void show_counts(struct page *page, const struct view *view)
{
    size_t secure = count_state(view, MISSED_SECURE), due = count_due(view);
    page_paragraph(page, "%zu open, %zu recovering, %zu secure.", count_state(view, MISSED_OPEN),
                   count_state(view, MISSED_RECOVERING), secure);
    if (secure && !view->all)
        page_add(page, STYLE_PLAIN, " 'ownmark missed --all' lists the secure ones too.");
    if (!due)
        return;
    page_paragraph(page, "%s due today: 'ownmark practise --missed' asks for %s, in another question on the same idea where "
                         "the bank has one.", text_count((long)due, "point is", "points are"), due == 1 ? "it" : "them");
    if (due > DUE_IN_A_DAY)
        page_add(page, STYLE_PLAIN, " A few a day are plenty: 'ownmark timetable' spreads them over the days to come.");
}

static bool show_view(const struct view *view, struct messages *messages)
{
    struct page *page = page_new();
    bool read = true;
    page_heading(page, 1, "Missed points");
    if (view->count) {
        show_counts(page, view);
        show_groups(page, view);
        read = habits_of_losing(view->record, view->bank, page, messages);
        page_paragraph(page, "A point is secure once it was earned again and then on three later days.");
    } else {
        page_paragraph(page, "No missed point is on record. 'ownmark practise' finds them.");
    }
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
        const char *words = habits_point_words(view->record, view->bank, point, NULL, view->arena);
        day_number when;
        json_object(&json, NULL);
        json_text(&json, "question", point->question);
        json_text(&json, "part", point->part);
        json_text(&json, "point", words);
        json_text(&json, "topic", point->topic);
        json_text(&json, "command_word", point->word);
        json_text(&json, "cause", point->cause);
        json_text(&json, "state", state_words[point->state]);
        json_text(&json, "idea", point->idea);
        json_day(&json, "since", point->since);
        json_whole(&json, "successes", point->successes);
        json_day(&json, "next", missed_due(&point->cycle, view->today));
        json_number(&json, "lost", point->lost);
        json_text(&json, "left_out_when_explaining", left_out(view, point, words, &when));
        json_close_object(&json);
    }
    json_close_array(&json);
    buffer_add(&out, "\n");
    terminal_write(buffer_text(&out), out.length);
    buffer_free(&out);
}

/* ---- Running -------------------------------------------------------------------------------------- */

static enum exit_status read(const struct arguments *arguments, struct record *record, struct bank *bank, void *context,
                             struct messages *messages)
{
    struct view *view = context;
    view->record = record;
    view->bank = bank;
    view->arena = arena_new();
    view->today = day_of(moment_now());
    bool good = !record || record_missed(record, bank_id(bank), view->arena, &view->points, &view->count, messages);
    good = good && explanations_read(record, bank, view->arena, &view->explained, messages);
    if (good && view->count)
        qsort_r(view->points, view->count, sizeof *view->points, compare_points, view);
    if (good && arguments->json)
        write_json(view);
    else if (good)
        good = show_view(view, messages);
    arena_free(view->arena);
    return good ? EXIT_DONE : EXIT_SYSTEM;
}

static enum exit_status run(const struct arguments *arguments)
{
    struct view view = {.by = BY_CAUSE, .all = argument_given(arguments, "--all")};
    return argument_choice(arguments, "--by", by_words, &view.by) ? read_record_and_bank(arguments, read, &view) : EXIT_BAD_USE;
}

static const struct option options[] = {
    {"--by", "WHAT", "cause (usual), topic or command-word"},
    {"--all", NULL, "every point, secure ones too"},
    {NULL, NULL, NULL},
};

const struct command command_missed = {
    .name = "missed",
    .summary = "points not earned, why, and when they come back",
    .words = "[BANK]",
    .words_most = 1,
    .help = "Lists the marking points that were lost, grouped by cause, topic or command word, most marks first, with their "
            "state: open (lost), recovering (earned again since), secure (earned again on three later days), and the day of the "
            "next look. Earning the same idea in another question counts. Says which one habit would win most marks.",
    .example = "ownmark missed --by topic",
    .prints_results = true,
    .options = options,
    .run = run,
};
