/* Which question comes next: one of the topic where practice gains most exam marks a minute, by the learner's reckoning,
 * longer rest counting for more. Weakest first falls out of it, so does spreading over the course; never two in a row from
 * one topic while another has something to offer; unseen before longest unseen within the topic. The arithmetic is
 * learner/next.h; here it meets the bank and the wish. */
#ifndef OWNMARK_PRACTICE_CHOOSE_H
#define OWNMARK_PRACTICE_CHOOSE_H

#include <stdbool.h>
#include <stddef.h>
#include "bank/bank.h"
#include "base/message.h"
#include "practice/standing.h"
#include "record/record.h"

enum { CHOOSE_ANY = -1, CHOOSE_NOTHING = -1 };

/* What the student asked for; indices into the course, CHOOSE_ANY where nothing was said. */
struct wish {
    int topic;          /* a leaf, or a main topic: then all of its own */
    int objective;
    int word;
    int skill;
    int question;       /* index into the bank: just this one */
    const int *only;    /* when not NULL: question indices to choose among (missed points) */
    size_t only_count;
};

#define WISH_ANYTHING ((struct wish){CHOOSE_ANY, CHOOSE_ANY, CHOOSE_ANY, CHOOSE_ANY, CHOOSE_ANY, NULL, 0})

struct choosing {
    const struct bank *bank;
    struct wish wish;
    const struct standing *standing;            /* the learner, and how its topics and the course's meet */
    moment now, exam;
    const struct question_history *history;     /* sorted by question id */
    size_t history_count;
    const bool *asked;                          /* [questions] already asked in this sitting */
    int previous_topic;                         /* index, or CHOOSE_ANY */
    double minutes_left;                        /* questions that fit come before those that do not */
};

enum { CHOOSE_BEST = 5 };

struct chosen {
    int question;
    double score;           /* exam share gained a minute by a block of practice on its topic, after the reductions for repeats,
                             * interleaving and too little rest */
    double gain;            /* exam share gained by the whole block, before them */
    double share;           /* of the marks of its topic one would earn today */
    double topic_marks;     /* marks met in its topic so far */
    long rested;            /* whole days since its topic was practised; 0 when it never was */
};

/* The best ones, one a topic, best first, at most `limit` (<= CHOOSE_BEST); returns how many: 0 when the wish leaves none that was not
 * asked yet. */
size_t choose_questions(const struct choosing *choosing, struct chosen *best, size_t limit);

/* Of what a wish allows: this question, and how many of the bank. */
bool wish_allows(const struct bank *bank, const struct wish *wish, int question);
size_t choose_count(const struct bank *bank, const struct wish *wish);

/* The history of a question among those of its bank (sorted by id); NULL: never opened. */
const struct question_history *choose_history(const struct question_history *history, size_t count, const char *question);

/* Why this one, in one sentence for the student. */
void choose_reason(const struct choosing *choosing, const struct chosen *chosen, struct buffer *out);

/* Turns what was typed after --topic, --objective, --command-word, --skill, --question (NULL: not given) into a
 * wish. Unknown names: a message with what there is, and the nearest. */
struct wish_words { const char *topic, *objective, *word, *skill, *question; };
enum { WISH_WORDS = 5 };
bool wish_read(const struct bank *bank, const struct wish_words *words, struct wish *wish,
               struct messages *messages);

/* Index of the topic with this id or name; -1 with such a message when there is none. */
int topic_read(const struct course *course, const char *typed, struct messages *messages);
/* The same for a topic without sub-topics; -1 with a message that names them when it has some. */
int topic_read_leaf(const struct course *course, const char *typed, struct messages *messages);

#endif
