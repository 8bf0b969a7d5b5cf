/* Tab completion from given words. Private to this room. */
#ifndef OWNMARK_TERMINAL_COMPLETE_H
#define OWNMARK_TERMINAL_COMPLETE_H

#include "terminal/terminal.h"

/* Sets line editing up to complete from the question's words, and from nothing else: never from file names. */
void complete_from(const struct terminal_ask *ask);

#endif
