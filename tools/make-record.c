/* Writes a record with a given number of ticks, for measuring: make-record FILE TICKS [SEED].
 *
 * Questions of four one-mark points out of 2,000, over 40 topics, 3 objectives and 8 command words; a question
 * every six hours. The same seed gives the same record. */
#include <stdio.h>
#include <stdlib.h>

#include "base/random.h"
#include "record/record.h"

enum { QUESTIONS = 2000, TOPICS = 40, OBJECTIVES = 3, WORDS = 8, POINTS = 4, EVENTS = 3 + POINTS, BATCH = 1000 };

#define FIRST_MOMENT 1767225600     /* 2026-01-01T00:00:00Z */
#define SPACING 21600

static const char *const point_ids[POINTS] = {"a.1", "a.2", "a.3", "a.4"};
static char topic_ids[TOPICS][8], objective_ids[OBJECTIVES][8], word_ids[WORDS][8];

static void name_all(char (*names)[8], int count, const char *stem)
{
    for (int i = 0; i < count; i++)
        snprintf(names[i], sizeof names[i], "%.3s%d", stem, i);
}

static void add_course(struct buffer *out)
{
    static const char *const kinds[OBJECTIVES] = {"know", "apply", "analyse"};
    for (int i = 0; i < TOPICS; i++)
        buffer_print(out, "topic\t%s\tunit%d\t2.5\n", topic_ids[i], i / 5);
    for (int i = 0; i < OBJECTIVES; i++)
        buffer_print(out, "objective\t%s\t%s\t33.3\n", objective_ids[i], kinds[i]);
    for (int i = 0; i < WORDS; i++)
        buffer_print(out, "word\t%s\n", word_ids[i]);
}

/* One sitting without end; its sequence, or 0. */
static int64_t open_sitting(struct record *record, char hash[33], struct messages *messages)
{
    struct buffer course = BUFFER_EMPTY;
    add_course(&course);
    struct event events[2] = {event_blank(EVENT_COURSE_SEEN), event_blank(EVENT_SITTING_OPENED)};
    events[0].bank = events[1].bank = "coastal-science";
    events[0].text = buffer_text(&course);
    events[0].content = hash;
    events[0].at = events[1].at = FIRST_MOMENT;
    bool done = record_keep_content(record, "<question id='w01'/>", hash, messages) &&
                record_append(record, events, 2, messages);
    buffer_free(&course);
    return done ? events[1].sequence : 0;
}

struct script {
    char question[8];
    struct mark_row marks[POINTS];
};

/* The events of one question; its first will have the sequence `sequence`. */
static void write_script(struct event *events, struct script *script, int64_t sitting, int64_t sequence,
                         int64_t number, const char *hash, struct random_source *random)
{
    int question = (int)random_below(random, QUESTIONS);
    snprintf(script->question, sizeof script->question, "q%04d", question);
    for (int i = 0; i < EVENTS; i++) {
        events[i] = event_blank(i == 0 ? EVENT_QUESTION_OPENED : i == 1 ? EVENT_ANSWER_FINISHED
                                : i < EVENTS - 1 ? EVENT_POINT_TICKED : EVENT_QUESTION_MARKED);
        events[i].at = FIRST_MOMENT + number * SPACING;
        events[i].day = (day_number)(events[i].at / 86400);
        events[i].bank = "coastal-science";
        events[i].sitting = sitting;
        events[i].script = i ? sequence : 0;
        events[i].part = i ? "a" : NULL;
    }
    events[0].item = script->question;
    events[0].content = hash;
    events[0].number = 0;
    events[1].detail = "response";
    events[1].number = 240;
    for (int i = 0; i < POINTS; i++) {
        bool earned = random_unit(random) < 0.6;
        events[2 + i].item = point_ids[i];
        events[2 + i].detail = earned ? "yes" : "no";
        events[2 + i].pass = PASS_FIRST;
        script->marks[i] = (struct mark_row){
            .part = "a", .item = point_ids[i], .topic = topic_ids[question % TOPICS],
            .objective = objective_ids[question % OBJECTIVES], .word = word_ids[question % WORDS],
            .got = earned, .first = earned, .maximum = 1, .confident = earned};
    }
    events[EVENTS - 1].marks = script->marks;
    events[EVENTS - 1].mark_count = POINTS;
}

static bool write_scripts(struct record *record, int64_t sitting, const char *hash, int64_t scripts,
                          uint64_t seed, struct messages *messages)
{
    struct event *events = malloc(sizeof *events * EVENTS * BATCH);
    struct script *batch = malloc(sizeof *batch * BATCH);
    struct random_source random = {seed};
    int64_t sequence = sitting + 1;
    bool done = events && batch;
    for (int64_t first = 0; done && first < scripts; first += BATCH) {
        int64_t count = scripts - first < BATCH ? scripts - first : BATCH;
        for (int64_t i = 0; i < count; i++, sequence += EVENTS)
            write_script(events + i * EVENTS, &batch[i], sitting, sequence, first + i, hash, &random);
        done = record_append(record, events, (size_t)count * EVENTS, messages);
    }
    free(events);
    free(batch);
    return done;
}

int main(int count, char **arguments)
{
    if (count < 3 || count > 4) {
        fprintf(stderr, "usage: make-record FILE TICKS [SEED]\n");
        return 2;
    }
    name_all(topic_ids, TOPICS, "top");
    name_all(objective_ids, OBJECTIVES, "AO");
    name_all(word_ids, WORDS, "wor");
    struct messages messages = MESSAGES_EMPTY;
    struct record *record = record_open(arguments[1], RECORD_WRITE, &messages);
    char hash[33];
    int64_t sitting = record ? open_sitting(record, hash, &messages) : 0;
    uint64_t seed = count == 4 ? strtoull(arguments[3], NULL, 10) : 1;
    bool done = sitting && write_scripts(record, sitting, hash, strtoll(arguments[2], NULL, 10) / POINTS, seed,
                                         &messages);
    messages_print(&messages);
    record_close(record);
    return done ? 0 : 3;
}
