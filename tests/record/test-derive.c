/* What follows from the log: each table against plain sums kept by the test, and a rebuild against what was
 * derived event by event, to the bit. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "folder.h"

#define AT 1767225600
#define DAY 86400

static const char *const topic_ids[] = {"waves", "tides", "dunes"}, *const unit_ids[] = {"water", "land"};
static const char *const objective_ids[] = {"AO1", "AO2"}, *const word_ids[] = {"explain", "to what extent"};

/* The course of COURSE_LINES as the learner sees it. */
static const struct learner_course coastal = {
    .units = 2, .topics = 3, .objectives = 2, .words = 2, .unit = (const size_t[]){0, 0, 1},
    .share = (const double[]){0.5, 0.3, 0.2}, .mix = (const double[]){0.4, 0.6},
    .kind = (const enum learner_objective_kind[]){LEARNER_KNOW, LEARNER_APPLY}};

static struct learner *read_learner(struct record *record, const char *bank, const struct learner_course *course,
                                    const char *const *topics)
{
    struct messages messages = MESSAGES_EMPTY;
    struct learner *learner = record_learner(record, bank, course, unit_ids, topics, objective_ids, word_ids, &messages);
    cr_assert(learner);
    return learner;
}

static void expect_same_state(const struct learner *got, const struct learner *want)
{
    cr_assert_eq(got->size, want->size);
    for (size_t i = 0; i < want->size; i++)
        cr_assert(got->state[i] == want->state[i] || (isnan(got->state[i]) && isnan(want->state[i])),
                  "entry %zu: %a, wanted %a", i, got->state[i], want->state[i]);
}

/* ---- The learner against the model used directly ------------------------------------------------- */

enum { ATTEMPTS = 40, MARKS = 3 };
struct attempt {
    int question;
    moment at;
    struct mark_row rows[MARKS];
    struct learner_mark marks[MARKS];
    int64_t script;
};

static void draw_attempts(struct attempt *attempts, struct random_source *random)
{
    for (int i = 0; i < ATTEMPTS; i++) {
        struct attempt *attempt = &attempts[i];
        attempt->question = (int)random_below(random, 6);
        attempt->at = AT + i * DAY / 2;
        for (int j = 0; j < MARKS; j++) {
            static const char *const items[] = {"a.1", "a.2", "a.3"};
            size_t topic = random_below(random, 3), objective = random_below(random, 2), word = random_below(random, 3);
            double got = (double)random_below(random, 3), difficulty = random_unit(random) - 0.5;
            attempt->rows[j] = one_mark(items[j], topic_ids[topic], objective_ids[objective], got, 2);
            attempt->rows[j].word = word < 2 ? word_ids[word] : NULL;
            attempt->rows[j].difficulty = difficulty;
            attempt->marks[j] = (struct learner_mark){topic, objective, word < 2 ? word : LEARNER_NONE, difficulty, got,
                                                      2, NAN};
        }
    }
}

static void log_attempt(struct record *record, int64_t sitting, struct attempt *attempt)
{
    char question[8];
    snprintf(question, sizeof question, "w%d", attempt->question);
    attempt->script = begin_script(record, BANK, sitting, question, 0, attempt->at);
    struct event event = marked(attempt->script, attempt->rows, MARKS, attempt->at);
    append_one(record, &event);
}

static void learn(struct learner *learner, double *last, const struct attempt *attempt)
{
    cr_assert(learner_attempt(learner, attempt->at, &last[attempt->question], attempt->marks, MARKS));
}

static void forget_days(double *last)
{
    for (int i = 0; i < 6; i++)
        last[i] = NAN;
}

Test(record, the_learner_is_the_model_fed_with_the_log)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    struct random_source random = {test_seed(11)};
    struct attempt attempts[ATTEMPTS];
    draw_attempts(attempts, &random);
    int64_t sitting = begin_sitting(record, BANK, AT);
    struct learner *direct = learner_new(&coastal, NULL);
    double last[6];
    forget_days(last);
    for (int i = 0; i < ATTEMPTS; i++) {
        log_attempt(record, sitting, &attempts[i]);
        learn(direct, last, &attempts[i]);
        if (i % 10)
            continue;
        struct learner *stored = read_learner(record, BANK, &coastal, topic_ids);
        expect_same_state(stored, direct);
        learner_free(stored);
    }
    struct arena *arena = arena_new();
    struct messages messages = MESSAGES_EMPTY;
    struct question_history *history;
    size_t count;
    cr_assert(record_question_history(record, BANK, arena, &history, &count, &messages));
    for (size_t i = 0; i < count; i++)
        cr_assert_eq(history[i].attempted, last[history[i].question[1] - '0']);
    arena_free(arena);
    learner_free(direct);
    record_close(record);
    folder_remove(&folder);
}

