/* The file of a paper: which questions, in which order, with which numbers, out of which banks. docs/paper-format.md
 * describes it. It holds no question's text and no answer, so it may be given to those who sit the paper. */
#ifndef OWNMARK_PAPER_FILE_H
#define OWNMARK_PAPER_FILE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "base/arena.h"
#include "base/buffer.h"
#include "base/dates.h"
#include "base/message.h"

enum {
    PAPER_FILE_LIMIT = 256 * 1024,      /* bytes */
    PAPER_BANK_LIMIT = 16,
    PAPER_QUESTION_LIMIT = 1000,
    PAPER_MARKS_LIMIT = 1000,
    PAPER_MINUTES_LIMIT = 1440
};

struct paper_bank {
    const char *id;
    const char *path;           /* as in the file: from the folder of the paper's file unless it starts with "/" */
    char course_hash[33];       /* hash_content of bank_course_text */
};

struct paper_question {
    size_t bank;                /* index into banks */
    const char *id;
    int marks;
    uint64_t seed;              /* for values_draw */
    char hash[33];              /* hash_content of bank_question_text */
};

struct paper {
    const char *course;         /* its name: one line */
    const char *language;       /* a language tag */
    int marks, minutes;
    uint64_t seed;              /* what it was chosen with */
    moment made;
    const struct paper_bank *banks;         size_t bank_count;
    const struct paper_question *questions; size_t question_count;     /* in the order of the paper */
};

/* The file's text, appended. The paper must keep to what paper_file_parse asks for. */
void paper_file_text(const struct paper *paper, struct buffer *out);

/* Reads it back, into arena. Untrusted like any input: at the first thing that is not as paper_file_text writes it a
 * message with name, line, what was found and what was wanted, and false. What it checks besides the form: numbers
 * within the limits above, no question twice, no bank twice, the questions' marks add up to the paper's. */
bool paper_file_parse(const char *bytes, size_t length, const char *name, struct arena *arena, struct paper *paper,
                      struct messages *messages);

/* From a file. */
bool paper_file_read(const char *path, struct arena *arena, struct paper *paper, struct messages *messages);

#endif
