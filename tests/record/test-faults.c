/* A disk that fails, a process that is killed, memory that runs out: nothing acknowledged is lost, nothing is
 * damaged, and what was refused can be appended again once. */
#include <signal.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "folder.h"

#define AT 1767225600

/* ---- A file system that fails on command --------------------------------------------------------- */

/* Counts every call that changes something on the disk; the fail_at-th fails, and all later ones when sticky. */
static struct { long calls, fail_at; bool sticky, hit; int code; bool no_shared_memory; } disk;

struct shim_file {
    sqlite3_file base;
    sqlite3_file *real;
};

static bool fails(void)
{
    disk.calls++;
    bool now = disk.fail_at > 0 && (disk.calls == disk.fail_at || (disk.sticky && disk.calls > disk.fail_at));
    disk.hit = disk.hit || now;
    return now;
}

static sqlite3_file *real_of(sqlite3_file *file)
{
    return ((struct shim_file *)file)->real;
}

static int shim_close(sqlite3_file *file)
{
    sqlite3_file *real = real_of(file);
    int code = real->pMethods ? real->pMethods->xClose(real) : SQLITE_OK;
    free(real);
    return code;
}

static int shim_read(sqlite3_file *f, void *out, int n, sqlite3_int64 at) { return real_of(f)->pMethods->xRead(real_of(f), out, n, at); }
static int shim_size(sqlite3_file *f, sqlite3_int64 *size) { return real_of(f)->pMethods->xFileSize(real_of(f), size); }
static int shim_lock(sqlite3_file *f, int level) { return real_of(f)->pMethods->xLock(real_of(f), level); }
static int shim_unlock(sqlite3_file *f, int level) { return real_of(f)->pMethods->xUnlock(real_of(f), level); }
static int shim_reserved(sqlite3_file *f, int *out) { return real_of(f)->pMethods->xCheckReservedLock(real_of(f), out); }
static int shim_control(sqlite3_file *f, int op, void *arg) { return real_of(f)->pMethods->xFileControl(real_of(f), op, arg); }
static int shim_sector(sqlite3_file *f) { return real_of(f)->pMethods->xSectorSize(real_of(f)); }
static int shim_traits(sqlite3_file *f) { return real_of(f)->pMethods->xDeviceCharacteristics(real_of(f)); }
static int shim_map(sqlite3_file *f, int page, int size, int extend, void volatile **out) { return real_of(f)->pMethods->xShmMap(real_of(f), page, size, extend, out); }
static int shim_shm_lock(sqlite3_file *f, int offset, int n, int flags) { return real_of(f)->pMethods->xShmLock(real_of(f), offset, n, flags); }
static void shim_barrier(sqlite3_file *f) { real_of(f)->pMethods->xShmBarrier(real_of(f)); }
static int shim_unmap(sqlite3_file *f, int remove) { return real_of(f)->pMethods->xShmUnmap(real_of(f), remove); }

static int shim_write(sqlite3_file *file, const void *bytes, int length, sqlite3_int64 at)
{
    /* A failing write may have got half-way. */
    if (fails()) {
        real_of(file)->pMethods->xWrite(real_of(file), bytes, length / 2, at);
        return disk.code;
    }
    return real_of(file)->pMethods->xWrite(real_of(file), bytes, length, at);
}

static int shim_truncate(sqlite3_file *file, sqlite3_int64 size)
{
    return fails() ? SQLITE_IOERR_TRUNCATE : real_of(file)->pMethods->xTruncate(real_of(file), size);
}

/* The kernel outlives these tests, so a sync has nothing to do; this saves most of their time. */
static int shim_sync(sqlite3_file *file, int flags)
{
    (void)file, (void)flags;
    return fails() ? SQLITE_IOERR_FSYNC : SQLITE_OK;
}

