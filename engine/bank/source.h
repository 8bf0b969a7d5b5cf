/* The bytes of a bank in memory, fit to be parsed: a regular file of at most BANK_FILE_LIMIT, UTF-8 without NUL,
 * XML 1.0 that declares no other encoding. For this room only. */
#ifndef OWNMARK_BANK_SOURCE_H
#define OWNMARK_BANK_SOURCE_H

#include <stdbool.h>
#include <stddef.h>
#include "base/files.h"
#include "base/message.h"

struct source {
    const char *name;           /* for messages; NULL: none. Not owned */
    const char *subject;        /* of every message about it outside a question; NULL. Not owned */
    const char *bytes;
    size_t length;
    unsigned long line, column; /* where the first byte stands: 1, 1 for a whole file */
    struct file_state state;    /* of a file */
    char *owned;                /* bytes, when they are to be freed */
};

/* False with one message when the file cannot be used. Either way source_free afterwards. */
bool source_load(struct source *source, const char *path, struct messages *messages);

/* The same checks for bytes in memory, which stay the caller's: a question or a course out of a bank. */
bool source_from_bytes(struct source *source, const char *name, const char *bytes, size_t length,
                       struct messages *messages);
void source_free(struct source *source);

/* Where the byte at offset stands; columns count characters. Takes time in proportion to offset. */
struct place source_place(const struct source *source, size_t offset);

/* The same when the start of its line is known. */
struct place source_place_in_line(const struct source *source, unsigned long line, size_t line_start,
                                  size_t offset);

#endif
