/* `ownmark settings taught`. */
#ifndef OWNMARK_COMMANDS_SETTINGS_TAUGHT_H
#define OWNMARK_COMMANDS_SETTINGS_TAUGHT_H

#include "commands/command.h"

/* When each topic of the bank was or will be taught: asked in place at a terminal, else listed. */
enum exit_status settings_taught_topics(const struct arguments *arguments);

#endif
