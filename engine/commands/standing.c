/* ownmark standing: where the student stands today and on the day of the exam, weakest first, and what to do next. */
#include "commands/standing.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "commands/ask-exam.h"
#include "commands/shared.h"
#include "commands/table.h"
#include "practice/timetable.h"

const char *const standing_by_names[] = {
    [BY_TOPIC] = "topic", [BY_OBJECTIVE] = "objective", [BY_WORD] = "command-word", [BY_SKILL] = "skill", NULL,
};

/* ---- Gathering ------------------------------------------------------------------------------------ */

static struct standing_row *add_row(struct standing_view *view, const char *id, const char *name, double marks)
{
    struct standing_row *row = &view->rows[view->count++];
    *row = (struct standing_row){.id = id, .name = name, .marks = marks, .rated = NO_DAY};
    return row;
}

typedef struct learner_estimate estimator(const struct learner *learner, size_t which, moment when);

static void add_estimated(struct standing_view *view, const char *id, const char *name, size_t effect, size_t which,
                          estimator *estimate)
{
    const struct learner *learner = view->standing.learner;
    struct standing_row *row = add_row(view, id, name, learner->evidence[effect]);
    row->today = estimate(learner, which, view->now);
    row->then = view->then == NO_MOMENT ? row->today : estimate(learner, which, view->then);
    row->band = learner_band_of(row->today.share, row->marks);
}

static void gather_topics(struct standing_view *view)
{
    const struct learner_course *model = &view->standing.learner->course;
    const struct course *course = bank_course(view->bank);
    for (size_t i = 0; i < model->topics; i++) {
        const struct topic *topic = &course->topics[view->standing.topic_of_leaf[i]];
        add_estimated(view, topic->id, topic->name, learner_topic_effect(model, i), i, learner_topic);
    }
}

static void gather_objectives(struct standing_view *view)
{
    const struct learner_course *model = &view->standing.learner->course;
    const struct course *course = bank_course(view->bank);
    for (size_t i = 0; i < model->objectives; i++)
        add_estimated(view, course->objectives[i].id, course->objectives[i].name, learner_objective_effect(model, i), i,
                      learner_objective);
}

/* Only command words met so far: the built-in set has many that a course never uses. */
static void gather_words(struct standing_view *view)
{
    const struct learner *learner = view->standing.learner;
    const struct course *course = bank_course(view->bank);
    for (size_t i = 0; i < learner->course.words; i++) {
        size_t effect = learner_word_effect(&learner->course, i);
        if (learner->evidence[effect] > 0)
            add_estimated(view, course->words[i].word, course->words[i].word, effect, i, learner_word);
    }
}

/* The model knows no skills, which cut across everything it knows: what was earned so far is all there is to say. */
static bool gather_skills(struct standing_view *view, struct arena *arena, struct messages *messages)
{
    const struct course *course = bank_course(view->bank);
    struct tally *tallies = NULL;
    size_t count = 0;
    if (view->record && !record_tallies(view->record, bank_id(view->bank), TALLY_SKILL, arena, &tallies, &count, messages))
        return false;
    for (size_t i = 0; i < course->skill_count; i++) {
        struct standing_row *row = add_row(view, course->skills[i].id, course->skills[i].name, 0);
        for (size_t j = 0; j < count; j++)
            if (strcmp(tallies[j].id, row->id) == 0) {
                row->marks = tallies[j].maximum;
                row->earned = tallies[j].got;
            }
        row->today.share = row->marks > 0 ? row->earned / row->marks : (double)NAN;
        row->band = learner_band_of(row->today.share, row->marks);
    }
    return true;
}

bool standing_row_has_evidence(const struct standing_row *row)
{
    return row->band != LEARNER_NO_EVIDENCE;
}

static int weakest_first(const void *a, const void *b)
{
    const struct standing_row *x = a, *y = b;
    if (standing_row_has_evidence(x) != standing_row_has_evidence(y))
        return standing_row_has_evidence(x) ? -1 : 1;
    if (!standing_row_has_evidence(x))
        return (x->marks < y->marks) - (x->marks > y->marks);
    return (x->today.share > y->today.share) - (x->today.share < y->today.share);
}

static bool gather_ratings(struct standing_view *view, struct arena *arena, struct messages *messages)
{
    struct event *events;
    size_t count;
    if (!record_latest_events(view->record, bank_id(view->bank), EVENT_TOPIC_RATED, arena, &events, &count, messages))
        return false;
    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < view->count; j++)
            if (strcmp(events[i].item, view->rows[j].id) == 0) {
                view->rows[j].rating = (enum topic_rating)events[i].number;
                view->rows[j].rated = events[i].day;
            }
    return true;
}

