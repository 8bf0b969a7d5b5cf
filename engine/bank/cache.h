/* What was learned of a bank, kept in the user's cache folder so that an unchanged bank opens without being read: one
 * file a bank, named by its path, valid for one state of the bank's file and one version of the schema. Whatever is
 * wrong with it, the bank is read again. For this room only. */
#ifndef OWNMARK_BANK_CACHE_H
#define OWNMARK_BANK_CACHE_H

#include <stdbool.h>
#include "bank/index.h"
#include "base/buffer.h"
#include "base/files.h"

struct cached_bank {
    char id[65];
    char language[36];
    struct file_state state;
    struct buffer course_text;
};

/* False when there is nothing that fits `state`. The index must be new; course_text empty. What is returned hangs
 * together (bounds, ids, order), but the numbers in it that point into the course are not yet compared with it. */
bool cache_read(const char *real_path, const struct file_state *state, struct cached_bank *bank,
                struct index *index);

/* Do the topics, objectives, command words and skills of the index exist in this course? */
bool cache_fits_course(const struct index *index, const struct course *course);

/* Best effort: a cache that cannot be written is no fault. */
void cache_write(const char *real_path, const struct cached_bank *bank, const struct index *index);

/* After the bank's file was found to differ from what the cache says. */
void cache_forget(const char *real_path);

#endif
