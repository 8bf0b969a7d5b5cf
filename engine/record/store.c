#include "record/store.h"

#include <assert.h>
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <sys/stat.h>

#include "base/memory.h"

/* ---- Faults -------------------------------------------------------------------------------------- */

void store_start(struct record *record)
{
    record->code = SQLITE_OK;
    buffer_clear(&record->fault);
}

bool store_faulted(const struct record *record)
{
    return record->fault.length > 0;
}

static const char *plain_reason(int code)
{
    switch (code & 0xff) {
    case SQLITE_FULL: return "the disk is full; what was saved before is safe: free some space and try again";
    case SQLITE_BUSY:
    case SQLITE_LOCKED: return "it is in use by another program; close that one and try again";
    case SQLITE_READONLY: return "it cannot be written to; check the permissions of the file and its folder";
    case SQLITE_CANTOPEN: return "it cannot be opened; check the permissions of the file and its folder";
    case SQLITE_CORRUPT: return "it is damaged; put back a backup (see 'ownmark record backup')";
    case SQLITE_NOTADB: return "it is not a record, or its beginning is damaged; name another file or put back "
                               "a backup";
    case SQLITE_NOMEM: return "there is not enough memory; what was saved before is safe";
    case SQLITE_CONSTRAINT: return "what was to be saved does not fit the rest of the record; this is a mistake "
                                   "in the program";
    case SQLITE_IOERR: return "the disk failed; what was saved before is safe: check the disk, then start again";
    default: return "an unexpected failure";
    }
}

void store_add_reason(struct buffer *out, int code, const char *detail)
{
    buffer_print(out, "%s (%s)", plain_reason(code), detail);
}

bool store_fault(struct record *record, int code)
{
    assert(code != SQLITE_OK);
    if (store_faulted(record))
        return false;
    record->code = code;
    const char *detail = record->db && sqlite3_extended_errcode(record->db) == code ? sqlite3_errmsg(record->db)
                                                                                    : sqlite3_errstr(code);
    store_add_reason(&record->fault, code, detail);
    return false;
}

bool store_refuse(struct record *record, const char *format, ...)
{
    if (store_faulted(record))
        return false;
    va_list arguments;
    va_start(arguments, format);
    buffer_print_list(&record->fault, format, arguments);
    va_end(arguments);
    return false;
}

bool store_report(struct record *record, struct messages *messages, const char *failed)
{
    assert(store_faulted(record));
    messages_error(messages, "%s '%s': %s", failed, record->path, buffer_text(&record->fault));
    return false;
}

/* ---- Statements ---------------------------------------------------------------------------------- */

sqlite3_stmt *store_prepare(struct record *record, const char *sql)
{
    sqlite3_stmt *statement = NULL;
    int code = sqlite3_prepare_v3(record->db, sql, -1, SQLITE_PREPARE_PERSISTENT, &statement, NULL);
    if (code != SQLITE_OK)
        store_fault(record, sqlite3_extended_errcode(record->db));
    return statement;
}

sqlite3_stmt *store_statement(struct record *record, const char *sql)
{
    for (size_t i = 0; i < record->statement_count; i++)
        if (record->statements[i].sql == sql) {
            sqlite3_reset(record->statements[i].statement);
            sqlite3_clear_bindings(record->statements[i].statement);
            return record->statements[i].statement;
        }
    sqlite3_stmt *statement = store_prepare(record, sql);
    if (!statement)
        return NULL;
    assert(record->statement_count < STORE_STATEMENTS);
    record->statements[record->statement_count].sql = sql;
    record->statements[record->statement_count++].statement = statement;
    return statement;
}

void store_close_statements(struct record *record)
{
    for (size_t i = 0; i < record->statement_count; i++)
        sqlite3_finalize(record->statements[i].statement);
    record->statement_count = 0;
}

static void check_bind(struct record *record, int code)
{
    if (code != SQLITE_OK)
        store_fault(record, code);
}

void store_bind_text(struct record *record, sqlite3_stmt *statement, int index, const char *text)
{
    if (text)
        check_bind(record, sqlite3_bind_text(statement, index, text, -1, SQLITE_STATIC));
    else
        check_bind(record, sqlite3_bind_null(statement, index));
}

void store_bind_whole(struct record *record, sqlite3_stmt *statement, int index, int64_t value)
{
    check_bind(record, sqlite3_bind_int64(statement, index, value));
}

void store_bind_reference(struct record *record, sqlite3_stmt *statement, int index, int64_t value)
{
    if (value)
        store_bind_whole(record, statement, index, value);
    else
        check_bind(record, sqlite3_bind_null(statement, index));
}

void store_bind_number(struct record *record, sqlite3_stmt *statement, int index, double value)
{
    /* SQLite itself makes NULL of a NAN. */
    check_bind(record, sqlite3_bind_double(statement, index, value));
}

