/* Choosing whole questions for a paper by mixed integer programming. Pure: whole numbers in, a choice out; knows no
 * bank, prints nothing. The same blueprint gives the same choice on every machine, unless it was stopped early.
 *
 * What is asked: marks add up exactly; each aim (an objective, a skill, a topic, a demand) gets marks between `least`
 * and `most`; the time fits; enemies never meet. Among the choices that do all that, the one with the least cost: every
 * mark by which an aim lies outside its span `low` to `high` costs its `weight`, every chosen item its own cost. */
#ifndef OWNMARK_PAPER_BLUEPRINT_H
#define OWNMARK_PAPER_BLUEPRINT_H

#include <stdbool.h>
#include <stddef.h>
#include "base/arena.h"

enum aim_kind { AIM_OBJECTIVE, AIM_SKILL, AIM_TOPIC, AIM_DEMAND };

/* In marks: 0 <= least <= low <= high <= most. */
struct aim {
    enum aim_kind kind;
    int index;                  /* which objective, skill, topic or demand; not looked at here */
    int least, low, high, most;
    int weight;                 /* cost of a mark outside low … high; 0 to 10000 */
};

struct item {                   /* a question */
    int marks;                  /* 1 to 1000 */
    int seconds;
    int cost;                   /* 0 to 10000: how little it is liked; drawn, so that seeds give different papers */
    int tie;                    /* of items that are alike in all else, the one with the least is taken */
    const int *gives;           /* marks towards each aim */
    bool kept_out;              /* in a paper to avoid: never chosen, unless a trial lets it in */
};

struct enemies { size_t one, other; };     /* indices of items */

struct blueprint {
    int marks;                  /* 1 to 1000 */
    int seconds;                /* the most that the items may take together */
    const struct aim *aims;         size_t aim_count;
    const struct item *items;       size_t item_count;
    const struct enemies *enemies;  size_t enemy_count;
};

/* The marks that a share of the paper (in per cent) may have. Tolerance: the greater of 3 points and 2 marks (ours: no
 * awarding body publishes one for objectives). low and high are the whole marks around the share itself. */
void aim_set_share(struct aim *aim, double share, int marks);
/* The same for a topic, of which only whole questions can be taken: the greater of 3 points and 3 marks, but at least one
 * mark where the share is two or more, so that it is covered. */
void aim_set_topic_share(struct aim *aim, double share, int marks);
/* A share that is the least: no less, and more than the tolerance above it costs. */
void aim_set_least_share(struct aim *aim, double share, int marks);
/* A share that is only aimed at: anything goes, and every mark beside it costs. */
void aim_set_loose_share(struct aim *aim, double share, int marks);

/* ---- Judging a choice, in whole numbers --------------------------------------------------------------------- */

struct verdict {
    int marks, seconds;         /* of the choice */
    int *given;                 /* marks of each aim, in the arena */
    bool enemies_meet, uses_kept_out;
    bool meets_all;
    long cost;                  /* as above */
    long missed;                /* what the misses weigh; 0 exactly when marks, aims and time are met */
};

/* chosen: item_count flags. */
void blueprint_judge(const struct blueprint *blueprint, const bool *chosen, struct arena *arena, struct verdict *verdict);

/* ---- Solving ------------------------------------------------------------------------------------------------ */

enum solve_kind {
    SOLVE_STRICT,               /* every demand is met, or there is no choice */
    SOLVE_NEAREST,              /* marks, aims and time may be missed: as little as can be, by weight (paper/weights.h);
                                 * at most the marks of the largest item too many */
    SOLVE_NEAREST_WITH_ENEMIES, /* trials: what if enemies could meet */
    SOLVE_NEAREST_WITH_ALL      /* and nothing were kept out */
};

enum solve_outcome {
    SOLVE_BEST,                 /* no choice is better */
    SOLVE_FOUND,                /* stopped early; the best so far, which does all that kind asks */
    SOLVE_NONE,                 /* there is no such choice */
    SOLVE_STOPPED,              /* stopped early with nothing found */
    SOLVE_FAILED                /* the solver gave up: numbers beyond its reach, or no memory */
};

struct solve_progress {
    bool found;                 /* a choice is there */
    double gap;                 /* how far it may be from the best, as a fraction; 1 when unknown */
    double elapsed;             /* seconds since the start */
};

struct solve_options {
    double seconds;             /* give up then, > 0 */
    bool (*go_on)(void *context, const struct solve_progress *progress);   /* some times a second; false stops. NULL: none */
    void *context;
};

struct choice {
    enum solve_outcome outcome;
    bool *chosen;               /* item_count flags, in the arena; none set without a choice */
    struct verdict verdict;     /* of the choice */
    double bound;               /* no choice has a smaller cost (for the nearest: cost and missed together) */
};

void blueprint_solve(const struct blueprint *blueprint, enum solve_kind kind, const struct solve_options *options,
                     struct arena *arena, struct choice *choice);

/* The strict model with all items as CPLEX LP text, for other solvers to check this one. False when it cannot be
 * written. */
bool blueprint_write_model(const struct blueprint *blueprint, const char *path);

#endif
