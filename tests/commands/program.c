#include "program.h"

#include <errno.h>
#include <fcntl.h>
#include <ftw.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

enum { WORDS_MOST = 24 };

void home_make(struct home *home)
{
    snprintf(home->folder, sizeof home->folder, "/tmp/ownmark-home-XXXXXX");
    cr_assert(mkdtemp(home->folder) != NULL);
    snprintf(home->record, sizeof home->record, "%s/record.db", home->folder);
    snprintf(home->data, sizeof home->data, "XDG_DATA_HOME=%s", home->folder);
    snprintf(home->cache, sizeof home->cache, "XDG_CACHE_HOME=%s", home->folder);
}

static int remove_one(const char *path, const struct stat *state, int kind, struct FTW *walk)
{
    (void)state, (void)kind, (void)walk;
    return remove(path);
}

void home_remove(struct home *home)
{
    nftw(home->folder, remove_one, 8, FTW_DEPTH | FTW_PHYS);
}

static const char *program_path(void)
{
    const char *path = getenv("OWNMARK");
    cr_assert(path != NULL, "OWNMARK names the program to test; make test sets it");
    return path;
}

void program_on_pty(struct pty *pty, const struct home *home, const char *const *words)
{
    const char *settings[] = {home->data, home->cache, "TZ=UTC", NULL};
    char *arguments[WORDS_MOST];
    size_t count = 0;
    arguments[count++] = (char *)program_path();
    for (; *words && count < WORDS_MOST - 3; words++)
        arguments[count++] = (char *)*words;
    arguments[count++] = (char *)"--record";
    arguments[count++] = (char *)home->record;
    arguments[count] = NULL;
    pty_start(pty, arguments, settings, 80, 30);
}

static void child(const struct home *home, char *const *arguments, int input, int output)
{
    dup2(input, 0);
    dup2(output, 1);
    dup2(output, 2);
    putenv((char *)home->data);
    putenv((char *)home->cache);
    putenv((char *)"TZ=UTC");
    putenv((char *)"LC_ALL=C.UTF-8");
    execv(arguments[0], arguments);
    _exit(127);
}

/* Input goes through a file, so that nobody waits for anybody. */
static int input_of(const char *typed)
{
    FILE *file = tmpfile();
    cr_assert(file != NULL);
    fputs(typed ? typed : "", file);
    fflush(file);
    int descriptor = dup(fileno(file));
    fclose(file);
    lseek(descriptor, 0, SEEK_SET);
    return descriptor;
}

static void read_all(int from, struct buffer *output)
{
    char block[4096];
    ssize_t got;
    while ((got = read(from, block, sizeof block)) > 0 || (got < 0 && errno == EINTR))
        if (got > 0)
            buffer_add_bytes(output, block, (size_t)got);
}

int program_run(const struct home *home, const char *const *words, const char *typed, struct buffer *output)
{
    char *arguments[WORDS_MOST];
    size_t count = 0;
    int ends[2], status = 0, input = input_of(typed);
    arguments[count++] = (char *)program_path();
    for (; *words && count < WORDS_MOST - 1; words++)
        arguments[count++] = (char *)*words;
    arguments[count] = NULL;
    cr_assert_eq(pipe(ends), 0);
    pid_t pid = fork();
    if (pid == 0)
        child(home, arguments, input, ends[1]);
    close(ends[1]);
    close(input);
    read_all(ends[0], output);
    close(ends[0]);
    while (waitpid(pid, &status, 0) < 0 && errno == EINTR)
        ;
    return WIFEXITED(status) ? WEXITSTATUS(status) : 256 + WTERMSIG(status);
}

void program_expect(const struct home *home, const char *const *words, int status, const char *text)
{
    struct buffer output = BUFFER_EMPTY;
    int ended = program_run(home, words, NULL, &output);
    cr_assert_eq(ended, status, "ended with %d, wanted %d:\n%s", ended, status, buffer_text(&output));
    cr_assert(strstr(buffer_text(&output), text) != NULL, "not said: \"%s\" in\n%s", text, buffer_text(&output));
    buffer_free(&output);
}
