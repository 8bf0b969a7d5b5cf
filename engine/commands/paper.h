/* What the files of 'ownmark paper' share. */
#ifndef OWNMARK_COMMANDS_PAPER_H
#define OWNMARK_COMMANDS_PAPER_H

#include "base/arena.h"
#include "base/message.h"
#include "commands/command.h"
#include "paper/gather.h"

/* Reads the options that say what is wanted, and the papers to avoid, into arena. False with messages, or with a message
 * already on standard error. */
bool paper_read_wishes(const struct arguments *arguments, struct arena *arena, struct paper_wishes *wishes,
                       struct messages *messages);

#endif
