/* ownmark explain: a topic explained aloud against a clock and its key points. */
#include <math.h>
#include <string.h>

#include "bank/course.h"
#include "base/text.h"
#include "commands/dialogue.h"
#include "commands/shared.h"
#include "commands/table.h"
#include "practice/aloud.h"
#include "practice/choose.h"
#include "terminal/terminal.h"

struct view {
    const struct bank *bank;
    const struct course *course;
    int topic;                          /* index; -1: all */
    struct explanations past;
    enum topic_rating *ratings;         /* the latest of each topic of the course */
    day_number today;
};

static void add_covered(struct buffer *out, const struct explained *explained)
{
    size_t half = explain_count(explained->ticks, 'h');
    buffer_print(out, "%zu of %zu", explain_count(explained->ticks, 'y'), strlen(explained->ticks));
    if (half)
        buffer_print(out, ", %zu half", half);
}

/* ---- The list ------------------------------------------------------------------------------------------- */

static void show_row(struct page *page, const struct view *view, int topic)
{
    const struct explained *latest = explanations_latest(&view->past, topic, true);
    const struct explained *begun = explanations_latest(&view->past, topic, false);
    struct buffer day = BUFFER_EMPTY, covered = BUFFER_EMPTY;
    if (latest) {
        add_day_short(&day, latest->day, view->today);
        add_covered(&covered, latest);
    }
    page_cell(page, "%s", view->course->topics[topic].name);
    page_cell(page, "%s", begun ? "not finished" : latest ? buffer_text(&day) : "not yet");
    page_cell(page, "%s", buffer_text(&covered));
    page_cell(page, "%s", view->ratings[topic] ? topic_rating_name(view->ratings[topic]) : "");
    buffer_free(&day);
    buffer_free(&covered);
}

static bool can_be_explained(const struct view *view, int topic)
{
    return view->course->topics[topic].explain.point_count > 0;
}

/* Not yet explained first, then the one longest ago; -1 when no topic has key points. */
static int topic_to_go_on_with(const struct view *view)
{
    int found = -1;
    moment longest = 0;
    for (int i = 0; i < (int)view->course->topic_count; i++) {
        const struct explained *latest = explanations_latest(&view->past, i, true);
        moment when = latest ? latest->at : NO_MOMENT;
        if (can_be_explained(view, i) && (found < 0 || when < longest)) {
            found = i;
            longest = when;
        }
    }
    return found;
}

static void show_list(const struct view *view)
{
    struct page *page = page_new();
    int next = topic_to_go_on_with(view);
    page_heading(page, 1, "%s: explained aloud", view->course->name);
    if (next < 0) {
        page_paragraph(page, "This bank has no key points for explaining; its author would have to write them.");
        show_and_end(page, EXIT_DONE);
        return;
    }
    page_table(page, NULL, "llll", true);
    page_cell(page, "Topic");
    page_cell(page, "Last time");
    page_cell(page, "Covered");
    page_cell(page, "How sure");
    for (int i = 0; i < (int)view->course->topic_count; i++)
        if (can_be_explained(view, i))
            show_row(page, view, i);
    page_paragraph(page, "'ownmark explain \"%s\"' is the one to go on with.", view->course->topics[next].name);
    show_and_end(page, EXIT_DONE);
}

/* ---- One topic ------------------------------------------------------------------------------------------ */

static void show_one(struct page *page, const struct view *view, const struct explained *explained)
{
    struct buffer day = BUFFER_EMPTY, text = BUFFER_EMPTY;
    size_t half = explain_count(explained->ticks, 'h');
    add_day_short(&day, explained->day, view->today);
    buffer_print(&text, "%zu of %zu covered, ", explain_count(explained->ticks, 'y'), strlen(explained->ticks));
    if (half)
        buffer_print(&text, "%zu half, ", half);
    buffer_print(&text, "%s", text_count(explained->stumbles, "stumble", "stumbles"));
    if (!isnan(explained->seconds)) {
        buffer_add(&text, ", ");
        add_duration(&text, explained->seconds);
    }
    page_item(page, 0, "-", "%s: %s", buffer_text(&day), buffer_text(&text));
    buffer_free(&day);
    buffer_free(&text);
}

