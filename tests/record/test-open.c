#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/hash.h"
#include "folder.h"
#include "record/schema.h"

#define AT 1767225600 /* 2026-01-01T00:00:00Z */

static void make_small(const char *path)
{
    struct record *record = open_record(path);
    int64_t sitting = begin_sitting(record, BANK, AT);
    for (int i = 0; i < 20; i++) {
        int64_t script = begin_script(record, BANK, sitting, "w01", i, AT + i);
        struct mark_row marks[] = {one_mark("a.1", "waves", "AO1", 1, 1), one_mark("a.2", "tides", "AO2", 0, 2)};
        struct event event = marked(script, marks, 2, AT + i);
        append_one(record, &event);
    }
    record_close(record);
}

static unsigned mode_of(const char *path)
{
    struct stat status;
    cr_assert_eq(stat(path, &status), 0, "%s", path);
    return status.st_mode & 07777;
}

Test(record, a_new_record_is_private_whatever_the_umask)
{
    struct folder folder = folder_new();
    umask(0);
    struct record *record = open_record(path_in(&folder, "deep/er/record.db"));
    begin_sitting(record, BANK, AT);
    cr_assert_eq(mode_of(path_in(&folder, "deep")), 0700);
    cr_assert_eq(mode_of(path_in(&folder, "deep/er")), 0700);
    const char *const names[] = {"record.db", "record.db-wal", "record.db-shm", "record.db.lock"};
    for (int i = 0; i < 4; i++) {
        char name[64];
        snprintf(name, sizeof name, "deep/er/%s", names[i]);
        cr_assert_eq(mode_of(path_in(&folder, name)), 0600, "%s has %o", name, mode_of(path_in(&folder, name)));
    }
    cr_assert_eq(umask(0), 0);
    record_close(record);
    cr_assert_neq(access(path_in(&folder, "deep/er/record.db-wal"), F_OK), 0, "a clean end leaves one file");
    folder_remove(&folder);
}

Test(record, the_settings_of_the_file)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "record.db");
    make_small(path);
    sqlite3 *db;
    sqlite3_open(path, &db);
    const struct { const char *sql, *want; } facts[] = {
        {"PRAGMA application_id", "1333227117"},    /* 0x4f776e6d */
        {"PRAGMA user_version", "3"},
        {"PRAGMA journal_mode", "wal"},
        {"SELECT count(*) FROM sqlite_schema WHERE type IN ('trigger', 'view')", "0"},
        {"SELECT count(*) FROM pragma_table_list WHERE schema = 'main' AND NOT strict AND name NOT LIKE 'sqlite%'", "0"},
    };
    for (size_t i = 0; i < sizeof facts / sizeof *facts; i++) {
        sqlite3_stmt *row;
        sqlite3_prepare_v2(db, facts[i].sql, -1, &row, NULL);
        cr_assert_eq(sqlite3_step(row), SQLITE_ROW);
        cr_assert_str_eq((const char *)sqlite3_column_text(row, 0), facts[i].want, "%s", facts[i].sql);
        sqlite3_finalize(row);
    }
    sqlite3_close(db);
    folder_remove(&folder);
}

Test(record, the_usual_place_is_the_xdg_data_folder)
{
    struct folder folder = folder_new();
    setenv("XDG_DATA_HOME", folder.path, 1);
    struct record *record = open_record(NULL);
    cr_assert_str_eq(record_path(record), path_in(&folder, "ownmark/record.db"));
    record_close(record);
    folder_remove(&folder);
}

Test(record, reading_what_is_not_there_is_no_fault)
{
    struct folder folder = folder_new();
    struct messages messages = MESSAGES_EMPTY;
    cr_assert_null(record_open(path_in(&folder, "record.db"), RECORD_READ, &messages));
    cr_assert_null(record_open(path_in(&folder, "nowhere/record.db"), RECORD_READ, &messages));
    cr_assert_eq(messages.count, 0);
    cr_assert_neq(access(path_in(&folder, "record.db"), F_OK), 0, "nothing was made");
    folder_remove(&folder);
}

