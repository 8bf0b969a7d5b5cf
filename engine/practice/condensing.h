/* Writing one stage of a topic's notes: from memory first, then set beside the stage before. Takes lines of text and gives
 * screens, as practice.h does, whose asks and results it uses.
 *
 * Every line is durable before the next prompt: as a draft until the stage is kept, and kept before the comparison is shown. */
#ifndef OWNMARK_PRACTICE_CONDENSING_H
#define OWNMARK_PRACTICE_CONDENSING_H

#include "practice/notes.h"
#include "practice/practice.h"

struct condensing;

/* A leaf topic, by index. notes: as read; they must outlive it. With a draft of this stage among them it goes on there. NULL with
 * a message when the bank or the record cannot be read. */
struct condensing *condensing_begin(struct bank *bank, struct record *record, int topic, enum condense_stage stage,
                                    const struct topic_notes *notes, struct messages *messages);

/* Empties the draft that notes tell of, in the record too. */
bool condensing_drop_draft(const struct bank *bank, struct record *record, int topic, struct topic_notes *notes,
                           struct messages *messages);

void condensing_free(struct condensing *condensing);    /* NULL is allowed */

const struct page *condensing_screen(struct condensing *condensing);
const struct practice_ask *condensing_ask(struct condensing *condensing);   /* NULL: over or left */
enum practice_result condensing_enter(struct condensing *condensing, const char *line, bool pasted, struct messages *messages);
const char *condensing_edit_text(const struct condensing *condensing);
enum practice_result condensing_edited(struct condensing *condensing, const char *text, struct messages *messages);
bool condensing_keep_draft(struct condensing *condensing, const char *line, struct messages *messages);
void condensing_leave(struct condensing *condensing);

/* One paragraph: which stage comes next and when, or how to set the day of the exam when that is NO_DAY or past. */
void condensing_say_next(struct page *page, const struct topic_notes *notes, day_number exam, day_number today);

#endif
