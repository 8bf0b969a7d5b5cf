/* A pseudo-terminal with a program on it. */
#include "pty.h"

#include <criterion/criterion.h>
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <pty.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>

static long now(void)
{
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return time.tv_sec * 1000 + time.tv_nsec / 1000000;
}

static void set_environment(const char *const *settings)
{
    setenv("TERM", "xterm", 1);
    setenv("LC_ALL", "C.UTF-8", 1);
    setenv("INPUTRC", "/dev/null", 1);
    unsetenv("NO_COLOR");
    for (; settings && *settings; settings++) {
        if (strchr(*settings, '='))
            putenv((char *)(size_t)*settings);
        else
            unsetenv(*settings);
    }
}

void pty_start(struct pty *pty, char *const arguments[], const char *const *settings, int columns, int rows)
{
    struct winsize size = {.ws_col = (unsigned short)columns, .ws_row = (unsigned short)rows};
    *pty = (struct pty){.output = calloc(1, 1), .capacity = 1};
    pty->child = forkpty(&pty->master, NULL, NULL, &size);
    cr_assert(pty->child >= 0, "no pseudo-terminal");
    if (pty->child == 0) {
        static const int defaults[] = {SIGINT, SIGPIPE, SIGHUP, SIGTERM, SIGQUIT, SIGTSTP};
        for (size_t i = 0; i < sizeof defaults / sizeof *defaults; i++)
            signal(defaults[i], SIG_DFL); /* whoever runs the tests may ignore some: nohup does */
        set_environment(settings);
        execvp(arguments[0], arguments);
        _exit(127);
    }
    fcntl(pty->master, F_SETFL, fcntl(pty->master, F_GETFL) | O_NONBLOCK);
}

static void keep(struct pty *pty, const char *bytes, size_t length)
{
    if (pty->length + length + 1 > pty->capacity) {
        pty->capacity = 2 * (pty->length + length + 1);
        pty->output = realloc(pty->output, pty->capacity);
        cr_assert(pty->output != NULL);
    }
    for (size_t i = 0; i < length; i++)
        pty->output[pty->length + i] = bytes[i] ? bytes[i] : '?';
    pty->length += length;
    pty->output[pty->length] = '\0';
}

/* Takes what there is. */
static void collect(struct pty *pty)
{
    char bytes[4096];
    ssize_t got;
    while (!pty->ended && (got = read(pty->master, bytes, sizeof bytes)) != 0) {
        if (got > 0)
            keep(pty, bytes, (size_t)got);
        else if (errno == EAGAIN)
            return;
        else if (errno != EINTR)
            break;
    }
    pty->ended = true; /* EIO: no program has the terminal open */
}

/* Waits for something to read (or room to write); false at the deadline. */
static bool wait_until(struct pty *pty, short events, long deadline)
{
    struct pollfd wait = {.fd = pty->master, .events = (short)(POLLIN | events)};
    long left = deadline - now();
    return left > 0 && !pty->ended && poll(&wait, 1, (int)left) >= 0;
}

bool pty_appears(struct pty *pty, const char *text, int milliseconds)
{
    long deadline = now() + milliseconds;
    for (;;) {
        collect(pty);
        const char *found = strstr(pty->output + pty->seen, text);
        if (found) {
            pty->seen = (size_t)(found - pty->output) + strlen(text);
            return true;
        }
        if (!wait_until(pty, 0, deadline))
            return false;
    }
}

/* Escapes made readable. */
static void show(const char *output)
{
    for (; *output; output++) {
        if (*output == '\033')
            fputs("<ESC>", stderr);
        else if (*output == '\r')
            fputs("<CR>", stderr);
        else
            fputc(*output, stderr);
    }
    fputc('\n', stderr);
}

void pty_expect(struct pty *pty, const char *text)
{
    if (pty_appears(pty, text, PTY_PATIENCE))
        return;
    fputs("--- screen since the last wait:\n", stderr);
    show(pty->output + pty->seen);
    cr_assert_fail("'%s' did not appear", text);
}

const char *pty_rest(struct pty *pty)
{
    collect(pty);
    return pty->output + pty->seen;
}

void pty_send_bytes(struct pty *pty, const char *bytes, size_t length)
{
    long deadline = now() + PTY_PATIENCE;
    while (length > 0) {
        ssize_t sent = write(pty->master, bytes, length);
        if (sent > 0) {
            bytes += sent;
            length -= (size_t)sent;
        }
        collect(pty);
        cr_assert(length == 0 || wait_until(pty, POLLOUT, deadline), "%zu bytes could not be sent", length);
    }
}

void pty_send(struct pty *pty, const char *keys)
{
    pty_send_bytes(pty, keys, strlen(keys));
}

void pty_resize(struct pty *pty, int columns, int rows)
{
    struct winsize size = {.ws_col = (unsigned short)columns, .ws_row = (unsigned short)rows};
    cr_assert(ioctl(pty->master, TIOCSWINSZ, &size) == 0);
}

void pty_signal(struct pty *pty, int number)
{
    cr_assert(kill(pty->child, number) == 0);
}

bool pty_is_cooked(struct pty *pty)
{
    struct termios modes;
    cr_assert(tcgetattr(pty->master, &modes) == 0);
    return (modes.c_lflag & ICANON) && (modes.c_lflag & ECHO);
}

void pty_expect_cooked(struct pty *pty, bool cooked)
{
    for (long deadline = now() + PTY_PATIENCE; pty_is_cooked(pty) != cooked;) {
        struct pollfd nothing = {.fd = -1};
        poll(&nothing, 1, 1); /* modes cannot be polled for */
        cr_assert(now() < deadline, "the terminal never became %s", cooked ? "cooked" : "raw");
    }
}

int pty_wait(struct pty *pty)
{
    int status = 0;
    long deadline = now() + PTY_PATIENCE;
    while (!pty->ended) {
        collect(pty);
        if (!pty->ended && !wait_until(pty, 0, deadline))
            cr_assert_fail("the program did not end");
    }
    cr_assert(waitpid(pty->child, &status, 0) == pty->child);
    pty->child = 0;
    return WIFEXITED(status) ? WEXITSTATUS(status) : 256 + WTERMSIG(status);
}

void pty_free(struct pty *pty)
{
    close(pty->master);
    if (pty->child > 0) {
        kill(pty->child, SIGKILL);
        waitpid(pty->child, NULL, 0);
    }
    free(pty->output);
}
