/* What a student made of the question before answering it, held against the bank. Pure. */
#ifndef OWNMARK_ANSWER_READING_H
#define OWNMARK_ANSWER_READING_H

#include <stdbool.h>
#include <stddef.h>
#include "bank/model.h"
#include "bank/values.h"
#include "base/arena.h"

enum word_verdict {
    WORD_RIGHT,
    WORD_OTHER,         /* a command word of the course, but not the one of this ask */
    WORD_UNKNOWN,       /* no command word of the course */
    WORD_BLANK
};

struct word_reading {
    enum word_verdict verdict;
    int word;           /* the one that was understood (course index), small slips of the pen allowed; -1 */
};

struct word_reading reading_command_word(const struct course *course, const struct part *part, const char *typed);

enum given_verdict { GIVEN_FOUND, GIVEN_WITHOUT_UNIT, GIVEN_WRONG_UNIT, GIVEN_OVERLOOKED };

struct given_reading {
    const struct given *given;
    const struct bound_value *value;
    enum given_verdict verdict;
    const char *written;        /* what was read as it, quoted from the text; NULL when overlooked */
};

struct givens_reading {
    struct given_reading *items;        /* the question's givens, then the part's: those that are shown */
    size_t count;
    const char **extra;                 /* numbers written that are none of the givens, as written */
    size_t extra_count;
};

/* Finds each given by its value (by number and unit: 1.2 m or 120 cm), in any order and wording. In arena. */
struct givens_reading reading_givens(const struct question *question, const struct part *part,
                                     const struct values *values, const char *typed, struct arena *arena);

struct wanted_reading {
    const char **touched;       /* words of the ask that matter and that the student's words take up */
    size_t touched_count;
    const char **overlooked;    /* those they leave out */
    size_t overlooked_count;
    bool unit_named;            /* a calculation: the unit wanted was named (or none is wanted) */
};

/* Compares "what is wanted, in a few words" with the sentences of the ask (its tables, figures and sources left out), by
 * stems, command word and small words left out. */
struct wanted_reading reading_wanted(const struct course *course, const struct part *part,
                                     const struct values *values, const char *typed, struct arena *arena);

#endif
