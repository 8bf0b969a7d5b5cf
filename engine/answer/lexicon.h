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

/* Stems: may a student write this word for that one ("shut" for "closed")? Not the other way round. */
bool lexicon_says(const char *written, const char *wanted);

/* Is written a comparative or adverb of the same quality as wanted (quicker for quick or quickly)? Folded words. "Thin" is not
 * "thinner". */
bool lexicon_same_quality(const char *written, const char *wanted);

/* What to stem instead of the word: "rise" for "rose"; NULL for the word itself. *final: take it as it is. */
const char *lexicon_irregular(const char *word, bool *final);

#endif
