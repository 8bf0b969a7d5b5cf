/* The checks of a bank that a schema cannot say: names that must be declared, sums that must come out, schemes
 * that must be able to give their marks, formulae that must give numbers. Every fault becomes one message with
 * the place of the part or node, the subject ("question w04"), what was found, what was wanted, how to mend it.
 *
 * Order of calls: sense_new, sense_course once, then for each question the look-ups while it is read and
 * sense_question when it is complete, at last sense_end. A struct sense may be kept as long as its course to
 * look names up when single questions are read again. No call walks the course or the questions before. */
#ifndef OWNMARK_BANK_SENSE_H
#define OWNMARK_BANK_SENSE_H

#include <stdbool.h>
#include <stddef.h>
#include "base/message.h"
#include "bank/model.h"

/* At most so many of a course's parts; what is beyond is refused. Skills fit a bit set (struct part_summary). */
enum {
    SENSE_OBJECTIVE_LIMIT = 64,
    SENSE_SKILL_LIMIT = 64,
    SENSE_TOPIC_LIMIT = 10000,
    SENSE_WORD_LIMIT = 1000,
    SENSE_VARIANTS = 200        /* of each varied question are tried: all, if there are no more, else so many drawn */
};

struct sense;

/* file is named in the messages; folder is where figures are looked for (NULL: a question from the record, whose
 * figures are not looked for). Both are copied. */
struct sense *sense_new(const char *file, const char *folder);
void sense_free(struct sense *sense);       /* NULL is allowed */

/* Checks the course and takes its names into the look-ups; course must outlive sense. line and column: where
 * the course element starts. Even when it returns false the look-ups and sense_question may be used, so that
 * one run shows the faults of the questions too. */
bool sense_course(struct sense *sense, const struct course *course, unsigned long line, unsigned long column,
                  struct messages *messages);

/* Where a name stands: the element's line and column, and the subject ("question w04"; may be NULL). */
struct sense_at {
    const char *subject;
    unsigned long line, column;
};

/* The index of a name in the course, or -1 and a message ("did you mean …"). The -1 may stay in the model:
 * sense_question passes over it. A topic must be a leaf; a main topic that has sub-topics is refused with
 * their names. Command words are found whatever their letter case and spaces. */
int sense_topic(const struct sense *sense, struct sense_at at, const char *id, struct messages *messages);
int sense_objective(const struct sense *sense, struct sense_at at, const char *id, struct messages *messages);
int sense_word(const struct sense *sense, struct sense_at at, const char *word, struct messages *messages);
int sense_skill(const struct sense *sense, struct sense_at at, const char *id, struct messages *messages);

/* Is `level` (of a strand's `at`) one of the `count` levels written before it? False and a message if not: the
 * model cannot hold such a descriptor. */
bool sense_strand_level(const struct sense *sense, struct sense_at at, const char *strand, int level,
                        size_t count, struct messages *messages);

/* Everything about one question. Its own memory is not kept: of a question only its id and the ids of its
 * enemies stay behind. False when it has an error. */
bool sense_question(struct sense *sense, const struct question *question, struct messages *messages);

/* After the last question: enemies that do not exist, and a bank without questions. */
bool sense_end(struct sense *sense, struct messages *messages);

#endif
