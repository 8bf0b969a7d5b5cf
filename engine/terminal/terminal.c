/* Finding out what the terminal is, and putting it back. */
#include "terminal/terminal.h"

#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/resource.h>
#include <unistd.h>
#include <termcap.h>

#include "base/memory.h"
#include "terminal/charset.h"
#include "terminal/state.h"
#include "terminal/width.h"

struct terminal_state terminal_state;

static const int crashes[] = {SIGABRT, SIGSEGV, SIGBUS, SIGFPE};

/* Safe in a signal handler and with no memory left: system calls only. */
static void put_back(void)
{
    static const char no_bracketed_paste[] = "\033[?2004l\r";
    if (!terminal_state.modes_known)
        return;
    tcsetattr(STDIN_FILENO, TCSANOW, &terminal_state.modes);
    if (terminal_state.moves_cursor && !terminal_state.plain) {
        ssize_t written = write(STDOUT_FILENO, no_bracketed_paste, sizeof no_bracketed_paste - 1);
        (void)written;
    }
}

static void on_crash(int number)
{
    put_back();
    raise(number); /* the handler was taken away when it was entered */
}

/* Only where nobody else (a sanitizer, a debugger's shim) has a handler. */
static void guard_crashes(void)
{
    for (size_t i = 0; i < sizeof crashes / sizeof *crashes; i++) {
        struct sigaction old, act = {.sa_handler = on_crash, .sa_flags = (int)SA_RESETHAND};
        if (sigaction(crashes[i], NULL, &old) == 0 && old.sa_handler == SIG_DFL)
            sigaction(crashes[i], &act, NULL);
    }
}

/* A closed standard descriptor would be given to the next file opened, and messages would be written into it. In its
 * place comes one that fails whenever it is used the usual way. */
static void fill_standard_descriptors(void)
{
    for (int descriptor = 0; descriptor <= 2; descriptor++)
        if (fcntl(descriptor, F_GETFD) < 0 && open("/dev/null", descriptor == 0 ? O_WRONLY : O_RDONLY) < 0)
            return;
}

static bool terminal_is_known(void)
{
    const char *name = getenv("TERM");
    return name && name[0] && strcmp(name, "dumb") != 0 && tgetent(NULL, name) > 0;
}

void terminal_open(bool plain)
{
    static bool registered;
    struct terminal_state *state = &terminal_state;
    const char *no_colour = getenv("NO_COLOR");
    fill_standard_descriptors();
    charset_from_environment();
    *state = (struct terminal_state){.open = true, .plain = plain};
    state->input_is_terminal = isatty(STDIN_FILENO);
    state->output_is_terminal = isatty(STDOUT_FILENO);
    state->moves_cursor = state->output_is_terminal && terminal_is_known();
    state->colour = state->moves_cursor && !plain && !(no_colour && no_colour[0]);
    state->modes_known = terminal_is_interactive() && tcgetattr(STDIN_FILENO, &state->modes) == 0;
    if (state->modes_known)
        guard_crashes();
    memory_set_last_act(put_back);
    if (!registered && atexit(terminal_close) == 0)
        registered = true;
}

void terminal_close(void)
{
    if (!terminal_state.open)
        return;
    line_close();
    terminal_state.open = false;
    memory_set_last_act(NULL);
}

bool terminal_is_interactive(void)
{
    return terminal_state.input_is_terminal && terminal_state.output_is_terminal;
}

size_t width_clamp(unsigned columns)
{
    if (columns == 0)
        return 80;
    return columns < 40 ? 40 : columns > 100 ? 100 : columns;
}

size_t terminal_width(void)
{
    struct winsize size = {0};
    if (!terminal_state.output_is_terminal || ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) != 0)
        return width_clamp(0);
    return width_clamp(size.ws_col);
}

size_t terminal_error_width(void)
{
    struct winsize size = {0};
    if (!isatty(STDERR_FILENO))
        return 0;
    return width_clamp(ioctl(STDERR_FILENO, TIOCGWINSZ, &size) == 0 ? size.ws_col : 0);
}

struct text_look terminal_look(void)
{
    return (struct text_look){.width = terminal_width(), .colour = terminal_state.colour,
                              .ascii = terminal_state.plain || !charset_is_utf8()};
}

void terminal_end_by_signal(void)
{
    int number = terminal_state.signal ? terminal_state.signal : SIGTERM;
    struct rlimit no_core = {0, 0};
    sigset_t only;
    terminal_close();
    setrlimit(RLIMIT_CORE, &no_core); /* answers stay out of core files */
    signal(number, SIG_DFL);
    sigemptyset(&only);
    sigaddset(&only, number);
    sigprocmask(SIG_UNBLOCK, &only, NULL);
    raise(number);
    _exit(128 + number);
}