Test(record, a_reader_leaves_the_bytes_alone_and_cannot_write)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "record.db");
    make_small(path);
    struct buffer before = bytes_of(path);
    struct messages messages = MESSAGES_EMPTY;
    struct record *record = record_open(path, RECORD_READ, &messages);
    cr_assert(record);
    struct event event = event_blank(EVENT_SETTING);
    event.item = "name";
    cr_assert_not(record_append(record, &event, 1, &messages));
    expect_message(&messages, "for reading only");
    char hash[33];
    cr_assert_not(record_keep_content(record, "new", hash, &messages));
    cr_assert_not(record_rebuild(record, NULL, NULL, NULL, &messages));
    messages_free(&messages);
    record_close(record);
    cr_assert(same_bytes(path, &before));
    buffer_free(&before);
    folder_remove(&folder);
}

Test(record, one_writer_at_a_time)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "record.db");
    struct record *record = open_record(path);
    expect_refused(path, RECORD_WRITE, "another ownmark is using it");
    struct messages messages = MESSAGES_EMPTY;
    struct record *reader = record_open(path, RECORD_READ, &messages);
    cr_assert(reader, "readers are free");
    begin_sitting(record, BANK, AT);
    cr_assert_eq(record_open_sitting(reader, BANK), 2, "and see what was written since");
    record_close(reader);
    begin_sitting(record, BANK, AT);
    cr_assert_not(record_erase(path, &messages));
    expect_message(&messages, "another ownmark is using it");
    record_close(record);
    record_close(open_record(path));
    cr_assert(record_erase(path, &messages));
    cr_assert_neq(rmdir(folder.path), -1, "erasing leaves nothing");
}

/* ---- Refused, and not a byte changed ------------------------------------------------------------- */

static void expect_untouched(const char *path, const char *part)
{
    struct buffer before = bytes_of(path);
    expect_refused(path, RECORD_WRITE, part);
    expect_refused(path, RECORD_READ, part);
    cr_assert(same_bytes(path, &before), "the refused file was changed");
    buffer_free(&before);
}

static void write_text(const char *path, const char *bytes, size_t length)
{
    struct messages messages = MESSAGES_EMPTY;
    cr_assert(file_write(path, bytes, length, 0600, true, &messages));
}

Test(record, what_is_not_a_record_is_refused_untouched)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "x.db");
    write_text(path, "my notes about waves and tides\n", 31);
    expect_untouched(path, "not a record");
    write_text(path, "", 0);
    expect_untouched(path, "it is empty");
    static char zeros[8192];
    write_text(path, zeros, sizeof zeros);
    expect_untouched(path, "not a record");
    unlink(path);
    run_sql(path, "CREATE TABLE other(a); INSERT INTO other VALUES(1)");
    expect_untouched(path, "another program");
    expect_refused(folder.path, RECORD_WRITE, "folder");
    const char *fifo = path_in(&folder, "fifo");
    cr_assert_eq(mkfifo(fifo, 0600), 0);
    expect_refused(fifo, RECORD_READ, "not a regular file");
    folder_remove(&folder);
}

Test(record, changed_headers_and_tables_are_refused_untouched)
{
    static const struct { const char *sql, *part; } cases[] = {
        {"PRAGMA user_version = 4", "newer version"},
        {"PRAGMA user_version = 999999", "newer version"},
        {"PRAGMA user_version = 0", "no version"},
        {"PRAGMA application_id = 1234567", "another program"},
        {"CREATE TRIGGER t AFTER INSERT ON event BEGIN DELETE FROM mark; END", "'t'"},
        {"CREATE VIEW v AS SELECT * FROM event", "'v'"},
        {"CREATE TABLE extra(a)", "'extra'"},
        {"CREATE INDEX more ON event(at)", "'more'"},
        {"DROP TABLE tally", "'tally'"},
        {"DROP TABLE bank; CREATE TABLE bank(id TEXT)", "'bank'"},
    };
    struct folder folder = folder_new();
    make_small(path_in(&folder, "good.db"));
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const char *path = path_in(&folder, "x.db");
        copy_file(path_in(&folder, "good.db"), path);
        run_sql(path, cases[i].sql);
        expect_untouched(path, cases[i].part);
    }
    folder_remove(&folder);
}

