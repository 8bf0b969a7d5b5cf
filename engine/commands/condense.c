/* ownmark condense: notes in four shrinking stages, each rebuilt from memory. */
#include <string.h>

#include "base/text.h"
#include "commands/dialogue.h"
#include "commands/shared.h"
#include "commands/table.h"
#include "practice/choose.h"
#include "practice/condensing.h"
#include "practice/timetable.h"
#include "terminal/terminal.h"

struct view {
    const struct bank *bank;
    const struct course *course;
    int topic;                      /* index; -1: all */
    enum condense_stage wanted;     /* by --stage; CONDENSE_NONE: the next */
    struct topic_notes *notes;      /* one a topic of the course */
    day_number exam, today;         /* exam NO_DAY: not set, or over */
};

static day_number due_of(const struct view *view, int topic)
{
    return condense_due(view->notes[topic].kept, view->exam);
}

/* ---- The list ------------------------------------------------------------------------------------------- */

static void add_next(struct buffer *out, const struct view *view, int topic)
{
    const struct topic_notes *notes = &view->notes[topic];
    enum condense_stage next = condense_next(notes->kept);
    day_number due = due_of(view, topic);
    bool begun = notes->drafting != CONDENSE_NONE && *notes->draft;
    if (begun)
        buffer_print(out, "%s, begun", condense_name(notes->drafting));
    else
        buffer_add(out, next == CONDENSE_NONE ? "done" : condense_name(next));
    if (begun || next == CONDENSE_NONE || due == NO_DAY)
        return;
    buffer_add(out, due <= view->today ? ", now" : ", ");
    if (due > view->today)
        add_day_short(out, due, view->today);
}

static void show_row(struct page *page, const struct view *view, int topic)
{
    const struct topic_notes *notes = &view->notes[topic];
    enum condense_stage latest = condense_latest(notes->kept);
    struct buffer text = BUFFER_EMPTY;
    page_cell(page, "%s", view->course->topics[topic].name);
    page_cell(page, "%s", latest == CONDENSE_NONE ? "none yet" : condense_name(latest));
    if (latest != CONDENSE_NONE)
        add_day_short(&text, notes->kept[latest], view->today);
    page_cell(page, "%s", buffer_text(&text));
    buffer_clear(&text);
    add_next(&text, view, topic);
    page_cell(page, "%s", buffer_text(&text));
    buffer_free(&text);
}

static bool is_due(const struct view *view, int topic)
{
    day_number due = due_of(view, topic);
    return view->course->topics[topic].is_leaf && due != NO_DAY && due <= view->today;
}

/* Earlier days first, then earlier stages. */
static bool comes_before(const struct view *view, int a, int b)
{
    day_number x = due_of(view, a), y = due_of(view, b);
    return x != y && x != NO_DAY && y != NO_DAY ? x < y : condense_latest(view->notes[a].kept) < condense_latest(view->notes[b].kept);
}

/* The topic to begin with, and how many are due today. */
static int first_topic(const struct view *view, int *due)
{
    int first = -1;
    *due = 0;
    for (int i = 0; i < (int)view->course->topic_count; i++) {
        *due += is_due(view, i);
        if (view->course->topics[i].is_leaf && condense_next(view->notes[i].kept) != CONDENSE_NONE &&
            (first < 0 || comes_before(view, i, first)))
            first = i;
    }
    return first;
}

static void show_list(const struct view *view)
{
    struct page *page = page_new();
    int due, first = first_topic(view, &due);
    page_heading(page, 1, "%s: condensed notes", view->course->name);
    page_table(page, NULL, "llll", true);
    page_cell(page, "Topic");
    page_cell(page, "Latest stage");
    page_cell(page, "Kept");
    page_cell(page, "Next");
    for (size_t i = 0; i < view->course->topic_count; i++)
        if (view->course->topics[i].is_leaf)
            show_row(page, view, (int)i);
    if (view->exam == NO_DAY)
        page_paragraph(page, "When a stage is due depends on the day of the exam: 'ownmark settings exam-date 2027-05-18', with the "
                             "right day, sets it.");
    bool too_late = view->exam != NO_DAY && due > 2 * (view->exam - view->today);
    if (too_late)
        page_paragraph(page, "%d are due, and there is no time left for them all: take your weakest topics ('ownmark standing'), and "
                             "their shortest stages (--stage outline, --stage line).", due);
    else if (due > 2)
        page_paragraph(page, "%d are due; one or two a day are plenty.", due);
    if (first >= 0 && !too_late)
        page_paragraph(page, "'ownmark condense \"%s\"' is the one to go on with.", view->course->topics[first].name);
    show_and_end(page, EXIT_DONE);
}

/* ---- The stages of one topic ---------------------------------------------------------------------------- */

