/* The key words of a topic: those of its points' key words and of its key points for explaining, by stem. What two texts of a
 * student have of them. Pure but for reading the bank.
 *
 * Words that belong to every topic (small and everyday ones, links, directions, comparisons, numbers, single letters) are
 * none. Slips of the pen are allowed as the answer room allows them. */
#ifndef OWNMARK_PRACTICE_KEYWORDS_H
#define OWNMARK_PRACTICE_KEYWORDS_H

#include <stdbool.h>
#include <stddef.h>
#include "answer/words.h"
#include "bank/bank.h"
#include "base/arena.h"
#include "base/message.h"

struct key_words {
    const struct vocabulary *vocabulary;        /* of the course and the topic's questions */
    const struct word *items;                   /* each stem once; those for explaining first, then in the bank's order */
    size_t count;
};

/* Of a leaf topic, by index; in arena. False with a message when the bank file changed. */
bool key_words_of_topic(struct bank *bank, int topic, struct arena *arena, struct key_words *words,
                        struct messages *messages);

/* Just those of a text, with a vocabulary for the slips. */
struct key_words key_words_of_text(const char *text, const struct vocabulary *vocabulary, struct arena *arena);

/* How many of them stand in the text. */
size_t key_words_in(const struct key_words *words, const char *text);

struct key_word_list {
    const char **items;         /* as they are written */
    size_t count;
};

struct key_word_changes {
    struct key_word_list kept, lost, added;     /* kept and lost as written before, added as written now */
};

/* All in arena. */
struct key_word_changes key_words_compare(const struct key_words *words, const char *before, const char *now,
                                          struct arena *arena);

#endif