static bool gather_coverage(struct standing_view *view, struct arena *arena, struct messages *messages)
{
    struct tally *tallies = NULL;
    size_t count = 0;
    if (view->record && !record_tallies(view->record, bank_id(view->bank), TALLY_TOPIC, arena, &tallies, &count, messages))
        return false;
    coverage_of(bank_course(view->bank), tallies, count, day_of(view->now), arena, &view->coverage);
    return true;
}

static bool gather(struct standing_view *view, struct arena *arena, struct messages *messages)
{
    static void (*const gatherers[])(struct standing_view *) = {
        [BY_TOPIC] = gather_topics, [BY_OBJECTIVE] = gather_objectives, [BY_WORD] = gather_words,
    };
    const struct course *course = bank_course(view->bank);
    view->rows = arena_get_array(arena, view->standing.learner->effects + course->skill_count, sizeof *view->rows);
    if (view->by != BY_SKILL)
        gatherers[view->by](view);
    else if (!gather_skills(view, arena, messages))
        return false;
    if (view->record && ((view->by == BY_TOPIC && !gather_ratings(view, arena, messages)) ||
                         !record_moderation(view->record, bank_id(view->bank), &view->moderation, messages)))
        return false;
    qsort(view->rows, view->count, sizeof *view->rows, weakest_first);
    return gather_coverage(view, arena, messages);
}

/* ---- Running -------------------------------------------------------------------------------------- */

/* The moment meant by a day to come: when examinations begin. */
static moment morning_of(day_number day)
{
    enum { EXAM_HOUR = 9 };
    return day_at(day, EXAM_HOUR, 0);
}

static bool read_on(const char *text, struct standing_view *view, struct messages *messages)
{
    day_number day;
    view->now = moment_now();
    view->then = NO_MOMENT;
    view->asked_for = text != NULL;
    if (!text)
        return true;
    if (!day_parse(text, &day)) {
        messages_error(messages, "--on '%s' is not a date; write for example 2026-05-18", text);
        return false;
    }
    if (day < day_of(view->now)) {
        messages_error(messages, "--on '%s' is past; give today or a day to come", text);
        return false;
    }
    if (day > day_of(view->now))
        view->then = morning_of(day);
    return true;
}

/* The exam's day is needed for the second column, but only once there is something to put into it. False: it was given,
 * but could not be kept; it serves this once. */
static bool find_exam(const struct arguments *arguments, struct standing_view *view, struct arena *arena,
                      struct messages *messages)
{
    bool needed = !view->asked_for && view->record && *view->standing.learner->attempts > 0;
    view->exam = timetable_exam(view->record, bank_id(view->bank), arena);
    bool kept = view->exam != NO_DAY || !needed ||
                ask_exam(arguments, view->record, view->bank, ASK_ONCE, &view->exam, messages);
    if (!view->asked_for && view->exam != NO_DAY && view->exam > day_of(view->now))
        view->then = morning_of(view->exam);
    return kept;
}

static enum exit_status show_standing(const struct arguments *arguments, struct record *record, struct bank *bank,
                                      void *context, struct messages *messages)
{
    struct standing_view *view = context;
    struct arena *arena = arena_new();
    enum exit_status status = EXIT_SYSTEM;
    view->record = record;
    view->bank = bank;
    if (standing_read(record, bank, arena, &view->standing, messages)) {
        bool kept = find_exam(arguments, view, arena, messages), shown = gather(view, arena, messages);
        if (shown && arguments->json)
            standing_write_json(view);
        else if (shown)
            shown = standing_show_page(view, messages);
        standing_release(&view->standing);
        status = kept && shown ? EXIT_DONE : EXIT_SYSTEM;
    }
    arena_free(arena);
    return status;
}

static enum exit_status run(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    struct standing_view view = {0};
    size_t by = BY_TOPIC;
    if (!argument_choice(arguments, "--by", standing_by_names, &by) ||
        !read_on(argument_value(arguments, "--on"), &view, &messages))
        return say_and_end(&messages, EXIT_BAD_USE);
    view.by = (enum standing_by)by;
    return read_record_and_bank(arguments, show_standing, &view);
}

static const struct option options[] = {
    {"--by", "WHAT", "topic (usual), objective, command-word or skill"},
    {"--on", "DATE", "that day beside today, instead of the day of the exam"},
    {NULL, NULL, NULL},
};

const struct command command_standing = {
    .name = "standing",
    .summary = "where you stand today and on the exam day, and what to do next",
    .words = "[BANK]",
    .words_most = 1,
    .help = "Estimates the marks you would earn today, and on the day of the exam if nothing more were practised, from the marks "
            "you gave yourself, how long ago, and how hard the questions were. The likely range holds the true value four times "
            "in five. A single topic stays uncertain however much you do; the whole paper becomes clearer from about 20 "
            "questions. Coverage tells how much of the course you have met.",
    .example = "ownmark standing --by command-word",
    .prints_results = true,
    .options = options,
    .run = run,
};
