/* ownmark standing: where the student stands, weakest first, and what to do next. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/dates.h"
#include "base/json.h"
#include "base/text.h"
#include "commands/shared.h"
#include "commands/table.h"
#include "practice/habits.h"
#include "practice/standing.h"
#include "terminal/terminal.h"

enum by { BY_TOPIC, BY_OBJECTIVE, BY_WORD };

struct row {
    const char *id, *name;
    double marks;                   /* evidence behind the estimate */
    struct learner_estimate estimate;
    enum learner_band band;
};

struct view {
    const struct bank *bank;
    struct record *record;
    struct standing standing;
    enum by by;
    moment when;
    bool today;
    struct row *rows;
    size_t count;
};

/* ---- Gathering ------------------------------------------------------------------------------------ */

static void add_row(struct view *view, const char *id, const char *name, size_t effect,
                    struct learner_estimate estimate)
{
    double marks = view->standing.learner->evidence[effect];
    view->rows[view->count++] = (struct row){id, name, marks, estimate, learner_band_of(estimate.share, marks)};
}

static void gather_topics(struct view *view)
{
    const struct learner *learner = view->standing.learner;
    const struct course *course = bank_course(view->bank);
    for (size_t i = 0; i < learner->course.topics; i++) {
        const struct topic *topic = &course->topics[view->standing.topic_of_leaf[i]];
        add_row(view, topic->id, topic->name, learner_topic_effect(&learner->course, i),
                learner_topic(learner, i, view->when));
    }
}

static void gather_objectives(struct view *view)
{
    const struct learner *learner = view->standing.learner;
    const struct course *course = bank_course(view->bank);
    for (size_t i = 0; i < learner->course.objectives; i++)
        add_row(view, course->objectives[i].id, course->objectives[i].name,
                learner_objective_effect(&learner->course, i), learner_objective(learner, i, view->when));
}

/* Only command words met so far: the built-in set has many that a course never uses. */
static void gather_words(struct view *view)
{
    const struct learner *learner = view->standing.learner;
    const struct course *course = bank_course(view->bank);
    for (size_t i = 0; i < learner->course.words; i++) {
        size_t effect = learner_word_effect(&learner->course, i);
        if (learner->evidence[effect] > 0)
            add_row(view, course->words[i].word, course->words[i].word, effect, learner_word(learner, i, view->when));
    }
}

static bool has_evidence(const struct row *row)
{
    return row->band != LEARNER_NO_EVIDENCE;
}

static int weakest_first(const void *a, const void *b)
{
    const struct row *x = a, *y = b;
    if (has_evidence(x) != has_evidence(y))
        return has_evidence(x) ? -1 : 1;
    if (x->estimate.share < y->estimate.share)
        return -1;
    return x->estimate.share > y->estimate.share;
}

static void gather(struct view *view, struct arena *arena)
{
    static void (*const gatherers[])(struct view *) = {
        [BY_TOPIC] = gather_topics, [BY_OBJECTIVE] = gather_objectives, [BY_WORD] = gather_words,
    };
    const struct learner *learner = view->standing.learner;
    view->rows = arena_get_array(arena, learner->effects, sizeof *view->rows);
    gatherers[view->by](view);
    qsort(view->rows, view->count, sizeof *view->rows, weakest_first);
}

/* ---- Saying it ------------------------------------------------------------------------------------ */

static const char *band_word(enum learner_band band)
{
    switch (band) {
    case LEARNER_LOW: return "weak";
    case LEARNER_MIDDLE: return "under way";
    case LEARNER_HIGH: return "strong";
    case LEARNER_NO_EVIDENCE: break;
    }
    return "too little evidence";
}

static long in_hundred(double share)
{
    return lround(share * 100.0);
}

static void show_rows(struct page *page, const struct view *view)
{
    static const char *const heads[] = {[BY_TOPIC] = "Topic", [BY_OBJECTIVE] = "Objective", [BY_WORD] = "Command word"};
    size_t shown = 0;
    for (size_t i = 0; i < view->count; i++)
        shown += has_evidence(&view->rows[i]);
    if (!shown)
        return;
    page_table(page, NULL, "lrrrl", true);
    page_cell(page, "%s", heads[view->by]);
    page_cell(page, "marks met");
    page_cell(page, "of 100");
    page_cell(page, "likely");
    page_cell(page, "%s", "");
    for (size_t i = 0; i < shown; i++) {
        const struct row *row = &view->rows[i];
        page_cell(page, "%s", row->name);
        page_cell(page, "%g", row->marks);
        page_cell(page, "%ld", in_hundred(row->estimate.share));
        page_cell(page, "%ld to %ld", in_hundred(row->estimate.low80), in_hundred(row->estimate.high80));
        page_cell(page, "%s", band_word(row->band));
    }
}

