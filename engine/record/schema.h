/* The tables of a record, and how an older record becomes a present one. Private to this room.
 *
 * Two kinds of tables. The log (content, event, mark) is only ever added to. The derived tables follow from the
 * log and can be emptied at any time; each is described once more in shelf.h's terms in derive.c. */
#ifndef OWNMARK_RECORD_SCHEMA_H
#define OWNMARK_RECORD_SCHEMA_H

#include <stdbool.h>
#include <stddef.h>
#include "record/store.h"

#define SCHEMA_APPLICATION 0x4f776e6d   /* "Ownm", in the header of every record */

/* One step: takes a record from the version that is its index to the next. */
enum { MIGRATION_PIECES = 4 };
struct migration { const char *sql[MIGRATION_PIECES]; };     /* run in this order; NULL: none */

extern const struct migration schema_migrations[];
extern const size_t schema_version;     /* how many there are: the version this program writes */

/* Runs the steps from `version` to `target`, then `finish` (NULL: nothing), in one transaction and sets the version;
 * on a fault nothing happened. An empty database is version 0. */
bool schema_migrate(struct record *record, const struct migration *steps, size_t version, size_t target,
                    bool (*finish)(struct record *record));

/* Whether exactly the tables and indexes of the present version are there, letter for letter; otherwise a
 * fault that names one that is not. */
bool schema_matches(struct record *record);

#endif
