/* A long random log: a rebuild gives, to the bit, what was derived event by event, and what does not follow from the log is
 * found. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "coastal.h"

#define AT 1767225600
#define DAY 86400

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