int store_row(struct record *record, sqlite3_stmt *statement)
{
    if (store_faulted(record)) {
        sqlite3_reset(statement);
        return -1;
    }
    int code = sqlite3_step(statement);
    if (code == SQLITE_ROW)
        return 1;
    if (code != SQLITE_DONE)
        store_fault(record, sqlite3_extended_errcode(record->db));
    sqlite3_reset(statement);
    return code == SQLITE_DONE ? 0 : -1;
}

bool store_done(struct record *record, sqlite3_stmt *statement)
{
    if (!statement)
        return false;
    int state;
    while ((state = store_row(record, statement)) == 1)
        ;
    return state == 0;
}

bool store_run(struct record *record, const char *sql)
{
    if (store_faulted(record))
        return false;
    int code = sqlite3_exec(record->db, sql, NULL, NULL, NULL);
    return code == SQLITE_OK || store_fault(record, sqlite3_extended_errcode(record->db));
}

bool store_print_run(struct record *record, const char *format, ...)
{
    struct buffer sql = BUFFER_EMPTY;
    va_list arguments;
    va_start(arguments, format);
    buffer_print_list(&sql, format, arguments);
    va_end(arguments);
    bool done = store_run(record, buffer_text(&sql));
    buffer_free(&sql);
    return done;
}

bool store_whole(struct record *record, sqlite3_stmt *statement, int64_t missing, int64_t *value)
{
    *value = missing;
    int state = statement ? store_row(record, statement) : -1;
    if (state == 1 && sqlite3_column_type(statement, 0) != SQLITE_NULL)
        *value = sqlite3_column_int64(statement, 0);
    if (state == 1)
        sqlite3_reset(statement);
    return state >= 0;
}

/* The column's value once, then what is in it: of the many calls of a rebuild, each column function would find the
 * column anew. Only one thread uses a connection. */
const char *store_text_length(struct record *record, sqlite3_stmt *statement, int column, size_t *length)
{
    sqlite3_value *value = sqlite3_column_value(statement, column);
    *length = 0;
    if (sqlite3_value_type(value) == SQLITE_NULL)
        return NULL;
    const char *text = (const char *)sqlite3_value_text(value);
    if (text)
        *length = (size_t)sqlite3_value_bytes(value);
    else
        store_fault(record, SQLITE_NOMEM);
    return text;
}

const char *store_text(struct record *record, sqlite3_stmt *statement, int column)
{
    size_t length;
    return store_text_length(record, statement, column, &length);
}

const char *store_copy_text(struct record *record, sqlite3_stmt *statement, int column, struct arena *arena)
{
    size_t length;
    const char *text = store_text_length(record, statement, column, &length);
    return text ? arena_copy_bytes(arena, text, length) : NULL;
}

double store_number(sqlite3_stmt *statement, int column)
{
    sqlite3_value *value = sqlite3_column_value(statement, column);
    return sqlite3_value_type(value) == SQLITE_NULL ? NAN : sqlite3_value_double(value);
}

/* ---- Transactions -------------------------------------------------------------------------------- */

bool store_begin(struct record *record)
{
    return store_done(record, store_statement(record, "BEGIN IMMEDIATE"));
}

/* After a failed write the kernel may drop the pages it could not write and call the next fsync a success, so
 * such a commit is never tried again through the same opening. A full disk is reported before that. */
bool store_commit(struct record *record)
{
    if (store_done(record, store_statement(record, "COMMIT")))
        return true;
    if ((record->code & 0xff) == SQLITE_IOERR)
        record->spoilt = true;
    return false;
}

void store_rollback(struct record *record)
{
    /* Fails harmlessly when SQLite has rolled back already; the fault in the record is the one that counts. */
    if (!sqlite3_get_autocommit(record->db))
        sqlite3_exec(record->db, "ROLLBACK", NULL, NULL, NULL);
}

static bool log_in_place(struct record *record)
{
    struct buffer path = BUFFER_EMPTY;
    buffer_print(&path, "%s-wal", record->path);
    struct stat status;
    bool found = stat(buffer_text(&path), &status) == 0;
    buffer_free(&path);
    if (found && record->wal_inode == 0)
        record->wal_inode = status.st_ino;
    return found && status.st_ino == record->wal_inode;
}

bool store_in_place(struct record *record)
{
    int moved = 0;
    if (sqlite3_file_control(record->db, "main", SQLITE_FCNTL_HAS_MOVED, &moved) == SQLITE_OK && moved)
        return store_refuse(record, "the file was moved, deleted or replaced while in use; put it back or start "
                            "again");
    if (record->wal && !log_in_place(record))
        return store_refuse(record, "the file '%s-wal' beside it was deleted or replaced while in use; start again",
                            record->path);
    return true;
}
