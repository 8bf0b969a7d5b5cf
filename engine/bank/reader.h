/* XML in, model out: one pass over the bytes with the schema, the checks of bank/sense.h and the building of the
 * model side by side. For this room only. */
#ifndef OWNMARK_BANK_READER_H
#define OWNMARK_BANK_READER_H

#include <stdbool.h>
#include <stddef.h>
#include "bank/model.h"
#include "bank/sense.h"
#include "bank/source.h"
#include "base/arena.h"
#include "base/message.h"

enum reading_root { READ_BANK, READ_COURSE, READ_QUESTION };

/* Where an element's bytes are. */
struct element_bytes {
    size_t offset, length;
    unsigned long line, column;
};

struct reading {
    /* in */
    const struct source *source;
    enum reading_root root;
    struct sense *sense;            /* READ_QUESTION: knows the course already */
    const struct course *course;    /* READ_QUESTION */
    bool check_questions;           /* sense_question for each, sense_end for a bank */
    struct arena *course_arena;     /* READ_BANK, READ_COURSE: where the course goes */
    struct arena *question_arena;   /* READ_QUESTION: where the question goes; READ_BANK: emptied after each */
    struct messages *messages;
    void *context;
    /* Each question that is sound so far; it may still turn out that the file is not. NULL allowed. */
    void (*on_question)(void *context, const struct question *question, const struct element_bytes *at);
    void (*on_progress)(size_t done, size_t total, void *context);   /* about every megabyte; NULL allowed */
    void *progress_context;

    /* out, for the caller to set to zero */
    char id[65];                    /* READ_BANK */
    char language[36];              /* READ_BANK: a language tag; "en" unless said */
    const struct course *read_course;
    struct element_bytes course_at;
    const struct question *question;    /* READ_QUESTION */
    size_t question_count;          /* questions met, sound or not */
    long marks;
};

/* False when anything is wrong; the reasons are in messages, at most BANK_FAULT_LIMIT of them. */
bool reader_read(struct reading *reading);

#endif
