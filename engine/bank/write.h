/* A question as XML, in the canonical layout of markup.h: what the reader makes of it is the same question again. */
#ifndef OWNMARK_BANK_WRITE_H
#define OWNMARK_BANK_WRITE_H

#include "base/arena.h"
#include "base/buffer.h"
#include "bank/markup.h"
#include "bank/model.h"

/* Attributes that say what would hold anyway are left out (marks="1", demand="standard", ids that the reader gives). */
struct markup *question_markup(const struct course *course, const struct question *question, struct arena *arena);

/* The same rendered, one level in, as it stands in a bank. Appended. */
void question_write(const struct course *course, const struct question *question, struct buffer *out);

#endif
