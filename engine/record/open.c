#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/files.h"
#include "base/memory.h"
#include "record/derive.h"
#include "record/schema.h"

enum {
    BUSY_MILLISECONDS = 5000,
    /* quick_check reads the whole file, some 10 ms for each MiB, and a sitting should start within some 20 ms. A MiB
     * holds about 6,000 ticks. A larger record is checked when it was not closed properly; otherwise opening sees
     * only what the header tells, for example a file cut short. 'record check' reads everything. */
    CHECKED_BYTES = 1024 * 1024
};

/* ---- Before SQLite: what kind of file is it? ----------------------------------------------------- */

static char *beside(const char *path, const char *suffix)
{
    struct buffer name = BUFFER_EMPTY;
    buffer_print(&name, "%s%s", path, suffix);
    return buffer_take(&name);
}

/* A file that is there and has bytes in it. */
static bool has_content(const char *path, const char *suffix)
{
    char *name = beside(path, suffix);
    struct stat status;
    bool found = stat(name, &status) == 0 && status.st_size > 0;
    free(name);
    return found;
}

static bool refuse_file(struct messages *messages, const char *path, const char *why)
{
    messages_error(messages, "cannot open the record '%s': %s", path, why);
    return false;
}

static bool is_acceptable(const char *path, const struct stat *status, struct messages *messages)
{
    if (!S_ISREG(status->st_mode))
        return refuse_file(messages, path, S_ISDIR(status->st_mode) ? "it is a folder; name a file"
                                                                    : "it is not a regular file; name another");
    if (status->st_uid != geteuid())
        return refuse_file(messages, path, "it belongs to another user; name a file of your own");
    if (status->st_nlink > 1)
        return refuse_file(messages, path, "the same file has a second name (a hard link), which endangers a "
                           "database; make a copy with 'cp' while nothing uses it, and use that");
    if (status->st_size == 0)
        return refuse_file(messages, path, "it is empty; put back a backup, or delete it to begin a new record");
    return true;
}

/* Resolves links, so that the files beside the record stand beside the real one. False with errno. */
static bool resolve(struct record *record, const char *path)
{
    char *real = realpath(path, NULL);
    if (!real)
        return false;
    free(record->path);
    record->path = real;
    return true;
}

/* ---- The lock ------------------------------------------------------------------------------------ */

/* A file of its own: opening and closing the database outside SQLite would drop SQLite's locks. It stays when the
 * record is closed, because deleting it would let two programs hold a lock on two different files. */
static bool take_lock(struct record *record, struct messages *messages)
{
    char *name = beside(record->path, ".lock");
    mode_t mask = umask(077);
    record->lock = open(name, O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0600);
    umask(mask);
    bool locked = record->lock >= 0 && flock(record->lock, LOCK_EX | LOCK_NB) == 0;
    if (!locked && record->lock >= 0 && errno == EWOULDBLOCK) {
        char holder[16] = "";
        ssize_t length = pread(record->lock, holder, sizeof holder - 1, 0);
        messages_error(messages, "cannot open the record '%s' for writing: another ownmark is using it (process "
                       "%.*s); end that one first", record->path, (int)(length > 0 ? length : 0), holder);
    } else if (!locked) {
        messages_error(messages, "cannot lock the record: '%s': %s; use a folder you may write to, on a local disk",
                       name, strerror(errno));
    }
    free(name);
    if (!locked)
        return false;
    /* Only for the message above: whether it can be written does not matter. */
    if (ftruncate(record->lock, 0) == 0)
        dprintf(record->lock, "%ld", (long)getpid());
    return true;
}

/* ---- Connections --------------------------------------------------------------------------------- */

