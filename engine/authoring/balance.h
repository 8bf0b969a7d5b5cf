/* How a bank's marks are shared out, beside what its course wants, and which questions would mend it. Pure. */
#ifndef OWNMARK_AUTHORING_BALANCE_H
#define OWNMARK_AUTHORING_BALANCE_H

#include <stdbool.h>
#include <stddef.h>
#include "bank/bank.h"
#include "base/arena.h"
#include "base/json.h"
#include "report/page.h"

/* A share may be off by the larger of these. Ours: no awarding body publishes a tolerance for its objectives. */
#define BALANCE_POINTS 3.0      /* per cent of the marks */
#define BALANCE_MARKS 2.0

enum balance_by { BALANCE_OBJECTIVE, BALANCE_SKILL, BALANCE_TOPIC, BALANCE_DEMAND, BALANCE_WORD, BALANCE_HEADINGS };

struct balance_line {
    const char *id, *name;
    bool inner;             /* a sub-topic: counted in the main topic before it as well */
    long questions;         /* that have marks here */
    double marks, share;    /* share: per cent of the bank's marks; 0 in an empty bank */
    double wanted;          /* per cent; NAN where the course wants nothing */
    bool least;             /* wanted is the least, not the aim */
    bool off;
    double missing;         /* marks that would bring it to its share if nothing else were written; 0 when it has it */
};

struct balance_table {
    struct balance_line *lines;     /* in course order; command words: those used, most marks first */
    size_t count;
};

struct balance {
    const struct course *course;
    size_t questions, varied;
    double marks;
    size_t off;             /* lines that are off, all tables together */
    struct balance_table tables[BALANCE_HEADINGS];
};

/* Of a question that would bring the bank nearer to its course. */
struct balance_wish {
    const char *topic, *objective, *skill;  /* names; the objective's id; skill NULL: none needed */
    const char *words[3];                   /* command words that usually signal the objective, least used first; NULL */
    enum demand demand;                     /* the scarcer of standard and high; recall: standard */
    int marks;
};

/* In arena, which must outlive it, as must the bank. */
struct balance *balance_of(const struct bank *bank, struct arena *arena);

/* The next questions to write, at most `most` into wishes, each on the footing that the ones before are written. */
size_t balance_wishes(const struct balance *balance, struct balance_wish *wishes, size_t most);

const char *balance_heading(enum balance_by by);    /* "objective" */

/* Tables with bars, then what to write next. */
void balance_show(struct page *page, const char *path, const struct balance *balance);
/* Members of the object in hand. */
void balance_json(struct json *json, const struct balance *balance);

#endif
