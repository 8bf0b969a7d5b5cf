/* What is weak in a sound bank: warnings with place and remedy, for a person to judge. None of them is an error. */
#ifndef OWNMARK_AUTHORING_WARNINGS_H
#define OWNMARK_AUTHORING_WARNINGS_H

#include <stdbool.h>
#include "bank/bank.h"
#include "base/message.h"

/* Every question of the bank, in its order; warnings are added to messages. progress as in bank_check, with questions done
 * and in all. False with an error when the file has changed since it was opened. */
bool warnings_of_bank(struct bank *bank, struct messages *messages,
                      void (*progress)(size_t done, size_t total, void *context), void *context);

/* One question that is not in a bank yet. folder: where its figures are; file is named in the messages (NULL: none). */
void warnings_of_question(const struct course *course, const struct question *question, const char *folder,
                          const char *file, struct messages *messages);

#endif
