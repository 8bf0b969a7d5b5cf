/* The day of the examination, asked for in place when a command first needs it. */
#ifndef OWNMARK_COMMANDS_ASK_EXAM_H
#define OWNMARK_COMMANDS_ASK_EXAM_H

#include "bank/bank.h"
#include "base/dates.h"
#include "base/message.h"
#include "commands/command.h"
#include "record/record.h"

/* ASK_ONCE: who passed the question over with Enter is not asked again; Ctrl-D only puts it off. */
enum ask_how { ASK_ONCE, ASK_ALWAYS };

/* Asks at an interactive terminal, unless JSON is wanted, and keeps the answer for this bank. *exam: NO_DAY when it was
 * not asked or passed over (an empty line). A hang-up ends the program. False with a message when a day that was given
 * could not be kept, for example while a sitting is going on in another window: *exam is that day all the same.
 * `record` is the caller's, open for reading (NULL: there is none yet); it sees the new setting at once. */
bool ask_exam(const struct arguments *arguments, struct record *record, const struct bank *bank, enum ask_how how,
              day_number *exam, struct messages *messages);

#endif
