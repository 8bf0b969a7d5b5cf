/* The student's record: an append-only log of events in SQLite and the tables derived from it. The only room
 * that knows SQL.
 *
 * Every function that can fail returns false (or NULL) with a message; the file is then as it was before the
 * call. An append is durable when it returns: WAL with synchronous FULL, one fdatasync. */
#ifndef OWNMARK_RECORD_RECORD_H
#define OWNMARK_RECORD_RECORD_H

#include <stdbool.h>
#include <stdint.h>
#include "base/arena.h"
#include "base/dates.h"
#include "base/message.h"
#include "learner/model.h"

struct record;

enum record_access { RECORD_READ, RECORD_WRITE };

/* Opens or (for writing) creates the file with mode 0600 in a folder made 0700. path NULL: the XDG place.
 * Refused untouched: not a record (application_id), a newer version, damaged (quick_check), not a regular file.
 * Older versions are migrated in one transaction. RECORD_READ of a file that does not exist: NULL without a
 * message (nothing recorded yet). */
struct record *record_open(const char *path, enum record_access access, struct messages *messages);
void record_close(struct record *record);       /* NULL is allowed */
const char *record_path(const struct record *record);

/* ---- The log ------------------------------------------------------------------------------------ */

enum event_kind {
    EVENT_COURSE_SEEN = 1,  /* bank; content: hash of the course text */
    EVENT_SITTING_OPENED,   /* bank, text: path of the bank file; detail: what was asked for, as JSON */
    EVENT_SITTING_CLOSED,   /* detail: "finished" or "left" */
    EVENT_QUESTION_OPENED,  /* item: question id; content: hash of the question text; number: variant seed (whole, < 2^53) */
    EVENT_STAGE_ENTERED,    /* part, detail: stage name */
    EVENT_STAGE_SKIPPED,    /* part, detail: stage name */
    EVENT_TEXT_SAVED,       /* part, detail: which text ("word", "givens", "wanted", "plan", "answer", "rewrite"); text: the whole of it */
    EVENT_PREDICTED,        /* part, number: marks */
    EVENT_ANSWER_FINISHED,  /* part, number: seconds used; detail: "response" or "no-response" */
    EVENT_POINT_TICKED,     /* part, item: point id, detail: "yes" "no" "unsure", pass */
    EVENT_LIST_JUDGED,      /* part, item: list node id, detail: one letter an item written, r w n, text: the items */
    EVENT_LEVEL_CHOSEN,     /* part, item: node id "/" strand number, number: level; or item: node id, number: marks (override) */
    EVENT_QUALITY_CHOSEN,   /* part, item: node id, number: marks */
    EVENT_EVIDENCE_SHOWN,   /* part, item: point id, detail: verdict, text: the words it rests on */
    EVENT_SECOND_LOOK,      /* part, item: point id, detail: "kept" or "changed" */
    EVENT_AWARDED,          /* part, number: marks, detail: pass name, text: reasons as JSON */
    EVENT_CAUSE_GIVEN,      /* part, item: point id, detail: cause, text: the cause the program proposed, if any */
    EVENT_QUESTION_MARKED,  /* closes a question; marks: one a creditworthy slot. The learner learns from it */
    EVENT_QUESTION_LEFT,    /* skipped whole: nothing is learned */
    EVENT_TOPIC_RATED,      /* item: topic id, number: step 1 to 4 */
    EVENT_SETTING,          /* item: name, text: value (NULL takes it away); bank: NULL for all banks */
    EVENT_MODERATED,        /* script, part, item: slot, number: marks */
    EVENT_NOTE_CONDENSED,   /* item: topic id, number: stage 1 to 4, text */
    EVENT_TOPIC_EXPLAINED   /* item: topic id, number: stumbles, detail: points covered, one letter each */
};

enum pass { PASS_NONE = 0, PASS_FIRST = 1, PASS_FINAL = 2, PASS_MODERATED = 3 };

/* One creditworthy slot of a marked question (a line of the award). */
struct mark_row {
    const char *part;       /* part id */
    const char *item;       /* node id */
    const char *topic, *objective, *word;   /* ids in the course */
    const char *idea;       /* NULL */
    double difficulty;      /* log-odds, 0 = average */
    double got, first, maximum;             /* final and first-tick marks */
    bool confident;         /* first ticked as earned, or predicted in full */
    bool no_response;
};