static void show_left_out(struct page *page, const struct explained *latest)
{
    bool any = false;
    for (size_t i = 0; latest->ticks[i]; i++) {
        if (latest->ticks[i] == 'y')
            continue;
        if (!any)
            page_heading(page, 3, "Left out or half covered the last time");
        any = true;
        page_item(page, 0, "-", "%s%s", latest->points[i], latest->ticks[i] == 'h' ? " (half)" : "");
    }
}

static void show_topic(const struct view *view)
{
    const struct explained *latest = explanations_latest(&view->past, view->topic, true);
    struct page *page = page_new();
    page_heading(page, 1, "%s: explained aloud", view->course->topics[view->topic].name);
    for (size_t i = 0; i < view->past.count; i++)
        if (view->past.items[i].topic == view->topic && explain_is_decided(view->past.items[i].ticks))
            show_one(page, view, &view->past.items[i]);
    if (latest)
        show_left_out(page, latest);
    else
        page_paragraph(page, "Not explained yet.");
    if (view->ratings[view->topic])
        page_paragraph(page, "How sure you said you were: %s.", topic_rating_name(view->ratings[view->topic]));
    show_and_end(page, EXIT_DONE);
}

/* ---- JSON ----------------------------------------------------------------------------------------------- */

static void json_points(struct json *json, const struct explained *explained)
{
    json_array(json, "points");
    for (size_t i = 0; explained->ticks[i]; i++) {
        char tick = explained->ticks[i];
        json_object(json, NULL);
        json_text(json, "point", explained->points[i]);
        json_text(json, "covered", tick == 'y' ? "yes" : tick == 'h' ? "half" : "no");
        json_close_object(json);
    }
    json_close_array(json);
}

static void json_explained(struct json *json, const struct view *view, const struct explained *explained)
{
    json_object(json, NULL);
    json_text(json, "topic", view->course->topics[explained->topic].id);
    json_text(json, "name", view->course->topics[explained->topic].name);
    json_moment(json, "at", explained->at);
    json_whole(json, "stumbles", explained->stumbles);
    json_number(json, "seconds", explained->seconds);
    json_points(json, explained);
    json_close_object(json);
}

static void write_json(const struct view *view)
{
    struct buffer out = BUFFER_EMPTY;
    struct json json;
    json_begin(&json, &out);
    json_array(&json, NULL);
    for (size_t i = 0; i < view->past.count; i++) {
        const struct explained *item = &view->past.items[i];
        if (explain_is_decided(item->ticks) && (view->topic < 0 || view->topic == item->topic))
            json_explained(&json, view, item);
    }
    json_close_array(&json);
    buffer_add(&out, "\n");
    terminal_write(buffer_text(&out), out.length);
    buffer_free(&out);
}

/* ---- Speaking ------------------------------------------------------------------------------------------- */

static const struct page *screen_of(void *machine) { return aloud_screen(machine); }
static const struct practice_ask *ask_of(void *machine) { return aloud_ask(machine); }
static void leave(void *machine) { aloud_leave(machine); }

static enum practice_result enter(void *machine, const char *line, bool pasted, struct messages *messages)
{
    (void)pasted;
    return aloud_enter(machine, line, messages);
}

/* Half a line here is a stumble or half an answer to a question that will be asked again. */
static bool keep_nothing(void *machine, const char *line, struct messages *messages)
{
    (void)machine, (void)line, (void)messages;
    return true;
}

static const struct dialogue speaking = {screen_of, ask_of, enter, NULL, NULL, keep_nothing, leave};

static enum exit_status explain(const struct view *view, struct record *record, struct messages *messages)
{
    const struct explained *begun = explanations_latest(&view->past, view->topic, false);
    if (begun) {
        enum answer answer = ask_yes_or_no("A checklist was not finished. Go on with it? (Enter: yes, n: explain afresh)",
                                           ANSWERED_YES);
        if (answer == NOT_ANSWERED)
            return EXIT_DONE;
        begun = answer == ANSWERED_YES ? begun : NULL;
    }
    struct aloud *aloud = aloud_begin(view->bank, record, view->topic, begun, messages);
    enum exit_status status = aloud ? dialogue_run(&speaking, aloud, messages) : EXIT_SYSTEM;
    aloud_free(aloud);
    return status;
}

