/* Which bank a setting is for. */
#ifndef OWNMARK_COMMANDS_SETTINGS_BANK_H
#define OWNMARK_COMMANDS_SETTINGS_BANK_H

#include "base/arena.h"
#include "base/message.h"
#include "commands/command.h"
#include "record/record.h"

struct settings_banks {
    struct known_bank *items;       /* those the record knows, latest first */
    size_t count;
    const char *id;                 /* whose settings are meant; NULL: none is known yet, so all banks' */
};

/* By --bank, else the one used last. All in arena. False with a message. */
bool settings_find_banks(const struct arguments *arguments, struct record *record, struct arena *arena,
                         struct settings_banks *banks, struct messages *messages);

/* The file of that bank; NULL when none is known yet. */
const char *settings_bank_file(const struct arguments *arguments, const struct settings_banks *banks);

/* "taught:" with the id of the topic that is named by id or name. As it is where the bank cannot be looked into; NULL with a
 * message when the bank has no such topic. */
const char *settings_taught(const struct arguments *arguments, const struct settings_banks *banks, const char *name,
                            struct arena *arena, struct messages *messages);

#endif
