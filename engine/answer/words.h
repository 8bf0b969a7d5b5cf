/* The words of a text: where they stand, their stems, and when two of them are the same word. English. Pure.
 *
 * Stems: Snowball's English stemmer (libstemmer), with a table of our own before it for irregular forms
 * (rose, bacteria), for spellings of one word (-ise and -ize, sulphur and sulfur) and for words that the
 * stemmer would make one although they are two terms (organ and organic). */
#ifndef OWNMARK_ANSWER_WORDS_H
#define OWNMARK_ANSWER_WORDS_H

#include <stdbool.h>
#include <stddef.h>
#include "base/arena.h"
#include "base/buffer.h"
#include "bank/model.h"
#include "bank/values.h"

/* A stretch of a text in bytes; starts and ends between characters. */
struct quote {
    size_t start, length;
};

struct word {
    struct quote at;
    const char *folded;         /* lower case, ' for ’ */
    const char *stem;
    bool small;                 /* the, of, is …: carries no meaning of its own. Never a direction or a "not" */
    bool number;                /* made of digits, with points and commas between them */
    size_t clause;              /* from 0; , ; : . ! ? line ends, brackets, and words such as but, because and
                                   whereas begin a new one */
    size_t sentence;            /* from 0; . ! ? ; and line ends begin a new one */
};

struct words {
    const struct word *items;
    size_t count;
    size_t sentences;           /* that hold a word */
};

/* Letters and digits make words, an apostrophe inside belongs to its word, a hyphen divides ("sea-level" is two).
 * Bytes that are not UTF-8 are read as characters that stand in no word. In arena. */
struct words words_of(const char *text, struct arena *arena);

/* The bytes from the first to the last of words first … last (first <= last < count). */
struct quote words_span(const struct words *words, size_t first, size_t last);

/* Paragraphs, cells, items, captions and sources as one plain text, blocks on lines of their own; drawn values
 * stand in it as they are shown, with their unit (values may be NULL: their symbol instead). */
void plain_add_rich(struct buffer *out, const struct rich *text, const struct values *values);
void plain_add_blocks(struct buffer *out, const struct blocks *blocks, const struct values *values);

/* ---- What the course's own words are --------------------------------------------------------------- */

/* The words of a course and its questions: a word among them is a term and never taken for a slip in another. */
struct vocabulary;

struct vocabulary *vocabulary_new(struct arena *arena);
void vocabulary_add_text(struct vocabulary *vocabulary, const char *text);
/* Names of the course, topics, what to explain and its points, command words, constants. */
void vocabulary_add_course(struct vocabulary *vocabulary, const struct course *course);
/* Stem, asks, points with their wordings and key words (rejected ones too), model answers, notes, givens. */
void vocabulary_add_question(struct vocabulary *vocabulary, const struct question *question);
void vocabulary_add_scheme(struct vocabulary *vocabulary, const struct node *root);     /* the same of a scheme alone */
bool vocabulary_holds(const struct vocabulary *vocabulary, const struct word *word);    /* by stem */
size_t vocabulary_count(const struct vocabulary *vocabulary);

/* ---- When two words are one -------------------------------------------------------------------------- */

enum word_match { WORD_MATCH_NONE, WORD_MATCH_SENSE, WORD_MATCH_SLIP, WORD_MATCH_STEM };

/* Is `typed` the word `wanted`? By stem; else by sense, when it is an everyday word for it ("shut" for "closed") or a
 * comparative or adverb of it ("quicker" for "quickly"); else as a slip of the pen, when they begin with the same letter and
 * differ by one character (5 to 8 letters) or two (9 and more; a swap of neighbours counts as one); else as spelt by
 * ear, when both sound alike (sound.h: the same consonants at the same places, two vowels apart at most) and differ by
 * three letters at most (four from 9). For a slip and for the ear, typed must be neither in the vocabulary nor a word we
 * know, and no other word of the vocabulary may be as near. vocabulary may be NULL: then only by stem. Numbers are the
 * same only when written alike. */
enum word_match word_compare(const struct word *typed, const struct word *wanted, const struct vocabulary *vocabulary);

/* A word of the vocabulary that this one is read as: the same, one that it says in other words, or the one that it is by slip
 * or by ear; NULL when there is none. */
const struct word *word_meant(const struct word *typed, const struct vocabulary *vocabulary);

/* A word of everyday English or a school term that is easily taken for another (weight, adsorb, alkene). folded */
bool word_is_known(const char *folded);

/* ---- Words that turn a meaning ------------------------------------------------------------------------ */

enum direction { DIRECTION_NONE, DIRECTION_UP, DIRECTION_DOWN };

enum direction word_direction(const struct word *word);     /* more, rises, faster: up; fewer, falls: down */
bool word_negates(const struct word *word);                 /* not, never, without, doesn't, cannot … */
bool word_links(const struct word *word);                   /* because, so, therefore, causes … */
bool word_compares(const struct word *word);                /* whereas, than, both, higher … */

#endif