static const sqlite3_io_methods shim_methods = {
    2, shim_close, shim_read, shim_write, shim_truncate, shim_sync, shim_size, shim_lock, shim_unlock, shim_reserved,
    shim_control, shim_sector, shim_traits, shim_map, shim_shm_lock, shim_barrier, shim_unmap, NULL, NULL};
static sqlite3_io_methods methods_without_memory;

static sqlite3_vfs *usual, shim;

static int shim_open(sqlite3_vfs *vfs, const char *name, sqlite3_file *file, int flags, int *out)
{
    (void)vfs;
    struct shim_file *opened = (struct shim_file *)file;
    file->pMethods = NULL;
    if ((flags & SQLITE_OPEN_CREATE) && fails())
        return SQLITE_CANTOPEN;
    opened->real = calloc(1, (size_t)usual->szOsFile);
    int code = usual->xOpen(usual, name, opened->real, flags, out);
    if (code == SQLITE_OK)
        file->pMethods = disk.no_shared_memory ? &methods_without_memory : &shim_methods;
    else
        free(opened->real);
    return code;
}

static int shim_delete(sqlite3_vfs *vfs, const char *name, int sync)
{
    (void)vfs, (void)sync;
    return fails() ? SQLITE_IOERR_DELETE : usual->xDelete(usual, name, 0);
}

static void use_shim(void)
{
    usual = sqlite3_vfs_find(NULL);
    shim = *usual;
    shim.zName = "failing";
    shim.szOsFile = sizeof(struct shim_file);
    shim.xOpen = shim_open;
    shim.xDelete = shim_delete;
    methods_without_memory = shim_methods;
    methods_without_memory.iVersion = 1;
    cr_assert_eq(sqlite3_vfs_register(&shim, 1), SQLITE_OK);
}

static void set_disk(long fail_at, bool sticky, int code)
{
    disk.calls = 0;
    disk.hit = false;
    disk.fail_at = fail_at;
    disk.sticky = sticky;
    disk.code = code;
}

/* ---- A short stretch of work --------------------------------------------------------------------- */

enum { STEPS = 12 };

/* One step: a setting, a question with marks, … Each is one append. True when acknowledged. */
static bool step(struct record *record, int number)
{
    char value[24];
    snprintf(value, sizeof value, "step %d", number);
    struct event events[3] = {event_blank(EVENT_SETTING), event_blank(EVENT_TOPIC_RATED), event_blank(EVENT_SETTING)};
    events[0].item = "step";
    events[0].text = value;
    events[1].bank = BANK;
    events[1].item = "waves";
    events[1].number = 2;
    events[2].item = SETTING_EXAM_DATE;
    events[2].text = "2026-06-15";
    events[0].at = events[1].at = events[2].at = AT + number;
    struct messages messages = MESSAGES_EMPTY;
    bool done = record_append(record, events, 3, &messages);
    cr_assert(done == (messages.errors == 0), "a failure has a message");
    messages_free(&messages);
    return done;
}

/* Opens, does the steps, closes; marks which were acknowledged. */
static void work(const char *path, bool *acknowledged)
{
    struct messages messages = MESSAGES_EMPTY;
    struct record *record = record_open(path, RECORD_WRITE, &messages);
    cr_assert((record != NULL) == (messages.errors == 0));
    messages_free(&messages);
    for (int i = 0; record && i < STEPS; i++)
        acknowledged[i] = step(record, i);
    record_close(record);
}

static int count_text(const char *haystack, const char *needle)
{
    int count = 0;
    for (const char *at = haystack; (at = strstr(at, needle)); at++)
        count++;
    return count;
}

/* Every acknowledged step stands in the log once, none twice, and the record is sound. */
static void expect_steps(const char *path, const bool *acknowledged, const char *when)
{
    bool any = false;
    for (int i = 0; i < STEPS; i++)
        any = any || acknowledged[i];
    if (!any && access(path, F_OK) != 0)
        return;
    record_close(open_record(path)); /* recovers */
    expect_sound(path);
    struct buffer log = dump_table(path, "event");
    for (int i = 0; i < STEPS; i++) {
        char text[24];
        snprintf(text, sizeof text, "|step %d|", i);
        int found = count_text(buffer_text(&log), text);
        cr_assert(found <= 1, "%s: step %d stands there %d times", when, i, found);
        cr_assert(found == 1 || !acknowledged[i], "%s: step %d was acknowledged and is lost", when, i);
    }
    buffer_free(&log);
}

