/* What is known of one script: everything entered so far for one asking of a question, gathered from the events
 * that recorded it. The same events give the same facts, live or after a resume: there is no other state of a
 * script. */
#ifndef OWNMARK_PRACTICE_FACTS_H
#define OWNMARK_PRACTICE_FACTS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "answer/evidence.h"
#include "base/arena.h"
#include "base/buffer.h"
#include "bank/bank.h"
#include "bank/values.h"
#include "record/record.h"

/* The texts a part collects, and their names in the log. */
enum part_text { TEXT_WORD, TEXT_GIVENS, TEXT_WANTED, TEXT_PLAN, TEXT_ANSWER, TEXT_REWRITE, PART_TEXTS };
const char *part_text_name(enum part_text text);

/* Stages, and their names in the log and on the screen. */
enum stage { STAGE_READ, STAGE_PLAN, STAGE_ANSWER, STAGE_CHECK, STAGES };
const char *stage_name(enum stage stage);

/* One settled decision of the check stage: a tick, a route, a list item, a strand, a cap, a best fit, a band, a
 * cause. Found by (kind, item, pass); a later one replaces an earlier one; detail "" withdraws it. */
struct choice {
    enum event_kind kind;
    enum pass pass;
    const char *item;
    const char *detail;
    const char *text;
    double number;
};

struct part_facts {
    const struct part *part;
    struct buffer texts[PART_TEXTS];
    bool settled[PART_TEXTS];       /* finished, perhaps empty */
    bool skipped[STAGES];
    double predicted;               /* NAN: not asked or not answered */
    bool predicted_settled;
    bool answer_begun;
    double seconds;                 /* spent on the answer */
    size_t in_time;                 /* bytes of the answer written before time was called; SIZE_MAX: it was not called */
    bool no_response;
    struct choice *choices;
    size_t choice_count, choice_capacity;
    double awarded;                 /* NAN: not yet */
    const struct evidence *evidence;    /* of the finished answer, worked out once (look.h); NULL: not yet */
};

struct script {
    struct arena *arena;
    int64_t sequence;               /* of its EVENT_QUESTION_OPENED */
    const struct course *course;
    const struct question *question;
    uint64_t seed;
    struct values values;
    struct part_facts *parts;       /* question->part_count */
    int number;                     /* in a paper sat whole, from 1; else 0 */
    bool answers_only;              /* of a paper sat whole: nothing is asked for before the answers but the answers */
    bool closed;                    /* marked or left */
    bool marked;
};

/* A script over a question; takes arena over (freed by script_free), in which course and question live at least
 * as long. */
struct script *script_new(struct arena *arena, const struct course *course, const struct question *question,
                          uint64_t seed, const struct values *values);
void script_free(struct script *script);    /* NULL is allowed */

/* Takes one event of this script in. Events of unknown parts are ignored: the log may be newer than the question. */
void script_apply(struct script *script, const struct event *event);

/* Time is called: what is written from now on is told apart. */
void script_call_time(struct script *script);
bool facts_is_late(const struct part_facts *facts);      /* was something written after that? */

struct part_facts *script_part(struct script *script, const char *part_id);     /* NULL when there is none */

/* The decision in force, or NULL. */
const struct choice *facts_choice(const struct part_facts *facts, enum event_kind kind, const char *item,
                                  enum pass pass);

/* "part/index" style item names used for strands, caps and list items; in arena. */
const char *facts_item(struct arena *arena, const char *node_id, const char *what, size_t index);

#endif
