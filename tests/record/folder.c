#include "folder.h"

#include <ftw.h>
#include <math.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

struct folder folder_new(void)
{
    struct folder folder;
    const char *temporary = getenv("TMPDIR");
    snprintf(folder.path, sizeof folder.path, "%.40s/ownmark-XXXXXX", temporary ? temporary : "/tmp");
    cr_assert(mkdtemp(folder.path));
    return folder;
}

static int remove_one(const char *path, const struct stat *status, int kind, struct FTW *walk)
{
    (void)status, (void)kind, (void)walk;
    return remove(path);
}

void folder_remove(const struct folder *folder)
{
    nftw(folder->path, remove_one, 16, FTW_DEPTH | FTW_PHYS);
}

const char *path_in(const struct folder *folder, const char *name)
{
    static char paths[8][256];
    static unsigned next;
    char *path = paths[next++ % 8];
    snprintf(path, sizeof paths[0], "%s/%s", folder->path, name);
    return path;
}

uint64_t test_seed(uint64_t usual)
{
    const char *given = getenv("OWNMARK_SEED");
    return given ? strtoull(given, NULL, 10) : usual;
}

static const char *words(struct messages *messages)
{
    static char text[2000];
    struct buffer out = BUFFER_EMPTY;
    messages_render(messages, 0, &out);
    snprintf(text, sizeof text, "%s", buffer_text(&out));
    buffer_free(&out);
    return text;
}

struct record *open_record(const char *path)
{
    struct messages messages = MESSAGES_EMPTY;
    struct record *record = record_open(path, RECORD_WRITE, &messages);
    cr_assert(record, "%s", words(&messages));
    messages_free(&messages);
    return record;
}

void expect_message(struct messages *messages, const char *part)
{
    cr_assert(messages->errors > 0, "no message about '%s'", part);
    cr_assert(strstr(words(messages), part), "wanted '%s' in: %s", part, words(messages));
    messages_free(messages);
    *messages = MESSAGES_EMPTY;
}

void expect_refused(const char *path, enum record_access access, const char *part)
{
    struct messages messages = MESSAGES_EMPTY;
    struct record *record = record_open(path, access, &messages);
    cr_assert_null(record, "opened, wanted a refusal: %s", part);
    expect_message(&messages, part);
}

bool append(struct record *record, struct event event, struct messages *messages)
{
    return record_append(record, &event, 1, messages);
}

void append_one(struct record *record, struct event *event)
{
    struct messages messages = MESSAGES_EMPTY;
    cr_assert(record_append(record, event, 1, &messages), "%s", words(&messages));
    cr_assert(event->sequence > 0);
}

void keep(struct record *record, const char *text, char hash[33])
{
    struct messages messages = MESSAGES_EMPTY;
    cr_assert(record_keep_content(record, text, hash, &messages), "%s", words(&messages));
}

int64_t begin_sitting(struct record *record, const char *bank, moment at)
{
    char hash[33];
    keep(record, COURSE_TEXT, hash);
    struct event seen = event_blank(EVENT_COURSE_SEEN), sitting = event_blank(EVENT_SITTING_OPENED);
    seen.bank = sitting.bank = bank;
    seen.at = sitting.at = at;
    seen.content = hash;
    seen.text = COURSE_LINES;
    sitting.text = "banks/coastal-science.xml";
    append_one(record, &seen);
    append_one(record, &sitting);
    return sitting.sequence;
}

int64_t begin_script(struct record *record, const char *bank, int64_t sitting, const char *question, double seed,
                     moment at)
{
    char hash[33];
    keep(record, QUESTION_TEXT, hash);
    struct event event = event_blank(EVENT_QUESTION_OPENED);
    event.bank = bank;
    event.sitting = sitting;
    event.item = question;
    event.content = hash;
    event.number = seed;
    event.at = at;
    append_one(record, &event);
    return event.sequence;
}

struct event marked(int64_t script, const struct mark_row *marks, size_t count, moment at)
{
    struct event event = event_blank(EVENT_QUESTION_MARKED);
    event.script = script;
    event.marks = marks;
    event.mark_count = count;
    event.at = at;
    return event;
}