static bool configure(struct record *record)
{
    sqlite3_db_config(record->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
    sqlite3_db_config(record->db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL);
    sqlite3_db_config(record->db, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, NULL);
    sqlite3_db_config(record->db, SQLITE_DBCONFIG_ENABLE_VIEW, 0, NULL);
    sqlite3_db_config(record->db, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, NULL);
    sqlite3_extended_result_codes(record->db, 1);
    sqlite3_busy_timeout(record->db, BUSY_MILLISECONDS);
    return store_run(record, "PRAGMA temp_store = MEMORY; PRAGMA foreign_keys = ON; PRAGMA secure_delete = ON; "
                             "PRAGMA cell_size_check = ON; PRAGMA mmap_size = 0");
}

static void disconnect(struct record *record)
{
    store_close_statements(record);
    sqlite3_close(record->db);
    record->db = NULL;
}

static bool connect(struct record *record, const char *name, int flags)
{
    int code = sqlite3_open_v2(name, &record->db, flags | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_EXRESCODE, NULL);
    return code == SQLITE_OK ? configure(record) : store_fault(record, code);
}

/* The name as a URI that neither locks nor touches anything, whatever lies beside the file. */
static bool connect_untouched(struct record *record)
{
    struct buffer uri = BUFFER_EMPTY;
    buffer_add(&uri, "file:");
    for (const char *at = record->path; *at; at++)
        if (strchr("?#%", *at))
            buffer_print(&uri, "%%%02x", (unsigned)(unsigned char)*at);
        else
            buffer_add_character(&uri, *at);
    buffer_add(&uri, "?immutable=1");
    bool done = connect(record, buffer_text(&uri), SQLITE_OPEN_READONLY | SQLITE_OPEN_URI);
    buffer_free(&uri);
    return done;
}

/* ---- Is it a sound record? ----------------------------------------------------------------------- */

static bool header(struct record *record, int64_t *version)
{
    int64_t application;
    if (!store_whole(record, store_statement(record, "PRAGMA application_id"), 0, &application) ||
        !store_whole(record, store_statement(record, "PRAGMA user_version"), 0, version))
        return false;
    if (application != SCHEMA_APPLICATION)
        return store_refuse(record, "it is not a record but a file of another program; name another file");
    if (*version > (int64_t)schema_version)
        return store_refuse(record, "it was written by a newer version of ownmark (format %lld, this one knows %zu);"
                            " use that version", (long long)*version, schema_version);
    if (*version < 1)
        return store_refuse(record, "its format has no version; put back a backup");
    return true;
}

static bool quick_check(struct record *record)
{
    sqlite3_stmt *select = store_statement(record, "PRAGMA main.quick_check(1)");
    if (!select || store_row(record, select) != 1)
        return store_faulted(record) ? false : store_fault(record, SQLITE_CORRUPT);
    const char *found = store_text(record, select, 0);
    if (found && strcmp(found, "ok") != 0)
        store_refuse(record, "it is damaged (%s); put back a backup", found);
    sqlite3_reset(select);
    return !store_faulted(record);
}

/* Was the last opening ended properly, so that the file alone is the record? */
static bool is_clean(const struct record *record)
{
    return !has_content(record->path, "-wal") && !has_content(record->path, "-journal");
}

/* Looks at the file without touching it or what lies beside it. After a crash the file alone need not make sense,
 * so then only a clear sign of something foreign counts here, and the rest is seen once SQLite has recovered. */
static bool examine(struct record *record, bool clean, int64_t size)
{
    int64_t version;
    bool good = connect_untouched(record) && header(record, &version) &&
                (!clean || size > CHECKED_BYTES || quick_check(record));
    disconnect(record);
    if (!good && !clean && (record->code & 0xff) == SQLITE_CORRUPT)
        store_start(record);
    return !store_faulted(record);
}

/* ---- A new record -------------------------------------------------------------------------------- */

static bool sync_folder(const char *path)
{
    char *folder = path_folder_of(path);
    int descriptor = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    bool done = descriptor >= 0 && fsync(descriptor) == 0;
    if (descriptor >= 0)
        close(descriptor);
    free(folder);
    return done;
}

static void remove_beside(const char *path, const char *suffix)
{
    char *name = beside(path, suffix);
    unlink(name);
    free(name);
}

static bool fill(struct record *record, const char *name)
{
    mode_t mask = umask(077);
    bool done = connect(record, name, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE) &&
                store_run(record, "PRAGMA synchronous = EXTRA") &&
                store_print_run(record, "PRAGMA application_id = %d", SCHEMA_APPLICATION) &&
                schema_migrate(record, schema_migrations, 0, schema_version, NULL);
    umask(mask);
    disconnect(record);
    return done;
}

/* Made beside its place and moved there whole: a crash leaves either no record or a complete one. */
static bool create(struct record *record)
{
    char *fresh = beside(record->path, ".new");
    unlink(fresh);
    remove_beside(fresh, "-journal");
    bool done = fill(record, fresh);
    if (done && renameat2(AT_FDCWD, fresh, AT_FDCWD, record->path, RENAME_NOREPLACE) != 0 &&
        (errno != EINVAL || rename(fresh, record->path) != 0))
        done = store_refuse(record, "it cannot be created: %s", strerror(errno));
    if (done && !sync_folder(record->path))
        done = store_refuse(record, "its folder cannot be written: %s", strerror(errno));
    if (!done)
        unlink(fresh);
    free(fresh);
    return done;
}

/* ---- Opening ------------------------------------------------------------------------------------- */

/* WAL needs shared memory, which network file systems lack. A record that was in WAL mode elsewhere can still be
 * read there when one program has it for itself, and is then put into the other mode. */
static bool set_journal(struct record *record)
{
    sqlite3_stmt *set = store_statement(record, "PRAGMA main.journal_mode = WAL");
    int state = set ? store_row(record, set) : -1;
    record->wal = state == 1 && strcmp((const char *)sqlite3_column_text(set, 0), "wal") == 0;
    if (set)
        sqlite3_reset(set);
    if (record->wal)
        return store_run(record, "PRAGMA synchronous = FULL; PRAGMA journal_size_limit = 4194304");
    if (state < 0 && (record->code & 0xff) != SQLITE_CANTOPEN && (record->code & 0xff) != SQLITE_IOERR)
        return false;
    store_start(record);
    /* With DELETE, FULL can lose an acknowledged commit when the power fails: the folder is not synced. */
    return store_run(record, "PRAGMA locking_mode = EXCLUSIVE; PRAGMA main.journal_mode = DELETE; "
                             "PRAGMA locking_mode = NORMAL; PRAGMA synchronous = EXTRA");
}

/* The log stays as it is over a change of tables; what follows from it is built anew for the new ones. */
static bool derive_anew(struct record *record)
{
    int64_t unheeded[DERIVED_TABLES];
    return derive_everything(record, true, false, unheeded, NULL, NULL);
}

static bool connect_to_write(struct record *record)
{
    int64_t version;
    if (!connect(record, record->path, SQLITE_OPEN_READWRITE) || !set_journal(record) || !header(record, &version))
        return false;
    if (version < (int64_t)schema_version &&
        !schema_migrate(record, schema_migrations, (size_t)version, schema_version, derive_anew))
        return false;
    sqlite3_db_config(record->db, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 0, NULL);
    return true;
}

/* A reader leaves the log to the writer: nothing is moved into the file when it closes. Where it may not write
 * beside the file it reads the file alone, if that is complete. */
static bool connect_to_read(struct record *record, bool clean)
{
    int64_t version;
    char *folder = path_folder_of(record->path);
    bool may_write = access(record->path, W_OK) == 0 && access(folder, W_OK) == 0;
    free(folder);
    if (!may_write && clean)
        return connect_untouched(record) && header(record, &version);
    if (!connect(record, record->path, SQLITE_OPEN_READWRITE) || !header(record, &version))
        return false;
    if (version < (int64_t)schema_version)
        return store_refuse(record, "it was written by an older version of ownmark; open it once for writing, for "
                            "example with 'ownmark practise'");
    return store_run(record, "PRAGMA query_only = ON");
}

static bool open_existing(struct record *record, struct messages *messages)
{
    struct stat status;
    if (stat(record->path, &status) != 0)
        return refuse_file(messages, record->path, strerror(errno));
    if (!is_acceptable(record->path, &status, messages))
        return false;
    bool clean = is_clean(record);
    bool good = examine(record, clean, (int64_t)status.st_size);
    if (good && record->access == RECORD_WRITE && (status.st_mode & 077) && chmod(record->path, 0600) != 0)
        good = store_refuse(record, "others can read it and that cannot be changed: %s", strerror(errno));
    good = good && (record->access == RECORD_WRITE ? connect_to_write(record) : connect_to_read(record, clean)) &&
           (clean || quick_check(record)) && schema_matches(record);
    return good || store_report(record, messages, "cannot open the record");
}

/* Where the record is or is to be, links resolved. False: *missing tells whether nothing was there. */
static bool find_place(struct record *record, const char *path, bool *missing)
{
    struct stat status;
    *missing = false;
    if (resolve(record, path))
        return true;
    *missing = errno == ENOENT && lstat(path, &status) != 0;
    if (!*missing)
        return false;
    char *folder = path_folder_of(path);
    if (!resolve(record, folder)) {
        free(folder);
        return false;
    }
    free(folder);
    const char *slash = strrchr(path, '/');
    char *place = path_join(record->path, slash ? slash + 1 : path);
    free(record->path);
    record->path = place;
    return true;
}

static bool open_to_write(struct record *record, struct messages *messages)
{
    char *folder = path_folder_of(record->path);
    bool made = directory_make(folder, messages);
    free(folder);
    bool missing;
    if (!made)
        return false;
    char *wanted = memory_copy_text(record->path);
    bool placed = find_place(record, wanted, &missing);
    if (!placed)
        refuse_file(messages, wanted, missing ? "its folder is missing" : "it is a link that leads nowhere, or its "
                    "folder cannot be read; name another file");
    free(wanted);
    if (!placed || !take_lock(record, messages))
        return false;
    struct stat status;
    if (lstat(record->path, &status) != 0 && errno == ENOENT && !create(record))
        return store_report(record, messages, "cannot create the record");
    return open_existing(record, messages);
}

static bool open_to_read(struct record *record, struct messages *messages)
{
    char *wanted = memory_copy_text(record->path);
    bool missing, placed = find_place(record, wanted, &missing);
    struct stat status;
    bool there = placed && !missing && stat(record->path, &status) == 0;
    if (!placed && !missing)
        refuse_file(messages, wanted, errno == ENOENT ? "it is a link that leads nowhere" : strerror(errno));
    free(wanted);
    return there && open_existing(record, messages);
}

struct record *record_open(const char *path, enum record_access access, struct messages *messages)
{
    char *place = path ? memory_copy_text(path) : path_in_data("record.db", messages);
    if (!place)
        return NULL;
    struct record *record = memory_get_zeroed(1, sizeof *record);
    record->path = place;
    record->access = access;
    record->lock = -1;
    if (access == RECORD_WRITE ? open_to_write(record, messages) : open_to_read(record, messages))
        return record;
    record_close(record);
    return NULL;
}

void record_close(struct record *record)
{
    if (!record)
        return;
    derive_free(record->derive);
    disconnect(record);
    if (record->lock >= 0)
        close(record->lock);
    buffer_free(&record->fault);
    free(record->path);
    free(record);
}

const char *record_path(const struct record *record)
{
    return record->path;
}

/* ---- Erasing ------------------------------------------------------------------------------------- */

/* Only the header is asked: a damaged record must be erasable too. An empty file holds nothing to lose. Offsets from
 * the SQLite file format, section 1.3. */
static bool looks_like_a_record(const char *path)
{
    enum { HEADER = 72, APPLICATION_AT = 68 };
    static const char magic[16] = "SQLite format 3";
    unsigned char header[HEADER];
    int file = open(path, O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK);
    ssize_t length = file >= 0 ? pread(file, header, HEADER, 0) : -1;
    if (file >= 0)
        close(file);
    if (length != HEADER)
        return length == 0;
    const unsigned char *at = header + APPLICATION_AT;
    uint32_t application = (uint32_t)at[0] << 24 | (uint32_t)at[1] << 16 | (uint32_t)at[2] << 8 | at[3];
    return memcmp(header, magic, sizeof magic) == 0 && application == SCHEMA_APPLICATION;
}

bool record_erase(const char *path, struct messages *messages)
{
    char *place = path ? memory_copy_text(path) : path_in_data("record.db", messages);
    if (!place)
        return false;
    struct record record = {.path = place, .access = RECORD_WRITE, .lock = -1};
    bool missing, erased = false;
    char *wanted = memory_copy_text(place);
    if (!find_place(&record, wanted, &missing) || missing)
        refuse_file(messages, wanted, "there is none; nothing was erased");
    else if (!looks_like_a_record(record.path))
        messages_error(messages, "will not erase '%s': it is not a record of ownmark, or its beginning is damaged; if you "
                       "are sure, delete the file yourself", record.path);
    else if (take_lock(&record, messages)) {
        static const char *const suffixes[] = {"-wal", "-shm", "-journal", ".new", ".new-journal", ".lock"};
        erased = unlink(record.path) == 0;
        if (!erased)
            messages_error(messages, "cannot erase the record '%s': %s", record.path, strerror(errno));
        for (size_t i = 0; erased && i < sizeof suffixes / sizeof *suffixes; i++)
            remove_beside(record.path, suffixes[i]);
    }
    if (record.lock >= 0)
        close(record.lock);
    free(wanted);
    free(record.path);
    return erased;
}
