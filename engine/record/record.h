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
#include "bank/model.h"
#include "learner/missed.h"
#include "learner/model.h"

struct record;

enum record_access { RECORD_READ, RECORD_WRITE };

/* Opens or (for writing) creates the file with mode 0600 in a folder made 0700. path NULL: the XDG place.
 * Refused untouched: not a record (application_id, tables other than ours), a newer version, damaged, empty, not
 * a regular file, a file of another user, one with several hard links. Older versions are migrated in one
 * transaction. RECORD_READ of a file that does not exist: NULL without a message (nothing recorded yet).
 *
 * One writer at a time: RECORD_WRITE takes a lock on "PATH.lock" and is refused while another holds it, in this
 * program or another. Readers are free. */
struct record *record_open(const char *path, enum record_access access, struct messages *messages);
void record_close(struct record *record);       /* NULL is allowed */
const char *record_path(const struct record *record);

/* ---- The log ------------------------------------------------------------------------------------ */

enum event_kind {
    EVENT_COURSE_SEEN = 1,  /* bank; content: hash of the course text; text: record_course_lines */
    EVENT_SITTING_OPENED,   /* bank, text: path of the bank file; detail: what was asked for */
    EVENT_SITTING_CLOSED,   /* detail: "finished" or "left" */
    EVENT_QUESTION_OPENED,  /* item: question id; content: hash of the question text; number: variant seed (whole, < 2^53); text:
                             * the seed as a decimal where it is larger (a paper's), then number is its lowest 53 bits */
    EVENT_STAGE_ENTERED,    /* part, detail: stage name; "rating": of the last part, the sitting has no more questions. In a
                             * mock, number: seconds on its clock, and detail also "list", "rest", "away" (left), "time-over";
                             * "check": handed in */
    EVENT_STAGE_SKIPPED,    /* part, detail: stage name; "rating": item: the topic passed over */
    EVENT_TEXT_SAVED,       /* part, detail: which text ("word", "givens", "wanted", "plan", "answer", "rewrite", "draft") and
                             * how: bare, the whole of it; "+" one more line; "=" finished as it stands; text. In a mock also
                             * "come-back", of a question: "yes" or ""; "predicted", of the paper: marks or "" */
    EVENT_PREDICTED,        /* part, number: marks */
    EVENT_ANSWER_FINISHED,  /* part, number: seconds used; detail: "response" or "no-response"; text: seconds
                             * allowed as a decimal, or NULL */
    /* In the next four and in causes, a detail of "" takes an earlier decision on the item back. */
    EVENT_POINT_TICKED,     /* part, item: point id, detail: "yes" "no" "unsure", pass; routes: detail "chosen", number */
    EVENT_LIST_JUDGED,      /* part, item: list id "/item" number, detail: "right" "wrong" "neutral", number: answer, text */
    EVENT_LEVEL_CHOSEN,     /* part, item: node id "/strand" or "/cap" number, number; or node id, number: marks (best fit) */
    EVENT_QUALITY_CHOSEN,   /* part, item: node id, number: marks */
    EVENT_EVIDENCE_SHOWN,   /* part, item: point id, detail: verdict, text: the words it rests on */
    EVENT_SECOND_LOOK,      /* part, item: point id, detail: "kept" or "changed" */
    EVENT_AWARDED,          /* part, number: marks, detail: pass name, text: reasons as JSON */
    EVENT_CAUSE_GIVEN,      /* part, item: slot of its marks, detail: cause ("" takes it back), text: the cause the
                             * program proposed, if any; before or after the marking, a later one replaces it */
    EVENT_QUESTION_MARKED,  /* closes a question, once; marks: one a creditworthy slot. The learner learns from it */
    EVENT_QUESTION_LEFT,    /* skipped whole: nothing is learned */
    EVENT_TOPIC_RATED,      /* item: topic id, number: step 1 to 4 */
    EVENT_SETTING,          /* item: name, text: value (NULL takes it away); bank: NULL for all banks */
    EVENT_MODERATED,        /* script, part, item: slot of its marks, number: marks; the script must be marked */
    EVENT_NOTE_CONDENSED,   /* item: topic id, number: stage 1 to 4, text. detail: NULL the notes as they are kept, "draft"
                             * as they stand so far, "+" one more line of them, "line" a half-typed line */
    EVENT_TOPIC_EXPLAINED   /* item: topic id, number: stumbles, detail: one letter a key point (y covered, h half, n left
                             * out, - not decided yet: a later event goes on), text: seconds used as a decimal, content:
                             * hash of the key points, one a line */
};