static void remove_record(const struct folder *folder, const char *path)
{
    static const char *const names[] = {"-wal", "-shm", "-journal", ".lock", ".new", ".new-journal", ""};
    (void)folder;
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        char name[300];
        snprintf(name, sizeof name, "%s%s", path, names[i]);
        unlink(name);
    }
}

/* What the template's marks add up to is there after any fault. */
static void expect_tallies(const char *path, const struct buffer *wanted, const char *when)
{
    struct buffer tallies = dump_table(path, "tally");
    cr_assert_str_eq(buffer_text(&tallies), buffer_text(wanted), "%s", when);
    buffer_free(&tallies);
}

/* Fails every call in turn, on a new record (template NULL) or a copy of one, whose tallies become those wanted (NULL: there are
 * none). Gives how many there were. */
static long fail_each(const struct folder *folder, const char *template, const struct buffer *tallies, bool sticky, int code)
{
    const char *path = path_in(folder, "record.db");
    for (long at = 1;; at++) {
        remove_record(folder, path);
        set_disk(0, false, 0);
        if (template)
            copy_file(template, path);
        bool acknowledged[STEPS] = {false};
        set_disk(at, sticky, code);
        work(path, acknowledged);
        bool hit = disk.hit;
        set_disk(0, false, 0);
        char when[64];
        snprintf(when, sizeof when, "call %ld, %s, code %d", at, sticky ? "for ever" : "once", code);
        expect_steps(path, acknowledged, when);
        if (tallies)
            expect_tallies(path, tallies, when);
        if (!hit)
            return at - 1;
    }
}

static void fail_all(const struct folder *folder, const char *template, const struct buffer *tallies)
{
    use_shim();
    for (int sticky = 0; sticky < 2; sticky++) {
        long io = fail_each(folder, template, tallies, sticky, SQLITE_IOERR_WRITE);
        long full = fail_each(folder, template, tallies, sticky, SQLITE_FULL);
        cr_assert(io > STEPS && full > STEPS, "only %ld and %ld calls failed", io, full);
    }
}

Test(record, every_disk_call_failing_on_a_new_record)
{
    struct folder folder = folder_new();
    fail_all(&folder, NULL, NULL);
    folder_remove(&folder);
}

Test(record, every_disk_call_failing_on_an_old_record)
{
    struct folder folder = folder_new();
    char template[256];
    snprintf(template, sizeof template, "%s", path_in(&folder, "template.db"));
    record_close(open_record(template));
    fail_all(&folder, template, NULL);
    folder_remove(&folder);
}

/* The tables are changed, and what follows from the log built anew, in one transaction. */
Test(record, every_disk_call_failing_while_a_record_of_version_1_becomes_a_present_one)
{
    struct folder folder = folder_new();
    char template[256];
    snprintf(template, sizeof template, "%s", path_in(&folder, "template.db"));
    const char *whole = path_in(&folder, "whole.db");
    struct buffer sql = bytes_of("tests/data/record-version-1.sql");
    run_sql(template, buffer_text(&sql));
    copy_file(template, whole);
    record_close(open_record(whole));
    struct buffer tallies = dump_table(whole, "tally");
    cr_assert_gt(tallies.length, 0);
    fail_all(&folder, template, &tallies);
    buffer_free(&tallies), buffer_free(&sql);
    folder_remove(&folder);
}

