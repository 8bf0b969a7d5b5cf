/* What an event costs: bench-record FOLDER RECORD.
 *
 * In FOLDER: one event made durable against one 4 KiB write with fdatasync, in turn. RECORD (from make-record) gets
 * marked questions appended: what deriving standing adds to a commit, when the record is long. */
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "record/record.h"

enum { ROUNDS = 101, POINTS = 3 };

static double now(void)
{
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec + (double)time.tv_nsec / 1e9;
}

static int ascending(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double median(double *values)
{
    qsort(values, ROUNDS, sizeof *values, ascending);
    return values[ROUNDS / 2];
}

static _Noreturn void give_up(const struct messages *messages)
{
    messages_print(messages);
    exit(2);
}

static double append(struct record *record, struct event *event)
{
    struct messages messages = MESSAGES_EMPTY;
    double began = now();
    if (!record_append(record, event, 1, &messages))
        give_up(&messages);
    return now() - began;
}

static double write_block(int file)
{
    static char block[4096];
    double began = now();
    memset(block, (int)now() & 0xff, sizeof block);
    if (write(file, block, sizeof block) != (ssize_t)sizeof block || fdatasync(file) != 0) {
        perror("bench-record: reference write");
        exit(2);
    }
    return now() - began;
}

static struct event opening(enum event_kind kind, int64_t sitting, const char *content)
{
    struct event event = event_blank(kind);
    event.bank = "bench";
    event.sitting = sitting;
    event.item = kind == EVENT_QUESTION_OPENED ? "q1" : NULL;
    event.content = content;
    event.number = 0;
    return event;
}

static struct event marked_question(int64_t sitting, int64_t script, const struct mark_row *marks)
{
    struct event event = event_blank(EVENT_QUESTION_MARKED);
    event.bank = "bench";
    event.sitting = sitting;
    event.script = script;
    event.marks = marks;
    event.mark_count = POINTS;
    return event;
}

static const char course_lines[] = "topic\tt1\tt1\t50\ntopic\tt2\tt2\t50\nobjective\tAO1\tknow\t100\nword\tstate\n";

static int64_t open_sitting(struct record *record, char hash[33])
{
    struct messages messages = MESSAGES_EMPTY;
    if (!record_keep_content(record, "course", hash, &messages))
        give_up(&messages);
    struct event course = opening(EVENT_COURSE_SEEN, 0, hash), sitting = opening(EVENT_SITTING_OPENED, 0, hash);
    course.text = course_lines;
    append(record, &course);
    append(record, &sitting);
    return sitting.sequence;
}

/* Medians of a plain event and of a marked question, which also derives standing and missed points. */
static void time_events(struct record *record, int file, double *plain, double *marking, double *block)
{
    static double plain_times[ROUNDS], marking_times[ROUNDS], block_times[ROUNDS];
    struct mark_row marks[POINTS];
    char hash[33];
    for (int i = 0; i < POINTS; i++)
        marks[i] = (struct mark_row){.part = "a", .item = i == 0 ? "a.1" : i == 1 ? "a.2" : "a.3", .topic = "t1",
                                     .objective = "AO1", .word = "state", .got = i == 1, .first = 1, .maximum = 1};
    int64_t sitting = open_sitting(record, hash);
    for (int i = 0; i < ROUNDS; i++) {
        struct event question = opening(EVENT_QUESTION_OPENED, sitting, hash);
        append(record, &question);
        struct event text = event_blank(EVENT_TEXT_SAVED);
        text.bank = "bench";
        text.sitting = sitting;
        text.script = question.sequence;
        text.part = "a";
        text.detail = "answer+";
        text.text = "The wave slows down as the water gets shallower.";
        plain_times[i] = append(record, &text);
        block_times[i] = write_block(file);
        struct event marked = marked_question(sitting, question.sequence, marks);
        marking_times[i] = append(record, &marked);
    }
    *plain = median(plain_times);
    *marking = median(marking_times);
    *block = median(block_times);
}

int main(int count, char **words)
{
    struct messages messages = MESSAGES_EMPTY;
    char path[4096];
    double plain, marking, block;
    if (count != 3) {
        fprintf(stderr, "usage: bench-record FOLDER RECORD\n");
        return 2;
    }
    snprintf(path, sizeof path, "%s/reference.bin", words[1]);
    int file = open(path, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0600);
    struct record *record = record_open(words[2], RECORD_WRITE, &messages);
    if (!record || file < 0)
        give_up(&messages);
    time_events(record, file, &plain, &marking, &block);
    record_close(record);
    close(file);
    printf("%-44s %8.2f ms %8.2f ms  ratio %6.3f  goal <= 1.5\n", "one event durable / 4 KiB fdatasync", plain * 1e3, block * 1e3,
           plain / block);
    printf("%-44s %8.2f ms %8.2f ms  ratio %6.3f  goal <= 0.1\n", "standing after a question / a commit",
           (marking - plain) * 1e3, plain * 1e3, (marking - plain) / plain);
    return 0;
}
