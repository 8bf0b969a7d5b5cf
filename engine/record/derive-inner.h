/* What the derive-*.c files share. */
#ifndef OWNMARK_RECORD_DERIVE_INNER_H
#define OWNMARK_RECORD_DERIVE_INNER_H

#include "record/course-lines.h"
#include "record/derive.h"
#include "record/shelf.h"

enum shelf_id {
    SITTINGS, BANKS, COURSES, SETTINGS, SCRIPTS, PARTS, CAUSES, MODERATED, QUESTIONS, SEEDS, TALLIES, MISSED, IDEAS,
    EFFECTS, LEARNERS, SHELVES
};

/* Columns, in the order of the shelf kinds in derive.c. */
enum { SITTING_OPENED, SITTING_CLOSED };
enum { SITTING_BANK, SITTING_PATH, SITTING_ENDING };
enum { BANK_LAST };
enum { BANK_PATH };
enum { COURSE_SEQ };
enum { COURSE_LINES, COURSE_CONTENT };
enum { SETTING_SEQ };
enum { SETTING_VALUE };
enum {
    SCRIPT_STATE, SCRIPT_MARKED, SCRIPT_AT, SCRIPT_PREDICTED, SCRIPT_PREDICTED_FINAL, SCRIPT_PREDICTED_MAXIMUM,
    SCRIPT_FIRST, SCRIPT_FINAL, SCRIPT_MAXIMUM, SCRIPT_MODERATED, SCRIPT_SECONDS, SCRIPT_ALLOWED
};
enum { SCRIPT_BANK, SCRIPT_QUESTION, SCRIPT_CONTENT };
enum { STATE_OPEN, STATE_MARKED, STATE_LEFT };
enum { PART_PREDICTED, PART_SECONDS, PART_ALLOWED };
enum { CAUSE_NAME };
enum { MODERATED_SEQ, MODERATED_OWN, MODERATED_TEACHER, MODERATED_MAXIMUM };
enum { QUESTION_LAST, QUESTION_TIMES, QUESTION_VARIANTS, QUESTION_ATTEMPTED };
enum { SEED_TIMES };
enum { TALLY_GOT, TALLY_MAXIMUM, TALLY_ATTEMPTS, TALLY_LAST, TALLY_FIRST, TALLY_AGAIN };
enum {
    MISSED_STATE, MISSED_SINCE, MISSED_DUE, MISSED_STEP, MISSED_LOOK, MISSED_SUCCESS, MISSED_LATER, MISSED_GAP,
    MISSED_LOSSES, MISSED_LOST
};
enum { MISSED_TOPIC, MISSED_WORD, MISSED_IDEA, MISSED_CAUSE, MISSED_CONTENT };
/* A lost point that has the idea; places count from 1 in the order of the first losses. */
enum { IDEA_QUESTION, IDEA_PART, IDEA_ITEM };
/* effect: the fields LEARNER_MEAN to LEARNER_FRESHNESS; learner: LEARNER_SEEN to LEARNER_ATTEMPTS. */

struct replay;

/* The learner of one bank while it is worked on. */
struct student {
    const char *bank;
    struct student *next;
    bool replay;                    /* moderated: learnt afresh from the log at the flush, not as events come */
    struct learner *learner;        /* NULL: not built yet, or there is no usable course */
    struct arena *arena;            /* of the course below */
    struct course_lines course;
    bool *loaded;                   /* [effects]: read from its row, if it has one */
    struct replay *replaying;       /* NULL, or where the course, the taught dates and the marks come from */
};

struct derive {
    struct record *record;
    bool whole_log;                 /* a rebuild */
    struct shelf shelves[SHELVES];
    struct student *students;
    struct arena *arena;            /* until the next flush or forget */
};

/* ---- derive.c ---- */
struct row *derive_find(struct derive *derive, enum shelf_id shelf, const char *const *keys);
struct row *derive_get(struct derive *derive, enum shelf_id shelf, const char *const *keys);
void derive_set_text(struct derive *derive, enum shelf_id shelf, struct row *row, size_t index, const char *text);
/* The script an event belongs to; NULL is a fault. */
struct row *derive_script(struct derive *derive, const struct event *event);
/* A setting's value: the bank's own, else the general one, else NULL. */
const char *derive_setting(struct derive *derive, const char *bank, const char *name);

/* ---- derive-marks.c ---- */
bool derive_marked(struct derive *derive, const struct event *event);
bool derive_moderated(struct derive *derive, const struct event *event);
bool derive_cause(struct derive *derive, const struct event *event);

/* ---- derive-missed.c ---- */
struct missed_slot {
    const char *bank, *question, *content, *cause;
    day_number day;
    day_number exam;            /* missed_exam_day of the bank */
};
/* The day of the examination as set, NO_DAY when it is not. */
day_number missed_exam_day(struct derive *derive, const char *bank);
/* One slot as marked on that day. */
bool missed_take(struct derive *derive, const struct missed_slot *slot, const struct mark_row *mark, double got,
                 bool confident);
/* The idea was earned: a success that day for every lost point of the bank that has it. */
bool missed_earn_idea(struct derive *derive, const struct missed_slot *slot, const char *idea);
bool missed_set_cause(struct derive *derive, const struct missed_slot *slot, const char *part, const char *item);
struct missed_cycle missed_cycle_from(const double *number);    /* the first columns of a missed row */

/* ---- derive-learner.c ---- */
struct student *student_of(struct derive *derive, const char *bank);
bool student_learn(struct derive *derive, struct student *student, double question_last, const struct event *event);
bool students_save(struct derive *derive, bool drop);   /* into the shelves; drop: build anew when next needed */
bool student_replay(struct derive *derive, struct student *student);
void students_free(struct derive *derive);
extern const char *const effect_scopes[];   /* by enum learner_scope, as in the column kind of effect */
/* Puts the numbers of an effect row (or, whole, of a learner row) into the learner. */
bool effect_load(struct record *record, struct learner *learner, enum learner_scope scope, size_t which,
                 const double *number, bool whole);
/* Noon UTC of a day as a setting has it; LEARNER_UNKNOWN when it is none. The same in every time zone. */
moment taught_moment(const char *text);

#endif
