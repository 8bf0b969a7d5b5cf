/* Missed points that are due: the questions to meet again today.
 *
 * A point with an idea is asked again through another question that has the idea, the one left longest, because earning
 * it in another place shows more than knowing the old answer. Otherwise its own question comes again, with other numbers
 * where they are drawn. No point is asked for twice. */
#ifndef OWNMARK_PRACTICE_DUE_H
#define OWNMARK_PRACTICE_DUE_H

#include "practice/choose.h"

struct due {
    int *questions;         /* indices into the bank, each once; in arena */
    size_t count;
    day_number next;        /* when nothing is due: the day the next one is; NO_DAY when none is on record */
};

/* Questions that the wish allows for the points that are not secure and due on `today` or before. */
bool due_read(struct record *record, const struct bank *bank, const struct wish *wish, day_number today, struct arena *arena,
              struct due *due, struct messages *messages);

#endif
