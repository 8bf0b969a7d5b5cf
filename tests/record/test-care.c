#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "folder.h"

#define AT 1767225600

static void fill(struct record *record, int scripts)
{
    int64_t sitting = begin_sitting(record, BANK, AT);
    for (int i = 0; i < scripts; i++) {
        struct mark_row mark = one_mark("a.1", "waves", "AO1", i % 2, 1);
        struct event event = marked(begin_script(record, BANK, sitting, "w01", i, AT), &mark, 1, AT + i);
        append_one(record, &event);
    }
}

Test(record, a_backup_is_a_record_of_its_own)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "record.db"), *copy = path_in(&folder, "copy.db");
    struct record *record = open_record(path);
    fill(record, 10);
    struct messages messages = MESSAGES_EMPTY;
    cr_assert(record_backup(record, copy, false, &messages), "while it is open, its log not yet in the file");
    struct stat status;
    cr_assert_eq(stat(copy, &status), 0);
    cr_assert_eq(status.st_mode & 07777, 0600);
    expect_sound(copy);
    struct buffer here = dump_table(path, "event"), there = dump_table(copy, "event");
    cr_assert_str_eq(buffer_text(&here), buffer_text(&there));
    cr_assert_not(record_backup(record, copy, false, &messages));
    expect_message(&messages, "write over it with --replace");
    fill(record, 3);
    cr_assert(record_backup(record, copy, true, &messages));
    expect_sound(copy);
    buffer_free(&there);
    there = dump_table(copy, "event");
    cr_assert(there.length > here.length);
    cr_assert_neq(access(path_in(&folder, "copy.db.new"), F_OK), 0);
    buffer_free(&here);
    buffer_free(&there);
    record_close(record);
    folder_remove(&folder);
}

Test(record, a_backup_that_cannot_be_made_leaves_nothing)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    struct messages messages = MESSAGES_EMPTY;
    cr_assert_not(record_backup(record, path_in(&folder, "record.db"), true, &messages));
    expect_message(&messages, "the record itself");
    cr_assert_not(record_backup(record, path_in(&folder, "no/where.db"), true, &messages));
    expect_message(&messages, "there is no folder");
    mkdir(path_in(&folder, "folder"), 0700);
    cr_assert_not(record_backup(record, path_in(&folder, "folder"), true, &messages));
    expect_message(&messages, "not a file");
    record_close(record);
    folder_remove(&folder);
}

Test(record, the_export_holds_everything)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    int64_t sitting = begin_sitting(record, BANK, AT);
    struct mark_row mark = one_mark("a.1", "waves", "AO1", 0.5, 2);
    mark.first = 1;
    int64_t script = begin_script(record, BANK, sitting, "w01", 5, AT);
    struct event event = marked(script, &mark, 1, AT), saved = event_blank(EVENT_TEXT_SAVED);
    saved.script = script;
    saved.part = "a";
    saved.detail = "answer";
    saved.text = "say \"waves\"\x1b[2J\n\xc2\xb2";
    saved.at = event.at;
    append_one(record, &saved);
    append_one(record, &event);
    struct buffer out = BUFFER_EMPTY;
    struct messages messages = MESSAGES_EMPTY;
    buffer_add(&out, "before ");
    cr_assert(record_export(record, &out, &messages));
    static const char *const parts[] = {
        "before {\"format\":2,\"events\":[{\"sequence\":1,",
        "\"kind\":\"course-seen\"",
        "\"at\":\"2026-01-01T00:00:00Z\"",
        "\"text\":\"say \\\"waves\\\"\\u001b[2J\\n\xc2\xb2\"",
        ("\"marks\":[{\"part\":\"a\",\"item\":\"a.1\",\"topic\":\"waves\",\"objective\":\"AO1\",\"word\":\"explain\","
         "\"difficulty\":0,\"got\":0.5,\"first\":1,\"maximum\":2,\"confident\":false,\"noResponse\":false}]"),
        "\"contents\":[{\"hash\":\"",
        "<question id='w01'/>",
    };
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
        cr_assert(strstr(buffer_text(&out), parts[i]), "no %s in %s", parts[i], buffer_text(&out));
    cr_assert_eq(out.text[out.length - 1], '}');
    buffer_free(&out);
    record_close(record);
    folder_remove(&folder);
}

Test(record, erasing)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "record.db");
    struct messages messages = MESSAGES_EMPTY;
    cr_assert_not(record_erase(path, &messages));
    expect_message(&messages, "there is none");
    struct record *record = open_record(path);
    fill(record, 2);
    record_close(record);
    cr_assert(record_erase(path, &messages));
    cr_assert_eq(rmdir(folder.path), 0, "nothing is left in the folder");
}

static void check_not_erased(const char *path, const char *content, size_t length)
{
    struct messages messages = MESSAGES_EMPTY;
    struct stat status;
    FILE *file = fopen(path, "w");
    cr_assert(file && fwrite(content, 1, length, file) == length && fclose(file) == 0);
    cr_assert_not(record_erase(path, &messages));
    expect_message(&messages, "is not a record of ownmark");
    cr_assert(stat(path, &status) == 0 && (size_t)status.st_size == length);
    cr_assert_eq(unlink(path), 0);
}

/* Offset 68 of the header is where SQLite keeps the application id (SQLite file format, section 1.3). */
Test(record, erasing_spares_what_is_no_record)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "essay.txt");
    struct messages messages = MESSAGES_EMPTY;
    char database[100] = "SQLite format 3";
    check_not_erased(path, "My essay.\n", 10);
    check_not_erased(path, database, sizeof database);
    memcpy(database + 68, "Ownm", 4);
    database[0] = 's';
    check_not_erased(path, database, sizeof database);
    cr_assert_eq(rmdir(folder.path), 0, "no lock is left in the folder");
    folder = folder_new();
    path = path_in(&folder, "record.db");
    database[0] = 'S';
    FILE *file = fopen(path, "w");
    cr_assert(file && fwrite(database, 1, sizeof database, file) == sizeof database && fclose(file) == 0);
    cr_assert(record_erase(path, &messages), "a damaged record can be erased");
    cr_assert_eq(rmdir(folder.path), 0);
}

static void remember(size_t done, size_t total, void *context)
{
    size_t *seen = context;
    cr_assert(done <= total);
    seen[0]++;
    seen[1] = done == total;
}

Test(record, a_rebuild_tells_how_far_it_is)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    struct messages messages = MESSAGES_EMPTY;
    size_t seen[2] = {0, 0};
    cr_assert(record_rebuild(record, NULL, remember, seen, &messages), "an empty record too");
    fill(record, 5);
    cr_assert(record_rebuild(record, NULL, remember, seen, &messages));
    cr_assert(seen[0] >= 2 && seen[1] == 1);
    record_close(record);
    folder_remove(&folder);
}

Test(record, the_check_names_broken_references)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "record.db");
    struct record *record = open_record(path);
    fill(record, 2);
    record_close(record);
    run_sql(path, "DELETE FROM mark; DELETE FROM content");
    struct messages messages = MESSAGES_EMPTY;
    record = open_record(path);
    cr_assert_not(record_check(record, &messages));
    expect_message(&messages, "refers to what is not there");
    record_close(record);
    folder_remove(&folder);
}
