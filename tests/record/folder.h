/* What the tests of this room share: a folder of their own, short ways to write events, a look at the file. */
#ifndef OWNMARK_TESTS_RECORD_FOLDER_H
#define OWNMARK_TESTS_RECORD_FOLDER_H

#include <criterion/criterion.h>
#include <stdint.h>

#include "base/files.h"
#include "base/random.h"
#include "record/record.h"

#define BANK "coastal-science"
#define COURSE_TEXT "<course name='Coastal Science'/>"
#define QUESTION_TEXT "<question id='w01'/>"
/* Two units, three topics, two objectives, two command words. */
#define COURSE_LINES \
    "topic\twaves\twater\t50\ntopic\ttides\twater\t30\ntopic\tdunes\tland\t20\n" \
    "objective\tAO1\tknow\t40\nobjective\tAO2\tapply\t60\nword\texplain\nword\tto what extent\n"

/* A fresh folder, removed by folder_remove; path_in gives names inside (8 at a time). */
struct folder { char path[64]; };
struct folder folder_new(void);
void folder_remove(const struct folder *folder);
const char *path_in(const struct folder *folder, const char *name);

/* The seed of a test's generator, from OWNMARK_SEED when set; printed when the test fails. */
uint64_t test_seed(uint64_t usual);

/* Opens for writing; a failure fails the test with the message. */
struct record *open_record(const char *path);
/* Opens and expects a refusal whose text has `part` in it. */
void expect_refused(const char *path, enum record_access access, const char *part);
void expect_message(struct messages *messages, const char *part);   /* and frees them */

void append_one(struct record *record, struct event *event);        /* must succeed */
int64_t begin_sitting(struct record *record, const char *bank, moment at);      /* course seen, sitting opened */
int64_t begin_script(struct record *record, const char *bank, int64_t sitting, const char *question, double seed,
                     moment at);
struct event marked(int64_t script, const struct mark_row *marks, size_t count, moment at);
struct mark_row one_mark(const char *item, const char *topic, const char *objective, double got, double maximum);
bool append(struct record *record, struct event event, struct messages *messages);
void keep(struct record *record, const char *text, char hash[33]);

/* The bytes of a file, to see that nothing changed. */
struct buffer bytes_of(const char *path);
bool same_bytes(const char *path, const struct buffer *before);

/* Everything in a table, values exact to the bit, as text. "" for a table that is not there. */
struct buffer dump_table(const char *path, const char *table);
struct buffer dump_derived(const char *path);
void run_sql(const char *path, const char *sql);    /* past the room, to do harm */
void expect_sound(const char *path);                /* opens, record_check finds nothing */
void copy_file(const char *from, const char *to);

#endif
