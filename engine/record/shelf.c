#include "record/shelf.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

static size_t length_of(const char *const *names)
{
    size_t count = 0;
    while (names[count])
        count++;
    return count;
}

void shelf_open(struct shelf *shelf, const struct shelf_kind *kind, struct record *record, const char *schema,
                bool empty)
{
    *shelf = (struct shelf){.kind = kind, .record = record, .schema = schema, .complete = empty,
                            .complete_after = INT64_MAX, .keys = length_of(kind->keys), .numbers = length_of(kind->numbers),
                            .texts = length_of(kind->texts), .arena = arena_new()};
}

void shelf_close(struct shelf *shelf)
{
    sqlite3_finalize(shelf->select);
    sqlite3_finalize(shelf->replace);
    arena_free(shelf->arena);
    map_free(&shelf->map);
    free(shelf->rows);
    buffer_free(&shelf->joined);
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
    buffer_print(&sql, " FROM %s.%s WHERE ", shelf->schema, kind->table);
    add_names(&sql, kind->keys, " = ?", " AND ");
    sqlite3_stmt *statement = store_prepare(shelf->record, buffer_text(&sql));
    buffer_free(&sql);
    return statement;
}

static sqlite3_stmt *prepare_replace(struct shelf *shelf)
{
    const struct shelf_kind *kind = shelf->kind;
    struct buffer sql = BUFFER_EMPTY;
    buffer_print(&sql, "REPLACE INTO %s.%s(", shelf->schema, kind->table);
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

/* ---- Rows ---------------------------------------------------------------------------------------- */

/* Names hold no control characters (kinds.c), so the joined key is one of a kind. */
static const char *join(struct shelf *shelf, const char *const *keys)
{
    buffer_clear(&shelf->joined);
    for (size_t i = 0; i < shelf->keys; i++) {
        if (i)
            buffer_add_character(&shelf->joined, '\x1f');
        buffer_add(&shelf->joined, keys[i]);
    }
    return buffer_text(&shelf->joined);
}

static struct row *new_row(struct shelf *shelf, const char *const *keys)
{
    struct row *row = arena_get(shelf->arena, sizeof *row);
    row->number = arena_get_array(shelf->arena, shelf->numbers, sizeof *row->number);
    row->text = arena_get_array(shelf->arena, shelf->texts, sizeof *row->text);
    for (size_t i = 0; i < shelf->keys; i++)
        row->key[i] = arena_copy_text(shelf->arena, keys[i]);
    for (size_t i = 0; i < shelf->numbers; i++)
        row->number[i] = NAN;
    return row;
}

static void put(struct shelf *shelf, struct row *row)
{
    map_add(&shelf->map, arena_copy_text(shelf->arena, buffer_text(&shelf->joined)), row);
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

struct row *shelf_find(struct shelf *shelf, const char *const *keys)
{
    struct row *row = map_find(&shelf->map, join(shelf, keys));
    if (!row && !shelf->complete &&
        (shelf->complete_after == INT64_MAX || strtoll(keys[0], NULL, 10) <= shelf->complete_after))
        row = read_row(shelf, keys);
    if (row)
        row->fresh = false;
    return row;
}

struct row *shelf_get(struct shelf *shelf, const char *const *keys)
{
    struct row *row = shelf_find(shelf, keys);
    if (row || store_faulted(shelf->record))
        return row;
    row = new_row(shelf, keys);
    row->fresh = true;
    put(shelf, row);
    return row;
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
        if (!shelf->rows[i]->changed)
            continue;
        if (!shelf->replace)
            shelf->replace = prepare_replace(shelf);
        if (!shelf->replace || !write_row(shelf, shelf->rows[i]))
            return false;
        shelf->rows[i]->changed = false;
    }
    return true;
}

void shelf_forget(struct shelf *shelf)
{
    map_clear(&shelf->map);
    shelf->count = 0;
    arena_reset(shelf->arena);
    shelf->complete = false;
}

bool shelf_empty(struct shelf *shelf)
{
    bool saved = shelf_save(shelf);
    shelf_forget(shelf);
    return saved;
}