static void show_thin(struct page *page, const struct view *view)
{
    bool any = false;
    for (size_t i = 0; i < view->count; i++) {
        const struct row *row = &view->rows[i];
        if (has_evidence(row))
            continue;
        if (!any)
            page_paragraph(page, "Too little evidence yet: ");
        page_add(page, STYLE_PLAIN, "%s%s", any ? ", " : "", row->name);
        if (row->marks > 0)
            page_add(page, STYLE_PLAIN, " (%s met)", text_count(lround(row->marks), "mark", "marks"));
        any = true;
    }
    if (any)
        page_add(page, STYLE_PLAIN, ".");
}

static void show_total(struct page *page, const struct view *view)
{
    const struct learner *learner = view->standing.learner;
    const struct course *course = bank_course(view->bank);
    if (*learner->attempts < LEARNER_TOTAL_ATTEMPTS) {
        page_paragraph(page, "A figure for the whole paper needs %g questions; you have marked %g so far.",
                       LEARNER_TOTAL_ATTEMPTS, *learner->attempts);
        return;
    }
    struct learner_total total = learner_exam(learner, view->when);
    page_paragraph(page, "Between %ld and %ld of %d marks if the paper were %s; this is a practice figure, not a grade.",
                   lround(total.low80 * course->paper_marks), lround(total.high80 * course->paper_marks),
                   course->paper_marks, view->today ? "today" : "on that day");
}

static void show_sentence(struct page *page, const struct view *view)
{
    const struct row *row = &view->rows[0];
    page_paragraph(page, "In words: you would earn about %ld of 100 marks on %s %s, likely between %ld and %ld. Every mark "
                         "you earn or miss moves the number; it sinks while you leave the topic alone, and more slowly each "
                         "time you come back on another day.",
                   in_hundred(row->estimate.share), row->name, view->today ? "today" : "on that day",
                   in_hundred(row->estimate.low80), in_hundred(row->estimate.high80));
}

static const struct row *first_thin(const struct view *view)
{
    for (size_t i = 0; i < view->count; i++)
        if (!has_evidence(&view->rows[i]))
            return &view->rows[i];
    return NULL;
}

static void show_next(struct page *page, const struct view *view)
{
    const struct row *thin = first_thin(view), *weakest = view->count && has_evidence(&view->rows[0]) ? &view->rows[0] : NULL;
    static const char *const option[] = {[BY_TOPIC] = "--topic", [BY_OBJECTIVE] = "--objective", [BY_WORD] = "--command-word"};
    const char *quote = weakest && strchr(weakest->id, ' ') ? "\"" : "";
    page_heading(page, 3, "Next");
    if (thin && view->by == BY_TOPIC)
        page_item(page, 0, "-", "ownmark practise --topic %s: you have not met enough of %s to know, and marks are easiest to "
                                "win where little was done.", thin->id, thin->name);
    if (weakest)
        page_item(page, 0, "-", "ownmark practise %s %s%s%s: your weakest %s so far.", option[view->by], quote, weakest->id, quote,
                  view->by == BY_TOPIC ? "topic" : view->by == BY_OBJECTIVE ? "objective" : "command word");
    page_item(page, 0, "-", "ownmark practise: mixes the topics for you; what wins most marks comes first.");
}

static void show_view(const struct view *view, struct messages *messages)
{
    struct page *page = page_new();
    struct buffer day = BUFFER_EMPTY;
    add_day_long(&day, day_of(view->when));
    page_heading(page, 1, "%s: where you stand on %s", bank_course(view->bank)->name, buffer_text(&day));
    buffer_free(&day);
    if (*view->standing.learner->attempts <= 0)
        page_paragraph(page, "Nothing is known yet: no question has been marked.");
    show_rows(page, view);
    if (*view->standing.learner->attempts > 0)
        show_thin(page, view);
    show_total(page, view);
    if (view->count && has_evidence(&view->rows[0]) && view->by == BY_TOPIC)
        show_sentence(page, view);
    if (view->record)
        habits_of_judging(view->record, view->bank, page, messages);
    show_next(page, view);
    page_paragraph(page, "%s", "");
    page_add(page, STYLE_QUIET, "Practice figures from your own marking, never grades; the awarding body's own mark scheme "
                                "prevails.");
    show_and_end(page, EXIT_DONE);
}