static void show_stages(const struct view *view)
{
    const struct topic_notes *notes = &view->notes[view->topic];
    struct page *page = page_new();
    page_heading(page, 1, "%s", view->course->topics[view->topic].name);
    for (int stage = CONDENSE_FULL; stage <= CONDENSE_LINE; stage++) {
        struct buffer day = BUFFER_EMPTY;
        if (!notes->texts[stage])
            continue;
        add_day_short(&day, notes->kept[stage], view->today);
        page_heading(page, 3, "%d %s, %s", stage, condense_name((enum condense_stage)stage), buffer_text(&day));
        page_verbatim(page, 1, notes->texts[stage]);
        buffer_free(&day);
    }
    if (condense_latest(notes->kept) == CONDENSE_NONE)
        page_paragraph(page, "No notes of this topic are kept yet.");
    page_gap(page);
    condensing_say_next(page, notes, view->exam, view->today);
    show_and_end(page, EXIT_DONE);
}

/* ---- JSON ----------------------------------------------------------------------------------------------- */

static void json_stages(struct json *json, const struct topic_notes *notes)
{
    json_array(json, "stages");
    for (int stage = CONDENSE_FULL; stage <= CONDENSE_LINE; stage++) {
        if (!notes->texts[stage])
            continue;
        json_object(json, NULL);
        json_whole(json, "stage", stage);
        json_text(json, "name", condense_name((enum condense_stage)stage));
        json_day(json, "kept", notes->kept[stage]);
        json_whole(json, "words", (int64_t)condense_word_count(notes->texts[stage]));
        json_text(json, "text", notes->texts[stage]);
        json_close_object(json);
    }
    json_close_array(json);
}

static void json_topic(struct json *json, const struct view *view, int topic)
{
    const struct topic_notes *notes = &view->notes[topic];
    enum condense_stage next = condense_next(notes->kept);
    json_object(json, NULL);
    json_text(json, "topic", view->course->topics[topic].id);
    json_text(json, "name", view->course->topics[topic].name);
    json_stages(json, notes);
    json_text(json, "next", next == CONDENSE_NONE ? NULL : condense_name(next));
    json_day(json, "due", due_of(view, topic));
    json_close_object(json);
}

static void write_json(const struct view *view)
{
    struct buffer out = BUFFER_EMPTY;
    struct json json;
    json_begin(&json, &out);
    json_array(&json, NULL);
    for (size_t i = 0; i < view->course->topic_count; i++)
        if (view->course->topics[i].is_leaf && (view->topic < 0 || view->topic == (int)i))
            json_topic(&json, view, (int)i);
    json_close_array(&json);
    buffer_add(&out, "\n");
    terminal_write(buffer_text(&out), out.length);
    buffer_free(&out);
}

/* ---- Writing a stage ------------------------------------------------------------------------------------ */

static const struct page *screen_of(void *machine) { return condensing_screen(machine); }
static const struct practice_ask *ask_of(void *machine) { return condensing_ask(machine); }
static const char *edit_text_of(const void *machine) { return condensing_edit_text(machine); }
static void leave(void *machine) { condensing_leave(machine); }

static enum practice_result enter(void *machine, const char *line, bool pasted, struct messages *messages)
{
    return condensing_enter(machine, line, pasted, messages);
}

static enum practice_result edited(void *machine, const char *text, struct messages *messages)
{
    return condensing_edited(machine, text, messages);
}

static bool keep_draft(void *machine, const char *line, struct messages *messages)
{
    return condensing_keep_draft(machine, line, messages);
}

static const struct dialogue writing = {screen_of, ask_of, enter, edit_text_of, edited, keep_draft, leave};

static void say(const char *sentence)
{
    struct page *page = page_new();
    page_paragraph(page, "%s", sentence);
    show_and_end(page, EXIT_DONE);
}

/* A stage that is not due yet is asked about: what was hardly forgotten is hardly learnt by rebuilding it. Full notes may be written as
 * soon as the topic was taught. */
static bool wants_early(const struct view *view, enum condense_stage next)
{
    day_number due = due_of(view, view->topic);
    struct buffer question = BUFFER_EMPTY;
    if (next == CONDENSE_FULL || due == NO_DAY || due <= view->today)
        return true;
    buffer_print(&question, "Next is the stage \"%s\", due ", condense_name(next));
    add_day_short(&question, due, view->today);
    buffer_add(&question, "; it teaches more once some is forgotten. Write it now? (y: yes, Enter: no)");
    enum answer answer = ask_yes_or_no(buffer_text(&question), ANSWERED_NO);
    buffer_clear(&question);
    buffer_print(&question, "It waits. 'ownmark explain %s' tells how much has stayed.", view->course->topics[view->topic].id);
    if (answer == ANSWERED_NO && view->course->topics[view->topic].explain.point_count)
        say(buffer_text(&question));
    buffer_free(&question);
    return answer == ANSWERED_YES;
}

