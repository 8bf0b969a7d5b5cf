/* Writing to standard output. */
#include "terminal/terminal.h"

#include <errno.h>
#include <poll.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include "base/text.h"
#include "terminal/charset.h"
#include "terminal/state.h"

static void note_failure(int error)
{
    if (terminal_state.output_error == 0)
        terminal_state.output_error = error;
}

/* A terminal shared with a program that made it non-blocking answers EAGAIN when it is slow. */
static bool may_try_again(void)
{
    struct pollfd wait = {.fd = STDOUT_FILENO, .events = POLLOUT};
    if (errno == EAGAIN)
        return poll(&wait, 1, -1) >= 0 || errno == EINTR;
    return errno == EINTR;
}

bool terminal_write(const char *bytes, size_t length)
{
    if (fflush(stdout) != 0)
        note_failure(errno);
    while (length > 0 && terminal_state.output_error == 0) {
        ssize_t written = write(STDOUT_FILENO, bytes, length);
        if (written >= 0) {
            bytes += written;
            length -= (size_t)written;
        } else if (!may_try_again()) {
            note_failure(errno);
        }
    }
    return terminal_state.output_error == 0;
}

bool output_words(const char *words)
{
    struct buffer shown = BUFFER_EMPTY;
    charset_add_outward(&shown, words);
    bool good = terminal_write(buffer_text(&shown), shown.length);
    buffer_free(&shown);
    return good;
}

void output_message(const char *format, ...)
{
    struct buffer words = BUFFER_EMPTY, wrapped = BUFFER_EMPTY;
    va_list arguments;
    va_start(arguments, format);
    buffer_print_list(&words, format, arguments);
    va_end(arguments);
    text_add_wrapped(&wrapped, buffer_text(&words), terminal_width(), 0, 0);
    buffer_add_character(&wrapped, '\n');
    output_words(buffer_text(&wrapped));
    buffer_free(&words);
    buffer_free(&wrapped);
}

bool terminal_show(const struct page *page)
{
    struct buffer drawn = BUFFER_EMPTY;
    struct text_look look = terminal_look();
    page_render_text(page, &look, &drawn);
    bool good = output_words(buffer_text(&drawn));
    buffer_free(&drawn);
    return good;
}

void terminal_move_out_of_sight(void)
{
    enum { ROWS_USUAL = 24, ROWS_MOST = 200 };
    struct winsize size = {0};
    struct buffer lines = BUFFER_EMPTY;
    if (!terminal_is_interactive())
        return;
    bool known = ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_row > 0 && size.ws_row <= ROWS_MOST;
    buffer_add_repeated(&lines, "\n", known ? size.ws_row : ROWS_USUAL);
    terminal_write(buffer_text(&lines), lines.length);
    buffer_free(&lines);
}

bool terminal_output_failed(void)
{
    if (fflush(stdout) != 0)
        note_failure(errno);
    return terminal_state.output_error != 0;
}

const char *terminal_output_reason(void)
{
    return terminal_state.output_error ? strerror(terminal_state.output_error) : "";
}
