/* What the model answer of a part earns when exactly those points are ticked that the evidence recognises in it. Pure. */
#ifndef OWNMARK_ANSWER_MODEL_ANSWER_H
#define OWNMARK_ANSWER_MODEL_ANSWER_H

#include <stdbool.h>
#include "answer/evidence.h"

struct model_result {
    bool written;               /* false: there is no model answer, the rest is empty */
    bool for_a_person;          /* the part has levels: no award is worked out */
    int marks, maximum;
    const struct evidence *evidence;
};

/* Recognised: the point looks earned; or all its key words were found, though in words of the question or not where the
 * rules look for them; or it names no wording, so that only a person can judge it. */
bool model_recognises(const struct point_evidence *point);

/* Of part `index` of the question, with these values; numbers of earlier parts are taken from their model answers.
 * Quality marks beside points are taken as earned. vocabulary may be NULL. In arena. */
struct model_result model_answer_earns(const struct course *course, const struct question *question, size_t index,
                                       const struct values *values, const struct vocabulary *vocabulary,
                                       struct arena *arena);

#endif
