/* A point in words while it is judged: what point-words.c and belonging.c share. Not for other files. */
#ifndef OWNMARK_ANSWER_JUDGEMENT_H
#define OWNMARK_ANSWER_JUDGEMENT_H

#include "answer/inside.h"

struct group {
    const struct key_word *key;
    struct hits hits;
    bool asked;                 /* its words stand in the question */
    const struct hit *chosen;
};

struct judgement {
    const struct reading *reading;
    const struct node *point;
    struct words text;
    struct directions sense;    /* of the text */
    bool negative;              /* the text itself says "not" */
    struct group *groups;
    size_t group_count;
    bool complete;              /* all key words, or an accepted wording, are there */
    bool keys_direct;           /* a key word has a direction: it is judged with the key */
    struct quote *quotes;
    size_t quote_count;
    struct point_evidence *evidence;
};

/* Does the command word ask for names only, so that a word alone is an answer? */
bool names_only(const struct evidence_ask *ask);

/* "spring or neap": an answer that leaves it open. */
bool is_left_open(const struct judgement *judgement, const struct hit *hit);

/* All key words were found: do they stand with what they belong to in the scheme? Who is compared with whom, what is more or
 * less, which comes first, what is set against what. False is a doubt and no proof of the contrary. */
bool belongs_together(const struct judgement *judgement);

#endif
