/* Runs two commands in turn and prints how their times compare: ratios taken in one run, for a shared machine is
 * quicker in one minute than in the next.
 *
 *     compare ROUNDS GOAL TEXT -- COMMAND… -- REFERENCE…
 *
 * Standard input of both is empty, their output is thrown away. Prints the medians, the ratio and the goal, and the
 * command's peak memory. */
#include <errno.h>
#include <fcntl.h>
#include <spawn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>

extern char **environ;

enum { ROUNDS_MOST = 200 };

static double now(void)
{
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec + (double)time.tv_nsec / 1e9;
}

/* Seconds of one run; the peak memory in KiB is raised to this run's. */
static double run(char **command, long *peak)
{
    posix_spawn_file_actions_t files;
    pid_t child;
    int status;
    struct rusage usage;
    posix_spawn_file_actions_init(&files);
    posix_spawn_file_actions_addopen(&files, 0, "/dev/null", O_RDONLY, 0);
    posix_spawn_file_actions_addopen(&files, 1, "/dev/null", O_WRONLY, 0);
    posix_spawn_file_actions_addopen(&files, 2, "/dev/null", O_WRONLY, 0);
    double began = now();
    int error = posix_spawnp(&child, command[0], &files, NULL, command, environ);
    if (error || wait4(child, &status, 0, &usage) < 0) {
        fprintf(stderr, "compare: cannot run %s: %s\n", command[0], strerror(error ? error : errno));
        exit(2);
    }
    double seconds = now() - began;
    posix_spawn_file_actions_destroy(&files);
    if (!WIFEXITED(status) || WEXITSTATUS(status) > 1) {
        fprintf(stderr, "compare: %s failed\n", command[0]);
        exit(2);
    }
    if (usage.ru_maxrss > *peak)
        *peak = usage.ru_maxrss;
    return seconds;
}

static int ascending(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double median(double *values, int count)
{
    qsort(values, (size_t)count, sizeof *values, ascending);
    return values[count / 2];
}

int main(int count, char **words)
{
    double command_times[ROUNDS_MOST], reference_times[ROUNDS_MOST];
    long peak = 0, reference_peak = 0;
    int second = 5;
    while (second < count && strcmp(words[second], "--") != 0)
        second++;
    int rounds = count > 1 ? atoi(words[1]) : 0;
    if (count < 8 || second + 1 >= count || rounds < 1 || rounds > ROUNDS_MOST) {
        fprintf(stderr, "usage: compare ROUNDS GOAL TEXT -- COMMAND... -- REFERENCE...\n");
        return 2;
    }
    words[second] = NULL;
    run(words + 5, &peak);
    run(words + second + 1, &reference_peak);
    for (int i = 0; i < rounds; i++) {
        command_times[i] = run(words + 5, &peak);
        reference_times[i] = run(words + second + 1, &reference_peak);
    }
    double command = median(command_times, rounds), reference = median(reference_times, rounds);
    printf("%-44s %8.1f ms %8.1f ms  ratio %6.3f  goal %-6s peak %.1f MiB\n", words[3], command * 1e3, reference * 1e3,
           command / reference, words[2], (double)peak / 1024);
    return 0;
}
