/* Finding command words in an ask. Pure. */
#ifndef OWNMARK_AUTHORING_COMMAND_WORDS_H
#define OWNMARK_AUTHORING_COMMAND_WORDS_H

#include <stdbool.h>
#include "answer/words.h"
#include "base/arena.h"
#include "bank/model.h"

/* The course's command words as words, one each, in arena. */
const struct words *command_words_split(const struct course *course, struct arena *arena);

/* Does the phrase stand at words->items[start]? By its letters, case apart. */
bool phrase_stands_at(const struct words *words, size_t start, const struct words *phrase);
bool word_begins_sentence(const struct words *words, size_t index);

/* The longest command word that stands there, as its index in the course; -1. */
int command_word_at(const struct course *course, const struct words *split, const struct words *words, size_t start);

/* The command word of an ask: the first that begins a sentence, else the first there is; -1. */
int command_word_of_ask(const struct course *course, const struct words *split, const struct words *ask);

#endif
