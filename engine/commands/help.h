/* What the program says about itself. */
#ifndef OWNMARK_COMMANDS_HELP_H
#define OWNMARK_COMMANDS_HELP_H

#include "commands/command.h"

#define OWNMARK_VERSION_LINE "ownmark 0.1\n"

const struct option *help_common_options(void);     /* ended by a name of NULL */
void help_show_command(const struct command *command);
void help_show_commands(const char *group);         /* NULL: all of them */

/* `ownmark` alone: what to do next. */
enum exit_status help_say_what_next(void);

#endif
