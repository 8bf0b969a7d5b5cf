/* From what was entered to what it is worth: facts in, the marking room's input, its award out. */
#ifndef OWNMARK_PRACTICE_MARK_H
#define OWNMARK_PRACTICE_MARK_H

#include "base/arena.h"
#include "base/buffer.h"
#include "marking/marking.h"
#include "practice/facts.h"

/* The award of a part by the ticks of a pass (final ticks stand over first ones). Earlier parts are marked on the way,
 * for penalties fall once a question. In arena. */
const struct award *mark_award(const struct script *script, size_t part, enum pass pass, struct arena *arena);

/* The level proxy of a node from the strands and caps chosen so far; override left out. */
struct award_levels mark_level_proxy(const struct script *script, size_t part, const struct node *node);

/* The level a strand was rated with; a negative number while it was not. */
int mark_strand_rating(const struct script *script, size_t part, const struct node *node, size_t strand);

/* Slots are the award's lines that can earn marks, counted from 0. A slot's id is its node's id, with "#2", "#3" for
 * further slots of the same node (any two of five: two slots of one node). */
size_t mark_slot_count(const struct award *award);
const struct award_line *mark_slot(const struct award *award, size_t slot);
const char *mark_slot_id(const struct award *award, size_t slot, struct arena *arena);

/* What the slot's mark was for, in the scheme's words: the point; or "another of: …" ("one of: …" where none
 * was earned) with the points not earned; or "level of response". Appended to out. */
void mark_slot_words(const struct script *script, const struct award *award, size_t slot, struct buffer *out);

/* One row for each creditworthy slot of the question, for EVENT_QUESTION_MARKED; in the script's arena. */
const struct mark_row *mark_rows_of(const struct script *script, size_t *count);

/* The award's lines as JSON, for the record. */
void mark_reasons(const struct award *award, struct buffer *out);

#endif
