/* Explaining a topic aloud: how long it may take, what a checklist adds up to, and what the record has of it. The arithmetic is
 * pure.
 *
 * Ticks are one letter a key point: 'y' covered, 'h' half, 'n' left out, '-' not decided yet. */
#ifndef OWNMARK_PRACTICE_EXPLAIN_H
#define OWNMARK_PRACTICE_EXPLAIN_H

#include <stdbool.h>
#include <stddef.h>
#include "bank/bank.h"
#include "base/arena.h"
#include "base/message.h"
#include "practice/rating.h"
#include "record/record.h"

/* Seconds for so many key points: half a minute to begin and half a minute each, times the allowance for extra time.
 * Common practice, no source. */
double explain_seconds(size_t points, double allowance);

bool explain_is_decided(const char *ticks);     /* every point */
size_t explain_count(const char *ticks, char tick);

/* The rating that a checklist proposes; the student's own word stands. By the share of the points that were covered (a half counts
 * half): under a third lost, under two thirds following, else unaided; could teach it when every point was covered with at most two
 * stumbles. Our own steps, no source. No points: not rated. The time is not looked at: it is measured, not enforced. */
enum topic_rating explain_rating(const char *ticks, int stumbles);

/* ---- What the record has -------------------------------------------------------------------------------- */

struct explained {
    int topic;                          /* index into the course */
    moment at;
    day_number day;
    const char *const *points;          /* as they read at the time, one for each letter of ticks */
    const char *ticks;
    int stumbles;
    double seconds;                     /* used; NAN when not known */
};

struct explanations {
    struct explained *items;            /* oldest first; of one topic only the latest may be undecided */
    size_t count;
};

/* All of a bank, in arena; those of topics the course no longer has, or that do not fit their key points, are passed over. A record of
 * NULL has none. */
bool explanations_read(struct record *record, const struct bank *bank, struct arena *arena, struct explanations *explanations,
                       struct messages *messages);

/* The latest of a topic that is decided, or that is not; NULL when there is none. An undecided one counts only as the topic's
 * latest. */
const struct explained *explanations_latest(const struct explanations *explanations, int topic, bool decided);

/* The first key point left out or half covered in this explanation that is close to `words`: they share at least two key words, and
 * more than half of those of the one that has fewer. NULL: none. */
const char *explained_left_out(const struct explained *explained, const char *words);

#endif