/* The rule of the model: reset, every teacher's pair, then every attempt with the teacher's marks in place. */
Test(record, moderation_replays_the_learner)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    struct random_source random = {test_seed(12)};
    struct attempt attempts[ATTEMPTS];
    draw_attempts(attempts, &random);
    int64_t sitting = begin_sitting(record, BANK, AT);
    for (int i = 0; i < 30; i++)
        log_attempt(record, sitting, &attempts[i]);
    struct event events[8];
    for (int i = 0; i < 8; i++) {
        struct attempt *attempt = &attempts[i * 3];
        events[i] = event_blank(EVENT_MODERATED);
        events[i].script = attempt->script;
        events[i].part = "a";
        events[i].item = "a.2";
        events[i].number = (double)random_below(&random, 5) / 2;
        events[i].at = AT + 100 * DAY;
        attempt->marks[1].moderated = events[i].number;
    }
    struct messages messages = MESSAGES_EMPTY;
    cr_assert(record_append(record, events, 8, &messages));
    for (int i = 30; i < ATTEMPTS; i++)
        log_attempt(record, sitting, &attempts[i]);
    struct learner *direct = learner_new(&coastal, NULL), *stored = read_learner(record, BANK, &coastal, topic_ids);
    for (int i = 0; i < 8; i++)
        learner_moderated_pair(direct, attempts[i * 3].rows[1].got, events[i].number, 2);
    double last[6];
    forget_days(last);
    for (int i = 0; i < ATTEMPTS; i++)
        learn(direct, last, &attempts[i]);
    expect_same_state(stored, direct);
    learner_free(direct);
    learner_free(stored);
    record_close(record);
    expect_sound(path_in(&folder, "record.db"));
    folder_remove(&folder);
}

Test(record, a_reordered_course_keeps_its_state_by_id)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    int64_t sitting = begin_sitting(record, BANK, AT);
    struct mark_row marks[] = {one_mark("a.1", "waves", "AO1", 1, 1), one_mark("a.2", "dunes", "AO2", 0, 1)};
    struct event event = marked(begin_script(record, BANK, sitting, "w01", 0, AT), marks, 2, AT);
    append_one(record, &event);
    struct learner *before = read_learner(record, BANK, &coastal, topic_ids);
    struct learner_course turned = coastal;
    turned.unit = (const size_t[]){1, 0, 0};
    static const char *const other_order[] = {"dunes", "cliffs", "waves"};
    struct learner *after = read_learner(record, BANK, &turned, other_order);
    cr_assert_eq(after->mean[learner_topic_effect(&turned, 0)], before->mean[learner_topic_effect(&coastal, 2)]);
    cr_assert_eq(after->mean[learner_topic_effect(&turned, 2)], before->mean[learner_topic_effect(&coastal, 0)]);
    cr_assert_eq(after->strength[0], before->strength[2]);
    cr_assert(isnan(after->last[1]), "a topic nobody met keeps its prior");
    cr_assert_eq(*after->attempts, 1);
    learner_free(before);
    learner_free(after);
    record_close(record);
    folder_remove(&folder);
}

Test(record, taught_dates_count_in_learning)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    struct event taught = event_blank(EVENT_SETTING);
    taught.item = SETTING_TAUGHT "waves";
    taught.text = "2025-12-01";
    taught.at = AT;
    append_one(record, &taught);
    int64_t sitting = begin_sitting(record, BANK, AT);
    struct mark_row mark = one_mark("a.1", "waves", "AO1", 1, 1);
    struct event event = marked(begin_script(record, BANK, sitting, "w01", 0, AT), &mark, 1, AT);
    append_one(record, &event);
    moment dates[3];
    struct messages messages = MESSAGES_EMPTY;
    cr_assert(record_taught(record, BANK, topic_ids, 3, dates, &messages));
    cr_assert_eq(dates[0], 1764590400); /* date -u -d '2025-12-01 12:00' +%s, GNU date 9.1 */
    cr_assert_eq(dates[1], LEARNER_UNKNOWN);
    struct learner_course course = coastal;
    course.taught = dates;
    struct learner *direct = learner_new(&course, NULL), *stored = read_learner(record, BANK, &course, topic_ids);
    double last = NAN;
    struct learner_mark numbered = {0, 0, 0, 0, 1, 1, NAN};
    learner_attempt(direct, AT, &last, &numbered, 1);
    expect_same_state(stored, direct);
    learner_free(direct);
    learner_free(stored);
    record_close(record);
    folder_remove(&folder);
}

/* ---- Missed points ------------------------------------------------------------------------------- */

static struct missed_point *missed(struct record *record, struct arena *arena, size_t *count)
{
    struct missed_point *points;
    struct messages messages = MESSAGES_EMPTY;
    cr_assert(record_missed(record, BANK, arena, &points, count, &messages));
    return points;
}

static void answer_on(struct record *record, int64_t sitting, day_number day, double got, bool confident)
{
    moment at = (moment)day * DAY + 50000;
    struct mark_row mark = one_mark("a.1", "waves", "AO1", got, 2);
    mark.confident = confident;
    mark.idea = "shoaling";
    struct event event = marked(begin_script(record, BANK, sitting, "w01", 0, at), &mark, 1, at);
    event.day = day;
    append_one(record, &event);
}

