/* Four theories of how a student learns and forgets, none of them the program's own. Constants are from the literature where
 * one is named, else judgement; the level of each theory was set by what a student earns who practises not at all, and at
 * random, never by how a way of choosing fares. */
#ifndef OWNMARK_TOOLS_SIMULATE_THEORY_H
#define OWNMARK_TOOLS_SIMULATE_THEORY_H

#include <stdbool.h>

#include "simulate-world.h"

/* What is asked: a point as this person meets it. */
struct asked {
    size_t topic, facet;
    double lean;            /* log-odds besides the topic's: objective, word, difficulty, memory of the question */
};

struct memory;

struct theory {
    const char *name, *text;
    void *(*begin)(const struct memory *memory);        /* freed by end; all topics are taught by day 0 */
    void (*end)(void *state);
    /* The chance of earning the mark on `day` as foreseen on day `from`, which is not after it, without practice between. */
    double (*chance)(const struct memory *memory, const struct asked *asked, double from, double day);
    void (*practise)(struct memory *memory, const struct asked *asked, double day, bool earned);
};

enum { THEORIES = 4 };
extern const struct theory *const theories[THEORIES];
extern const struct theory theory_activation, theory_stability, theory_facets, theory_traces;

struct memory {
    const struct theory *theory;
    const struct world *world;
    const struct person *person;
    void *state;
    double practised;       /* day of the latest practice; 0 at first */
};

void memory_begin(struct memory *memory, const struct theory *theory, const struct world *world, const struct person *person);
void memory_end(struct memory *memory);

/* As the person meets a point of a question; boost: log-odds by memory of the very question. */
struct asked asked_of(const struct person *person, const struct question *question, size_t point, double boost);

/* The chance of earning a mark that is being answered on `day`, and of one on a later day after no more practice. */
double memory_answer(const struct memory *memory, const struct asked *asked, double day);
double memory_chance(const struct memory *memory, const struct asked *asked, double day);
void memory_practise(struct memory *memory, const struct asked *asked, double day, bool earned);

/* Expected part of an exam's marks on `day`, over all papers that could be set. */
double memory_exam(const struct memory *memory, double day);

/* The marks of one paper of `marks` one-mark points, in questions as the bank has them. */
int memory_paper(const struct memory *memory, int marks, double day, uint64_t seed);

#endif
