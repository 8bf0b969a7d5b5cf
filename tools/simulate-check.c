/* Is the simulation itself sound? Each theory must forget, learn and keep its chances; every way of choosing gets the same
 * minutes; the same seed gives the same student. What is expected follows from the theories' own definitions. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/memory.h"
#include "simulate.h"

static const struct calendar calendar = {"check", 28, 20.0, 0.35};

static bool say(bool good, const char *where, const char *what)
{
    if (!good)
        printf("simulate --check: %s: %s\n", where, what);
    return good;
}

/* ---- Theories ---- */

static const struct asked plain = {.topic = 3, .facet = 1, .lean = 0.0};

static double chance_after(const struct student *student, const struct theory *theory, const double *days, size_t count,
                           double day)
{
    struct memory memory;
    memory_begin(&memory, theory, &student->world, &student->person);
    for (size_t i = 0; i < count; i++)
        for (size_t facet = 0; facet < FACETS; facet++) {
            struct asked asked = {.topic = 3, .facet = facet, .lean = 0.0};
            memory_practise(&memory, &asked, days[i], true);
        }
    double chance = memory_chance(&memory, &plain, day);
    memory_end(&memory);
    return chance;
}

/* Of many students, for what is learnt and lost by chance shows only in the mean. */
enum { MANY = 200 };

static double mean_chance(struct student *students, const struct theory *theory, const double *days, size_t count, double day)
{
    double sum = 0.0;
    for (size_t i = 0; i < MANY; i++)
        sum += chance_after(&students[i], theory, days, count, day);
    return sum / MANY;
}

/* Spacing as such is worth nothing where facets are unlearnt at random, so nothing is asked of that theory there. */
static bool check_theory(struct student *students, const struct theory *theory)
{
    static const double once[] = {1.0}, massed[] = {1.0, 1.01, 1.02, 1.03}, spaced[] = {1.0, 8.0, 15.0, 22.0};
    static const double late[] = {22.0, 22.01, 22.02, 22.03};
    double none = mean_chance(students, theory, NULL, 0, 60.0), one = mean_chance(students, theory, once, 1, 60.0);
    double crammed = mean_chance(students, theory, massed, 4, 60.0), apart = mean_chance(students, theory, spaced, 4, 60.0);
    bool good = say(none > 0.0 && apart < 1.0, theory->name, "a chance is not one");
    good = say(mean_chance(students, theory, NULL, 0, 0.0) > none, theory->name, "nothing is forgotten") && good;
    good = say(one > none, theory->name, "nothing is learnt") && good;
    good = say(crammed > one && apart > one, theory->name, "more practice does not help") && good;
    good = say(theory == &theory_facets || apart > mean_chance(students, theory, late, 4, 60.0), theory->name,
               "spaced practice does not beat practice at once, though no older") && good;
    return good;
}

/* ---- Runs ---- */

static bool check_policy(const struct student *student, const struct theory *theory, const struct policy *policy,
                         double allotted)
{
    double marks[2];
    bool good = true;
    for (size_t i = 0; i < 2; i++) {
        struct run run;
        run_begin(&run, &student->world, &student->person, theory, &calendar, policy);
        while (run_day(&run)) {
        }
        marks[i] = run_marks(&run);
        good = good && fabs(run_allotted(&run) - allotted) < 1e-9 && run_minutes_are_fair(&run);
        run_end(&run);
    }
    good = say(good, policy->name, "was given other minutes than the rest") && good;
    return say(fabs(marks[0] - marks[1]) <= 0.0, policy->name, "gives other marks the second time") && good;
}

static double allotted_minutes(const struct student *student)
{
    struct run run;
    run_begin(&run, &student->world, &student->person, theories[0], &calendar, &policies[0]);
    double minutes = run_allotted(&run);
    run_end(&run);
    return minutes;
}

/* A paper's mean is the exam's expectation. */
static bool check_papers(const struct student *student, const struct theory *theory)
{
    enum { PAPERS = 4000, MARKS = 60 };
    struct memory memory;
    double sum = 0.0, squares = 0.0;
    memory_begin(&memory, theory, &student->world, &student->person);
    for (size_t i = 0; i < PAPERS; i++) {
        double share = (double)memory_paper(&memory, MARKS, 3.5, i) / MARKS;
        sum += share;
        squares += share * share;
    }
    double mean = sum / PAPERS, error = sqrt((squares / PAPERS - mean * mean) / PAPERS);
    bool good = fabs(mean - memory_exam(&memory, 3.5)) < 4.0 * error + 0.005;
    memory_end(&memory);
    return say(good, theory->name, "papers do not bring what is expected of them");
}

bool check_simulation(uint64_t seed)
{
    struct student *students = memory_get_zeroed(MANY, sizeof *students);
    bool good = true;
    for (size_t i = 0; i < MANY; i++)
        student_make(&students[i], seed, i);
    for (size_t t = 0; t < THEORIES; t++) {
        good = check_theory(students, theories[t]) && good;
        good = check_papers(&students[0], theories[t]) && good;
        for (size_t p = 0; p < POLICIES; p++)
            good = check_policy(&students[t], theories[t], &policies[p], allotted_minutes(&students[t])) && good;
    }
    free(students);
    return good;
}