Test(record, a_missed_point_over_the_days)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    struct event exam = event_blank(EVENT_SETTING);
    exam.bank = BANK;
    exam.item = SETTING_EXAM_DATE;
    exam.text = "2026-06-15";
    exam.at = AT;
    append_one(record, &exam);
    int64_t sitting = begin_sitting(record, BANK, AT);
    day_number exam_day = day_from_civil(2026, 6, 15), start = 20454;
    struct arena *arena = arena_new();
    size_t count;
    answer_on(record, sitting, start, 2, true);
    missed(record, arena, &count);
    cr_assert_eq(count, 0, "earned at once: never missed");
    answer_on(record, sitting, start + 1, 0.5, true);
    struct missed_cycle cycle = missed_begin(start + 1, true, exam_day);
    static const struct { int days; double got; } later[] = {{1, 2}, {9, 2}, {30, 0}, {30, 2}, {60, 2}, {80, 2}, {99, 2}};
    for (size_t i = 0; i < sizeof later / sizeof *later; i++) {
        day_number day = start + 1 + later[i].days;
        answer_on(record, sitting, day, later[i].got, false);
        cycle = later[i].got < 2 ? missed_lost(cycle, day, false, exam_day) : missed_earned(cycle, day, exam_day);
        struct missed_point *points = missed(record, arena, &count);
        cr_assert_eq(count, 1);
        cr_assert(points->state == cycle.state && points->since == cycle.since && points->due == cycle.due &&
                  points->cycle.step == cycle.step && points->cycle.look == cycle.look &&
                  points->cycle.success == cycle.success && points->cycle.later == cycle.later &&
                  points->cycle.gap == cycle.gap && points->cycle.losses == cycle.losses, "step %zu", i);
        cr_assert(points->lost == (later[i].days >= 30 ? 2 : 1.5));
        cr_assert_str_eq(points->topic, "waves");
        cr_assert_str_eq(points->idea, "shoaling");
        cr_assert_null(points->cause);
    }
    cr_assert_eq(cycle.state, MISSED_SECURE, "the days chosen take it to the end");
    record_close(record);
    expect_sound(path_in(&folder, "record.db"));
    arena_free(arena);
    folder_remove(&folder);
}

/* ---- Points that share an idea ------------------------------------------------------------------- */

/* A question of two points on one day; ideas NULL: none. */
static void answer_two(struct record *record, int64_t sitting, const char *bank, const char *question, day_number day,
                       const char *const ideas[2], const double got[2])
{
    moment at = (moment)day * DAY + 50000;
    struct mark_row marks[] = {one_mark("a.1", "waves", "AO1", got[0], 1), one_mark("a.2", "waves", "AO1", got[1], 1)};
    marks[0].idea = ideas[0];
    marks[1].idea = ideas[1];
    struct event event = marked(begin_script(record, bank, sitting, question, 0, at), marks, 2, at);
    event.day = day;
    append_one(record, &event);
}

static struct missed_point point_of(struct record *record, const char *question, const char *item, struct arena *arena)
{
    size_t count, at = 0;
    struct missed_point *points = missed(record, arena, &count);
    while (at < count && (strcmp(points[at].question, question) != 0 || strcmp(points[at].item, item) != 0))
        at++;
    cr_assert_lt(at, count, "%s %s was never missed", question, item);
    return points[at];
}

#define IDEAS_OF(a, b) ((const char *const[]){a, b})
#define GOT(a, b) ((const double[]){a, b})

Test(record, an_idea_earned_in_another_question_is_a_success)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    struct arena *arena = arena_new();
    int64_t sitting = begin_sitting(record, BANK, AT), elsewhere = begin_sitting(record, "rivers", AT);
    day_number day = 20454;
    answer_two(record, sitting, BANK, "w01", day, IDEAS_OF("fetch", NULL), GOT(0, 0));
    answer_two(record, elsewhere, "rivers", "w02", day, IDEAS_OF("fetch", "fetch"), GOT(1, 1));
    cr_expect_eq(point_of(record, "w01", "a.1", arena).state, MISSED_OPEN, "another bank's idea is another idea");
    answer_two(record, sitting, BANK, "w02", day, IDEAS_OF("shoaling", NULL), GOT(1, 1));
    cr_expect_eq(point_of(record, "w01", "a.1", arena).state, MISSED_OPEN, "another idea");
    answer_two(record, sitting, BANK, "w02", day, IDEAS_OF("fetch", "fetch"), GOT(1, 0));
    cr_expect_eq(point_of(record, "w01", "a.1", arena).state, MISSED_OPEN, "half earned");
    answer_two(record, sitting, BANK, "w03", day, IDEAS_OF("fetch", NULL), GOT(1, 0));
    cr_expect_eq(point_of(record, "w01", "a.1", arena).state, MISSED_RECOVERING);
    cr_expect_eq(point_of(record, "w02", "a.2", arena).state, MISSED_RECOVERING, "two points of two questions");
    cr_expect_eq(point_of(record, "w01", "a.2", arena).state, MISSED_OPEN, "no idea, no success elsewhere");
    cr_expect_eq(point_of(record, "w03", "a.2", arena).state, MISSED_OPEN);
    struct missed_cycle cycle = missed_earned(missed_begin(day, false, NO_DAY), day, NO_DAY);
    for (int i = 1; i <= 3; i++) {
        answer_two(record, sitting, BANK, "w03", day + 9 * i, IDEAS_OF("fetch", NULL), GOT(1, 1));
        cycle = missed_earned(cycle, day + 9 * i, NO_DAY);
        cr_expect_eq(point_of(record, "w01", "a.1", arena).due, cycle.due, "success %d", i);
    }
    cr_expect_eq(point_of(record, "w01", "a.1", arena).state, MISSED_SECURE);
    record_close(record);
    expect_sound(path_in(&folder, "record.db"));
    arena_free(arena);
    folder_remove(&folder);
}

/* In whatever order the points stand, a question that loses an idea in one place shows nothing by earning it in another. */
Test(record, an_idea_half_earned_in_one_question_is_lost)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    struct arena *arena = arena_new();
    int64_t sitting = begin_sitting(record, BANK, AT);
    answer_two(record, sitting, BANK, "w01", 20454, IDEAS_OF("fetch", "fetch"), GOT(0, 1));
    answer_two(record, sitting, BANK, "w02", 20454, IDEAS_OF("fetch", "fetch"), GOT(1, 0));
    cr_expect_eq(point_of(record, "w01", "a.1", arena).state, MISSED_OPEN);
    cr_expect_eq(point_of(record, "w02", "a.2", arena).state, MISSED_OPEN);
    arena_free(arena);
    record_close(record);
    folder_remove(&folder);
}

