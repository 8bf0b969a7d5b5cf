#include "record/shelf.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "base/text.h"

static size_t length_of(const char *const *names)
{
    size_t count = 0;
    while (names[count])
        count++;
    return count;
}

void shelf_open(struct shelf *shelf, const struct shelf_kind *kind, struct record *record, bool complete)
{
    *shelf = (struct shelf){.kind = kind, .record = record, .complete = complete, .keys = length_of(kind->keys), .numbers = length_of(kind->numbers),
                            .texts = length_of(kind->texts), .arena = arena_new()};
}

void shelf_close(struct shelf *shelf)
{
    sqlite3_finalize(shelf->select);
    sqlite3_finalize(shelf->replace);
    sqlite3_finalize(shelf->remove);
    arena_free(shelf->arena);
    map_free(&shelf->map);
    free(shelf->rows);
    free(shelf->joined);
}

/* ---- Statements ---------------------------------------------------------------------------------- */

static void add_names(struct buffer *sql, const char *const *names, const char *after, const char *between)
{
    for (size_t i = 0; names[i]; i++)
        buffer_print(sql, "%s%s%s", i ? between : "", names[i], after);
}

static sqlite3_stmt *prepare_select(struct shelf *shelf)
{
    const struct shelf_kind *kind = shelf->kind;
    struct buffer sql = BUFFER_EMPTY;
    buffer_add(&sql, "SELECT ");
    add_names(&sql, kind->numbers, "", ", ");
    if (shelf->numbers && shelf->texts)
        buffer_add(&sql, ", ");
    add_names(&sql, kind->texts, "", ", ");
    buffer_print(&sql, " FROM %s WHERE ", kind->table);
    add_names(&sql, kind->keys, " = ?", " AND ");
    sqlite3_stmt *statement = store_prepare(shelf->record, buffer_text(&sql));
    buffer_free(&sql);
    return statement;
}

static sqlite3_stmt *prepare_replace(struct shelf *shelf)
{
    const struct shelf_kind *kind = shelf->kind;
    struct buffer sql = BUFFER_EMPTY;
    buffer_print(&sql, "REPLACE INTO %s(", kind->table);
    add_names(&sql, kind->keys, ", ", "");
    add_names(&sql, kind->numbers, ", ", "");
    add_names(&sql, kind->texts, ", ", "");
    buffer_shorten(&sql, sql.length - 2);
    buffer_add(&sql, ") VALUES(?");
    buffer_add_repeated(&sql, ", ?", shelf->keys + shelf->numbers + shelf->texts - 1);
    buffer_add(&sql, ")");
    sqlite3_stmt *statement = store_prepare(shelf->record, buffer_text(&sql));
    buffer_free(&sql);
    return statement;
}

/* By hand, because every event of a rebuild looks its script up. */
const char *shelf_number_key(char key[24], int64_t number)
{
    assert(number >= 0);
    char *at = key + 23;
    *at = '\0';
    do
        *--at = (char)('0' + number % 10);
    while (number /= 10);
    return at;
}

/* ---- Rows ---------------------------------------------------------------------------------------- */

/* Names hold no control characters (kinds.c), so the joined key is one of a kind. */
static const char *join(struct shelf *shelf, const char *const *keys)
{
    size_t length[SHELF_KEYS], needed = 0;
    for (size_t i = 0; i < shelf->keys; i++)
        needed += (length[i] = strlen(keys[i])) + 1;
    if (needed > shelf->joined_capacity) {
        shelf->joined_capacity = needed * 2;
        shelf->joined = memory_resize(shelf->joined, shelf->joined_capacity);
    }
    char *end = shelf->joined;
    for (size_t i = 0; i < shelf->keys; i++) {
        memcpy(end, keys[i], length[i]);
        end += length[i];
        *end++ = '\x1f';
    }
    end[-1] = '\0';
    return shelf->joined;
}

static void blank(const struct shelf *shelf, struct row *row)
{
    row->removed = false;
    for (size_t i = 0; i < shelf->numbers; i++)
        row->number[i] = NAN;
    for (size_t i = 0; i < shelf->texts; i++)
        row->text[i] = NULL;
}

/* One piece of memory: the row, its numbers, its texts, the joined keys and, where they are several, each key. The
 * keys are those last joined. */
