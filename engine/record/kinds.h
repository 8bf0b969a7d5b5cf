/* What each kind of event must carry: checked before it is written and again whenever it is read. */
#ifndef OWNMARK_RECORD_KINDS_H
#define OWNMARK_RECORD_KINDS_H

#include "record/record.h"

/* NULL when the event is sound, else what is wrong, as a phrase ("the part is missing"). Reading has already
 * refused text with a NUL inside. */
const char *event_fault(const struct event *event);

const char *event_kind_name(enum event_kind kind);     /* "question-opened"; NULL for an unknown kind */

#endif