/* The bank may be mended: a point that has another idea now no longer gains by the old one. */
Test(record, a_point_with_a_new_idea_leaves_the_old_one)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    struct arena *arena = arena_new();
    int64_t sitting = begin_sitting(record, BANK, AT);
    answer_two(record, sitting, BANK, "w01", 20454, IDEAS_OF("fetch", NULL), GOT(0, 1));
    answer_two(record, sitting, BANK, "w01", 20455, IDEAS_OF("drift", NULL), GOT(0, 1));
    answer_two(record, sitting, BANK, "w02", 20456, IDEAS_OF("fetch", NULL), GOT(1, 1));
    cr_expect_eq(point_of(record, "w01", "a.1", arena).state, MISSED_OPEN);
    answer_two(record, sitting, BANK, "w02", 20457, IDEAS_OF("drift", NULL), GOT(1, 1));
    cr_expect_eq(point_of(record, "w01", "a.1", arena).state, MISSED_RECOVERING);
    record_close(record);
    expect_sound(path_in(&folder, "record.db"));
    arena_free(arena);
    folder_remove(&folder);
}

/* ---- Tallies, causes, moderation ----------------------------------------------------------------- */

static const struct tally *tally(struct record *record, enum tally_by by, const char *id, struct arena *arena)
{
    struct tally *items;
    size_t count;
    struct messages messages = MESSAGES_EMPTY;
    cr_assert(record_tallies(record, BANK, by, arena, &items, &count, &messages));
    for (size_t i = 0; i < count; i++)
        if (strcmp(items[i].id, id) == 0)
            return &items[i];
    return NULL;
}

static void expect_tally(struct record *record, enum tally_by by, const char *id, double got, double maximum,
                         long attempts)
{
    struct arena *arena = arena_new();
    const struct tally *found = tally(record, by, id, arena);
    cr_assert(found, "%s", id);
    cr_assert(found->got == got && found->maximum == maximum && found->attempts == attempts,
              "%s: %g of %g in %ld", id, found->got, found->maximum, found->attempts);
    arena_free(arena);
}

static void give_cause(struct record *record, int64_t script, const char *item, const char *cause)
{
    struct event event = event_blank(EVENT_CAUSE_GIVEN);
    event.script = script;
    event.part = "a";
    event.item = item;
    event.detail = cause;
    append_one(record, &event);
}

static void moderate(struct record *record, int64_t script, const char *item, double teacher)
{
    struct event event = event_blank(EVENT_MODERATED);
    event.script = script;
    event.part = "a";
    event.item = item;
    event.number = teacher;
    append_one(record, &event);
}

Test(record, tallies_causes_and_moderation)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    int64_t script = begin_script(record, BANK, begin_sitting(record, BANK, AT), "w01", 7, AT);
    struct mark_row marks[] = {one_mark("a.1", "waves", "AO1", 1, 1), one_mark("a.2", "waves", "AO2", 0.5, 2),
                               one_mark("a.3", "tides", "AO2", 0, 3)};
    give_cause(record, script, "a.3", "not-known");
    struct event event = marked(script, marks, 3, AT);
    append_one(record, &event);
    expect_tally(record, TALLY_TOPIC, "waves", 1.5, 3, 1);
    expect_tally(record, TALLY_TOPIC, "tides", 0, 3, 1);
    expect_tally(record, TALLY_OBJECTIVE, "AO2", 0.5, 5, 1);
    expect_tally(record, TALLY_WORD, "explain", 1.5, 6, 1);
    expect_tally(record, TALLY_CAUSE, "not-known", 0, 3, 1);
    struct arena *arena = arena_new();
    size_t count;
    struct missed_point *points = missed(record, arena, &count);
    cr_assert_eq(count, 2);
    cr_assert_str_eq(points[1].cause, "not-known");
    give_cause(record, script, "a.2", "vague");
    give_cause(record, script, "a.3", "misread");
    expect_tally(record, TALLY_CAUSE, "vague", 0, 1.5, 1);
    expect_tally(record, TALLY_CAUSE, "misread", 0, 3, 1);
    cr_assert_null(tally(record, TALLY_CAUSE, "not-known", arena), "moved to the other cause");
    moderate(record, script, "a.3", 2);     /* 0 to 2 of 3 */
    expect_tally(record, TALLY_TOPIC, "tides", 2, 3, 1);
    expect_tally(record, TALLY_CAUSE, "misread", 0, 1, 1);
    moderate(record, script, "a.1", 0);     /* claimed, not given: now a missed point */
    moderate(record, script, "a.3", 3);     /* corrected: nothing lost any more */
    expect_tally(record, TALLY_TOPIC, "waves", 0.5, 3, 1);
    cr_assert_null(tally(record, TALLY_CAUSE, "misread", arena));
    points = missed(record, arena, &count);
    cr_assert_eq(count, 3);
    cr_assert_str_eq(points[0].item, "a.1");
    cr_assert_eq(points[0].state, MISSED_OPEN);
    cr_assert_eq(points[2].state, MISSED_RECOVERING, "the teacher gave it");
    give_cause(record, script, "a.2", "");
    points = missed(record, arena, &count);
    cr_assert_null(points[1].cause, "taken back");
    struct script_marks *scripts;
    struct messages messages = MESSAGES_EMPTY;
    cr_assert(record_script_marks(record, BANK, arena, &scripts, &count, &messages));
    cr_assert_eq(count, 1);
    cr_assert(scripts->final == 1.5 && scripts->first == 1.5 && scripts->maximum == 6 && scripts->moderated == 3.5);
    cr_assert(isnan(scripts->predicted) && isnan(scripts->seconds));
    arena_free(arena);
    record_close(record);
    expect_sound(path_in(&folder, "record.db"));
    folder_remove(&folder);
}

