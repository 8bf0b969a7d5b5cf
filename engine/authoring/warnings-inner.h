/* The kinds of warnings, a file each. For this room only. */
#ifndef OWNMARK_AUTHORING_WARNINGS_INNER_H
#define OWNMARK_AUTHORING_WARNINGS_INNER_H

#include "answer/words.h"
#include "bank/model.h"
#include "bank/values.h"
#include "base/arena.h"
#include "base/message.h"

struct weak {
    const struct course *course;
    const struct question *question;
    const struct words *command_words;      /* the course's, one each */
    const struct vocabulary *vocabulary;    /* of course and question */
    const struct values *values;            /* one drawing */
    const char *file, *folder;
    const char *subject;                    /* "question wav-e-03 (b)" */
    unsigned long line, column;             /* of the part, or of the node in hand */
    struct arena *arena;
    struct messages *messages;
};

void weak_warn(const struct weak *weak, const char *format, ...) __attribute__((format(printf, 2, 3)));

void weak_ask(const struct weak *weak, const struct part *part);            /* its words, its length, its reading age */
void weak_scheme(const struct weak *weak, const struct part *part);         /* points, key words, accepts and rejects */
void weak_model(const struct weak *weak, size_t index);                     /* the model answer of part `index` */
void weak_figures(const struct weak *weak);                                 /* of the whole question */
void weak_variants(const struct weak *weak);

#endif
