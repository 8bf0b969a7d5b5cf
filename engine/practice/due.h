/* Missed points that are due: the questions to meet again today. */
#ifndef OWNMARK_PRACTICE_DUE_H
#define OWNMARK_PRACTICE_DUE_H

#include "practice/choose.h"

struct due {
    int *questions;         /* indices into the bank, each once; in arena */
    size_t count;
    day_number next;        /* when nothing is due: the day the next one is; NO_DAY when none is on record */
};

/* Questions of the bank with a point that is not secure and due on `today` or before. */
bool due_read(struct record *record, const struct bank *bank, day_number today, struct arena *arena, struct due *due,
              struct messages *messages);

#endif
