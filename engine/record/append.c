#include <assert.h>
#include <string.h>

#include "base/hash.h"
#include "record/derive-inner.h"
#include "record/kinds.h"
#include "record/log.h"

static bool writable(struct record *record)
{
    if (record->access != RECORD_WRITE)
        return store_refuse(record, "it was opened for reading only");
    if (record->spoilt)
        return store_refuse(record, "writing to it failed before; what was saved until then is safe: start again");
    return true;
}

static bool sound(struct record *record, struct event *events, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (events[i].at == NO_MOMENT)
            events[i].at = moment_now();
        if (events[i].day == NO_DAY)
            events[i].day = day_of(events[i].at);
        const char *fault = event_fault(&events[i]);
        const char *name = event_kind_name(events[i].kind);
        if (fault)
            return store_refuse(record, "an event (%s) is not sound: %s", name ? name : "unknown", fault);
    }
    return true;
}

/* An event of a script belongs to the script's bank; the log says so itself, so that it can be read by bank. */
static bool fill_bank(struct record *record, struct event *event)
{
    if (event->bank || !event->script)
        return true;
    char key[24];
    struct row *script = derive_find(record->derive, SCRIPTS, SHELF_KEY(shelf_number_key(key, event->script)));
    if (script)
        event->bank = script->text[SCRIPT_BANK];
    return !store_faulted(record);
}

static bool add_all(struct record *record, struct event *events, size_t count)
{
    if (!record->derive)
        record->derive = derive_new(record, false);
    for (size_t i = 0; i < count; i++) {
        struct event event = events[i]; /* a bank that is filled in does not outlive the append */
        if (!fill_bank(record, &event) || !log_add(record, &event) || !derive_apply(record->derive, &event))
            return false;
        events[i].sequence = event.sequence;
    }
    return derive_flush(record->derive);
}

bool record_append(struct record *record, struct event *events, size_t count, struct messages *messages)
{
    store_start(record);
    bool begun = writable(record) && sound(record, events, count) && store_begin(record);
    if (begun && store_in_place(record) && add_all(record, events, count) && store_commit(record))
        return true;
    if (begun)
        store_rollback(record);
    if (record->derive)
        derive_forget(record->derive);
    for (size_t i = 0; i < count; i++)
        events[i].sequence = 0;
    return store_report(record, messages, "cannot save to the record");
}

/* ---- Texts kept under their hash ----------------------------------------------------------------- */

static bool keep(struct record *record, const char *text, const char *hash)
{
    sqlite3_stmt *insert = store_statement(record, "INSERT INTO content(hash, text) VALUES(?, ?) "
                                           "ON CONFLICT(hash) DO NOTHING");
    if (!insert)
        return false;
    store_bind_text(record, insert, 1, hash);
    store_bind_text(record, insert, 2, text);
    return store_done(record, insert);
}

/* Most texts are there already: looking first saves a transaction, and with it an fdatasync. */
static bool is_kept(struct record *record, const char *hash, bool *kept)
{
    sqlite3_stmt *select = store_statement(record, "SELECT 1 FROM content WHERE hash = ?");
    if (!select)
        return false;
    store_bind_text(record, select, 1, hash);
    int64_t found;
    bool done = store_whole(record, select, 0, &found);
    *kept = found != 0;
    return done;
}

bool record_keep_content(struct record *record, const char *text, char hash[33], struct messages *messages)
{
    assert(text);
    store_start(record);
    hash_content(text, strlen(text), hash);
    bool kept = false, begun = false;
    if (writable(record) && is_kept(record, hash, &kept)) {
        if (kept)
            return true;
        begun = store_begin(record);
        if (begun && store_in_place(record) && keep(record, text, hash) && store_commit(record))
            return true;
    }
    if (begun)
        store_rollback(record);
    return store_report(record, messages, "cannot save to the record");
}

const char *record_content(struct record *record, const char *hash, struct arena *arena)
{
    store_start(record);
    sqlite3_stmt *select = store_statement(record, "SELECT text FROM content WHERE hash = ?");
    if (!select)
        return NULL;
    store_bind_text(record, select, 1, hash);
    const char *text = NULL;
    if (store_row(record, select) == 1) {
        text = store_copy_text(record, select, 0, arena);
        char found[33] = "";
        if (text)
            hash_content(text, (size_t)sqlite3_column_bytes(select, 0), found);
        if (strcmp(found, hash) != 0)
            text = NULL;
    }
    sqlite3_reset(select);
    return text;
}
