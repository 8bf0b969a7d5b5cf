/* Reading the log. */
#include "record/log.h"

bool record_sitting_events(struct record *record, int64_t sitting, struct arena *arena, struct event **events,
                           size_t *count, struct messages *messages)
{
    store_start(record);
    /* A sitting's events lie between its opening and its closing: no index is needed to find them. */
    sqlite3_stmt *select = store_statement(record, "SELECT " LOG_COLUMNS " FROM event WHERE seq BETWEEN ?1 AND "
        "coalesce((SELECT closed FROM sitting WHERE seq = ?1), (SELECT max(seq) FROM event)) "
        "AND (seq = ?1 OR sitting = ?1) ORDER BY seq");
    if (select)
        store_bind_whole(record, select, 1, sitting);
    if (select && log_collect(record, select, arena, events, count))
        return true;
    return store_report(record, messages, "cannot read the record");
}

moment record_began(struct record *record)
{
    store_start(record);
    int64_t at;
    return store_whole(record, store_statement(record, "SELECT at FROM event ORDER BY seq LIMIT 1"), NO_MOMENT, &at) ? at : NO_MOMENT;
}

int64_t record_open_sitting(struct record *record, const char *bank)
{
    store_start(record);
    sqlite3_stmt *select = store_statement(record, "SELECT max(seq) FROM sitting WHERE closed IS NULL AND "
                                           "(?1 IS NULL OR bank = ?1)");
    if (select)
        store_bind_text(record, select, 1, bank);
    int64_t sitting;
    return store_whole(record, select, 0, &sitting) ? sitting : 0;
}

int64_t record_latest_sitting(struct record *record, const char *detail, enum sitting_state state)
{
    store_start(record);
    sqlite3_stmt *select = store_statement(record, "SELECT max(s.seq) FROM sitting s JOIN event e ON e.seq = s.seq "
                                           "WHERE s.ending IS ?2 AND substr(e.detail, 1, length(?1)) = ?1");
    if (select) {
        store_bind_text(record, select, 1, detail);
        store_bind_text(record, select, 2, state == SITTING_IS_OPEN ? NULL : "finished");
    }
    int64_t sitting;
    return store_whole(record, select, 0, &sitting) ? sitting : 0;
}

/* The events of a bank and kind that sql selects. */
static bool collect_of_kind(struct record *record, const char *sql, const char *bank, enum event_kind kind, struct arena *arena,
                            struct event **events, size_t *count, struct messages *messages)
{
    store_start(record);
    sqlite3_stmt *select = store_statement(record, sql);
    if (select) {
        store_bind_text(record, select, 1, bank);
        store_bind_whole(record, select, 2, kind);
    }
    if (select && log_collect(record, select, arena, events, count))
        return true;
    return store_report(record, messages, "cannot read the record");
}

bool record_topic_events(struct record *record, const char *bank, enum event_kind kind, struct arena *arena,
                         struct event **events, size_t *count, struct messages *messages)
{
    return collect_of_kind(record, "SELECT " LOG_COLUMNS " FROM event WHERE kind IN (20, 23, 24) AND bank = ?1 AND kind = ?2 "
                           "ORDER BY seq", bank, kind, arena, events, count, messages);
}

bool record_latest_events(struct record *record, const char *bank, enum event_kind kind, struct arena *arena,
                          struct event **events, size_t *count, struct messages *messages)
{
    return collect_of_kind(record, "SELECT " LOG_COLUMNS " FROM event WHERE seq IN (SELECT max(seq) FROM event WHERE kind IN "
                           "(20, 23, 24) AND bank = ?1 AND kind = ?2 GROUP BY item) ORDER BY seq", bank, kind, arena, events,
                           count, messages);
}