Test(record, after_a_failed_write_the_record_takes_no_more)
{
    struct folder folder = folder_new();
    use_shim();
    struct record *record = open_record(path_in(&folder, "record.db"));
    cr_assert(step(record, 0));
    set_disk(1, false, SQLITE_IOERR_WRITE);
    cr_assert_not(step(record, 1));
    set_disk(0, false, 0);
    struct event event = event_blank(EVENT_SETTING);
    event.item = "name";
    struct messages messages = MESSAGES_EMPTY;
    cr_assert_not(append(record, event, &messages));
    expect_message(&messages, "failed before");
    record_close(record);
    record = open_record(path_in(&folder, "record.db"));
    append_one(record, &event);
    record_close(record);
    folder_remove(&folder);
}

Test(record, a_full_disk_may_get_space_again)
{
    struct folder folder = folder_new();
    use_shim();
    struct record *record = open_record(path_in(&folder, "record.db"));
    cr_assert(step(record, 0));
    set_disk(1, true, SQLITE_FULL);
    struct event event = event_blank(EVENT_SETTING);
    event.item = "name";
    struct messages messages = MESSAGES_EMPTY;
    cr_assert_not(append(record, event, &messages));
    expect_message(&messages, "disk is full");
    set_disk(0, false, 0);
    append_one(record, &event);
    record_close(record);
    expect_sound(path_in(&folder, "record.db"));
    folder_remove(&folder);
}

/* As on a network file system: no shared memory, so no WAL. */
Test(record, without_shared_memory_another_journal_is_used)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "record.db");
    use_shim();
    for (int begun_with_memory = 0; begun_with_memory < 2; begun_with_memory++) {
        disk.no_shared_memory = !begun_with_memory;
        bool acknowledged[STEPS] = {false};
        work(path, acknowledged);
        disk.no_shared_memory = true;
        struct record *record = open_record(path);
        cr_assert(step(record, 100), "what WAL wrote elsewhere is gone on with here");
        cr_assert_neq(access(path_in(&folder, "record.db-wal"), F_OK), 0);
        record_close(record);
        expect_steps(path, acknowledged, "without shared memory");
        remove_record(&folder, path);
    }
    folder_remove(&folder);
}

/* ---- Killed ------------------------------------------------------------------------------------- */

/* Appends for ever and tells each acknowledged step on the pipe. */
static _Noreturn void append_until_killed(const char *path, int pipe_end)
{
    struct messages messages = MESSAGES_EMPTY;
    struct record *record = record_open(path, RECORD_WRITE, &messages);
    for (int number = 0; record; number++) {
        struct event event = event_blank(EVENT_SETTING);
        event.item = "step";
        event.at = AT;
        event.text = "x";
        if (!record_append(record, &event, 1, &messages) ||
            write(pipe_end, &event.sequence, sizeof event.sequence) != sizeof event.sequence)
            break;
    }
    _exit(1);
}

/* The sequence last acknowledged before the child was killed, which is right after `count` of them were read. */
static int64_t kill_after(const char *path, int count)
{
    int ends[2];
    cr_assert_eq(pipe(ends), 0);
    pid_t child = fork();
    if (child == 0)
        append_until_killed(path, ends[1]);
    close(ends[1]);
    int64_t sequence = 0, next;
    for (int i = 0; i < count; i++)
        cr_assert_eq(read(ends[0], &sequence, sizeof sequence), sizeof sequence);
    kill(child, SIGKILL);
    while (read(ends[0], &next, sizeof next) == sizeof next)
        sequence = next;
    close(ends[0]);
    waitpid(child, NULL, 0);
    return sequence;
}

Test(record, killed_at_any_time_nothing_acknowledged_is_lost)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "record.db");
    struct random_source random = {test_seed(41)};
    int64_t stood = 0;
    for (int round = 0; round < 12; round++) {
        int64_t acknowledged = kill_after(path, (int)random_below(&random, 12));
        struct messages messages = MESSAGES_EMPTY;
        struct record *record = record_open(path, RECORD_WRITE, &messages);
        cr_assert(record, "the lock of a killed program is no lock");
        struct event event = event_blank(EVENT_SETTING);
        event.item = "round";
        append_one(record, &event);
        cr_assert(event.sequence > acknowledged && event.sequence > stood, "%ld after %ld acknowledged",
                  (long)event.sequence, (long)acknowledged);
        cr_assert(event.sequence <= (acknowledged > stood ? acknowledged : stood) + 2, "at most one more than told");
        stood = event.sequence;
        record_close(record);
        expect_sound(path);
    }
    folder_remove(&folder);
}

