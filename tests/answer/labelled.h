/* Short answers that a person has labelled for single marking points, and what the answer room says of them. The file
 * is a table with tabs between seven cells: question, part, point, kind, half, label ("earned" or "not"), answer.
 * Lines that begin with # and the line of headings are passed over. */
#ifndef OWNMARK_TESTS_ANSWER_LABELLED_H
#define OWNMARK_TESTS_ANSWER_LABELLED_H

#include <stdbool.h>
#include <stddef.h>

#include "answer/evidence.h"
#include "bank/bank.h"
#include "base/arena.h"
#include "base/message.h"

struct labelled {
    const char *question, *part, *point;    /* ids */
    const char *kind;                       /* right, partly, wrong, wrong-sense, negated, misspelt, terse, padded */
    const char *half;                       /* first, second */
    bool earned;
    const char *answer;
    unsigned long line;
};

struct labelled_table {
    const struct labelled *rows;
    size_t count;
};

/* In arena. False and a message for each line that has not seven cells, an empty cell, or another half or label. */
bool labelled_read(const char *path, struct arena *arena, struct labelled_table *table, struct messages *messages);

/* What is needed to judge many answers of one bank. */
struct labelled_judge {
    struct bank *bank;
    struct vocabulary *vocabulary;      /* of the whole course */
    struct arena *arena;                /* of the vocabulary */
};

/* False and messages when the bank cannot be used; labelled_close is then not needed. */
bool labelled_open(struct labelled_judge *judge, const char *bank, struct messages *messages);
void labelled_close(struct labelled_judge *judge);

/* The evidence for the row's point, in arena; NULL when the bank has no such question, part, or point. Numbers are
 * drawn with one seed, so a question whose numbers vary must not be labelled by them. */
const struct point_evidence *labelled_evidence(const struct labelled_judge *judge, const struct labelled *row,
                                               struct arena *arena);

/* How often verdicts were right. "Can't tell" counts among the rows, not among the verdicts. */
struct labelled_count {
    size_t rows;
    size_t earned, earned_found, earned_said;       /* labelled so; of these said so; said so at all */
    size_t lost, lost_found, lost_said;             /* the same for "not" */
};

void labelled_add(struct labelled_count *count, const struct labelled *row, enum evidence_verdict verdict);
bool labelled_is_miss(const struct labelled *row, enum evidence_verdict verdict);   /* a verdict, and the wrong one */

/* Right verdicts among verdicts given, and among all rows; NAN when there are none. */
double labelled_precision(const struct labelled_count *count);
double labelled_recall(const struct labelled_count *count);

#endif
