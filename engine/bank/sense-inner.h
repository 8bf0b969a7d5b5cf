/* What the files of sense share: the look-ups, and one question under check. For this room only. */
#ifndef OWNMARK_BANK_SENSE_INNER_H
#define OWNMARK_BANK_SENSE_INNER_H

#include <stdbool.h>
#include <stddef.h>
#include "bank/batch.h"
#include "bank/names.h"
#include "bank/sense.h"
#include "base/arena.h"

/* An enemy named before its question was met, or that never comes. */
struct awaited {
    const char *id, *owner;     /* in the arena of ids */
    unsigned long line, column;
};

struct sense {
    char *file, *folder;                /* either may be NULL */
    const struct course *course;        /* NULL before sense_course */
    bool course_is_sound;
    struct names topics, objectives, words, skills, constants;  /* name: index in the course */
    struct names units;                 /* spelling: known or not; spellings hang in the arena of ids */
    struct names questions;             /* id: line of the question, or -1 - index into awaited */
    struct arena *ids;
    struct awaited *awaited;
    size_t awaited_count, awaited_capacity, question_count;

    /* emptied for each question */
    struct names nodes;                 /* id: 1 for a point, 0 for another node */
    struct names parts;
    struct names symbols;               /* what formulae and texts may use so far, constants apart */
    struct arena *scratch;
};

/* One question, or one of its parts, or the course. */
struct check {
    struct sense *sense;
    struct messages *messages;
    const char *subject;
    const struct question *question;    /* NULL for the course */
    const struct part *part;            /* NULL outside the parts; its id is put before each message */
    unsigned long line, column;         /* where a fault is reported: question, part or node */
    struct batch batch;                 /* the variants under trial */
    bool trying;                        /* until the first fault of a given or a number */
};

void sense_fault(const struct check *check, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* "; did you mean 'x'?" or "", from the names of up to two tables (second may be NULL). In scratch. */
const char *sense_suggestion(const struct sense *sense, const char *name, const struct names *first,
                             const struct names *second, const struct messages *messages);

/* True and no fault when the unit is "" or known. what: "the given"; symbol may be NULL. */
bool sense_unit(const struct check *check, const char *unit, const char *what, const char *symbol);

/* A plain decimal: digits with at most one point and an exponent, no other form of a number. */
bool sense_is_decimal(const char *text);

/* May it name a value in a formula? A fault if not; what: "given", "constant", "number". */
bool sense_symbol_name(const struct check *check, const char *symbol, const char *what);

void sense_check_scheme(struct check *check);                   /* of check->part */

/* Symbols, givens, numbers and the values that texts show, in the order in which they become known. */
void sense_check_numbers(struct check *check);

/* Work out the next given or number for the variants under trial and look at what comes out. */
void sense_try_given(struct check *check, const struct given *given);
void sense_try_number(struct check *check, const struct number_key *key);

#endif
