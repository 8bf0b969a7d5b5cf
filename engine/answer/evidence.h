/* What a written answer shows: for each marking point the evidence that it was earned or not, with the words it
 * rests on; for the whole answer what the command word asks, what only repeats the question, how many
 * statements stand there, and what is vague. Pure: the same input gives the same evidence.
 *
 * Evidence is shown after the student's own ticks and decides none of them. A verdict is given only where the
 * writing is plain; everything else is "can't tell", for a wrong verdict costs more trust than a missing one.
 * Quotes are bytes of the answer as it was given, and start and end between characters. Sentences for the
 * student have no full stop; they quote the answer, so they are not safe for a terminal. */
#ifndef OWNMARK_ANSWER_EVIDENCE_H
#define OWNMARK_ANSWER_EVIDENCE_H

#include <stdbool.h>
#include <stddef.h>
#include "answer/words.h"
#include "bank/model.h"
#include "bank/values.h"
#include "base/arena.h"
#include "marking/cause.h"
#include "marking/compare.h"
#include "marking/marking.h"
#include "quantity/number.h"

/* ---- What goes in -------------------------------------------------------------------------------- */

/* One part, asked with these values. */
struct evidence_ask {
    const struct course *course;
    const struct question *question;
    const struct part *part;                /* of question */
    const struct values *values;            /* may be NULL when the question has no numbers */
    const struct vocabulary *vocabulary;    /* NULL: made from course and question; a whole course's is better */
    const struct own_value *own;            /* what the student wrote for earlier parts: answer_own_values */
    size_t own_count;
};

/* ---- Points -------------------------------------------------------------------------------------- */

enum evidence_verdict { CANT_TELL, LOOKS_EARNED, LOOKS_NOT_EARNED };

/* What the verdict rests on. */
enum evidence_ground {
    GROUND_NONE,                /* nothing in the scheme to look for: can't tell */
    GROUND_BLANK,               /* nothing was written: can't tell */
    GROUND_KEYS,                /* all key words stand together: earned */
    GROUND_ACCEPT,              /* an accepted wording: earned */
    GROUND_OWN_WORDS,           /* the point's own text, nearly whole: earned */
    GROUND_SOME_WORDS,          /* some of what is wanted: can't tell */
    GROUND_FAR_APART,           /* all key words, but not together: can't tell */
    GROUND_FROM_THE_ASK,        /* the key words only repeat the question: can't tell */
    GROUND_NO_WORDS,            /* none of its words: not earned, or can't tell where the scheme names no words */
    GROUND_IGNORED,             /* a wording that the scheme ignores, and none of its words: not earned, or can't tell */
    GROUND_REJECTED,            /* a wording that kills the point: not earned */
    GROUND_NEGATED,             /* said not to be so: not earned, or can't tell */
    GROUND_OPPOSITE,            /* the opposite direction: not earned, or can't tell (a reverse argument) */
    GROUND_NO_DIRECTION,        /* the words without the direction that is wanted: can't tell */
    GROUND_CONTRADICTED,        /* said, and the opposite said elsewhere: not earned, or can't tell */
    GROUND_NUMBER_RIGHT,        /* earned */
    GROUND_NUMBER_FOLLOWS,      /* right for the student's own earlier value: earned */
    GROUND_NUMBER_WRONG,        /* not earned */
    GROUND_NUMBER_NONE,         /* words, but no number: not earned */
    GROUND_NUMBER_UNCLEAR       /* the right number and another one as the answer, or only a given: can't tell */
};

/* A number point: the number that was taken as its answer. */
struct number_evidence {
    bool found;                 /* false: the rest is empty */
    struct number number;
    const char *unit;           /* as written behind it; "" for none */
    struct quote at;            /* number and unit */
    enum value_shown value;
    bool figures_wrong;
    enum unit_shown unit_shown;
    enum working_shown working; /* another number, an operator or = besides the value */
    double in_key_unit;         /* the student's value in the key's unit; NAN when not found */
    double expected;            /* what it was compared with last: the scheme's, or followed through; NAN for an
                                   interval alone */
};

struct point_evidence {
    const struct node *point;
    enum evidence_verdict verdict;
    enum evidence_ground ground;
    const char *reason;                 /* "you write that it does not rise"; never NULL */
    const struct quote *quotes;         /* in the order of the answer; none when nothing is there to quote */
    size_t quote_count;
    const char *missing;                /* the first key word that is not there; NULL */
    bool essential_missing;             /* and the scheme underlines it: warn */
    bool rejected;                      /* for struct point_input */
    const char *rejected_words;         /* as written; NULL */
    bool contradicted;                  /* for struct point_input: only when it is plain */
    const struct number_evidence *number;   /* NULL: a point in words */
};

