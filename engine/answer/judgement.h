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
    bool lacks;                 /* the text speaks of too little, or of keeping something from happening */
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

/* Does the text negate this word where it first stands? */
bool is_negated_in(const struct words *text, const struct word *word);

/* The group's first hit of this kind in sentences from … to; NULL. */
const struct hit *hit_in(const struct judgement *judgement, const struct group *group, enum assertion assertion,
                         size_t from, size_t to);

/* Does the word of the answer belong to a hit of some key word? */
bool is_key(const struct judgement *judgement, size_t index);

/* Chooses a hit of each group, the nearest together: all said in one sentence, or else in two neighbouring ones, or else
 * anywhere in a short answer; the first where they belong together, or else the first. False when there is no such choice. */
bool choose_together(struct judgement *judgement);

/* ---- What is borne out (bearing.c) --------------------------------------------------------------- */

/* How many carrying words of a text, those of the question left out, are in the answer. COUNT_POINT: in sense; a word of
 * direction is there when any of its way is, and words that are alternatives of one key word count once, any of them. */
enum counting { COUNT_WORDS, COUNT_POINT };
size_t count_own(const struct judgement *judgement, const struct words *text, enum counting counting, size_t *total);

/* The share of all words the scheme offers for the point that the answer has; *any: it offers some beside the question's. */
double share_of_words(const struct judgement *judgement, enum counting counting, bool *any);

/* All chosen words stand in the question, and nothing else of the point is there, although the point has more to say. */
bool is_from_the_ask(const struct judgement *judgement);

/* The whole answer says nothing that does not stand in the question: it hands it back. */
bool only_repeats_the_ask(const struct reading *reading);
/* Is enough of the point there beside its key words? */
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

/* Does the text set two things against each other ("while", "whereas", "but")? */
bool sets_against(const struct words *text);

/* All key words were found: do they stand with what they belong to in the scheme? Who is compared with whom, what is more or
 * less, which comes first, what is set against what. */
enum belonging {
    BELONGS_TOGETHER,
    BELONGS_PERHAPS,            /* a doubt, and no proof of the contrary */
    BELONGS_ELSEWHERE           /* plainly said of something else, or the other way round */
};
enum belonging belonging_of(const struct judgement *judgement);

/* Rules of it: what the text sets against each other (contrast.c), what it measures and how much of it there is (amounts.c). */
bool contrast_is_kept(const struct judgement *judgement);
bool measures_the_same(const struct judgement *judgement);
bool amounts_are_kept(const struct judgement *judgement);
bool label_is_kept(const struct judgement *judgement);     /* "site: …" is said of the site (labels.c) */
#endif
