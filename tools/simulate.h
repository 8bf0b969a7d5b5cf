/* What the simulation prints: simulate.c puts it together. */
#ifndef OWNMARK_TOOLS_SIMULATE_H
#define OWNMARK_TOOLS_SIMULATE_H

#include <stdbool.h>
#include <stdint.h>

#include "simulate-run.h"

/* Exam marks of every way of choosing under every theory, ours less each rival's. Student i has a world of their own, the
 * same for all. Returns false when a way of choosing was given other minutes than another. */
bool compare_policies(const struct calendar *calendar, size_t students, uint64_t seed);

/* How often the truth lies inside the forecast's 80 % interval. */
void check_forecast(size_t students, uint64_t seed);

/* Quick checks of theories, minutes and repeatability; a line for each that fails. */
bool check_simulation(uint64_t seed);

/* A world and a student of it. */
struct student { struct world world; struct person person; };
void student_make(struct student *student, uint64_t seed, size_t number);

#endif
