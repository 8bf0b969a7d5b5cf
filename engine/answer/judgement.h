/* A point in words while it is judged: what the files behind judge_words share. Not for other files. */
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

/* ---- Saying it (judgement.c) --------------------------------------------------------------------- */

void add_quote(struct judgement *judgement, struct quote quote);   /* in the order of the answer, each once */
void add_hit(struct judgement *judgement, const struct hit *hit);
void settle(struct judgement *judgement, enum evidence_verdict verdict, enum evidence_ground ground, const char *reason);

/* "… \"first quote\" and \"second quote\"", at most three. */
const char *with_quotes(const struct judgement *judgement, const char *before, const char *behind);

/* ---- Directions (sense.c) ------------------------------------------------------------------------ */

void sentence_around(const struct words *words, const struct hit *hit, size_t *first, size_t *last);

/* Settles by direction, in words first … last around the hit, unless it fits. */
bool settle_by_sense(struct judgement *judgement, size_t first, size_t last, const struct hit *hit);

/* ---- Whole wordings (wordings.c) ----------------------------------------------------------------- */

bool settle_accepted(struct judgement *judgement);
void settle_rejected(struct judgement *judgement);     /* overrules what was settled before */
bool settle_ignored(struct judgement *judgement);

/* ---- Key words (keys.c) -------------------------------------------------------------------------- */

void gather_groups(struct judgement *judgement);

/* The group's first hit of this kind in sentences from … to; NULL. */
const struct hit *hit_in(const struct judgement *judgement, const struct group *group, enum assertion assertion,
                         size_t from, size_t to);

/* Chooses a hit of each group: all said in one sentence, or else in two neighbouring ones, or else anywhere in a short
 * answer. False when there is no such choice. */
bool choose_together(struct judgement *judgement);

/* How many carrying words of a text, those of the question left out, are in the answer. */
size_t count_own(const struct reading *reading, const struct words *text, size_t *total);

/* The share of all words the scheme offers for the point that the answer has; *any: it offers some beside the question's. */
double share_of_words(const struct judgement *judgement, bool *any);

bool is_from_the_ask(const struct judgement *judgement);
bool is_borne_out(const struct judgement *judgement);

/* ---- Said and unsaid (unsaid.c) ------------------------------------------------------------------ */

bool settle_contradicted(struct judgement *judgement);
bool settle_negated(struct judgement *judgement);

/* ---- Not all there (missing.c) ------------------------------------------------------------------- */

void settle_missing(struct judgement *judgement);

/* ---- What belongs to what (belonging.c) ---------------------------------------------------------- */

/* Does the command word ask for names only, so that a word alone is an answer? */
bool names_only(const struct evidence_ask *ask);

/* "spring or neap": an answer that leaves it open. */
bool is_left_open(const struct judgement *judgement, const struct hit *hit);

/* All key words were found: do they stand with what they belong to in the scheme? Who is compared with whom, what is more or
 * less, which comes first, what is set against what. False is a doubt and no proof of the contrary. */
bool belongs_together(const struct judgement *judgement);

#endif
