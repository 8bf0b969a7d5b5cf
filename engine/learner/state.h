/* Inside the room: the one door through which learning writes to the state. */
#ifndef OWNMARK_LEARNER_STATE_H
#define OWNMARK_LEARNER_STATE_H

#include "learner/model.h"

/* Writes an entry of learner->state and puts it on the list of touched ones. */
void state_set(struct learner *learner, double *entry, double value);

#endif