/* One item of a list, looked at by itself. */
struct item_evidence {
    enum evidence_verdict verdict;  /* LOOKS_EARNED: one of the right answers; LOOKS_NOT_EARNED: listed as wrong */
    size_t answer;                  /* LOOKS_EARNED: which child of the list */
};
struct item_evidence evidence_item(const struct evidence_ask *ask, const struct node *list, const char *item,
                                   struct arena *arena);

/* ---- The whole answer ---------------------------------------------------------------------------- */

enum command_need {
    NEED_BOTH_SIDES,        /* compare, contrast, distinguish: names both sides */
    NEED_COMPARATIVE,       /* … and a word that compares */
    NEED_FOR_AND_AGAINST,   /* evaluate, assess, discuss, to what extent: evidence both ways */
    NEED_JUDGEMENT,         /* evaluate, assess, to what extent: a judgement */
    NEED_LINK,              /* explain: because, so, therefore … */
    NEED_WORKING,           /* calculate, show that, determine */
    NEED_VALUE,             /* calculate, determine, estimate, convert */
    NEED_UNIT,              /* where the answer has one */
    NEED_FIGURES,           /* describe, interpret, comment with a table of data: figures quoted */
    COMMAND_NEEDS
};

struct command_evidence {
    enum command_need need;
    bool met;
    const char *reason;                 /* "no word such as because or so links a reason" */
    const struct quote *quotes;         /* what meets it */
    size_t quote_count;
};

enum vague_kind {
    VAGUE_POINTER,          /* "it", "they" at the start: who or what? */
    VAGUE_DIRECTION,        /* "affects", "changes", "different": which way? */
    VAGUE_AMOUNT,           /* "a lot", "amount of": how much, of what? */
    VAGUE_QUALITY,          /* "better", "bad": in what way? */
    VAGUE_TERM              /* "things", "stuff": which? */
};

struct vague_word {
    struct quote at;
    enum vague_kind kind;
    const char *question;   /* "which way?" */
};

struct evidence {
    bool blank;                         /* no word and no number was written */
    const struct point_evidence *points;    size_t point_count;     /* in the order of scheme_each_point */
    const struct command_evidence *needs;   size_t need_count;      /* only those this part has */
    size_t word_count;
    size_t stem_words;                  /* words at the start that only repeat the question */
    struct quote stem;                  /* those; length 0 for none */
    size_t statements;                  /* by sentences, lines, semicolons, and clauses with a content of their own */
    int marks;                          /* the part's */
    bool too_few;                       /* fewer statements than marks: only where points are in words */
    const struct vague_word *vague;     size_t vague_count;         /* in the order of the answer */
};

/* All the evidence of one answer; in arena, which must outlive it. answer is any text, "" or NULL when nothing
 * was written. Points that carry no marks (indicative content of levels) are not among the points. */
const struct evidence *evidence_of(const struct evidence_ask *ask, const char *answer, struct arena *arena);

/* The same for the indicative content of a part's levels: what the answer touches. *count of them. */
const struct point_evidence *evidence_indicative(const struct evidence_ask *ask, const char *answer, size_t *count,
                                                 struct arena *arena);

const struct point_evidence *evidence_point(const struct evidence *evidence, const char *id);  /* NULL */

const char *evidence_verdict_name(enum evidence_verdict verdict);   /* "earned", "not-earned", "cant-tell" */
const char *evidence_ground_name(enum evidence_ground ground);      /* "keys", "negated" … for logs and tables */

/* ---- For the award ------------------------------------------------------------------------------- */

/* Fills what an award needs from the writing into the inputs, which are in the order of the evidence's points:
 * rejected, contradicted, and for numbers value, figures_wrong, unit and working. Ticks and crossing out are left as
 * they are. count must be the evidence's point_count. */
void evidence_numbers(const struct evidence *evidence, struct point_input *inputs, size_t count);

/* The student's values for the numbers with a symbol in the parts before `before`, in the keys' units: what
 * was read as the answer of each. answers: one a part of the question, NULL where nothing was written; those
 * from `before` on are not read. Only numbers whose unit can be read (or that have none) count. */
const struct own_value *answer_own_values(const struct course *course, const struct question *question,
                                          const struct values *values, const char *const *answers, size_t before,
                                          size_t *count, struct arena *arena);

/* ---- Why a mark was lost ------------------------------------------------------------------------- */

/* The cause that the evidence proposes for a point that was not earned, or CAUSE_NONE where only the student can
 * tell. `reason` as the award gives it. *because: a sentence for the student; NULL with CAUSE_NONE. */
enum cause evidence_cause(const struct evidence_ask *ask, const struct evidence *evidence, size_t point,
                          enum award_reason reason, const char **because, struct arena *arena);

#endif
