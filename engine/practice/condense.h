/* Condensed notes: four stages, each shorter than the one before and written from memory. When each is due, and how
 * long it may be. Pure.
 *
 * The stages and their days are common practice, no source: the full notes about six months before the examination, the
 * summary two months, the outline two weeks, the one line two days. So are the lengths. */
#ifndef OWNMARK_PRACTICE_CONDENSE_H
#define OWNMARK_PRACTICE_CONDENSE_H

#include <stddef.h>
#include "base/dates.h"

enum condense_stage { CONDENSE_NONE = 0, CONDENSE_FULL, CONDENSE_SUMMARY, CONDENSE_OUTLINE, CONDENSE_LINE };
enum { CONDENSE_ROOM = CONDENSE_LINE + 1 };     /* for arrays with a stage as index; place 0 is not used */

const char *condense_name(enum condense_stage stage);       /* "full notes", "summary", "outline", "one line" */

/* What was typed: the number, or "full", "summary", "outline", "line" or the beginning of one; else CONDENSE_NONE. */
enum condense_stage condense_stage_read(const char *typed);

/* The most words of a stage: 300, 120 and 45 for a topic of the course's usual share (100 % divided by `topics`, the
 * number of examined ones), in proportion to `share` (per cent) between half and twice that; 20 for the one line, however
 * much the topic weighs. */
int condense_limit(enum condense_stage stage, double share, size_t topics);

/* Words as a person counts them: what stands between spaces and holds a letter or a digit. */
size_t condense_word_count(const char *text);

/* kept[stage]: the day it was last kept, NO_DAY when never. The latest of them in the order of the stages, and the one
 * after it; CONDENSE_NONE when there is none. Stages passed over are not gone back for. */
enum condense_stage condense_latest(const day_number kept[CONDENSE_ROOM]);
enum condense_stage condense_next(const day_number kept[CONDENSE_ROOM]);

/* The day on which condense_next is due: its usual day before the exam; when there are too few days for that, those between the
 * latest stage and two days before the exam are shared out evenly, at least one a stage, the exam's day at the latest. May have
 * passed. NO_DAY when all stages are kept or exam is NO_DAY. */
day_number condense_due(const day_number kept[CONDENSE_ROOM], day_number exam);

#endif
