/* Everything in the record as JSON. */
#include "base/json.h"
#include "record/kinds.h"
#include "record/log.h"

enum { EXPORT_FORMAT = 2 };    /* of what is written here; the tables have a version of their own */

static void optional_text(struct json *json, const char *name, const char *text)
{
    if (text)
        json_text(json, name, text);
}

static void write_mark(struct json *json, const struct mark_row *mark)
{
    json_object(json, NULL);
    json_text(json, "part", mark->part);
    json_text(json, "item", mark->item);
    json_text(json, "topic", mark->topic);
    json_text(json, "objective", mark->objective);
    optional_text(json, "word", mark->word);
    optional_text(json, "idea", mark->idea);
    optional_text(json, "skills", mark->skills);
    json_number(json, "difficulty", mark->difficulty);
    json_number(json, "got", mark->got);
    json_number(json, "first", mark->first);
    json_number(json, "maximum", mark->maximum);
    json_truth(json, "confident", mark->confident);
    json_truth(json, "noResponse", mark->no_response);
    json_close_object(json);
}

static void write_event(struct json *json, const struct event *event)
{
    struct buffer when = BUFFER_EMPTY;
    add_iso(&when, event->at);
    json_object(json, NULL);
    json_whole(json, "sequence", event->sequence);
    json_text(json, "at", buffer_text(&when));
    json_text(json, "kind", event_kind_name(event->kind));
    if (event->sitting)
        json_whole(json, "sitting", event->sitting);
    if (event->script)
        json_whole(json, "script", event->script);
    optional_text(json, "bank", event->bank);
    optional_text(json, "part", event->part);
    optional_text(json, "item", event->item);
    optional_text(json, "detail", event->detail);
    optional_text(json, "text", event->text);
    optional_text(json, "content", event->content);
    if (event->pass != PASS_NONE)
        json_whole(json, "pass", event->pass);
    if (event->number == event->number)
        json_number(json, "number", event->number);
    if (event->kind == EVENT_QUESTION_MARKED) {
        json_array(json, "marks");
        for (size_t i = 0; i < event->mark_count; i++)
            write_mark(json, &event->marks[i]);
        json_close_array(json);
    }
    json_close_object(json);
    buffer_free(&when);
}

static bool write_events(struct record *record, struct json *json)
{
    struct log_stream stream;
    struct event event;
    int state = -1;
    json_array(json, "events");
    if (log_open(&stream, record, "1", "1", NULL, true))
        while ((state = log_next(&stream, &event)) == 1)
            write_event(json, &event);
    log_close(&stream);
    json_close_array(json);
    return state == 0;
}

static bool write_contents(struct record *record, struct json *json)
{
    sqlite3_stmt *select = store_prepare(record, "SELECT hash, text FROM main.content ORDER BY rowid");
    int state = -1;
    json_array(json, "contents");
    while (select && (state = store_row(record, select)) == 1) {
        json_object(json, NULL);
        json_text(json, "hash", store_text(record, select, 0));
        json_text(json, "text", store_text(record, select, 1));
        json_close_object(json);
    }
    sqlite3_finalize(select);
    json_close_array(json);
    return state == 0;
}

static bool write_everything(struct record *record, struct json *json)
{
    json_object(json, NULL);
    json_whole(json, "format", EXPORT_FORMAT);
    bool done = write_events(record, json) && write_contents(record, json);
    if (done)
        json_close_object(json);
    return done;
}

bool record_export(struct record *record, struct buffer *out, struct messages *messages)
{
    size_t before = out->length;
    struct json json;
    store_start(record);
    json_begin(&json, out);
    bool done = store_run(record, "BEGIN") && write_everything(record, &json);
    store_rollback(record);
    if (done)
        return true;
    buffer_shorten(out, before);
    return store_report(record, messages, "cannot export the record");
}