/* Sums by hand. A mark counts under each of its skills, a question once under each. */
Test(record, tallies_by_skill)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    int64_t sitting = begin_sitting(record, BANK, AT), script = begin_script(record, BANK, sitting, "w01", 7, AT);
    struct mark_row marks[] = {one_mark("a.1", "waves", "AO1", 1, 1), one_mark("a.2", "waves", "AO2", 1, 2),
                               one_mark("a.3", "waves", "AO2", 0, 3), one_mark("a.4", "waves", "AO2", 4, 5)};
    marks[1].skills = "maths";
    marks[2].skills = "practical maths";
    marks[3].skills = "maths-hard";
    struct event event = marked(script, marks, 4, AT);
    append_one(record, &event);
    expect_tally(record, TALLY_SKILL, "maths", 1, 5, 1);
    expect_tally(record, TALLY_SKILL, "practical", 0, 3, 1);
    expect_tally(record, TALLY_SKILL, "maths-hard", 4, 5, 1);
    moderate(record, script, "a.3", 2);
    expect_tally(record, TALLY_SKILL, "maths", 3, 5, 1);
    expect_tally(record, TALLY_SKILL, "practical", 2, 3, 1);
    struct moderation sums;
    struct messages messages = MESSAGES_EMPTY;
    moderate(record, script, "a.2", 0.5);
    moderate(record, script, "a.2", 0);     /* the later mark stands */
    cr_assert(record_moderation(record, BANK, &sums, &messages));
    cr_assert(sums.points == 2 && sums.own == 1 && sums.teacher == 2 && sums.maximum == 5);
    cr_assert(record_moderation(record, "another", &sums, &messages));
    cr_assert(sums.points == 0 && sums.own == 0 && sums.maximum == 0);
    record_close(record);
    expect_sound(path_in(&folder, "record.db"));
    folder_remove(&folder);
}

static void mark_on(struct record *record, int64_t sitting, const char *topic, moment at)
{
    struct mark_row mark = one_mark("a.1", topic, "AO1", 1, 1);
    struct event event = marked(begin_script(record, BANK, sitting, "w01", 7, at), &mark, 1, at);
    append_one(record, &event);
}

static void expect_days(struct record *record, const char *topic, day_number first, day_number again)
{
    struct arena *arena = arena_new();
    const struct tally *found = tally(record, TALLY_TOPIC, topic, arena);
    cr_assert(found && found->first == first && found->again == again, "%s: %d, %d", topic, found ? found->first : 0,
              found ? found->again : 0);
    arena_free(arena);
}

Test(record, the_first_two_days_of_a_topic)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    int64_t sitting = begin_sitting(record, BANK, AT);
    day_number day = day_of(AT);
    mark_on(record, sitting, "waves", AT);
    mark_on(record, sitting, "waves", AT + 60);
    expect_days(record, "waves", day, NO_DAY);
    mark_on(record, sitting, "waves", AT - 2 * DAY);    /* the clock was put back */
    expect_days(record, "waves", day, NO_DAY);
    mark_on(record, sitting, "waves", AT + 3 * DAY);
    mark_on(record, sitting, "waves", AT + 9 * DAY);
    mark_on(record, sitting, "dunes", AT + 9 * DAY);
    expect_days(record, "waves", day, day + 3);
    expect_days(record, "dunes", day + 9, NO_DAY);
    record_close(record);
    expect_sound(path_in(&folder, "record.db"));
    folder_remove(&folder);
}

Test(record, predicted_marks_and_time_of_a_script)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    int64_t script = begin_script(record, BANK, begin_sitting(record, BANK, AT), "w01", 7, AT);
    static const struct { const char *part; double predicted, seconds; const char *allowed; } parts[] = {
        {"a", 2, 60, "90"}, {"b", NAN, 30.5, NULL}, {"c", 3, 10, "nonsense"}};
    for (int i = 0; i < 3; i++) {
        struct event predicted = event_blank(EVENT_PREDICTED), finished = event_blank(EVENT_ANSWER_FINISHED);
        predicted.script = finished.script = script;
        predicted.part = finished.part = parts[i].part;
        predicted.number = parts[i].predicted;
        finished.number = parts[i].seconds;
        finished.detail = "response";
        finished.text = parts[i].allowed;
        append_one(record, &predicted);
        append_one(record, &finished);
    }
    struct mark_row marks[] = {one_mark("a.1", "waves", "AO1", 1, 2), one_mark("b.1", "waves", "AO2", 2, 4),
                               one_mark("c.1", "tides", "AO2", 3, 3)};
    marks[1].part = "b";
    marks[1].first = NAN;
    marks[2].part = "c";
    struct event event = marked(script, marks, 3, AT + 5);
    append_one(record, &event);
    struct arena *arena = arena_new();
    struct script_marks *found;
    size_t count;
    struct messages messages = MESSAGES_EMPTY;
    cr_assert(record_script_marks(record, BANK, arena, &found, &count, &messages));
    cr_assert(count == 1 && found->script == script && found->at == AT + 5 && strcmp(found->question, "w01") == 0);
    cr_assert(found->predicted == 5 && found->predicted_final == 4 && found->predicted_maximum == 5);
    cr_assert(found->final == 6 && found->maximum == 9 && isnan(found->first) && isnan(found->moderated));
    cr_assert(found->seconds == 100.5 && found->allowed == 90);
    moderate(record, script, "a.1", 0);
    event = event_blank(EVENT_MODERATED);
    event.script = script;
    event.part = "b";
    event.item = "b.1";
    event.number = 4;
    append_one(record, &event);
    cr_assert(record_script_marks(record, BANK, arena, &found, &count, &messages));
    cr_assert(found->predicted_final == 3 && found->moderated == 7, "part b was not predicted");
    arena_free(arena);
    record_close(record);
    folder_remove(&folder);
}