Test(record, damaged_files_are_refused_untouched)
{
    struct folder folder = folder_new();
    make_small(path_in(&folder, "good.db"));
    struct buffer good = bytes_of(path_in(&folder, "good.db"));
    const char *path = path_in(&folder, "x.db");
    write_text(path, good.text, good.length / 2 + 100);
    expect_untouched(path, "");
    write_text(path, good.text, good.length - 4096);
    expect_untouched(path, "damaged");
    write_text(path, good.text, 50);
    expect_untouched(path, "not a record");
    for (size_t page = 1; page < good.length / 4096; page++) {
        struct buffer bad = BUFFER_EMPTY;
        buffer_add_bytes(&bad, good.text, good.length);
        memset(bad.text + page * 4096, 0xff, 8);
        write_text(path, bad.text, bad.length);
        expect_untouched(path, "damaged");
        buffer_free(&bad);
    }
    buffer_free(&good);
    folder_remove(&folder);
}

Test(record, links)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "record.db"), *name = path_in(&folder, "name.db");
    make_small(path);
    cr_assert_eq(symlink("record.db", name), 0);
    struct record *record = open_record(name);
    cr_assert_str_eq(record_path(record), path, "the files beside it stand beside the real one");
    expect_refused(path, RECORD_WRITE, "another ownmark is using it");
    record_close(record);
    unlink(name);
    cr_assert_eq(symlink("gone.db", name), 0);
    expect_refused(name, RECORD_WRITE, "leads nowhere");
    expect_refused(name, RECORD_READ, "leads nowhere");
    unlink(name);
    cr_assert_eq(link(path, name), 0);
    expect_untouched(name, "hard link");
    folder_remove(&folder);
}

Test(record, a_record_others_could_read_is_made_private)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "record.db");
    make_small(path);
    chmod(path, 0666);
    record_close(open_record(path));
    cr_assert_eq(mode_of(path), 0600);
    folder_remove(&folder);
}

/* ---- Gone while in use --------------------------------------------------------------------------- */

static void expect_gone(struct record *record, const char *part)
{
    struct event event = event_blank(EVENT_SETTING);
    struct messages messages = MESSAGES_EMPTY;
    event.item = "name";
    event.text = "x";
    cr_assert_not(record_append(record, &event, 1, &messages));
    expect_message(&messages, part);
}

Test(record, a_moved_deleted_or_replaced_record_is_noticed)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "record.db"), *away = path_in(&folder, "away.db");
    struct record *record = open_record(path);
    begin_sitting(record, BANK, AT);
    rename(path, away);
    expect_gone(record, "moved, deleted or replaced");
    rename(away, path);
    struct event event = event_blank(EVENT_SETTING);
    event.item = "name";
    append_one(record, &event);
    copy_file(path, away);
    rename(away, path);
    expect_gone(record, "moved, deleted or replaced");
    unlink(path);
    expect_gone(record, "moved, deleted or replaced");
    record_close(record);
    folder_remove(&folder);
}

Test(record, a_deleted_log_beside_the_record_is_noticed)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "record.db");
    struct record *record = open_record(path);
    begin_sitting(record, BANK, AT);
    unlink(path_in(&folder, "record.db-wal"));
    expect_gone(record, "-wal");
    record_close(record);
    folder_remove(&folder);
}

/* ---- Versions ------------------------------------------------------------------------------------ */

/* tests/data/record-version-1.sql was written by the first version and must be readable for ever. */
Test(record, a_record_of_version_1_is_read)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "record.db");
    struct buffer sql = bytes_of("tests/data/record-version-1.sql");
    run_sql(path, buffer_text(&sql));
    buffer_free(&sql);
    record_close(open_record(path));
    expect_sound(path);
    struct arena *arena = arena_new();
    struct messages messages = MESSAGES_EMPTY;
    struct record *record = record_open(path, RECORD_READ, &messages);
    struct script_marks *scripts;
    size_t count;
    cr_assert(record_script_marks(record, BANK, arena, &scripts, &count, &messages));
    cr_assert_eq(count, 2);
    cr_assert_float_eq(scripts[1].final, 2, 0);
    cr_assert_float_eq(scripts[1].moderated, 1, 0);
    record_close(record);
    arena_free(arena);
    folder_remove(&folder);
}

