/* A whole paper under examination conditions, driven as practice.h says: the same doors, the same four calls.
 *
 * One clock runs over all of it; the questions are answered in any order; nothing of a scheme is shown before the
 * paper is handed in. Then everything is marked in one go, as in the cycle. Rest breaks, and the time while the program
 * is closed, stop the clock. When the time is over that is said and kept; whatever is written afterwards is told apart.
 *
 * In the record a mock is a sitting whose opening says "mock=yes"; all its questions are opened at its start. */
#ifndef OWNMARK_PRACTICE_MOCK_H
#define OWNMARK_PRACTICE_MOCK_H

#include <stdbool.h>
#include <stddef.h>
#include "bank/bank.h"
#include "base/arena.h"
#include "base/buffer.h"
#include "base/message.h"
#include "practice/practice.h"
#include "record/record.h"

struct mock_question {
    struct bank *bank;
    size_t index;               /* in the bank */
    uint64_t seed;              /* for values_draw */
};

struct mock_plan {
    const char *course;         /* its name */
    const char *paper;          /* path of the paper's file: one line, kept for the resume */
    double minutes;             /* without extra time; > 0 */
    struct bank *const *banks;              size_t bank_count;
    const struct mock_question *questions;  size_t question_count;      /* at least one */
};

/* Opens the sitting and all its questions; the clock stands until the first entry. Everything in the plan stays the
 * caller's; banks and record must outlive the machine. NULL with a message when the record cannot be written. */
struct practice *mock_begin(const struct mock_plan *plan, struct record *record, struct messages *messages);

/* What the record says of a mock, in the arena it was read into. */
struct mock_bank { const char *id, *course_hash, *path; };
struct mock_about {
    const char *course, *paper;
    double allowed;             /* seconds, with extra time */
    int marks;
    size_t questions;           /* of the paper */
    size_t opened;              /* in the record: fewer when the program was killed while it began */
    struct mock_bank *banks;    size_t bank_count;
};
/* False without a message: that sitting is no mock; with one: it cannot be read. */
bool mock_read(struct record *record, int64_t sitting, struct arena *arena, struct mock_about *about,
               struct messages *messages);

/* Goes on with an open mock; banks: those of mock_about, in their order. */
struct practice *mock_resume(struct bank *const *banks, struct record *record, int64_t sitting,
                             struct messages *messages);

/* Closes a mock that will not be gone on with; what was fully marked in it counts. */
bool mock_abandon(struct bank *const *banks, struct record *record, int64_t sitting, struct messages *messages);

/* The same without its banks: for one that cannot be gone on with. What was not closed then does not count. */
bool mock_drop(struct record *record, int64_t sitting, struct messages *messages);

/* The latest mock that waits to be gone on with, or 0. */
int64_t mock_waiting(struct record *record);

/* The latest mock that was marked to its end, or 0; and its result as a page or as one JSON object. */
int64_t mock_latest(struct record *record);
bool mock_show(struct bank *const *banks, struct record *record, int64_t sitting, struct page *page,
               struct messages *messages);
bool mock_json(struct bank *const *banks, struct record *record, int64_t sitting, struct buffer *out,
               struct messages *messages);

#endif