enum pass { PASS_NONE = 0, PASS_FIRST = 1, PASS_FINAL = 2, PASS_MODERATED = 3 };

/* One creditworthy slot of a marked question (a line of the award). */
struct mark_row {
    const char *part;       /* part id */
    const char *item;       /* node id, "#2" and so on for further slots of one node */
    const char *topic, *objective, *word;   /* ids in the course; word may be NULL */
    const char *idea;       /* NULL */
    const char *skills;     /* ids with a space between; NULL: none */
    double difficulty;      /* log-odds, 0 = average */
    double got, first, maximum;             /* final and first-tick marks (NAN: no first ticks) */
    bool confident;         /* first ticked as earned, or predicted in full */
    bool no_response;
};

struct event {
    int64_t sequence;       /* given by record_append */
    moment at;              /* given by record_append when NO_MOMENT */
    day_number day;         /* the student's civil day: given by record_append when NO_DAY, so that a rebuild in
                             * another time zone finds the same days */
    enum event_kind kind;
    int64_t sitting;        /* sequence of its EVENT_SITTING_OPENED; 0 none */
    int64_t script;         /* sequence of its EVENT_QUESTION_OPENED; 0 none */
    const char *bank;       /* may be left out with a script: stored as the script's */
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

/* Appends in order, in one transaction together with what is derived from them; fills sequence, at and day.
 * Refused with a message: an event that lacks what its kind needs, text that is not UTF-8, a sitting, script or
 * content the record does not know, a script marked twice, a record that was moved, deleted or replaced since it
 * was opened. After a failed write of the file every further append is refused: open it again. */
bool record_append(struct record *record, struct event *events, size_t count, struct messages *messages);

/* What the record needs to know of a course to derive standing without reading XML, as text: one line each,
 * fields parted by tabs, each line ended by a newline, in course order:
 *     topic TAB id TAB unit id TAB share        examined leaves; the unit is the main topic (or the topic itself)
 *     objective TAB id TAB kind TAB share       kind: know, apply, analyse
 *     word TAB word
 * Shares are per cent. Appended to out. */
void record_course_lines(const struct course *course, struct buffer *out);

/* Settings the record itself reads. A day is written "2026-05-18". */
#define SETTING_EXAM_DATE "exam-date"   /* spaces the cycle of missed points */
#define SETTING_TAUGHT "taught:"        /* + topic id: when it was or will be taught */
/* And one that every command asks for before it writes anything: "yes" stands for --plain. */
#define SETTING_PLAIN "plain-output"

/* Keeps a question's or course's text under its hash (once); hash is filled. Part of no transaction. */
bool record_keep_content(struct record *record, const char *text, char hash[33], struct messages *messages);
/* The text for a hash, in arena; NULL if unknown or if the text no longer matches its hash. */
const char *record_content(struct record *record, const char *hash, struct arena *arena);

/* Events of one sitting, oldest first, in arena. */
bool record_sitting_events(struct record *record, int64_t sitting, struct arena *arena, struct event **events,
                           size_t *count, struct messages *messages);

/* The latest sitting without EVENT_SITTING_CLOSED, or 0. bank NULL: any. */
int64_t record_open_sitting(struct record *record, const char *bank);

/* The latest sitting whose opening's detail starts like this, of those open or of those closed as finished; or 0. */
enum sitting_state { SITTING_IS_OPEN, SITTING_IS_FINISHED };
int64_t record_latest_sitting(struct record *record, const char *detail, enum sitting_state state);

/* The latest EVENT_TOPIC_RATED, EVENT_NOTE_CONDENSED or EVENT_TOPIC_EXPLAINED of each topic of a bank, oldest
 * first, in arena. */
bool record_latest_events(struct record *record, const char *bank, enum event_kind kind, struct arena *arena,
                          struct event **events, size_t *count, struct messages *messages);

/* Every event of that kind and bank, of all topics, oldest first, in arena. Kinds: as record_latest_events. */
bool record_topic_events(struct record *record, const char *bank, enum event_kind kind, struct arena *arena,
                         struct event **events, size_t *count, struct messages *messages);

/* ---- Derived: read only -------------------------------------------------------------------------- */

/* Value of a setting, in arena; the bank's own first, then the general one; NULL when unset. */
const char *record_setting(struct record *record, const char *bank, const char *name, struct arena *arena);

/* When each of these topics was or will be taught, by the settings: noon UTC of that day, LEARNER_UNKNOWN when
 * unset. Learning used these dates, so a learner_course for reading should have them too. */
bool record_taught(struct record *record, const char *bank, const char *const *topic_ids, size_t count,
                   moment *taught, struct messages *messages);

/* The learner's state for a bank as of its latest events; the caller frees with learner_free. `course` gives the
 * present course, in whose order the state is laid out; entries the record does not know keep their priors. */
struct learner *record_learner(struct record *record, const char *bank, const struct learner_course *course,
                               const char *const *unit_ids, const char *const *topic_ids,
                               const char *const *objective_ids, const char *const *word_ids,
                               struct messages *messages);

struct question_history {
    const char *question;
    moment last;            /* when it was last marked or left; NO_MOMENT when neither */
    int times;              /* how often it was marked */
    uint64_t variants;      /* how many different seeds it was opened with */
    double attempted;       /* learner_point's question_last; NAN when never marked */
};
/* All questions of a bank ever opened, sorted by id (bsearch), in arena. */
bool record_question_history(struct record *record, const char *bank, struct arena *arena,
                             struct question_history **items, size_t *count, struct messages *messages);

/* Marks under one heading, the teacher's where there was moderation. By cause: maximum is the marks lost for that
 * cause and got is 0. */
struct tally {
    const char *id;
    double got, maximum;
    long attempts;          /* scripts; by cause: points */
    moment last;
    day_number first, again;    /* the first day on which such a question was marked, and the next day after it; NO_DAY */
};
enum tally_by { TALLY_TOPIC, TALLY_OBJECTIVE, TALLY_WORD, TALLY_CAUSE, TALLY_SKILL };
bool record_tallies(struct record *record, const char *bank, enum tally_by by, struct arena *arena,
                    struct tally **items, size_t *count, struct messages *messages);

/* A point counts as earned too when another question earns its idea: every point of that question with the idea, in full. */
struct missed_point {
    const char *question, *part, *item, *topic, *word, *idea, *cause;   /* idea, cause: NULL when none */
    enum missed_state state;
    day_number since, due;  /* due: as planned, may be past (missed_due(&cycle, today) never is); NO_DAY when secure */
    struct missed_cycle cycle;
    const char *content;    /* hash of the question text it was last missed in */
    double lost;            /* marks, latest time */
    int successes;          /* days since then on which it was earned and counted */
};
bool record_missed(struct record *record, const char *bank, struct arena *arena, struct missed_point **items,
                   size_t *count, struct messages *messages);

/* What a teacher's marks were compared with the student's own, over every point that has both. */
struct moderation {
    long points;            /* 0: nothing was moderated */
    double own, teacher, maximum;   /* sums of marks */
};
bool record_moderation(struct record *record, const char *bank, struct moderation *sums, struct messages *messages);

struct script_marks {       /* predicted, first, final a marked script, oldest first */
    int64_t script;
    const char *question;
    moment at;              /* when it was marked */
    double predicted;       /* sum over the parts predicted; NAN when none was */
    double predicted_final, predicted_maximum;  /* in those parts: final marks (the teacher's where given), marks on offer */
    double first, final, maximum;               /* by the student; first NAN when there were no first ticks */
    double moderated;       /* final with the teacher's marks in place; NAN when there was no moderation */
    double seconds, allowed;                    /* sums over the parts; NAN when not known */
};
bool record_script_marks(struct record *record, const char *bank, struct arena *arena,
                         struct script_marks **items, size_t *count, struct messages *messages);

/* Banks the record knows, with the path they were last opened from, latest first. */
struct known_bank { const char *id, *path; moment last; };
bool record_banks(struct record *record, struct arena *arena, struct known_bank **items, size_t *count,
                  struct messages *messages);

/* When its first event happened, the same for ever: tells records apart. NO_MOMENT while there is none. */
moment record_began(struct record *record);

/* ---- Care of the file ---------------------------------------------------------------------------- */

/* integrity_check, schema, every event re-read and re-validated, derived tables compared with a rebuild. */
bool record_check(struct record *record, struct messages *findings);
/* Empties and rebuilds everything derived, in one transaction. changed: rows that differ from before. changed and
 * progress may be NULL; progress counts events. */
bool record_rebuild(struct record *record, long *changed, void (*progress)(size_t done, size_t total, void *context),
                    void *context, struct messages *messages);
/* A copy of the whole record (mode 0600), complete or absent; refused when `to` exists unless replace. */
bool record_backup(struct record *record, const char *to, bool replace, struct messages *messages);
/* Everything as JSON (RFC 8259), one object; the student's own data in full. */
bool record_export(struct record *record, struct buffer *out, struct messages *messages);
/* Removes the record and the files beside it (-wal, -shm, -journal, .lock). path NULL: the XDG place. Refused while
 * it is in use, and for a file whose header is not that of a record. */
bool record_erase(const char *path, struct messages *messages);

#endif