static struct row *new_row(struct shelf *shelf, const char *const *keys)
{
    size_t length = strlen(shelf->joined) + 1, numbers = shelf->numbers * sizeof(double);
    size_t texts = shelf->texts * sizeof(char *), apart = shelf->keys > 1 ? length : 0;
    struct row *row = arena_get(shelf->arena, sizeof *row + numbers + texts + length + apart);
    row->number = (double *)(row + 1);
    row->text = (const char **)(row->number + shelf->numbers);
    char *at = (char *)(row->text + shelf->texts);
    row->joined = memcpy(at, shelf->joined, length);
    at += apart ? length : 0;
    for (size_t i = 0; i < shelf->keys; i++) {
        size_t size = strlen(keys[i]) + 1;
        row->key[i] = memcpy(at, keys[i], size);
        at += size;
    }
    blank(shelf, row);
    return row;
}

static void put(struct shelf *shelf, struct row *row)
{
    map_add(&shelf->map, row->joined, row);
    shelf->rows = memory_grow(shelf->rows, &shelf->capacity, shelf->count, sizeof *shelf->rows);
    shelf->rows[shelf->count++] = row;
}

static struct row *read_row(struct shelf *shelf, const char *const *keys)
{
    if (!shelf->select)
        shelf->select = prepare_select(shelf);
    if (!shelf->select)
        return NULL;
    for (size_t i = 0; i < shelf->keys; i++)
        store_bind_text(shelf->record, shelf->select, (int)i + 1, keys[i]);
    if (store_row(shelf->record, shelf->select) != 1)
        return NULL;
    struct row *row = new_row(shelf, keys);
    for (size_t i = 0; i < shelf->numbers; i++)
        row->number[i] = store_number(shelf->select, (int)i);
    for (size_t i = 0; i < shelf->texts; i++)
        row->text[i] = store_copy_text(shelf->record, shelf->select, (int)(shelf->numbers + i), shelf->arena);
    sqlite3_reset(shelf->select);
    if (store_faulted(shelf->record))
        return NULL;
    put(shelf, row);
    return row;
}

/* The last key tells rows apart most often. */
static bool has_keys(const struct shelf *shelf, const struct row *row, const char *const *keys)
{
    for (size_t i = shelf->keys; i-- > 0;)
        if (row->key[i] != keys[i] && strcmp(row->key[i], keys[i]) != 0)
            return false;
    return true;
}

/* A row is mostly asked for several times in a row. */
static struct row *look_up(struct shelf *shelf, const char *const *keys)
{
    if (shelf->recent && has_keys(shelf, shelf->recent, keys))
        return shelf->recent;
    return map_find(&shelf->map, join(shelf, keys));
}

struct row *shelf_find(struct shelf *shelf, const char *const *keys)
{
    struct row *row = look_up(shelf, keys);
    if (!row && !shelf->complete)
        row = read_row(shelf, keys);
    if (!row || row->removed)
        return NULL;
    row->fresh = false;
    return shelf->recent = row;
}

struct row *shelf_get(struct shelf *shelf, const char *const *keys)
{
    struct row *row = shelf_find(shelf, keys);
    if (row || store_faulted(shelf->record))
        return row;
    row = map_find(&shelf->map, join(shelf, keys));
    if (row)
        blank(shelf, row);
    else
        put(shelf, row = new_row(shelf, keys));
    row->fresh = true;
    return shelf->recent = row;
}

void shelf_set_text(struct shelf *shelf, struct row *row, size_t index, const char *text)
{
    const char *old = row->text[index];
    if (text && old && strcmp(text, old) == 0)
        return;
    row->text[index] = arena_copy_text(shelf->arena, text);
}

/* ---- Writing ------------------------------------------------------------------------------------- */

static bool write_row(struct shelf *shelf, const struct row *row)
{
    if (!shelf->replace)
        shelf->replace = prepare_replace(shelf);
    if (!shelf->replace)
        return false;
    int index = 1;
    for (size_t i = 0; i < shelf->keys; i++)
        store_bind_text(shelf->record, shelf->replace, index++, row->key[i]);
    for (size_t i = 0; i < shelf->numbers; i++)
        store_bind_number(shelf->record, shelf->replace, index++, row->number[i]);
    for (size_t i = 0; i < shelf->texts; i++)
        store_bind_text(shelf->record, shelf->replace, index++, row->text[i]);
    return store_done(shelf->record, shelf->replace);
}

bool shelf_save(struct shelf *shelf)
{
    for (size_t i = 0; i < shelf->count; i++) {
        if (!shelf->rows[i]->changed || shelf->rows[i]->removed)
            continue;
        if (!write_row(shelf, shelf->rows[i]))
            return false;
        shelf->rows[i]->changed = false;
    }
    return true;
}

