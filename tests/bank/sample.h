/* A small course and a sound question of it, built in memory, for tests that then spoil one thing. */
#ifndef OWNMARK_TESTS_BANK_SAMPLE_H
#define OWNMARK_TESTS_BANK_SAMPLE_H

#include <stdint.h>
#include "bank/model.h"
#include "base/arena.h"

/* Indices into the sample course. */
enum { TOPIC_WAVES, TOPIC_ENERGY, TOPIC_TIDES, TOPIC_SHORE };
enum { WORD_CALCULATE, WORD_EXPLAIN };
enum { SKILL_MATHS, SKILL_PRACTICAL };

struct sample {
    struct objective objectives[3];
    struct skill skills[2];
    struct topic topics[4];
    struct command_word words[2];
    struct constant constants[2];
    struct course course;

    struct given givens[4];         /* H by choice, T in a range, n fixed, t computed */
    struct given part_givens[1];    /* rho, of part a */
    struct number_key power;        /* P, of the accuracy point of part a */
    struct number_key energy;       /* E, of the second point of part b */
    struct node a[3];               /* method sub, accuracy value, independent word */
    struct node b[2];
    int skill_indices[1];
    struct run ask_runs[2];
    struct block ask_blocks[1], stem_blocks[1];
    struct part parts[2];
    struct question question;       /* w01, 3 + 2 marks */
};

void sample_make(struct sample *sample);

/* Nodes for schemes. children must outlive the node. */
struct node sample_point(const char *id, int marks);
struct node sample_group(enum node_kind kind, int take, const struct node *children, size_t count);

/* The seed of a property: OWNMARK_SEED when set, so that a failure can be repeated, else `usual`. */
uint64_t sample_seed(uint64_t usual);

#endif
