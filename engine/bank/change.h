/* Changing a bank's file: questions put in place of others or at the end, everything else byte for byte as it was. */
#ifndef OWNMARK_BANK_CHANGE_H
#define OWNMARK_BANK_CHANGE_H

#include <stdbool.h>
#include <stddef.h>
#include "base/buffer.h"
#include "base/message.h"

struct bank_change {
    const char *replaces;       /* id of the question it takes the place of; NULL: a new one, after all others */
    const char *xml;            /* as question_write gives it */
};

/* Reads the file as it is now, so that nothing written to it meanwhile is lost, checks the result as bank_check does, and
 * only then puts it in the file's place, whole, with the file's mode and line ends. False with messages: the file is
 * untouched. A fault in the result is told with its place in what would have been written. */
bool bank_change(const char *path, const struct bank_change *changes, size_t count, struct messages *messages);

/* The text of a new bank: its course as XML, then questions as question_write gives them, a line between two. Appended. */
void bank_new_text(struct buffer *out, const char *id, const char *course, const char *const *questions, size_t count);

/* A new bank, checked before it is written; refused where a file of this name exists. */
bool bank_create(const char *path, const char *bytes, size_t length, struct messages *messages);

/* What bank_tidy and others write over a bank: checked first, refused when it is no sound bank. */
bool bank_put(const char *path, const char *bytes, size_t length, struct messages *messages);

#endif
