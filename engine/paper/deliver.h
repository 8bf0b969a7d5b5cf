/* Several files that belong together, written into a folder: all of them or none. */
#ifndef OWNMARK_PAPER_DELIVER_H
#define OWNMARK_PAPER_DELIVER_H

#include <stdbool.h>
#include <stddef.h>
#include "base/buffer.h"
#include "base/message.h"

struct delivery {
    const char *name;           /* without a folder */
    struct buffer content;
};

/* May they be written there? Refused with a message: a folder that is a file; without replace, a name that is taken. */
bool deliver_may(const char *folder, const struct delivery *deliveries, size_t count, bool replace,
                 struct messages *messages);

/* Writes them under temporary names (a folder of its own beside them), syncs, and only then gives them their names. Files
 * and folders that are made are readable by their owner only. On failure the folder is as before. Only a program that is
 * killed while the names are given leaves some of the new files beside some of the old. */
bool deliver(const char *folder, const struct delivery *deliveries, size_t count, bool replace, struct messages *messages);

#endif
