/* What follows from the log: each table against plain sums kept by the test, and a rebuild against what was
 * derived event by event, to the bit. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "coastal.h"

#define AT 1767225600
#define DAY 86400

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
