/* Everything derived from the log: one code path for an append and for a rebuild. Private to this room.
 *
 * Rows of the derived tables are held in shelves (shelf.h). For an append they are read as they are touched and
 * written before the commit; for a rebuild all of them are built in memory and then compared with the tables. Work for an append is
 * proportional to what the events touch, never to the length of the log; only moderation replays the learner of
 * its bank, because a teacher's marks change how all earlier self-marks are to be read. */
#ifndef OWNMARK_RECORD_DERIVE_H
#define OWNMARK_RECORD_DERIVE_H

#include "record/store.h"

struct derive;

enum { DERIVED_TABLES = 15 };
const char *derived_table(int index);

/* whole_log: for a rebuild, from the first event on; the derived tables are not read. */
struct derive *derive_new(struct record *record, bool whole_log);
void derive_free(struct derive *derive);    /* NULL is allowed; nothing is written */

/* Takes one event of the log in. False with a fault when it does not fit what came before (an unknown script, a
 * script marked twice, …): the transaction must then be rolled back. */
bool derive_apply(struct derive *derive, const struct event *event);

/* Writes what was touched. The shelves are empty afterwards. */
bool derive_flush(struct derive *derive);

/* Drops what was touched, after a transaction was rolled back. */
void derive_forget(struct derive *derive);

/* The SQL condition on event for the kinds that derive anything (only those need be streamed). */
extern const char derive_kinds[];

/* Replays the whole log in memory and compares the result with the derived tables: differences[i] rows of
 * derived_table(i) are not as they should be. With `write` they are put right; with `validate` every event is
 * checked again as it is read. Inside a transaction. */
bool derive_everything(struct record *record, bool write, bool validate, int64_t differences[DERIVED_TABLES],
                       void (*progress)(size_t done, size_t total, void *context), void *context);

#endif