/* ---- Settings, history, banks -------------------------------------------------------------------- */

static void set(struct record *record, const char *bank, const char *value)
{
    struct event event = event_blank(EVENT_SETTING);
    event.bank = bank;
    event.item = "minutes-a-day";
    event.text = value;
    append_one(record, &event);
}

static void expect_setting(struct record *record, const char *bank, const char *value)
{
    struct arena *arena = arena_new();
    const char *found = record_setting(record, bank, "minutes-a-day", arena);
    cr_assert(value ? found && strcmp(found, value) == 0 : !found, "%s", found ? found : "unset");
    arena_free(arena);
}

Test(record, the_banks_own_setting_comes_before_the_general_one)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    expect_setting(record, BANK, NULL);
    set(record, NULL, "20");
    expect_setting(record, BANK, "20");
    expect_setting(record, NULL, "20");
    set(record, BANK, "30");
    expect_setting(record, BANK, "30");
    expect_setting(record, "other", "20");
    expect_setting(record, NULL, "20");
    set(record, NULL, NULL);
    expect_setting(record, BANK, "30");
    expect_setting(record, "other", NULL);
    set(record, NULL, "25");
    set(record, BANK, NULL);
    expect_setting(record, BANK, "25");
    record_close(record);
    folder_remove(&folder);
}

Test(record, the_history_of_questions_and_banks)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    int64_t sitting = begin_sitting(record, BANK, AT);
    int64_t first = begin_script(record, BANK, sitting, "w02", 5, AT);
    int64_t second = begin_script(record, BANK, sitting, "w02", 6, AT);
    begin_script(record, BANK, sitting, "w02", 5, AT);
    begin_script(record, BANK, sitting, "W01", 0, AT);
    struct mark_row mark = one_mark("a.1", "waves", "AO1", 1, 1);
    struct event event = marked(first, &mark, 1, AT + 10), left = event_blank(EVENT_QUESTION_LEFT);
    append_one(record, &event);
    left.script = second;
    left.at = AT + 20;
    append_one(record, &left);
    begin_sitting(record, "other", AT - 100);
    struct arena *arena = arena_new();
    struct messages messages = MESSAGES_EMPTY;
    struct question_history *history;
    struct known_bank *banks;
    size_t count;
    cr_assert(record_question_history(record, BANK, arena, &history, &count, &messages));
    cr_assert_eq(count, 2);
    cr_assert_str_eq(history[0].question, "W01", "sorted by bytes");
    cr_assert(history[0].last == NO_MOMENT && history[0].times == 0 && history[0].variants == 1);
    cr_assert(isnan(history[0].attempted));
    cr_assert(history[1].last == AT + 20 && history[1].times == 1 && history[1].variants == 2);
    cr_assert_eq(history[1].attempted, (AT + 10) / 86400.0);
    cr_assert(record_banks(record, arena, &banks, &count, &messages));
    cr_assert(count == 2 && strcmp(banks[0].id, BANK) == 0 && banks[0].last == AT);
    cr_assert_str_eq(banks[1].path, "banks/coastal-science.xml");
    arena_free(arena);
    record_close(record);
    folder_remove(&folder);
}

Test(record, a_record_begins_with_its_first_event)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    cr_expect_eq(record_began(record), NO_MOMENT);
    begin_sitting(record, BANK, AT + 7);
    begin_sitting(record, BANK, AT);
    cr_expect_eq(record_began(record), AT + 7, "the first written, whatever the clock did since");
    record_close(record);
    folder_remove(&folder);
}

/* ---- A long random log --------------------------------------------------------------------------- */

enum { BANKS = 3, SCRIPTS = 120, QUESTIONS = 9 };

/* Plain sums, kept beside the record. */
struct sums { double got[BANKS][3], maximum[BANKS][3]; long scripts[BANKS]; };

struct open_script { int64_t script; int bank; struct mark_row marks[4]; size_t count; };

static const char *const bank_ids[BANKS] = {"coast", "rivers", "weather"};

static void change_course(struct record *record, struct random_source *random, int bank, moment at)
{
    static const char *const courses[] = {COURSE_LINES,
        "objective\tAO2\tanalyse\t50\nobjective\tAO1\tknow\t50\ntopic\tdunes\twater\t60\ntopic\twaves\tland\t40\n",
        "topic\ttides\ttides\t1\nobjective\tAO1\tapply\t1\nword\tto what extent\n"};
    char hash[33];
    keep(record, COURSE_TEXT, hash);
    struct event event = event_blank(EVENT_COURSE_SEEN);
    event.bank = bank_ids[bank];
    event.content = hash;
    event.text = courses[random_below(random, 3)];
    event.at = at;
    append_one(record, &event);
}