Test(record, a_migration_happens_whole_or_not_at_all)
{
    static const struct migration steps[] = {
        {{"CREATE TABLE first(a);"}},
        {{"CREATE TABLE second(a);", "INSERT INTO first VALUES(2);"}},
        {{"CREATE TABLE third(a);", "INSERT INTO nowhere VALUES(3);"}},
    };
    struct folder folder = folder_new();
    struct record record = {.path = (char *)path_in(&folder, "x.db"), .lock = -1};
    cr_assert_eq(sqlite3_open(record.path, &record.db), SQLITE_OK);
    cr_assert(schema_migrate(&record, steps, 0, 1, NULL));
    cr_assert(schema_migrate(&record, steps, 1, 2, NULL));
    cr_assert_not(schema_migrate(&record, steps, 2, 3, NULL));
    cr_assert(store_faulted(&record));
    store_start(&record);
    int64_t value;
    cr_assert(store_whole(&record, store_statement(&record, "PRAGMA user_version"), -1, &value));
    cr_assert_eq(value, 2);
    cr_assert(store_whole(&record, store_statement(&record, "SELECT count(*) FROM sqlite_schema"), -1, &value));
    cr_assert_eq(value, 2, "nothing of the third step stayed");
    cr_assert(store_whole(&record, store_statement(&record, "SELECT a FROM first"), -1, &value));
    cr_assert_eq(value, 2);
    store_close_statements(&record);
    sqlite3_close(record.db);
    buffer_free(&record.fault);
    folder_remove(&folder);
}

/* A record as version 1 wrote it, with one marked question. */
static void make_first_version(const char *path)
{
    struct record record = {.path = (char *)path, .lock = -1};
    cr_assert_eq(sqlite3_open(path, &record.db), SQLITE_OK);
    cr_assert(schema_migrate(&record, schema_migrations, 0, 1, NULL));
    store_close_statements(&record);
    sqlite3_close(record.db);
    chmod(path, 0600);
    struct buffer sql = BUFFER_EMPTY;
    char hash[33];
    hash_content("x", 1, hash);
    buffer_print(&sql, "PRAGMA application_id = 1333227117;"
        "INSERT INTO content VALUES('%s', 'x');"
        "INSERT INTO event(seq, at, day, kind, bank, text, content, pass) VALUES(1, 1767225600, 20454, 1, 'coastal-science', '"
        COURSE_LINES "', '%s', 0);"
        "INSERT INTO event(seq, at, day, kind, bank, pass) VALUES(2, 1767225600, 20454, 2, 'coastal-science', 0);"
        "INSERT INTO event(seq, at, day, kind, sitting, bank, item, content, pass, number) VALUES(3, 1767225600, 20454, 4, 2, "
        "'coastal-science', 'w01', '%s', 0, 0);"
        "INSERT INTO event(seq, at, day, kind, sitting, script, bank, pass) VALUES(4, 1767225600, 20454, 18, 2, 3, "
        "'coastal-science', 0);"
        "INSERT INTO mark VALUES(4, 0, 'a', 'a.1', 'waves', 'AO1', 'explain', NULL, 0, 1, 1, 2, 0, 0);", hash, hash, hash);
    run_sql(path, buffer_text(&sql));
    buffer_free(&sql);
}

Test(record, a_record_of_version_1_becomes_a_present_one)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "record.db");
    make_first_version(path);
    expect_refused(path, RECORD_READ, "open it once for writing");
    struct record *record = open_record(path);
    struct arena *arena = arena_new();
    struct messages messages = MESSAGES_EMPTY;
    struct tally *items;
    size_t count;
    cr_assert(record_tallies(record, BANK, TALLY_TOPIC, arena, &items, &count, &messages));
    cr_assert_eq(count, 1);
    cr_assert(items[0].got == 1 && items[0].maximum == 2 && items[0].first == 20454 && items[0].again == NO_DAY);
    cr_assert(record_tallies(record, BANK, TALLY_SKILL, arena, &items, &count, &messages));
    cr_assert_eq(count, 0, "skills were not kept then");
    record_close(record);
    expect_sound(path);
    arena_free(arena);
    folder_remove(&folder);
}
