#include "plan-trial.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

void plan_begin(struct plan_trial *trial, const char *bank, const char *zone)
{
    memset(trial, 0, sizeof *trial);
    setenv("TZ", zone, 1);
    tzset();
    snprintf(trial->folder, sizeof trial->folder, "/tmp/ownmark-plan-XXXXXX");
    cr_assert(mkdtemp(trial->folder) != NULL);
    snprintf(trial->path, sizeof trial->path, "%s/record.db", trial->folder);
    trial->bank = bank_open(bank ? bank : "banks/coastal-science.xml", false, &trial->messages);
    trial->record = record_open(trial->path, RECORD_WRITE, &trial->messages);
    cr_assert(trial->bank && trial->record);
}

void plan_set(struct plan_trial *trial, const char *name, const char *value)
{
    struct event event = event_blank(EVENT_SETTING);
    event.bank = bank_id(trial->bank);
    event.item = name;
    event.text = value;
    cr_assert(record_append(trial->record, &event, 1, &trial->messages));
}

void plan_every_day(struct plan_trial *trial, const char *minutes)
{
    for (int weekday = 0; weekday < 7; weekday++)
        plan_set(trial, hours_setting(weekday), minutes);
}

static void forget(struct plan_trial *trial)
{
    if (!trial->arena)
        return;
    standing_release(&trial->standing);
    arena_free(trial->arena);
    trial->arena = NULL;
}

void plan_make(struct plan_trial *trial, day_number day, int minute, bool all)
{
    forget(trial);
    trial->arena = arena_new();
    trial->now = day_at(day, minute / 60, minute % 60);
    cr_assert(standing_read(trial->record, trial->bank, trial->arena, &trial->standing, &trial->messages));
    day_number exam = timetable_exam(trial->record, bank_id(trial->bank), trial->arena);
    cr_assert(timetable_make(trial->record, trial->bank, &trial->standing, trial->now, exam, all, trial->arena,
                             &trial->table, &trial->messages));
}

/* A course and a sitting: what a script needs before it. */
static int64_t open_sitting(struct plan_trial *trial, const char *hash, moment at)
{
    struct event course = event_blank(EVENT_COURSE_SEEN), opened = event_blank(EVENT_SITTING_OPENED);
    struct buffer lines = BUFFER_EMPTY;
    record_course_lines(bank_course(trial->bank), &lines);
    course.bank = opened.bank = bank_id(trial->bank);
    course.text = buffer_text(&lines);
    course.content = opened.content = hash;
    course.at = opened.at = at;
    opened.text = bank_path(trial->bank);
    struct event both[] = {course, opened};
    cr_assert(record_append(trial->record, both, 2, &trial->messages));
    buffer_free(&lines);
    return both[1].sequence;
}

static void answer(struct plan_trial *trial, day_number day, int minute, size_t marks, double got)
{
    enum { MOST = 99 };
    const struct course *course = bank_course(trial->bank);
    const struct question_summary *summary = bank_summary(trial->bank, 0);
    struct event opened = event_blank(EVENT_QUESTION_OPENED), marked = event_blank(EVENT_QUESTION_MARKED);
    struct mark_row rows[MOST];
    char hash[33], items[MOST][24];
    cr_assert(marks <= MOST && record_keep_content(trial->record, "kept", hash, &trial->messages));
    opened.at = marked.at = day_at(day, minute / 60, minute % 60);
    opened.day = marked.day = day;
    opened.sitting = open_sitting(trial, hash, opened.at);
    opened.bank = bank_id(trial->bank);
    opened.item = summary->id;
    opened.content = hash;
    opened.number = 0;
    cr_assert(record_append(trial->record, &opened, 1, &trial->messages));
    for (size_t i = 0; i < marks; i++) {
        snprintf(items[i], sizeof items[i], "a.%zu", i + 1);
        rows[i] = (struct mark_row){.part = "a", .item = items[i], .topic = course->topics[summary->topic].id,
                                    .objective = course->objectives[0].id, .got = got, .first = got, .maximum = 1};
    }
    marked.script = opened.sequence;
    marked.marks = rows;
    marked.mark_count = marks;
    cr_assert(record_append(trial->record, &marked, 1, &trial->messages));
}

void plan_practise(struct plan_trial *trial, day_number day, int minute, size_t marks)
{
    answer(trial, day, minute, marks, 1);
}

void plan_miss(struct plan_trial *trial, day_number day, int minute, size_t marks)
{
    answer(trial, day, minute, marks, 0);
}

const struct timetable_day *plan_day(const struct plan_trial *trial, day_number day)
{
    for (size_t i = 0; i < trial->table.count; i++)
        if (trial->table.days[i].day == day)
            return &trial->table.days[i];
    return NULL;
}

void plan_end(struct plan_trial *trial)
{
    static const char *const suffixes[] = {"", ".lock", "-wal", "-shm"};
    forget(trial);
    record_close(trial->record);
    bank_close(trial->bank);
    messages_free(&trial->messages);
    for (size_t i = 0; i < 4; i++) {
        char name[128];
        snprintf(name, sizeof name, "%s%s", trial->path, suffixes[i]);
        unlink(name);
    }
    rmdir(trial->folder);
}