/* A draft that waits, or a new stage; CONDENSE_NONE: nothing is to be written, and that was said. */
static enum condense_stage choose_stage(const struct view *view, struct bank *bank, struct record *record, bool *failed,
                                        struct messages *messages)
{
    struct topic_notes *notes = &view->notes[view->topic];
    enum condense_stage next = condense_next(notes->kept);
    if (view->wanted != CONDENSE_NONE)
        return view->wanted;
    if (notes->drafting != CONDENSE_NONE && (*notes->draft || notes->half_line)) {
        struct buffer question = BUFFER_EMPTY;
        buffer_print(&question, "A draft of the stage \"%s\" waits. Go on with it? (Enter: yes, n: start afresh)",
                     condense_name(notes->drafting));
        enum answer answer = ask_yes_or_no(buffer_text(&question), ANSWERED_YES);
        buffer_free(&question);
        *failed = answer == ANSWERED_NO && !condensing_drop_draft(bank, record, view->topic, notes, messages);
        return answer == NOT_ANSWERED || *failed ? CONDENSE_NONE : notes->drafting;
    }
    if (next == CONDENSE_NONE)
        say("The last stage is kept; --show prints them all, --stage summary, for example, rebuilds one.");
    return next == CONDENSE_NONE || wants_early(view, next) ? next : CONDENSE_NONE;
}

static enum exit_status write_stage(const struct view *view, struct bank *bank, struct record *record, struct messages *messages)
{
    bool failed = false;
    enum condense_stage stage = choose_stage(view, bank, record, &failed, messages);
    if (stage == CONDENSE_NONE)
        return failed ? EXIT_SYSTEM : EXIT_DONE;
    struct condensing *condensing = condensing_begin(bank, record, view->topic, stage, &view->notes[view->topic], messages);
    enum exit_status status = condensing ? dialogue_run(&writing, condensing, messages) : EXIT_BAD_USE;
    condensing_free(condensing);
    return status;
}

/* ---- Running -------------------------------------------------------------------------------------------- */

static enum exit_status run_with(const struct arguments *arguments, struct view *view, struct bank *bank, bool write,
                                 struct messages *messages)
{
    struct arena *arena = arena_new();
    struct record *record = open_record_for(arguments, write ? RECORD_WRITE : RECORD_READ, messages);
    enum exit_status status = EXIT_SYSTEM;
    if (!messages->errors && notes_read(record, bank, arena, &view->notes, messages)) {
        view->today = day_of(moment_now());
        view->exam = record ? timetable_exam(record, bank_id(bank), arena) : NO_DAY;
        if (view->exam < view->today)
            view->exam = NO_DAY;
        status = EXIT_DONE;
        if (write)
            status = write_stage(view, bank, record, messages);
        else if (arguments->json)
            write_json(view);
        else if (view->topic < 0)
            show_list(view);
        else
            show_stages(view);
    }
    record_close(record);
    arena_free(arena);
    return status;
}

static bool read_arguments(const struct arguments *arguments, const char *topic, struct view *view, struct messages *messages)
{
    const char *stage = argument_value(arguments, "--stage");
    bool shows = arguments->json || argument_given(arguments, "--show");
    view->wanted = stage ? condense_stage_read(stage) : CONDENSE_NONE;
    if (stage && view->wanted == CONDENSE_NONE)
        messages_error(messages, "--stage '%s' is not one of full, summary, outline, line", stage);
    else if (stage && (shows || !topic))
        messages_error(messages, "--stage says what to write; it wants a TOPIC, and neither --show nor --json");
    else if (!topic && argument_given(arguments, "--show"))
        messages_error(messages, "--show wants a TOPIC; 'ownmark condense' lists them");
    else
        view->topic = topic ? topic_read_leaf(view->course, topic, messages) : -1;
    return !messages->errors;
}

static enum exit_status run(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    struct topic_words words = topic_words_of(arguments);
    bool readable, shows = arguments->json || argument_given(arguments, "--show") || !words.topic;
    struct bank *bank = open_bank_first(arguments, words.bank, &readable, &messages);
    if (!bank)
        return say_and_end(&messages, readable ? EXIT_BAD_USE : EXIT_SYSTEM);
    struct view view = {.bank = bank, .course = bank_course(bank)};
    enum exit_status status = EXIT_BAD_USE;
    if (read_arguments(arguments, words.topic, &view, &messages))
        status = run_with(arguments, &view, bank, !shows, &messages);
    bank_close(bank);
    return say_and_end(&messages, status);
}

static const struct option options[] = {
    {"--show", NULL, "print all stages that are kept"},
    {"--stage", "STAGE", "write this one: full, summary, outline or line"},
    {NULL, NULL, NULL},
};

const struct command command_condense = {
    .name = "condense",
    .summary = "notes in four shrinking stages, each rebuilt from memory",
    .words = "[TOPIC] [BANK]",
    .words_most = 2,
    .help = "Writes the next stage of a topic's notes: full notes, summary, outline, one line. Each is written from memory, then set "
            "beside the stage before: key words kept, lost, added. They come due about six months, two months, two weeks and two "
            "days before the exam. Without TOPIC, lists the topics with their stages and days. TOPIC is an id or a name.",
    .example = "ownmark condense \"Wave energy and beaches\"",
    .prints_results = true,
    .options = options,
    .run = run,
};
