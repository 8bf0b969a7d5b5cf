/* Short answers that a person has labelled for single marking points, and what the answer room says of them. The file
 * is a table with tabs between seven cells: question, part, point, kind, half, label, answer. Lines that begin with #
 * and the line of headings are passed over. */
#ifndef OWNMARK_TESTS_ANSWER_LABELLED_H
#define OWNMARK_TESTS_ANSWER_LABELLED_H

#include <stdbool.h>
#include <stddef.h>

#include "answer/evidence.h"
#include "bank/bank.h"
#include "base/arena.h"
#include "base/message.h"

enum label { LABEL_NOT, LABEL_EARNED, LABEL_UNCLEAR };     /* "not", "earned"; "unclear": a person cannot tell */

struct labelled {
    const char *question, *part, *point;    /* ids */
    const char *kind;                       /* right, partly, wrong, wrong-sense, negated, misspelt, terse, padded */
    const char *half;                       /* first, second, held-out */
    enum label label;
    const char *answer;
    unsigned long line;
};

struct labelled_table {
    const struct labelled *rows;
    size_t count;
};

/* In arena. False and a message for each line that has not seven cells, an empty cell, or another half or label. */
bool labelled_read(const char *path, struct arena *arena, struct labelled_table *table, struct messages *messages);

/* What is needed to judge many answers to questions of a few banks. */
enum { LABELLED_BANKS = 4 };

struct labelled_course {
    struct bank *bank;
    struct vocabulary *vocabulary;      /* of the whole course */
};

struct labelled_judge {
    struct labelled_course courses[LABELLED_BANKS];
    size_t count;
    struct arena *arena;                /* of the vocabularies */
};

/* At most LABELLED_BANKS. False and messages when a bank cannot be used; labelled_close is then not needed. */
bool labelled_open(struct labelled_judge *judge, const char *const *banks, size_t count, struct messages *messages);
void labelled_close(struct labelled_judge *judge);

/* The evidence for the row's point, in arena, from the first bank that has the question; NULL when none has it, or not the
 * part or the point. Numbers are drawn with one seed, so a question whose numbers vary must not be labelled by them. */
const struct point_evidence *labelled_evidence(const struct labelled_judge *judge, const struct labelled *row,
                                               struct arena *arena);

/* How often verdicts were right. "Can't tell" counts among the rows, not among the verdicts; what a person could not
 * tell counts among the verdicts, where one was given, and not among what should be found. */
struct labelled_count {
    size_t rows;
    size_t earned, earned_found, earned_said;       /* labelled so; of these said so; said so at all */
    size_t lost, lost_found, lost_said;             /* the same for "not" */
};

/* The label as it stands in the file. */
const char *label_name(enum label label);

void labelled_add(struct labelled_count *count, const struct labelled *row, enum evidence_verdict verdict);
bool labelled_is_miss(const struct labelled *row, enum evidence_verdict verdict);   /* a verdict, and the wrong one */

/* Right verdicts among verdicts given, and among all rows that a person could tell; NAN when there are none. */
double labelled_precision(const struct labelled_count *count);
double labelled_recall(const struct labelled_count *count);

#endif
