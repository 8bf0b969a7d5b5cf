/* What the files that write a question share. For this room only. */
#ifndef OWNMARK_BANK_WRITE_INNER_H
#define OWNMARK_BANK_WRITE_INNER_H

#include "base/arena.h"
#include "bank/markup.h"
#include "bank/model.h"

struct writing {
    const struct course *course;
    const struct question *question;
    struct arena *arena;
};

void write_rich(struct markup *element, const struct rich *text);
void write_scheme(struct markup *around, const struct writing *writing, const struct part *part);
const char *write_decimal(struct arena *arena, double value);      /* the shortest that reads back as the same */
const char *write_list(struct arena *arena, const char *const *items, size_t count);   /* with spaces; NULL for none */

#endif
