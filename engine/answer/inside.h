/* Inside the answer room: what the files behind evidence.h share. Not for other rooms. */
#ifndef OWNMARK_ANSWER_INSIDE_H
#define OWNMARK_ANSWER_INSIDE_H

#include "answer/evidence.h"
#include "answer/reading.h"

/* ---- A reading of one answer --------------------------------------------------------------------- */

struct reading {
    const struct evidence_ask *ask;
    const char *answer;
    struct words words;
    struct words asked;                 /* of the part's ask and the question's stem */
    struct words ask_words;             /* of the part's ask alone: what to choose from may stand in the stem */
    const struct vocabulary *vocabulary;
    struct arena *arena;
};

struct reading reading_begin(const struct evidence_ask *ask, const char *answer, struct arena *arena);

/* A text of the bank as words, and a rich one. */
struct words reading_words(const struct reading *reading, const char *text);
struct words reading_rich(const struct reading *reading, const struct rich *text);

bool words_hold(const struct words *words, const struct word *word);    /* by stem */

/* Neither small nor a negation: what has to be there. */
bool word_carries(const struct word *word);

/* It carries, and yet says nothing by itself, whatever the question is: affects, changes, things. */
bool is_empty(const struct word *word);

/* Small helps: is the text one of these? The word at index, "" behind the end. */
bool is_one_of(const char *text, const char *const *list, size_t count);
const char *folded_at(const struct words *words, size_t index);

#define IS_ONE_OF(text, ...)                                                                               \
    is_one_of(text, (const char *const[]){__VA_ARGS__}, sizeof((const char *const[]){__VA_ARGS__}) / sizeof(char *))

/* ---- Directions (direction.c) -------------------------------------------------------------------- */

/* The direction a word has where it stands: "lower" in "the lower shore" names a place and has none; the "much" of "not as
 * much" goes down. */
enum direction direction_at(const struct words *words, size_t index);

bool direction_is_plain(const struct words *words, size_t index);  /* "rises" and "more", not "faster" and "hotter" */

struct directions {
    size_t up, down;
};
struct directions directions_in(const struct words *words, size_t first, size_t last);

/* Does the stretch name the other of a pair that the wording names (upper and lower, wet and dry)? Then it may
 * argue the other way round. */
enum pairs_kind { PAIRS_OF_SIDES, PAIRS_ALL };     /* land and sea; hot and cold as well */
bool names_reverse(const struct words *words, size_t first, size_t last, const struct words *wording, enum pairs_kind kind);

/* ---- Said or not (assertion.c) ------------------------------------------------------------------- */

enum assertion { SAID, DOUBTFUL, NEGATED };

/* Is what stands in words first … last of the answer said, or negated around it? */
enum assertion assertion_of(const struct words *words, size_t first, size_t last);

bool words_negate(const struct words *words);   /* a text that says "not" itself */

/* Is the word at index a "not" that turns what comes after it? */
bool negates_at(const struct words *words, size_t index);

bool is_hardly_there(const struct words *words, size_t index);     /* "hardly any" before it */

/* "not as much", "isn't as many": the negation at index only makes it less. */
bool lessens_at(const struct words *words, size_t index);

/* A text that speaks of too little, or of keeping something from happening: "too little is left", "to avoid bias". A "not"
 * in the answer may then say the very same. */
bool speaks_of_lack(const struct words *words);
bool word_is_of_lack(const struct word *word);

/* ---- Finding wordings (match.c) ------------------------------------------------------------------ */

/* A place where a wording stands, by words first … last. */
struct hit {
    size_t first, last;
    enum assertion assertion;
    bool opposite;                      /* its directions are turned round */
    bool lacking;                       /* negated in the answer, and that is what the point says */
};

struct hits {
    struct hit *items;
    size_t count;
};

/* Every place where all carrying words of the wording stand together in one sentence, in any order or in the wording's
 * own: "the land warms faster than the sea" is not said by "the sea warms faster than the land". */
enum word_order { ANY_ORDER, OWN_ORDER };
struct hits match_wording(const struct reading *reading, const struct words *wording, enum word_order order);

/* ---- Parts of the evidence ----------------------------------------------------------------------- */

void judge_words(const struct reading *reading, struct point_evidence *evidence);     /* point-words.c */

/* Points whose words are missing, when all points were judged (absent.c). */
void settle_absent(const struct reading *reading, struct point_evidence *points, size_t count);

/* written.c: numbers as they stand in a text, each with the unit behind it. */
struct candidate {
    struct number number;
    const char *unit;           /* "" when none stands behind it */
    struct quote at;            /* number and unit */
    bool given;                 /* only repeats a given or a constant */
};

struct candidates {
    struct candidate *items;
    size_t count;
};

struct own_values {
    struct own_value *items;    /* with room for one more for every number of the question */
    size_t count;
};

struct candidates numbers_written(const char *text, struct arena *arena);

/* How well a written number with its unit fits a given value; GIVEN_OVERLOOKED: not at all. */
enum given_verdict given_fit(const struct number *number, const char *unit, const struct bound_value *value);

/* What a "show that" shows is a given by its form alone: it is what comes out. */
bool is_outcome(const struct part *part, const char *symbol);

/* The same as numbers_written, and marks those that repeat a given or a constant. */
struct candidates candidates_of(const struct evidence_ask *ask, const char *answer, struct arena *arena);

/* The word at the start of text (spaces before it are passed) when it is no unit and no known word, but one slip of a letter,
 * or of its case, away from the unit wanted: "jouls", "j" for J. In arena; NULL when it is none. */
const char *misspelt_unit(const char *text, const char *wanted, struct arena *arena);

/* Is a unit like `wanted` written anywhere in text? */
bool unit_is_written(const char *text, const char *wanted);

/* Judges the number point and, when its number can be relied on, adds the student's value to own. */
void judge_number(const struct reading *reading, const struct candidates *candidates, struct own_values *own,
                  struct point_evidence *evidence);

void find_needs(const struct reading *reading, struct evidence *evidence);      /* needs.c */
void find_stem(const struct reading *reading, struct evidence *evidence);       /* whole.c */
void find_statements(const struct reading *reading, struct evidence *evidence);
void find_vague(const struct reading *reading, struct evidence *evidence);

const struct quote *keep_quote(const struct reading *reading, struct quote quote);
/* The quoted words of the answer, white space folded, in arena. */
const char *quoted(const struct reading *reading, struct quote quote);

#endif