static void change_setting(struct record *record, struct random_source *random, int bank, moment at)
{
    static const char *const names[] = {SETTING_EXAM_DATE, SETTING_TAUGHT "waves", SETTING_TAUGHT "dunes", "name"};
    static const char *const values[] = {"2026-06-15", "2025-10-01", NULL, "2026-02-01"};
    struct event event = event_blank(EVENT_SETTING);
    event.bank = random_below(random, 2) ? bank_ids[bank] : NULL;
    event.item = names[random_below(random, 4)];
    event.text = values[random_below(random, 4)];
    event.at = at;
    append_one(record, &event);
}

static const char *const skill_texts[] = {NULL, "maths", "practical", "maths practical"};

static void draw_marks(struct random_source *random, struct open_script *script)
{
    static const char *const items[] = {"a.1", "a.2", "b.1", "b.2"}, *const ideas[] = {"fetch", "shoaling", "drift"};
    script->count = random_below(random, 5);
    for (size_t i = 0; i < script->count; i++) {
        double maximum = (double)(1 + random_below(random, 3));
        struct mark_row *mark = &script->marks[i];
        *mark = one_mark(items[i], topic_ids[random_below(random, 3)], objective_ids[random_below(random, 2)],
                         maximum * (double)random_below(random, 3) / 2, maximum);
        mark->part = i < 2 ? "a" : "b";
        mark->word = random_below(random, 4) ? word_ids[random_below(random, 2)] : NULL;
        mark->difficulty = random_unit(random) * 2 - 1;
        mark->confident = random_below(random, 2);
        mark->skills = skill_texts[random_below(random, 4)];
        mark->idea = random_below(random, 3) ? ideas[random_below(random, 3)] : NULL;
        if (random_below(random, 8) == 0)
            mark->first = NAN;
    }
}

static void add_sums(struct sums *sums, const struct open_script *script)
{
    sums->scripts[script->bank]++;
    for (size_t i = 0; i < script->count; i++)
        for (int topic = 0; topic < 3; topic++)
            if (strcmp(script->marks[i].topic, topic_ids[topic]) == 0) {
                sums->got[script->bank][topic] += script->marks[i].got;
                sums->maximum[script->bank][topic] += script->marks[i].maximum;
            }
}

/* Cause, prediction or time for a random part; before or after the marking. */
static void add_detail(struct record *record, struct random_source *random, const struct open_script *script, moment at)
{
    static const enum event_kind kinds[] = {EVENT_CAUSE_GIVEN, EVENT_PREDICTED, EVENT_ANSWER_FINISHED};
    static const char *const causes[] = {"not-known", "misread", "vague", ""};
    struct event event = event_blank(kinds[random_below(random, 3)]);
    event.script = script->script;
    event.part = random_below(random, 2) ? "a" : "b";
    event.item = event.part[0] == 'a' ? "a.2" : "b.1";
    event.detail = event.kind == EVENT_CAUSE_GIVEN ? causes[random_below(random, 4)] : "response";
    event.number = event.kind == EVENT_CAUSE_GIVEN ? NAN : (double)random_below(random, 5);
    event.at = at;
    append_one(record, &event);
}

static void moderate_some(struct record *record, struct random_source *random, struct open_script *script,
                          struct sums *sums, moment at)
{
    struct event events[4];
    for (size_t i = 0; i < script->count; i++) {
        struct mark_row *mark = &script->marks[i];
        double teacher = mark->maximum * (double)random_below(random, 3) / 2;
        events[i] = event_blank(EVENT_MODERATED);
        events[i].script = script->script;
        events[i].part = mark->part;
        events[i].item = mark->item;
        events[i].number = teacher;
        events[i].at = at;
        for (int topic = 0; topic < 3; topic++)
            if (strcmp(mark->topic, topic_ids[topic]) == 0)
                sums->got[script->bank][topic] += teacher - mark->got;
        mark->got = teacher;
    }
    struct messages messages = MESSAGES_EMPTY;
    cr_assert(record_append(record, events, script->count, &messages));
}

static void one_script(struct record *record, struct random_source *random, const int64_t *sittings,
                       struct open_script *script, struct sums *sums, moment at)
{
    char question[8];
    script->bank = (int)random_below(random, BANKS);
    snprintf(question, sizeof question, "q%d", (int)random_below(random, QUESTIONS));
    script->script = begin_script(record, bank_ids[script->bank], sittings[script->bank], question,
                                  (double)random_below(random, 3), at);
    for (int i = 0; i < 3; i++)
        add_detail(record, random, script, at);
    draw_marks(random, script);
    if (random_below(random, 10) == 0) {
        struct event left = event_blank(EVENT_QUESTION_LEFT);
        left.script = script->script;
        left.at = at;
        append_one(record, &left);
        script->count = 0;
        return;
    }
    struct event event = marked(script->script, script->marks, script->count, at);
    append_one(record, &event);
    add_sums(sums, script);
}

static void random_log(const char *path, uint64_t seed, struct sums *sums)
{
    struct random_source random = {seed};
    struct record *record = open_record(path);
    static struct open_script scripts[SCRIPTS];
    int64_t sittings[BANKS];
    moment at = AT;
    for (int i = 0; i < BANKS; i++)
        sittings[i] = begin_sitting(record, bank_ids[i], at);
    for (int i = 0; i < SCRIPTS; i++) {
        at += (moment)random_below(&random, 2 * DAY) - 3600; /* now and then the clock goes back */
        one_script(record, &random, sittings, &scripts[i], sums, at);
        if (random_below(&random, 6) == 0)
            add_detail(record, &random, &scripts[random_below(&random, (uint64_t)i + 1)], at);
        if (random_below(&random, 8) == 0)
            change_setting(record, &random, (int)random_below(&random, BANKS), at);
        if (random_below(&random, 12) == 0)
            change_course(record, &random, (int)random_below(&random, BANKS), at);
        if (random_below(&random, 12) == 0)
            moderate_some(record, &random, &scripts[random_below(&random, (uint64_t)i + 1)], sums, at);
        if (random_below(&random, 25) == 0) {
            record_close(record);
            record = open_record(path);
        }
    }
    record_close(record);
}