void shelf_forget(struct shelf *shelf)
{
    map_clear(&shelf->map);
    shelf->recent = NULL;
    shelf->count = 0;
    arena_reset(shelf->arena);
}

bool shelf_remove(struct shelf *shelf, const char *first_key)
{
    for (size_t i = 0; i < shelf->count; i++)
        if (strcmp(shelf->rows[i]->key[0], first_key) == 0)
            shelf->rows[i]->removed = true;
    if (shelf->complete)
        return true;
    if (!shelf->remove) {
        struct buffer sql = BUFFER_EMPTY;
        buffer_print(&sql, "DELETE FROM %s WHERE %s = ?", shelf->kind->table, shelf->kind->keys[0]);
        shelf->remove = store_prepare(shelf->record, buffer_text(&sql));
        buffer_free(&sql);
    }
    if (!shelf->remove)
        return false;
    store_bind_text(shelf->record, shelf->remove, 1, first_key);
    return store_done(shelf->record, shelf->remove);
}

/* ---- A rebuild against the table ----------------------------------------------------------------- */

static sqlite3_stmt *prepare_scan(struct shelf *shelf)
{
    const struct shelf_kind *kind = shelf->kind;
    struct buffer sql = BUFFER_EMPTY;
    buffer_add(&sql, "SELECT ");
    add_names(&sql, kind->keys, ", ", "");
    add_names(&sql, kind->numbers, ", ", "");
    add_names(&sql, kind->texts, ", ", "");
    buffer_shorten(&sql, sql.length - 2);
    buffer_print(&sql, " FROM %s", kind->table);
    sqlite3_stmt *statement = store_prepare(shelf->record, buffer_text(&sql));
    buffer_free(&sql);
    return statement;
}

/* To the last bit: the same numbers, or NULL in both. */
static bool is_same(struct shelf *shelf, sqlite3_stmt *scan, const struct row *row)
{
    int column = (int)shelf->keys;
    for (size_t i = 0; i < shelf->numbers; i++, column++) {
        double want = row->number[i], number = store_number(scan, column);
        if (number != want && !(isnan(number) && isnan(want)))
            return false;
    }
    for (size_t i = 0; i < shelf->texts; i++, column++)
        if (!text_equal(store_text(shelf->record, scan, column), row->text[i]))
            return false;
    return true;
}

/* A key of the present row; whole numbers are written by hand, because a rebuild has many. */
static const char *scanned_key(struct shelf *shelf, sqlite3_stmt *scan, size_t index, char digits[24])
{
    int64_t whole;
    if (sqlite3_column_type(scan, (int)index) == SQLITE_INTEGER &&
        (whole = sqlite3_column_int64(scan, (int)index)) >= 0)
        return shelf_number_key(digits, whole);
    return store_text(shelf->record, scan, (int)index);
}

/* The table's order is mostly the order of arrival: the row after the one matched before is tried first. */
static struct row *match(struct shelf *shelf, sqlite3_stmt *scan, size_t *next)
{
    const char *keys[SHELF_KEYS];
    char digits[SHELF_KEYS][24];
    for (size_t i = 0; i < shelf->keys; i++)
        if (!(keys[i] = scanned_key(shelf, scan, i, digits[i])))
            return NULL;
    struct row *row = *next < shelf->count && has_keys(shelf, shelf->rows[*next], keys)
        ? shelf->rows[*next] : map_find(&shelf->map, join(shelf, keys));
    ++*next;
    return row && !row->removed ? row : NULL;
}

static bool replace_all(struct shelf *shelf)
{
    bool done = store_print_run(shelf->record, "DELETE FROM %s", shelf->kind->table);
    for (size_t i = 0; done && i < shelf->count; i++)
        done = shelf->rows[i]->removed || write_row(shelf, shelf->rows[i]);
    return done;
}

bool shelf_settle(struct shelf *shelf, bool write, int64_t *differences)
{
    sqlite3_stmt *scan = prepare_scan(shelf);
    int state = -1;
    size_t next = 0;
    *differences = 0;
    while (scan && (state = store_row(shelf->record, scan)) == 1) {
        struct row *row = match(shelf, scan, &next);
        if (row)
            row->matched = true;
        if (!row || !is_same(shelf, scan, row))
            ++*differences;
    }
    sqlite3_finalize(scan);
    for (size_t i = 0; i < shelf->count; i++)
        if (!shelf->rows[i]->matched && !shelf->rows[i]->removed)
            ++*differences;
    if (state != 0 || store_faulted(shelf->record))
        return false;
    return !write || *differences == 0 || replace_all(shelf);
}
