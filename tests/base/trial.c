#include "trial.h"

#include <fcntl.h>
#include <ftw.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

static char folder[64];

uint64_t trial_seed(uint64_t usual)
{
    const char *asked = getenv("OWNMARK_SEED");
    return asked ? strtoull(asked, NULL, 10) : usual;
}

int trial_in_child(void (*act)(void), struct buffer *error_output)
{
    int ends[2], status = 0;
    cr_assert(pipe(ends) == 0);
    pid_t child = fork();
    cr_assert(child >= 0);
    if (child == 0) {
        dup2(ends[1], STDERR_FILENO);
        close(ends[0]);
        close(ends[1]);
        act();
        _exit(0);
    }
    close(ends[1]);
    char chunk[512];
    ssize_t got;
    while ((got = read(ends[0], chunk, sizeof chunk)) > 0)
        buffer_add_bytes(error_output, chunk, (size_t)got);
    close(ends[0]);
    cr_assert(waitpid(child, &status, 0) == child);
    return WIFEXITED(status) ? WEXITSTATUS(status) : 256 + WTERMSIG(status);
}

const char *trial_folder(void)
{
    snprintf(folder, sizeof folder, "/tmp/ownmark-trial-XXXXXX");
    cr_assert(mkdtemp(folder) != NULL);
    return folder;
}

static int remove_one(const char *path, const struct stat *status, int type, struct FTW *position)
{
    (void)status;
    (void)type;
    (void)position;
    return remove(path);
}

void trial_folder_end(void)
{
    cr_expect(nftw(folder, remove_one, 8, FTW_DEPTH | FTW_PHYS) == 0);
}

void trial_make_file(const char *path, const char *bytes, size_t length)
{
    FILE *file = fopen(path, "w");
    cr_assert(file != NULL, "cannot make %s", path);
    cr_assert(fwrite(bytes, 1, length, file) == length);
    cr_assert(fclose(file) == 0);
}