static void expect_sums(const char *path, const struct sums *sums)
{
    struct record *record = open_record(path);
    struct messages messages = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    size_t count;
    for (int bank = 0; bank < BANKS; bank++) {
        struct tally *items;
        cr_assert(record_tallies(record, bank_ids[bank], TALLY_TOPIC, arena, &items, &count, &messages));
        for (size_t i = 0; i < count; i++)
            for (int topic = 0; topic < 3; topic++)
                if (strcmp(items[i].id, topic_ids[topic]) == 0)
                    cr_assert(items[i].got == sums->got[bank][topic] && items[i].maximum == sums->maximum[bank][topic]);
        struct script_marks *scripts;
        cr_assert(record_script_marks(record, bank_ids[bank], arena, &scripts, &count, &messages));
        cr_assert_eq((long)count, sums->scripts[bank]);
    }
    arena_free(arena);
    record_close(record);
}

static const char empty_all[] =
    "DELETE FROM sitting; DELETE FROM bank; DELETE FROM course; DELETE FROM setting; DELETE FROM script; "
    "DELETE FROM script_part; DELETE FROM cause; DELETE FROM moderated; DELETE FROM question; DELETE FROM seed; "
    "DELETE FROM tally; DELETE FROM missed; DELETE FROM idea; DELETE FROM effect; DELETE FROM learner";

Test(record, a_rebuild_gives_what_was_derived_event_by_event)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "record.db");
    for (uint64_t seed = test_seed(1), end = seed + 3; seed < end; seed++) {
        struct sums sums = {0};
        random_log(path, seed, &sums);
        expect_sums(path, &sums);
        expect_sound(path);
        struct buffer before = dump_derived(path);
        run_sql(path, empty_all);
        struct messages messages = MESSAGES_EMPTY;
        struct record *record = open_record(path);
        long changed = -1;
        cr_assert(record_rebuild(record, &changed, NULL, NULL, &messages));
        cr_assert(changed > 300, "%ld", changed);
        cr_assert(record_rebuild(record, &changed, NULL, NULL, &messages));
        cr_assert_eq(changed, 0);
        record_close(record);
        struct buffer after = dump_derived(path);
        cr_assert_str_eq(buffer_text(&after), buffer_text(&before), "seed %lu", (unsigned long)seed);
        cr_assert(record_erase(path, &messages));
        buffer_free(&before);
        buffer_free(&after);
    }
    folder_remove(&folder);
}

/* A record of version 2 had no ideas and counted no success elsewhere; opening it for writing derives it anew. */
Test(record, an_older_record_is_derived_anew)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "record.db");
    struct sums sums = {0};
    random_log(path, test_seed(41), &sums);
    struct buffer before = dump_derived(path);
    run_sql(path, "DROP TABLE idea; UPDATE missed SET state = 0, success = NULL, later = 0; PRAGMA user_version = 2");
    record_close(open_record(path));
    struct buffer after = dump_derived(path);
    cr_assert_str_eq(buffer_text(&after), buffer_text(&before));
    buffer_free(&before);
    buffer_free(&after);
    folder_remove(&folder);
}

Test(record, a_rebuild_does_not_depend_on_the_time_zone)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "record.db");
    struct sums sums = {0};
    setenv("TZ", "Pacific/Auckland", 1);
    tzset();
    random_log(path, test_seed(21), &sums);
    setenv("TZ", "America/Los_Angeles", 1);
    tzset();
    expect_sound(path);
    folder_remove(&folder);
}

Test(record, what_does_not_follow_from_the_log_is_found_and_put_right)
{
    static const struct { const char *sql, *table; long rows; } harm[] = {
        {"UPDATE effect SET mean = mean + 1e-15 WHERE kind = 'course' AND bank = 'coast'", "'effect'", 1},
        {"UPDATE tally SET attempts = attempts + 1 WHERE heading = 'objective' AND bank = 'coast'", "'tally'", 2},
        {"DELETE FROM script WHERE seq = (SELECT max(seq) FROM script)", "'script'", 1},
        {"INSERT INTO setting VALUES('coast', 'colour', 3, 'blue')", "'setting'", 1},
        {"UPDATE course SET lines = lines || 'word' WHERE bank = 'rivers'", "'course'", 1},
    };
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "record.db");
    struct sums sums = {0};
    random_log(path, test_seed(31), &sums);
    for (size_t i = 0; i < sizeof harm / sizeof *harm; i++) {
        run_sql(path, harm[i].sql);
        struct record *record = open_record(path);
        struct messages messages = MESSAGES_EMPTY;
        cr_assert_not(record_check(record, &messages), "%s", harm[i].sql);
        expect_message(&messages, harm[i].table);
        long changed;
        cr_assert(record_rebuild(record, &changed, NULL, NULL, &messages));
        cr_assert_eq(changed, harm[i].rows, "%s: %ld", harm[i].sql, changed);
        cr_assert(record_check(record, &messages));
        record_close(record);
    }
    folder_remove(&folder);
}