struct event {
    int64_t sequence;       /* given by record_append */
    moment at;              /* given by record_append when NO_MOMENT */
    enum event_kind kind;
    int64_t sitting;        /* sequence of its EVENT_SITTING_OPENED; 0 none */
    int64_t script;         /* sequence of its EVENT_QUESTION_OPENED; 0 none */
    const char *bank;
    const char *part;
    const char *item;
    const char *detail;
    const char *text;
    const char *content;    /* 32 hex digits */
    enum pass pass;
    double number;          /* NAN: none */
    const struct mark_row *marks;
    size_t mark_count;
};

struct event event_blank(enum event_kind kind);

/* Appends in order, in one transaction together with what is derived from them; fills sequence and at. */
bool record_append(struct record *record, struct event *events, size_t count, struct messages *messages);

/* Keeps a question's or course's text under its hash (once); hash is filled. Part of no transaction. */
bool record_keep_content(struct record *record, const char *text, char hash[33], struct messages *messages);
/* The text for a hash, in arena; NULL if unknown. */
const char *record_content(struct record *record, const char *hash, struct arena *arena);

/* Events of one sitting, oldest first, in arena. */
bool record_sitting_events(struct record *record, int64_t sitting, struct arena *arena, struct event **events,
                           size_t *count, struct messages *messages);

/* The latest sitting without EVENT_SITTING_CLOSED, or 0. bank NULL: any. */
int64_t record_open_sitting(struct record *record, const char *bank);

/* ---- Derived: read only -------------------------------------------------------------------------- */

/* Value of a setting, in arena; the bank's own first, then the general one; NULL when unset. */
const char *record_setting(struct record *record, const char *bank, const char *name, struct arena *arena);

/* The learner's state for a bank as of its latest events; the caller frees with learner_free. `course` gives the
 * present course, in whose order the state is laid out; entries the record does not know keep their priors. */
struct learner *record_learner(struct record *record, const char *bank, const struct learner_course *course,
                               const char *const *unit_ids, const char *const *topic_ids,
                               const char *const *objective_ids, const char *const *word_ids,
                               struct messages *messages);

struct question_history {
    const char *question;
    moment last;            /* when it was last marked or left */
    int times;
    uint64_t variants;      /* how many different seeds */
};
/* All questions of a bank ever opened, sorted by id (bsearch), in arena. */
bool record_question_history(struct record *record, const char *bank, struct arena *arena,
                             struct question_history **items, size_t *count, struct messages *messages);

struct tally {              /* marks under one heading */
    const char *id;
    double got, maximum;
    long attempts;          /* scripts */
    moment last;
};
enum tally_by { TALLY_TOPIC, TALLY_OBJECTIVE, TALLY_WORD, TALLY_CAUSE };
bool record_tallies(struct record *record, const char *bank, enum tally_by by, struct arena *arena,
                    struct tally **items, size_t *count, struct messages *messages);

enum missed_state { MISSED_OPEN, MISSED_RECOVERING, MISSED_SECURE };
struct missed_point {
    const char *question, *part, *item, *topic, *word, *idea, *cause;   /* idea, cause: NULL when none */
    enum missed_state state;
    day_number since, due;
    const char *content;    /* hash of the question text it was missed in */
    double lost;            /* marks, latest time */
    int successes;
};
bool record_missed(struct record *record, const char *bank, struct arena *arena, struct missed_point **items,
                   size_t *count, struct messages *messages);

struct script_marks {       /* predicted, first, final a script, oldest first */
    int64_t script;
    moment at;
    double predicted;       /* NAN when not predicted */
    double first, final, maximum;
    double seconds, allowed;
};
bool record_script_marks(struct record *record, const char *bank, struct arena *arena,
                         struct script_marks **items, size_t *count, struct messages *messages);

/* Banks the record knows, with the path they were last opened from, latest first. */
struct known_bank { const char *id, *path; moment last; };
bool record_banks(struct record *record, struct arena *arena, struct known_bank **items, size_t *count,
                  struct messages *messages);

/* ---- Care of the file ---------------------------------------------------------------------------- */

/* integrity_check, schema, every event re-read and re-validated, derived tables compared with a rebuild. */
bool record_check(struct record *record, struct messages *findings);
/* Empties and rebuilds everything derived, in one transaction. changed: rows that differ from before. */
bool record_rebuild(struct record *record, long *changed, void (*progress)(size_t done, size_t total, void *context),
                    void *context, struct messages *messages);
bool record_backup(struct record *record, const char *to, bool replace, struct messages *messages);
/* Everything as JSON (RFC 8259), one object; the student's own data in full. */
bool record_export(struct record *record, struct buffer *out, struct messages *messages);
/* Removes the record and the files beside it (-wal, -shm). */
bool record_erase(const char *path, struct messages *messages);

#endif
