/* Command words: the built-in set, and the set of one course, which is the built-in one as the course changes
 * it. The wording is our own; which kind of objective a word usually signals is common practice. Pure. */
#ifndef OWNMARK_BANK_COMMANDWORDS_H
#define OWNMARK_BANK_COMMANDWORDS_H

#include <stdbool.h>
#include <stddef.h>
#include "base/arena.h"
#include "base/message.h"
#include "bank/model.h"

struct built_in_word {
    const char *word;               /* lower case */
    enum objective_kind kind;       /* what it usually signals */
    const char *meaning;
    const char *needs;              /* what a full answer needs */
    const char *trap;               /* where marks are usually lost */
};

/* The whole set, alphabetical. */
const struct built_in_word *command_words_built_in(size_t *count);

/* A command-word element as it stands in a course; absent attributes and children are NULL. */
struct written_word {
    const char *word;
    const char *objective;          /* id */
    const char *meaning, *needs, *trap;
    unsigned long line, column;
};

/* The words of a course: those it writes, in its order, then the built-in ones it does not. What a written
 * word leaves out is taken from the built-in one of the same name; a word of its own must say objective,
 * meaning and needs. A built-in word goes to the first objective of its kind; when the course has none of that
 * kind, to one of the nearest kind. Texts are not copied. The array hangs in arena; faults (an objective
 * that is not declared, a word written twice, something missing) go to messages with place file:line:column,
 * and the word gets objective -1 or "" so that reading can go on. False on any fault. */
bool command_words_of_course(struct arena *arena, const struct objective *objectives, size_t objective_count,
                             const struct written_word *written, size_t written_count, const char *file,
                             const struct command_word **words, size_t *word_count,
                             struct messages *messages);

/* A command word as it is compared: lower case, single spaces, nothing at the ends. Hangs in arena. */
const char *command_word_folded(struct arena *arena, const char *word);

#endif