struct mark_row one_mark(const char *item, const char *topic, const char *objective, double got, double maximum)
{
    return (struct mark_row){.part = "a", .item = item, .topic = topic, .objective = objective, .word = "explain",
                             .got = got, .first = got, .maximum = maximum};
}

struct buffer bytes_of(const char *path)
{
    struct buffer out = BUFFER_EMPTY;
    struct messages messages = MESSAGES_EMPTY;
    cr_assert(file_read(path, 1 << 30, &out, &messages));
    return out;
}

bool same_bytes(const char *path, const struct buffer *before)
{
    struct buffer now = bytes_of(path);
    bool same = now.length == before->length && memcmp(buffer_text(&now), buffer_text(before), now.length) == 0;
    buffer_free(&now);
    return same;
}

static void dump_value(sqlite3_stmt *row, int column, struct buffer *out)
{
    if (sqlite3_column_type(row, column) == SQLITE_FLOAT)
        buffer_print(out, "%a|", sqlite3_column_double(row, column));
    else if (sqlite3_column_type(row, column) == SQLITE_NULL)
        buffer_add(out, "NULL|");
    else
        buffer_print(out, "%s|", (const char *)sqlite3_column_text(row, column));
}

static sqlite3 *open_raw(const char *path)
{
    sqlite3 *db;
    cr_assert_eq(sqlite3_open(path, &db), SQLITE_OK);
    return db;
}

struct buffer dump_table(const char *path, const char *table)
{
    struct buffer out = BUFFER_EMPTY;
    sqlite3 *db = open_raw(path);
    char sql[100];
    snprintf(sql, sizeof sql, "SELECT * FROM %s ORDER BY 1, 2, 3, 4", table);
    sqlite3_stmt *row;
    cr_assert_eq(sqlite3_prepare_v2(db, sql, -1, &row, NULL), SQLITE_OK, "%s", sqlite3_errmsg(db));
    while (sqlite3_step(row) == SQLITE_ROW) {
        for (int i = 0; i < sqlite3_column_count(row); i++)
            dump_value(row, i, &out);
        buffer_add(&out, "\n");
    }
    sqlite3_finalize(row);
    sqlite3_close(db);
    return out;
}

struct buffer dump_derived(const char *path)
{
    static const char *const tables[] = {"sitting", "bank", "course", "setting", "script", "script_part", "cause",
        "moderated", "question", "seed", "tally", "missed", "idea", "effect", "learner"};
    struct buffer out = BUFFER_EMPTY;
    for (size_t i = 0; i < sizeof tables / sizeof *tables; i++) {
        /* ORDER BY needs four columns: every derived table has at least three, the narrow ones are padded. */
        char padded[100];
        snprintf(padded, sizeof padded, "(SELECT *, 0, 0 FROM %s)", tables[i]);
        struct buffer one = dump_table(path, padded);
        buffer_print(&out, "== %s\n%s", tables[i], buffer_text(&one));
        buffer_free(&one);
    }
    return out;
}

void run_sql(const char *path, const char *sql)
{
    sqlite3 *db = open_raw(path);
    char *fault = NULL;
    cr_assert_eq(sqlite3_exec(db, sql, NULL, NULL, &fault), SQLITE_OK, "%s", fault);
    sqlite3_close(db);
}

void expect_sound(const char *path)
{
    struct messages messages = MESSAGES_EMPTY;
    struct record *record = record_open(path, RECORD_READ, &messages);
    cr_assert(record, "%s", words(&messages));
    cr_assert(record_check(record, &messages), "%s", words(&messages));
    record_close(record);
    messages_free(&messages);
}

void copy_file(const char *from, const char *to)
{
    struct buffer bytes = bytes_of(from);
    struct messages messages = MESSAGES_EMPTY;
    cr_assert(file_write(to, buffer_text(&bytes), bytes.length, 0600, true, &messages));
    buffer_free(&bytes);
}
