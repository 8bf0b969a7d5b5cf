#include "record/log.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/hash.h"
#include "base/memory.h"
#include "record/kinds.h"

struct event event_blank(enum event_kind kind)
{
    return (struct event){.at = NO_MOMENT, .day = NO_DAY, .kind = kind, .number = NAN};
}

/* ---- Writing ------------------------------------------------------------------------------------- */

static bool add_mark(struct record *record, int64_t sequence, size_t slot, const struct mark_row *mark)
{
    sqlite3_stmt *insert = store_statement(record, "INSERT INTO mark(slot, " LOG_MARK_COLUMNS ") "
                                           "VALUES(?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
    if (!insert)
        return false;
    store_bind_whole(record, insert, 1, (int64_t)slot);
    store_bind_whole(record, insert, 2, sequence);
    const char *texts[] = {mark->part, mark->item, mark->topic, mark->objective, mark->word, mark->idea};
    for (int i = 0; i < 6; i++)
        store_bind_text(record, insert, 3 + i, texts[i]);
    store_bind_number(record, insert, 9, mark->difficulty);
    store_bind_number(record, insert, 10, mark->got);
    store_bind_number(record, insert, 11, mark->first);
    store_bind_number(record, insert, 12, mark->maximum);
    store_bind_whole(record, insert, 13, mark->confident);
    store_bind_whole(record, insert, 14, mark->no_response);
    store_bind_text(record, insert, 15, mark->skills);
    return store_done(record, insert);
}

bool log_add(struct record *record, struct event *event)
{
    sqlite3_stmt *insert = store_statement(record, "INSERT INTO event(at, day, kind, sitting, script, bank, part, "
                                           "item, detail, text, content, pass, number) "
                                           "VALUES(?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
    if (!insert)
        return false;
    store_bind_whole(record, insert, 1, event->at);
    store_bind_whole(record, insert, 2, event->day);
    store_bind_whole(record, insert, 3, event->kind);
    store_bind_reference(record, insert, 4, event->sitting);
    store_bind_reference(record, insert, 5, event->script);
    const char *texts[] = {event->bank, event->part, event->item, event->detail, event->text, event->content};
    for (int i = 0; i < 6; i++)
        store_bind_text(record, insert, 6 + i, texts[i]);
    store_bind_whole(record, insert, 12, event->pass);
    store_bind_number(record, insert, 13, event->number);
    if (!store_done(record, insert))
        return false;
    event->sequence = sqlite3_last_insert_rowid(record->db);
    for (size_t i = 0; i < event->mark_count; i++)
        if (!add_mark(record, event->sequence, i, &event->marks[i]))
            return false;
    return true;
}

/* ---- Reading ------------------------------------------------------------------------------------- */

/* before: a text that is likely to be the same, which is then given instead of a copy; NULL: none. */
static const char *text_like(struct record *record, sqlite3_stmt *row, int column, struct arena *arena,
                             const char *before)
{
    size_t length;
    const char *text = store_text_length(record, row, column, &length);
    if (!text)
        return NULL;
    if (strlen(text) != length)
        store_refuse(record, "a text holds a zero byte: the file is damaged; put back a backup");
    else if (before && strcmp(text, before) == 0)
        return before;
    return arena ? arena_copy_bytes(arena, text, length) : text;
}

static const char *text_of(struct record *record, sqlite3_stmt *row, int column, struct arena *arena)
{
    return text_like(record, row, column, arena, NULL);
}

bool log_event(struct record *record, sqlite3_stmt *row, struct arena *arena, struct event *event)
{
    *event = (struct event){
        .sequence = sqlite3_column_int64(row, 0),
        .at = sqlite3_column_int64(row, 1),
        .day = sqlite3_column_int(row, 2),
        .kind = (enum event_kind)sqlite3_column_int(row, 3),
        .sitting = sqlite3_column_int64(row, 4),
        .script = sqlite3_column_int64(row, 5),
        .bank = text_of(record, row, 6, arena),
        .part = text_of(record, row, 7, arena),
        .item = text_of(record, row, 8, arena),
        .detail = text_of(record, row, 9, arena),
        .text = text_of(record, row, 10, arena),
        .content = text_of(record, row, 11, arena),
        .pass = (enum pass)sqlite3_column_int(row, 12),
        .number = store_number(row, 13),
    };
    return !store_faulted(record);
}

/* Marks of one question mostly share part, topic, objective, word and skills. */
struct mark_row log_mark(struct record *record, sqlite3_stmt *row, struct arena *arena, const struct mark_row *before)
{
    static const struct mark_row none;
    if (!before)
        before = &none;
    return (struct mark_row){
        .part = text_like(record, row, 1, arena, before->part),
        .item = text_of(record, row, 2, arena),
        .topic = text_like(record, row, 3, arena, before->topic),
        .objective = text_like(record, row, 4, arena, before->objective),
        .word = text_like(record, row, 5, arena, before->word),
        .idea = text_of(record, row, 6, arena),
        .difficulty = store_number(row, 7),
        .got = store_number(row, 8),
        .first = store_number(row, 9),
        .maximum = store_number(row, 10),
        .confident = sqlite3_column_int(row, 11) != 0,
        .no_response = sqlite3_column_int(row, 12) != 0,
        .skills = text_like(record, row, 13, arena, before->skills),
    };
}

bool log_validate(struct record *record, const struct event *event)
{
    const char *fault = event_fault(event);
    if (!fault)
        return true;
    return store_refuse(record, "event %lld is damaged: %s; put back a backup", (long long)event->sequence, fault);
}

bool log_marks(struct record *record, struct arena *arena, struct event *event)
{
    sqlite3_stmt *select = store_statement(record, "SELECT " LOG_MARK_COLUMNS " FROM mark WHERE seq = ? ORDER BY slot");
    if (!select)
        return false;
    store_bind_whole(record, select, 1, event->sequence);
    struct mark_row *rows = NULL;
    size_t count = 0, capacity = 0;
    int state;
    while ((state = store_row(record, select)) == 1) {
        rows = memory_grow(rows, &capacity, count, sizeof *rows);
        rows[count] = log_mark(record, select, arena, count ? &rows[count - 1] : NULL);
        count++;
    }
    struct mark_row *kept = arena_get_array(arena, count, sizeof *kept);
    if (count)
        memcpy(kept, rows, count * sizeof *kept);
    free(rows);
    event->marks = kept;
    event->mark_count = count;
    return state == 0 && !store_faulted(record);
}

bool log_collect(struct record *record, sqlite3_stmt *statement, struct arena *arena, struct event **events,
                 size_t *count)
{
    struct event *found = NULL;
    size_t capacity = 0;
    *count = 0;
    int state;
    while ((state = store_row(record, statement)) == 1) {
        found = memory_grow(found, &capacity, *count, sizeof *found);
        struct event *event = &found[*count];
        if (!log_event(record, statement, arena, event) ||
            (event->kind == EVENT_QUESTION_MARKED && !log_marks(record, arena, event)) ||
            !log_validate(record, event))
            break;
        ++*count;
    }
    *events = arena_get_array(arena, *count, sizeof **events);
    if (*count)
        memcpy(*events, found, *count * sizeof **events);
    free(found);
    sqlite3_reset(statement);
    return state == 0;
}

/* ---- Streaming ----------------------------------------------------------------------------------- */

static sqlite3_stmt *open_half(struct record *record, const char *columns, const char *table, const char *where,
                               const char *order, const char *bank)
{
    struct buffer sql = BUFFER_EMPTY;
    buffer_print(&sql, "SELECT %s FROM main.%s WHERE %s ORDER BY %s", columns, table, where, order);
    sqlite3_stmt *statement = store_prepare(record, buffer_text(&sql));
    buffer_free(&sql);
    if (statement && bank)
        store_bind_text(record, statement, 1, bank);
    return statement;
}

bool log_open(struct log_stream *stream, struct record *record, const char *where, const char *marks_where,
              const char *bank, bool validate)
{
    *stream = (struct log_stream){.record = record, .arena = arena_new(), .validate = validate};
    stream->events = open_half(record, LOG_COLUMNS, "event", where, "seq", bank);
    stream->marks = open_half(record, LOG_MARK_COLUMNS, "mark", marks_where, "seq, slot", NULL);
    stream->marks_state = stream->marks ? store_row(record, stream->marks) : -1;
    return stream->events && stream->marks_state >= 0;
}

/* Both halves run in the order of seq, so the marks of an event are the next ones. */
static bool attach_marks(struct log_stream *stream, struct event *event)
{
    size_t count = 0;
    while (stream->marks_state == 1 && sqlite3_column_int64(stream->marks, 0) <= event->sequence) {
        if (sqlite3_column_int64(stream->marks, 0) == event->sequence) {
            stream->rows = memory_grow(stream->rows, &stream->capacity, count, sizeof *stream->rows);
            stream->rows[count] = log_mark(stream->record, stream->marks, stream->arena,
                                           count ? &stream->rows[count - 1] : NULL);
            count++;
        }
        stream->marks_state = store_row(stream->record, stream->marks);
    }
    event->marks = stream->rows;
    event->mark_count = count;
    return stream->marks_state >= 0;
}

int log_next(struct log_stream *stream, struct event *event)
{
    int state = store_row(stream->record, stream->events);
    if (state != 1)
        return state;
    arena_reset(stream->arena);
    if (!log_event(stream->record, stream->events, NULL, event))
        return -1;
    if (event->kind == EVENT_QUESTION_MARKED && !attach_marks(stream, event))
        return -1;
    if (stream->validate && !log_validate(stream->record, event))
        return -1;
    return store_faulted(stream->record) ? -1 : 1;
}

void log_close(struct log_stream *stream)
{
    sqlite3_finalize(stream->events);
    sqlite3_finalize(stream->marks);
    arena_free(stream->arena);
    free(stream->rows);
}
