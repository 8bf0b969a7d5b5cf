/* The condensed notes of a course's topics as the record has them. */
#ifndef OWNMARK_PRACTICE_NOTES_H
#define OWNMARK_PRACTICE_NOTES_H

#include "base/arena.h"
#include "base/message.h"
#include "bank/bank.h"
#include "practice/condense.h"
#include "record/record.h"

struct topic_notes {
    const char *texts[CONDENSE_ROOM];       /* NULL where there are none */
    day_number kept[CONDENSE_ROOM];         /* NO_DAY likewise */
    enum condense_stage drafting;           /* the stage that was begun and is not kept yet; CONDENSE_NONE: none */
    const char *draft;                      /* what stands of it, "" for nothing; NULL without one */
    const char *half_line;                  /* a line that was not finished, NULL: none */
};

/* For all topics of the course, by index; in arena. Notes of topics the course no longer has are passed over. A record
 * of NULL has none. */
bool notes_read(struct record *record, const struct bank *bank, struct arena *arena, struct topic_notes **notes,
                struct messages *messages);

/* Takes one EVENT_NOTE_CONDENSED in; texts in arena. */
void notes_apply(struct topic_notes *notes, const struct event *event, struct arena *arena);

#endif
