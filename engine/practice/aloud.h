/* Explaining one topic aloud against a clock, then going through its key points. Takes lines of text and gives screens, as practice.h
 * does, whose asks and results it uses. No sound is recorded.
 *
 * Each tick is durable before the next prompt; the checklist of an explanation that was left can be gone on with. */
#ifndef OWNMARK_PRACTICE_ALOUD_H
#define OWNMARK_PRACTICE_ALOUD_H

#include "practice/explain.h"
#include "practice/practice.h"

struct aloud;

/* A topic with key points, by index. begun: an undecided explanation to go on with, must outlive it; NULL: a new one. NULL with a
 * message when the record cannot be written. */
struct aloud *aloud_begin(const struct bank *bank, struct record *record, int topic, const struct explained *begun,
                          struct messages *messages);
void aloud_free(struct aloud *aloud);       /* NULL is allowed */

const struct page *aloud_screen(struct aloud *aloud);
const struct practice_ask *aloud_ask(struct aloud *aloud);      /* NULL: over or left */
enum practice_result aloud_enter(struct aloud *aloud, const char *line, struct messages *messages);
void aloud_leave(struct aloud *aloud);

#endif
