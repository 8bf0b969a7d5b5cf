/* The word lists behind words.h. Not for other rooms. All words are lower case with a straight apostrophe. */
#ifndef OWNMARK_ANSWER_LEXICON_H
#define OWNMARK_ANSWER_LEXICON_H

#include <stdbool.h>

bool lexicon_small(const char *word);
bool lexicon_known(const char *word);
bool lexicon_opens_clause(const char *word);
bool lexicon_negates(const char *word);
bool lexicon_links(const char *word);
bool lexicon_compares(const char *word);
bool lexicon_up(const char *stem);
bool lexicon_down(const char *stem);

/* What to stem instead of the word: "rise" for "rose"; NULL for the word itself. *final: take it as it is. */
const char *lexicon_irregular(const char *word, bool *final);

#endif
