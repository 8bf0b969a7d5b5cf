/* Simulated students who practise by the program's own choice, and by others', at equal minutes:
 *
 *     simulate [--students COUNT] [--seed NUMBER] [--check]
 *
 * Prints the marks they earn on the exam day under four theories of learning, none of them the program's, and how often the
 * forecast's interval holds. The same seed prints the same figures. --check only tests the simulation itself. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "simulate.h"

enum { USUAL_STUDENTS = 100, USUAL_SEED = 20261, STUDENTS_MOST = 100000 };

static const struct calendar calendars[] = {
    {"84 days, 20 minutes on weekdays", 84, 20.0, 0.0},
    {"28 days, 20 minutes on weekdays", 28, 20.0, 0.0},
    {"84 days, 20 minutes on weekdays, 35 % of them missed", 84, 20.0, 0.35},
    {"182 days, 20 minutes on weekdays", 182, 20.0, 0.0},
};

static int use(void)
{
    fputs("usage: simulate [--students COUNT] [--seed NUMBER] [--check]\n", stderr);
    return 2;
}

static bool read_number(const char *text, unsigned long least, unsigned long most, unsigned long *number)
{
    char *end;
    *number = strtoul(text, &end, 10);
    return *text >= '0' && *text <= '9' && !*end && *number >= least && *number <= most;
}

static void print_legend(uint64_t seed)
{
    printf("Simulated students, seed %lu. They learn by\n", (unsigned long)seed);
    for (size_t t = 0; t < THEORIES; t++)
        printf("  %s: %s\n", theories[t]->name, theories[t]->text);
    printf("±: standard error of the difference between the same students; =: less than two of them from even; *: behind\n");
}

static bool simulate(size_t students, uint64_t seed)
{
    bool fair = true;
    for (size_t i = 0; i < sizeof calendars / sizeof *calendars; i++)
        fair = compare_policies(&calendars[i], students, seed) && fair;
    check_forecast(students, seed);
    return fair;
}

int main(int count, char **words)
{
    unsigned long students = USUAL_STUDENTS, seed = USUAL_SEED;
    bool check = false;
    for (int i = 1; i < count; i++) {
        bool more = i + 1 < count;
        if (more && strcmp(words[i], "--students") == 0 && read_number(words[i + 1], 2, STUDENTS_MOST, &students))
            i++;
        else if (more && strcmp(words[i], "--seed") == 0 && read_number(words[i + 1], 0, 1000000000, &seed))
            i++;
        else if (strcmp(words[i], "--check") == 0)
            check = true;
        else
            return use();
    }
    if (check)
        return check_simulation(seed) ? 0 : 1;
    print_legend(seed);
    return simulate(students, seed) ? 0 : 1;
}