/* ---- Running -------------------------------------------------------------------------------------------- */

static bool read_ratings(struct view *view, struct record *record, struct arena *arena, struct messages *messages)
{
    struct event *events = NULL;
    size_t count = 0;
    view->ratings = arena_get_array(arena, view->course->topic_count, sizeof *view->ratings);
    if (record && !record_latest_events(record, bank_id(view->bank), EVENT_TOPIC_RATED, arena, &events, &count, messages))
        return false;
    for (size_t i = 0; i < count; i++) {
        int topic = course_topic(view->course, events[i].item);
        if (topic >= 0)
            view->ratings[topic] = (enum topic_rating)events[i].number;
    }
    return true;
}

static enum exit_status run_with(const struct arguments *arguments, struct view *view, bool speak, struct messages *messages)
{
    struct arena *arena = arena_new();
    struct record *record = open_record_for(arguments, speak ? RECORD_WRITE : RECORD_READ, messages);
    enum exit_status status = EXIT_SYSTEM;
    if (!messages->errors && explanations_read(record, view->bank, arena, &view->past, messages) &&
        read_ratings(view, record, arena, messages)) {
        view->today = day_of(moment_now());
        status = EXIT_DONE;
        if (speak)
            status = explain(view, record, messages);
        else if (arguments->json)
            write_json(view);
        else if (view->topic < 0)
            show_list(view);
        else
            show_topic(view);
    }
    record_close(record);
    arena_free(arena);
    return status;
}

static void refuse_without_points(const struct view *view, struct messages *messages)
{
    struct buffer list = BUFFER_EMPTY;
    for (int i = 0; i < (int)view->course->topic_count; i++)
        if (can_be_explained(view, i))
            buffer_print(&list, "%s%s", list.length ? ", " : "", view->course->topics[i].id);
    messages_error(messages, "'%s' has no key points to explain in this bank; topics that have some: %s",
                   view->course->topics[view->topic].name, list.length ? buffer_text(&list) : "none");
    buffer_free(&list);
}

static bool read_topic(const struct arguments *arguments, const char *topic, struct view *view, struct messages *messages)
{
    view->topic = -1;
    if (!topic && argument_given(arguments, "--show"))
        messages_error(messages, "--show wants a TOPIC; 'ownmark explain' lists them");
    if (!topic)
        return !messages->errors;
    view->topic = topic_read_leaf(view->course, topic, messages);
    if (view->topic >= 0 && !can_be_explained(view, view->topic))
        refuse_without_points(view, messages);
    return !messages->errors;
}

static enum exit_status run(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    struct topic_words words = topic_words_of(arguments);
    bool readable, speak = words.topic && !arguments->json && !argument_given(arguments, "--show");
    struct bank *bank = open_bank_first(arguments, words.bank, &readable, &messages);
    if (!bank)
        return say_and_end(&messages, readable ? EXIT_BAD_USE : EXIT_SYSTEM);
    struct view view = {.bank = bank, .course = bank_course(bank)};
    enum exit_status status = EXIT_BAD_USE;
    if (read_topic(arguments, words.topic, &view, &messages))
        status = run_with(arguments, &view, speak, &messages);
    bank_close(bank);
    return say_and_end(&messages, status);
}

static const struct option options[] = {
    {"--show", NULL, "how it went each time, and what was left out"},
    {NULL, NULL, NULL},
};

const struct command command_explain = {
    .name = "explain",
    .summary = "a topic explained aloud against a clock and its key points",
    .words = "[TOPIC] [BANK]",
    .words_most = 2,
    .help = "You explain the topic aloud while a clock runs, then go through its key points one by one: said, half said, left out. "
            "What was left out is named, and you say how sure you are of the topic. Marks are not touched, and no sound is "
            "recorded. Without TOPIC, lists the topics. TOPIC is an id or a name.",
    .example = "ownmark explain \"Wave energy and beaches\"",
    .prints_results = true,
    .options = options,
    .run = run,
};
