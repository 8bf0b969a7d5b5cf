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
};

struct row {
    const char *key[SHELF_KEYS];
    double *number;
    const char **text;      /* set with shelf_set_text */
    bool fresh;             /* just made by shelf_get: numbers NAN, texts NULL */
    bool changed;           /* will be written */
    bool removed;           /* not there until shelf_get makes it anew */
    bool matched;           /* shelf_settle found it in the table */
    const char *joined;     /* the keys as one text */
};

struct shelf {
    const struct shelf_kind *kind;
    struct record *record;
    bool complete;          /* a row that is not here does not exist */
    size_t keys, numbers, texts;
    struct arena *arena;
    struct map map;
    struct row **rows;      /* in order of arrival */
    size_t count, capacity;
    struct row *recent;     /* the row found or made last; NULL: none */
    sqlite3_stmt *select, *replace, *remove;
    char *joined;           /* the keys last looked for, as one text */
    size_t joined_capacity;
};

/* complete: for a rebuild, where the rows come from the log and the table is not read. */
void shelf_open(struct shelf *shelf, const struct shelf_kind *kind, struct record *record, bool complete);
void shelf_close(struct shelf *shelf);

/* The row with these keys (NULL-terminated by count of the kind), read if need be; NULL when there is none, or at
 * a fault. shelf_get makes one then, and gives NULL only at a fault. */
struct row *shelf_find(struct shelf *shelf, const char *const *keys);
struct row *shelf_get(struct shelf *shelf, const char *const *keys);
#define SHELF_KEY(...) ((const char *const[]){__VA_ARGS__})

/* A key that is a whole number from 0 up, written into `key`. */
const char *shelf_number_key(char key[24], int64_t number);

void shelf_set_text(struct shelf *shelf, struct row *row, size_t index, const char *text);

/* Removes all rows with this first key, here and in the table. */
bool shelf_remove(struct shelf *shelf, const char *first_key);

bool shelf_save(struct shelf *shelf);       /* writes what changed */
void shelf_forget(struct shelf *shelf);     /* drops all rows, written or not */

/* For a complete shelf: counts the rows that the table has otherwise, or not, or too many; with `write` the table
 * is then given exactly the rows of the shelf. */
bool shelf_settle(struct shelf *shelf, bool write, int64_t *differences);

#endif
