/* Opening a bank: checked once, then questions on demand.
 *
 * The first opening streams the file through the schema and the checks of check.h; what was learned (course,
 * question summaries) goes into a cache file, so that later openings of an unchanged file (same device, inode,
 * size, times) skip all that. A question's text is read from its place in the file when it is wanted, and its
 * bytes must still match the fingerprint. */
#ifndef OWNMARK_BANK_BANK_H
#define OWNMARK_BANK_BANK_H

#include <stdbool.h>
#include <stddef.h>
#include "base/arena.h"
#include "base/message.h"
#include "bank/model.h"

/* Limits, all refused clearly when passed. */
enum {
    BANK_FILE_LIMIT = 64 * 1024 * 1024,
    BANK_DEPTH_LIMIT = 64,
    BANK_TEXT_LIMIT = 1024 * 1024,
    BANK_ATTRIBUTE_LIMIT = 64,
    BANK_TAG_LIMIT = 64 * 1024,
    BANK_FAULT_LIMIT = 100,
    BANK_QUESTION_LIMIT = 100000
};

struct bank;

/* Opens path. Any fault: every fault is in messages (the file unusable), result NULL, nothing is written.
 * use_cache false neither reads nor writes the cache. The caller frees with bank_close. */
struct bank *bank_open(const char *path, bool use_cache, struct messages *messages);
void bank_close(struct bank *bank);   /* NULL is allowed */

const char *bank_id(const struct bank *bank);
const char *bank_language(const struct bank *bank);   /* a language tag; "en" unless the bank says another */
const char *bank_path(const struct bank *bank);
const char *bank_whole_path(const struct bank *bank);    /* from "/" on: right in whatever folder the program is started next */
const char *bank_folder(const struct bank *bank);
const struct course *bank_course(const struct bank *bank);
size_t bank_question_count(const struct bank *bank);
const struct question_summary *bank_summary(const struct bank *bank, size_t index);
int bank_find(const struct bank *bank, const char *question_id);   /* index, or -1; by hash, not by walk */
bool bank_came_from_cache(const struct bank *bank);

/* The whole question into arena; NULL and a message when the file changed since bank_open. */
const struct question *bank_question(struct bank *bank, size_t index, struct arena *arena,
                                     struct messages *messages);

/* The question's own XML (its bytes in the file), for the record; the course's as a canonical XML element that
 * bank_question_from_text understands. Appended to out. */
bool bank_question_text(struct bank *bank, size_t index, struct buffer *out, struct messages *messages);
void bank_course_text(const struct bank *bank, struct buffer *out);

/* Reads a question back from the record: `course_text` and `question_text` as given by the two above. Both
 * results hang in arena. Untrusted like any input: checked, messages on failure. question_text NULL: only the course. */
bool bank_from_text(const char *course_text, const char *question_text, struct arena *arena,
                    const struct course **course, const struct question **question,
                    struct messages *messages);

#endif
