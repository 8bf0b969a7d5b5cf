/* What the writing shows, beside what was ticked: evidence for a script's parts, and where the two disagree. The
 * program shows both and asks once; the student's word stands. */
#ifndef OWNMARK_PRACTICE_LOOK_H
#define OWNMARK_PRACTICE_LOOK_H

#include "answer/evidence.h"
#include "practice/facts.h"
#include "practice/steps.h"

/* The part's question as the answer room asks for it; what the student wrote for earlier parts is in it. */
struct evidence_ask look_ask(const struct script *script, size_t part);

/* Evidence of the finished answer of a part; worked out once and kept with the facts. */
const struct evidence *look_evidence(const struct script *script, size_t part);

enum disagreement {
    LOOK_AGREES,
    LOOK_TICKED_NOT_SHOWN,      /* ticked, and the writing does not bear it out */
    LOOK_SHOWN_NOT_TICKED,      /* not ticked, and the writing has it */
    LOOK_UNIT_UNCLEAR,          /* the unit can be read in more than one way: asked about, not judged */
    LOOK_ITEM_WRONG,            /* an item of a list was matched, and the scheme counts it as wrong */
    LOOK_ITEM_RIGHT,            /* it was not matched, and it is one of the right answers */
    LOOK_ITEM_OTHER             /* it was matched with another answer than it is */
};
enum disagreement look_disagreement(const struct script *script, size_t part, const struct node *point);

/* The same for item `index` of a list. *answer: the child of the list that the item looks like (LOOK_ITEM_RIGHT, _OTHER). */
enum disagreement look_item_disagreement(const struct script *script, size_t part, const struct node *list, size_t index,
                                         size_t *answer);

/* The next point or item of a part that wants a second look and did not have it; false when there is none. */
bool look_next(const struct script *script, size_t part, struct step *step);

/* How the student settled an unclear unit: UNIT_FITS, UNIT_WRONG, or UNIT_UNCLEAR while not asked. */
enum unit_shown look_unit(const struct part_facts *facts, const struct point_evidence *evidence);

/* The quoted words of the answer, in quotation marks, joined with " … ". Appended to out. */
void look_add_quotes(const struct part_facts *facts, const struct quote *quotes, size_t count, struct buffer *out);

#endif
