/* Writing and reading rows of the log. Private to this room. */
#ifndef OWNMARK_RECORD_LOG_H
#define OWNMARK_RECORD_LOG_H

#include "record/store.h"

/* Adds one sound event with its marks; fills its sequence. Inside a transaction. */
bool log_add(struct record *record, struct event *event);

/* Columns of an event in the order log_event wants them. */
#define LOG_COLUMNS "seq, at, day, kind, sitting, script, bank, part, item, detail, text, content, pass, number"
#define LOG_MARK_COLUMNS \
    "seq, part, item, topic, objective, word, idea, difficulty, got, first, maximum, confident, no_response, skills"

/* The event in the present row, marks left out. Texts live until the next step (arena NULL) or in arena. */
bool log_event(struct record *record, sqlite3_stmt *row, struct arena *arena, struct event *event);
/* before: the mark before it, whose texts it may share; NULL: none. */
struct mark_row log_mark(struct record *record, sqlite3_stmt *row, struct arena *arena,
                         const struct mark_row *before);
/* Reads the marks of a marked question into arena. */
bool log_marks(struct record *record, struct arena *arena, struct event *event);
/* A fault when the event, with its marks, is not sound. */
bool log_validate(struct record *record, const struct event *event);

/* All rows of a bound statement over LOG_COLUMNS, with their marks, validated, in arena. */
bool log_collect(struct record *record, sqlite3_stmt *statement, struct arena *arena, struct event **events,
                 size_t *count);

/* Streams the log: every event that passes `where`, oldest first, marks included when they are wanted. */
struct log_stream {
    struct record *record;
    sqlite3_stmt *events, *marks;
    struct arena *arena;            /* of the present event */
    struct mark_row *rows;
    size_t capacity;
    int marks_state;                /* 1: the present row of marks is not used yet */
    bool validate;
};
/* `where` and `marks_where` are SQL conditions; ?1 is bound to bank when it is not NULL. validate re-checks each
 * event as it is read. */
bool log_open(struct log_stream *stream, struct record *record, const char *where, const char *marks_where,
              const char *bank, bool validate);
int log_next(struct log_stream *stream, struct event *event);  /* 1, 0 at the end, -1 fault */
void log_close(struct log_stream *stream);

#endif
