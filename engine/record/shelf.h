/* Rows of one derived table, held in memory while they are worked on. Private to this room.
 *
 * A row has text keys, numbers and texts. Whole numbers are doubles here (all stay below 2^53) and NAN is NULL;
 * the table's strict column types keep them whole in the file. */
#ifndef OWNMARK_RECORD_SHELF_H
#define OWNMARK_RECORD_SHELF_H

#include "record/map.h"
#include "record/store.h"

enum { SHELF_KEYS = 4, SHELF_NUMBERS = 12, SHELF_TEXTS = 5 };

struct shelf_kind {
    const char *table;
    const char *keys[SHELF_KEYS + 1];           /* column names; ends with NULL */
    const char *numbers[SHELF_NUMBERS + 1];
    const char *texts[SHELF_TEXTS + 1];
    bool many;      /* grows with the log: a rebuild must not hold all of its rows at once */
};

struct row {
    const char *key[SHELF_KEYS];
    double *number;
    const char **text;      /* set with shelf_set_text */
    bool fresh;             /* just made by shelf_get: numbers NAN, texts NULL */
    bool changed;           /* will be written */
};

struct shelf {
    const struct shelf_kind *kind;
    struct record *record;
    const char *schema;
    bool complete;          /* a row that is not here does not exist */
    int64_t complete_after; /* neither does one whose first key is a larger number than this */
    size_t keys, numbers, texts;
    struct arena *arena;
    struct map map;
    struct row **rows;      /* in order of arrival */
    size_t count, capacity;
    sqlite3_stmt *select, *replace;
    struct buffer joined;
};

void shelf_open(struct shelf *shelf, const struct shelf_kind *kind, struct record *record, const char *schema,
                bool empty);
void shelf_close(struct shelf *shelf);

/* The row with these keys (NULL-terminated by count of the kind), read if need be; NULL when there is none, or at
 * a fault. shelf_get makes one then, and gives NULL only at a fault. */
struct row *shelf_find(struct shelf *shelf, const char *const *keys);
struct row *shelf_get(struct shelf *shelf, const char *const *keys);
#define SHELF_KEY(...) ((const char *const[]){__VA_ARGS__})

void shelf_set_text(struct shelf *shelf, struct row *row, size_t index, const char *text);

bool shelf_save(struct shelf *shelf);       /* writes what changed; the rows stay */
void shelf_forget(struct shelf *shelf);     /* drops all rows, written or not */
bool shelf_empty(struct shelf *shelf);      /* save and forget; later misses are read from the table */

#endif