/* Two programs that got past the lock, as on a file system without it: SQLite still keeps the order. */
Test(record, a_record_locked_by_another_connection_is_waited_for)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "record.db");
    struct record *record = open_record(path);
    cr_assert(step(record, 0));
    sqlite3 *other;
    cr_assert_eq(sqlite3_open(path, &other), SQLITE_OK);
    cr_assert_eq(sqlite3_exec(other, "BEGIN IMMEDIATE; INSERT INTO event(at, day, kind, pass, item) "
                              "VALUES(0, 0, 21, 0, 'x'); COMMIT", NULL, NULL, NULL), SQLITE_OK);
    struct event event = event_blank(EVENT_SETTING);
    event.item = "name";
    append_one(record, &event);
    cr_assert_eq(event.sequence, 5, "after the other's");
    sqlite3_close(other);
    record_close(record);
    folder_remove(&folder);
}

/* ---- Out of memory ------------------------------------------------------------------------------- */

static sqlite3_mem_methods usual_memory;
static struct { long calls, fail_at; bool sticky, hit; } memory;

static bool memory_fails(void)
{
    memory.calls++;
    bool now = memory.fail_at > 0 &&
               (memory.calls == memory.fail_at || (memory.sticky && memory.calls > memory.fail_at));
    memory.hit = memory.hit || now;
    return now;
}

static void *failing_get(int size)
{
    return memory_fails() ? NULL : usual_memory.xMalloc(size);
}

static void *failing_resize(void *old, int size)
{
    return memory_fails() ? NULL : usual_memory.xRealloc(old, size);
}

static void set_memory(long fail_at, bool sticky)
{
    memory.calls = 0;
    memory.hit = false;
    memory.fail_at = fail_at;
    memory.sticky = sticky;
}

static void use_failing_memory(void)
{
    sqlite3_config(SQLITE_CONFIG_GETMALLOC, &usual_memory);
    sqlite3_mem_methods methods = usual_memory;
    methods.xMalloc = failing_get;
    methods.xRealloc = failing_resize;
    cr_assert_eq(sqlite3_config(SQLITE_CONFIG_MALLOC, &methods), SQLITE_OK);
    cr_assert_eq(sqlite3_initialize(), SQLITE_OK);
}

/* Some 1,500 calls: each of the first 200, then ever wider apart. */
static void exhaust(const char *template, const char *path, const struct folder *folder, bool sticky)
{
    for (long at = 1;; at += 1 + (at > 200 ? at / 60 : 0)) {
        remove_record(folder, path);
        copy_file(template, path);
        bool acknowledged[STEPS] = {false};
        set_memory(at, sticky);
        work(path, acknowledged);
        bool hit = memory.hit;
        set_memory(0, false);
        char when[64];
        snprintf(when, sizeof when, "allocation %ld, %s", at, sticky ? "for ever" : "once");
        expect_steps(path, acknowledged, when);
        if (!hit) {
            cr_assert(at > 200, "only %ld allocations failed", at);
            return;
        }
    }
}

Test(record, running_out_of_memory_is_told_and_harmless)
{
    struct folder folder = folder_new();
    use_failing_memory();
    use_shim();
    char template[256], path[256];
    snprintf(template, sizeof template, "%s", path_in(&folder, "template.db"));
    snprintf(path, sizeof path, "%s", path_in(&folder, "record.db"));
    record_close(open_record(template));
    exhaust(template, path, &folder, false);
    exhaust(template, path, &folder, true);
    folder_remove(&folder);
}
