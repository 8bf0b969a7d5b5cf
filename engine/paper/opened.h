/* A paper with its banks open: its questions as they are asked, numbers drawn. */
#ifndef OWNMARK_PAPER_OPENED_H
#define OWNMARK_PAPER_OPENED_H

#include "bank/bank.h"
#include "bank/model.h"
#include "bank/values.h"
#include "base/arena.h"
#include "base/message.h"
#include "paper/file.h"

struct opened_question {
    struct bank *bank;
    int index;                          /* in the bank */
    const struct question *question;
    struct values values;
};

struct opened_paper {
    struct paper paper;
    struct bank **banks;                /* as paper.banks */
    struct opened_question *questions;  /* as paper.questions */
    struct arena *arena;                /* of all that is in it */
};

/* Reads the file of a paper and opens its banks where the file says they are, or where `elsewhere` (count paths, each
 * the file of a bank; a paper's bank is looked for among them first, by id) says. Refused, with a message each: a bank
 * that cannot be opened or has another id; a question that is not in it, or whose text or marks are no longer those of
 * the paper. A course that has changed since is a warning. NULL if refused; else to be freed by opened_paper_free. */
struct opened_paper *opened_paper_read(const char *path, const char *const *elsewhere, size_t count,
                                       struct messages *messages);
void opened_paper_free(struct opened_paper *opened);    /* NULL is allowed */

#endif
