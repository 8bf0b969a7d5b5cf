/* SQLite behind one door: statements, transactions, and what went wrong. Private to this room.
 *
 * Inside the room functions return false (or -1) and leave the first fault in the record; the public function
 * that was called turns it into one message with store_report. */
#ifndef OWNMARK_RECORD_STORE_H
#define OWNMARK_RECORD_STORE_H

#include <sqlite3.h>
#include <stdbool.h>
#include <stdint.h>
#include <sys/types.h>
#include "base/arena.h"
#include "base/buffer.h"
#include "record/record.h"

enum { STORE_STATEMENTS = 64 };

struct derive;

struct record {
    sqlite3 *db;
    char *path;                 /* with symbolic links resolved */
    enum record_access access;
    int lock;                   /* descriptor of the lock file; -1 none */
    bool wal;
    ino_t wal_inode;            /* 0: not seen yet */
    bool spoilt;                /* a write failed: no more appends through this opening */

    struct { const char *sql; sqlite3_stmt *statement; } statements[STORE_STATEMENTS];
    size_t statement_count;

    int code;                   /* extended code of the first fault since store_start; SQLITE_OK none */
    struct buffer fault;        /* in words; not empty means there was a fault */

    struct derive *derive;      /* made at the first append */
};

/* ---- Faults -------------------------------------------------------------------------------------- */

void store_start(struct record *record);                        /* forgets the last fault */
bool store_faulted(const struct record *record);
bool store_fault(struct record *record, int code);              /* false, always; the first one is kept */
bool store_refuse(struct record *record, const char *format, ...)
    __attribute__((format(printf, 2, 3)));                      /* false, always */
/* One message "failed: why; what to do". False, always. */
bool store_report(struct record *record, struct messages *messages, const char *failed);
void store_add_reason(struct buffer *out, int code, const char *detail);    /* "the disk is full; …" */

/* ---- Statements ---------------------------------------------------------------------------------- */

/* Prepared once for each string constant (told apart by address), reset and unbound. NULL: fault. */
sqlite3_stmt *store_statement(struct record *record, const char *sql);
sqlite3_stmt *store_prepare(struct record *record, const char *sql);   /* not kept: sqlite3_finalize it */

/* The texts must stay until the statement is done. NULL text and NAN bind NULL. */
void store_bind_text(struct record *record, sqlite3_stmt *statement, int index, const char *text);
void store_bind_whole(struct record *record, sqlite3_stmt *statement, int index, int64_t value);
void store_bind_reference(struct record *record, sqlite3_stmt *statement, int index, int64_t value); /* 0: NULL */
void store_bind_number(struct record *record, sqlite3_stmt *statement, int index, double value);

int store_row(struct record *record, sqlite3_stmt *statement);     /* 1 a row; 0 no more; -1 fault. Resets unless 1 */
bool store_done(struct record *record, sqlite3_stmt *statement);   /* steps to the end */
bool store_run(struct record *record, const char *sql);            /* any number of statements, no rows wanted */
bool store_print_run(struct record *record, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* One whole number; `missing` when there is no row or it is NULL. Bind first. */
bool store_whole(struct record *record, sqlite3_stmt *statement, int64_t missing, int64_t *value);

/* A column: text valid until the next step; NULL when it is NULL, or at a fault (store_faulted). */
const char *store_text(struct record *record, sqlite3_stmt *statement, int column);
const char *store_text_length(struct record *record, sqlite3_stmt *statement, int column, size_t *length);  /* bytes */
const char *store_copy_text(struct record *record, sqlite3_stmt *statement, int column, struct arena *arena);
double store_number(sqlite3_stmt *statement, int column);          /* NAN when NULL */

/* ---- Transactions -------------------------------------------------------------------------------- */

bool store_begin(struct record *record);        /* immediate: the lock is had before anything is read */
bool store_commit(struct record *record);
void store_rollback(struct record *record);     /* keeps the fault that led here */

/* Is the file still where it was opened, and its log beside it? */
bool store_in_place(struct record *record);

void store_close_statements(struct record *record);

#endif