static void write_json(const struct view *view)
{
    static const char *const names[] = {[BY_TOPIC] = "topic", [BY_OBJECTIVE] = "objective", [BY_WORD] = "command-word"};
    struct buffer out = BUFFER_EMPTY, when = BUFFER_EMPTY;
    struct json json;
    add_iso(&when, view->when);
    json_begin(&json, &out);
    json_object(&json, NULL);
    json_text(&json, "course", bank_course(view->bank)->name);
    json_text(&json, "bank", bank_id(view->bank));
    json_text(&json, "when", buffer_text(&when));
    json_text(&json, "by", names[view->by]);
    json_number(&json, "questions_marked", *view->standing.learner->attempts);
    json_text(&json, "note", "practice figures, not grades");
    json_array(&json, "rows");
    for (size_t i = 0; i < view->count; i++) {
        const struct row *row = &view->rows[i];
        json_object(&json, NULL);
        json_text(&json, "id", row->id);
        json_text(&json, "name", row->name);
        json_number(&json, "marks_met", row->marks);
        json_truth(&json, "enough_evidence", has_evidence(row));
        json_number(&json, "share", row->estimate.share);
        json_number(&json, "low80", row->estimate.low80);
        json_number(&json, "high80", row->estimate.high80);
        json_close_object(&json);
    }
    json_close_array(&json);
    json_close_object(&json);
    buffer_add(&out, "\n");
    terminal_write(buffer_text(&out), out.length);
    buffer_free(&out);
    buffer_free(&when);
}

/* ---- Running -------------------------------------------------------------------------------------- */

static bool read_by(const char *text, enum by *by, struct messages *messages)
{
    static const char *const names[] = {[BY_TOPIC] = "topic", [BY_OBJECTIVE] = "objective", [BY_WORD] = "command-word"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        if (!text || strcmp(text, names[i]) == 0) {
            *by = text ? (enum by)i : BY_TOPIC;
            return true;
        }
    }
    messages_error(messages, "--by '%s' is not one of topic, objective, command-word", text);
    return false;
}

static bool read_on(const char *text, struct view *view, struct messages *messages)
{
    view->when = moment_now();
    view->today = true;
    if (!text)
        return true;
    day_number day;
    if (!day_parse(text, &day)) {
        messages_error(messages, "--on '%s' is not a date; write for example 2026-05-18", text);
        return false;
    }
    if (day < day_of(view->when)) {
        messages_error(messages, "--on '%s' is past; give today or a day to come", text);
        return false;
    }
    view->today = day == day_of(view->when);
    if (!view->today)
        view->when = day_at(day, 9, 0);
    return true;
}

static enum exit_status show_standing(const struct arguments *arguments, struct record *record, struct view *view,
                                      struct messages *messages)
{
    struct arena *arena = arena_new();
    enum exit_status status = EXIT_SYSTEM;
    if (standing_read(record, view->bank, arena, &view->standing, messages)) {
        gather(view, arena);
        if (arguments->json)
            write_json(view);
        else
            show_view(view, messages);
        standing_release(&view->standing);
        status = EXIT_DONE;
    }
    arena_free(arena);
    return status;
}

static enum exit_status run(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    struct view view = {0};
    if (!read_by(argument_value(arguments, "--by"), &view.by, &messages) ||
        !read_on(argument_value(arguments, "--on"), &view, &messages))
        return say_and_end(&messages, EXIT_BAD_USE);
    struct record *record = open_record_for(arguments, RECORD_READ, &messages);
    if (!record && messages.count)
        return say_and_end(&messages, EXIT_SYSTEM);
    struct bank *bank = open_bank_for(arguments, record, &messages);
    view.bank = bank;
    view.record = record;
    enum exit_status status = bank ? show_standing(arguments, record, &view, &messages) : EXIT_BAD_USE;
    bank_close(bank);
    record_close(record);
    return say_and_end(&messages, status);
}

static const struct option options[] = {
    {"--by", "WHAT", "topic (usual), objective or command-word"},
    {"--on", "DATE", "as it would be on that day if nothing more were practised"},
    {NULL, NULL, NULL},
};

const struct command command_standing = {
    .name = "standing",
    .summary = "where you stand, weakest first, and what to do next",
    .words = "[BANK]",
    .words_most = 1,
    .help = "Estimates the marks you would earn now from the marks you gave yourself, how long ago, and how hard the "
            "questions were. The likely range holds the true value four times in five. A single topic stays uncertain however "
            "much you do; the whole paper becomes clearer from about 20 questions.",
    .example = "ownmark standing --by command-word",
    .prints_results = true,
    .options = options,
    .run = run,
};
