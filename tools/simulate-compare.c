#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "simulate.h"

/* Of one theory: marks of each student by each policy. */
struct outcome {
    double *marks[POLICIES];
    double minutes[POLICIES];       /* used, mean */
    bool fair;
};

void student_make(struct student *student, uint64_t seed, size_t number)
{
    world_make(&student->world, seed * UINT64_C(1000003) + 2 * number);
    person_make(&student->person, &student->world, seed * UINT64_C(1000003) + 2 * number + 1);
}

/* ---- Running ---- */

static void run_student(struct outcome *outcome, const struct student *student, size_t number, const struct theory *theory,
                        const struct calendar *calendar, size_t students)
{
    for (size_t p = 0; p < POLICIES; p++) {
        struct run run;
        run_begin(&run, &student->world, &student->person, theory, calendar, &policies[p]);
        while (run_day(&run)) {
        }
        outcome->marks[p][number] = run_marks(&run);
        outcome->minutes[p] += run.used / (double)students;
        outcome->fair = outcome->fair && run_minutes_are_fair(&run);
        run_end(&run);
    }
}

/* ---- Figures ---- */

static double mean_of(const double *values, size_t count)
{
    double sum = 0.0;
    for (size_t i = 0; i < count; i++)
        sum += values[i];
    return sum / (double)count;
}

struct difference { double mean, error; };

static struct difference difference_of(const double *a, const double *b, size_t count)
{
    double mean = mean_of(a, count) - mean_of(b, count), squares = 0.0;
    for (size_t i = 0; i < count; i++)
        squares += (a[i] - b[i] - mean) * (a[i] - b[i] - mean);
    double n = (double)count;
    return (struct difference){mean, count > 1 ? sqrt(squares / (n - 1.0) / n) : NAN};
}

/* '*': behind by more than twice the error; '=': not to be told apart from even. */
static const char *sign_of(struct difference difference)
{
    if (difference.mean > 2.0 * difference.error)
        return "";
    return difference.mean < -2.0 * difference.error ? " *" : " =";
}

static void print_differences(const struct outcome *outcomes, size_t ours, size_t rival, size_t students)
{
    const char *sign = "  ";
    printf("%-22s", ours == POLICY_GAIN ? "  our choice ahead by" : "  our timetable by");
    for (size_t t = 0; t < THEORIES; t++) {
        struct difference d = difference_of(outcomes[t].marks[ours], outcomes[t].marks[rival], students);
        printf("%*s %+8.2f ± %4.2f", 2 - (int)strlen(sign), "", d.mean, d.error);
        sign = sign_of(d);
        printf("%s", sign);
    }
    printf("\n");
}

static void print_policy(const struct outcome *outcomes, size_t policy, size_t students)
{
    printf("%-22s", policies[policy].name);
    for (size_t t = 0; t < THEORIES; t++)
        printf("%s%16.1f", t ? "  " : "", mean_of(outcomes[t].marks[policy], students));
    printf("\n");
    if (policy < FIRST_RIVAL)
        return;
    print_differences(outcomes, POLICY_GAIN, policy, students);
    print_differences(outcomes, POLICY_TIMETABLE, policy, students);
}

static void print_outcomes(const struct calendar *calendar, const struct outcome *outcomes, size_t students)
{
    printf("\n%s: marks of 100 on the exam day, %zu students under each theory, mean %.0f minutes\n", calendar->name, students,
           outcomes[0].minutes[POLICY_GAIN]);
    printf("%-22s", "");
    for (size_t t = 0; t < THEORIES; t++)
        printf("%s%16s", t ? "  " : "", theories[t]->name);
    printf("\n");
    for (size_t p = 0; p < POLICIES; p++)
        print_policy(outcomes, p, students);
}

bool compare_policies(const struct calendar *calendar, size_t students, uint64_t seed)
{
    struct outcome outcomes[THEORIES] = {0};
    bool fair = true;
    struct student *student = memory_get(sizeof *student);
    for (size_t t = 0; t < THEORIES; t++) {
        for (size_t p = 0; p < POLICIES; p++)
            outcomes[t].marks[p] = memory_get_zeroed(students, sizeof(double));
        outcomes[t].fair = true;
    }
    for (size_t i = 0; i < students; i++) {
        student_make(student, seed, i);
        for (size_t t = 0; t < THEORIES; t++)
            run_student(&outcomes[t], student, i, theories[t], calendar, students);
    }
    print_outcomes(calendar, outcomes, students);
    for (size_t t = 0; t < THEORIES; t++) {
        fair = fair && outcomes[t].fair;
        for (size_t p = 0; p < POLICIES; p++)
            free(outcomes[t].marks[p]);
    }
    free(student);
    if (!fair)
        printf("The minutes were not equal: the figures above mean nothing.\n");
    return fair;
}
