/* Checking, rebuilding and copying a record. */
#include <errno.h>
#include <fcntl.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/files.h"
#include "base/hash.h"
#include "base/memory.h"
#include "record/derive.h"
#include "record/log.h"
#include "record/schema.h"

/* ---- Rebuilding ---------------------------------------------------------------------------------- */

bool record_rebuild(struct record *record, long *changed, void (*progress)(size_t done, size_t total, void *context),
                    void *context, struct messages *messages)
{
    int64_t differences[DERIVED_TABLES];
    store_start(record);
    if (record->access != RECORD_WRITE)
        store_refuse(record, "it was opened for reading only");
    bool begun = !store_faulted(record) && store_begin(record);
    bool done = begun && store_in_place(record) &&
                derive_everything(record, true, false, differences, progress, context) && store_commit(record);
    if (begun && !done)
        store_rollback(record);
    if (changed)
        *changed = 0;
    for (int i = 0; changed && done && i < DERIVED_TABLES; i++)
        *changed += (long)differences[i];
    return done || store_report(record, messages, "cannot rebuild the record");
}

/* ---- Checking ------------------------------------------------------------------------------------ */

static bool check_structure(struct record *record, struct messages *findings)
{
    sqlite3_stmt *select = store_prepare(record, "PRAGMA main.integrity_check(20)");
    int state = -1;
    while (select && (state = store_row(record, select)) == 1) {
        const char *found = store_text(record, select, 0);
        if (found && strcmp(found, "ok") != 0)
            messages_error(findings, "the structure of '%s' is damaged: %s; put back a backup", record->path, found);
    }
    sqlite3_finalize(select);
    return state == 0;
}

static bool check_contents(struct record *record, struct messages *findings)
{
    sqlite3_stmt *select = store_prepare(record, "SELECT hash, text FROM main.content");
    int state = -1;
    while (select && (state = store_row(record, select)) == 1) {
        const char *hash = store_text(record, select, 0), *text = store_text(record, select, 1);
        char found[33] = "";
        if (text)
            hash_content(text, (size_t)sqlite3_column_bytes(select, 1), found);
        if (!hash || strcmp(found, hash) != 0)
            messages_error(findings, "the kept text %.32s in '%s' is not what it was; put back a backup",
                           hash ? hash : "", record->path);
    }
    sqlite3_finalize(select);
    return state == 0;
}

static bool check_references(struct record *record, struct messages *findings)
{
    sqlite3_stmt *select = store_prepare(record, "PRAGMA main.foreign_key_check");
    int state = -1;
    while (select && (state = store_row(record, select)) == 1)
        messages_error(findings, "row %" PRId64 " of '%s' in '%s' refers to what is not there; put back a backup",
                       (int64_t)sqlite3_column_int64(select, 1), sqlite3_column_text(select, 0), record->path);
    sqlite3_finalize(select);
    return state == 0;
}

static bool check_derived(struct record *record, struct messages *findings)
{
    int64_t differences[DERIVED_TABLES];
    if (!derive_everything(record, false, true, differences, NULL, NULL))
        return false;
    for (int i = 0; i < DERIVED_TABLES; i++)
        if (differences[i])
            messages_error(findings, "%" PRId64 " rows of '%s' in '%s' do not follow from the events; run 'ownmark "
                           "record rebuild'", differences[i], derived_table(i), record->path);
    return true;
}

bool record_check(struct record *record, struct messages *findings)
{
    size_t errors = findings->errors;
    store_start(record);
    /* One moment for all the parts: a writer may go on meanwhile. */
    bool done = store_run(record, "BEGIN") && check_structure(record, findings) &&
                check_contents(record, findings) && check_references(record, findings) && schema_matches(record) &&
                check_derived(record, findings);
    if (!done)
        store_report(record, findings, "the check found a fault in");
    store_rollback(record);
    return findings->errors == errors;
}

/* ---- Copying ------------------------------------------------------------------------------------- */

/* Copies page by page through SQLite: a plain copy could miss what still stands in the log beside the file. */
static bool copy_pages(struct record *record, const char *to)
{
    sqlite3 *copy = NULL;
    mode_t mask = umask(077);
    int code = sqlite3_open_v2(to, &copy, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE | SQLITE_OPEN_NOMUTEX, NULL);
    umask(mask);
    sqlite3_backup *backup = code == SQLITE_OK ? sqlite3_backup_init(copy, "main", record->db, "main") : NULL;
    if (backup) {
        sqlite3_backup_step(backup, -1);
        code = sqlite3_backup_finish(backup);
    } else if (copy) {
        code = sqlite3_extended_errcode(copy);
    }
    /* One file, complete in itself: no log beside it. */
    if (code == SQLITE_OK)
        code = sqlite3_exec(copy, "PRAGMA journal_mode = DELETE", NULL, NULL, NULL);
    sqlite3_close(copy);
    return code == SQLITE_OK || store_fault(record, code);
}

static bool sync_path(const char *path)
{
    struct messages ignored = MESSAGES_EMPTY;
    struct file_state state;
    int descriptor = file_open(path, SIZE_MAX, &state, &ignored);
    messages_free(&ignored);
    bool done = descriptor >= 0 && fsync(descriptor) == 0;
    if (descriptor >= 0)
        close(descriptor);
    return done;
}

static bool put_in_place(struct record *record, const char *from, const char *to, bool replace)
{
    if (!sync_path(from) ||
        renameat2(AT_FDCWD, from, AT_FDCWD, to, replace ? 0 : RENAME_NOREPLACE) != 0)
        return store_refuse(record, "'%s': %s", to, strerror(errno));
    return true;
}

bool record_backup(struct record *record, const char *to, bool replace, struct messages *messages)
{
    store_start(record);
    struct stat here, there, above;
    char *folder = path_folder_of(to);
    bool exists = stat(to, &there) == 0;
    if (exists && stat(record->path, &here) == 0 && here.st_ino == there.st_ino && here.st_dev == there.st_dev)
        store_refuse(record, "'%s' is the record itself; name another file", to);
    else if (exists && !S_ISREG(there.st_mode))
        store_refuse(record, "'%s' is not a file; name a file", to);
    else if (exists && !replace)
        store_refuse(record, "'%s' exists already; name another file, or write over it with --replace", to);
    else if (stat(folder, &above) != 0 || !S_ISDIR(above.st_mode))
        store_refuse(record, "there is no folder '%s'; make it first or name another", folder);
    free(folder);
    struct buffer fresh = BUFFER_EMPTY;
    buffer_print(&fresh, "%s.new", to);
    bool done = false;
    if (!store_faulted(record)) {
        unlink(buffer_text(&fresh));
        done = copy_pages(record, buffer_text(&fresh)) && put_in_place(record, buffer_text(&fresh), to, replace);
        if (!done)
            unlink(buffer_text(&fresh));
    }
    buffer_free(&fresh);
    return done || store_report(record, messages, "cannot make a backup of the record");
}
