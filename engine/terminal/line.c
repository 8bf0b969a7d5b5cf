/* Line editing with GNU readline through its callback interface, one poll over keyboard, signals and clock.
 *
 * Readline's own signal handling is off. While a line is asked for, signals are blocked and read from a descriptor,
 * so that nothing happens inside a handler; between questions they have their usual effect. */
#include <errno.h>
#include <poll.h>
#include <signal.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/signalfd.h>
#include <sys/timerfd.h>
#include <time.h>
#include <unistd.h>
#include <readline/readline.h>
#include <readline/history.h>

#include "base/memory.h"
#include "base/text.h"
#include "terminal/charset.h"
#include "terminal/complete.h"
#include "terminal/keys.h"
#include "terminal/prompt.h"
#include "terminal/state.h"

enum { HISTORY_LINES = 500 };

static struct session {
    const struct terminal_ask *ask;
    struct terminal_entry *entry;
    bool active;                /* line editing holds the terminal */
    bool done;
    bool just_interrupted;      /* the last thing typed was Ctrl-C on an empty line */
    size_t width;               /* for which the prompt was laid out */
    int signals, timer, notice; /* descriptors; timer -1 without a clock, notice without one or once it was said */
    sigset_t mask, old_mask;
} session = {.signals = -1, .timer = -1, .notice = -1};

static struct keys keys;        /* read ahead; outlives a question, as what is typed ahead does */
static size_t taken;            /* bytes of the first event already given to line editing */
static bool lost_line_explained;

/* ---- what line editing asks of us ---- */

static bool has_key(void)
{
    struct keys_event *event = keys_first(&keys);
    return event && event->kind == KEYS_TYPED;
}

static int key_is_ready(void)
{
    return has_key();
}

static bool read_keyboard(void)
{
    char bytes[16384];
    ssize_t length = read(STDIN_FILENO, bytes, sizeof bytes);
    if (length > 0)
        keys_feed(&keys, bytes, (size_t)length);
    return length > 0 || (length < 0 && (errno == EINTR || errno == EAGAIN));
}

/* Some editing functions want a further key at once (a character to search for). A signal ends the wait; the loop
 * below then deals with it. */
static bool wait_for_key(void)
{
    while (!has_key()) {
        struct pollfd wait[] = {{.fd = STDIN_FILENO, .events = POLLIN}, {.fd = session.signals, .events = POLLIN}};
        int ready = poll(wait, 2, keys_wait_for_silence(&keys) ? KEYS_SILENCE : -1);
        if (ready == 0)
            keys_silence(&keys);
        if (ready > 0 && (wait[1].revents || !read_keyboard()))
            return false;
        if (keys_first(&keys) && !has_key())
            return false;
    }
    return true;
}

static int next_key(FILE *stream)
{
    (void)stream;
    if (!wait_for_key())
        return EOF;
    struct keys_event *event = keys_first(&keys);
    int key = (unsigned char)event->bytes[taken++];
    if (taken == event->length) {
        keys_drop(&keys);
        taken = 0;
    }
    return key;
}

static void finish(enum terminal_outcome outcome, char *text)
{
    session.entry->outcome = outcome;
    session.entry->text = text;
    session.done = true;
}

static void stop_editing(void)
{
    if (session.active)
        rl_callback_handler_remove();
    session.active = false;
}

static void remember(const char *line)
{
    HIST_ENTRY *last = history_length > 0 ? history_get(history_base + history_length - 1) : NULL;
    if (strlen(line) > 1 && !text_is_blank(line) && !(last && strcmp(last->line, line) == 0))
        add_history(line);
}

/* Readline has ended the line on the screen. NULL: Ctrl-D on an empty one. */
static void on_line(char *line)
{
    stop_editing();
    if (line)
        remember(line);
    else
        output_words("\n");
    finish(line ? TERMINAL_ENTERED : TERMINAL_ENDED, line ? line : memory_copy_text(""));
}

/* ---- the prompt and the line on the screen ---- */

static void start_editing(bool whole_prompt)
{
    struct buffer above = BUFFER_EMPTY, last = BUFFER_EMPTY, shown = BUFFER_EMPTY;
    session.width = terminal_width();
    prompt_lay_out(session.ask, session.width, &above, &last);
    if (whole_prompt)
        output_words(buffer_text(&above));
    charset_add_outward(&shown, buffer_text(&last));
    rl_callback_handler_install(buffer_text(&shown), on_line);
    session.active = true;
    buffer_free(&above);
    buffer_free(&last);
    buffer_free(&shown);
}

/* Puts the cursor behind the line, whatever row it is on, and starts a new row. */
static void leave_line(const char *sign)
{
    rl_point = rl_end;
    rl_redisplay();
    output_words(sign);
    output_words("\n");
}

static void insert_text(const char *text)
{
    struct buffer shown = BUFFER_EMPTY;
    charset_add_outward(&shown, text);
    for (size_t i = 0; i < shown.length; i++)
        if (shown.text[i] == '\n' && !session.ask->several_lines)
            shown.text[i] = ' ';
    rl_insert_text(buffer_text(&shown));
    rl_redisplay();
    buffer_free(&shown);
}

/* Says something below the half-typed line and brings the line back. The terminal keeps its modes meanwhile: in those of
 * the shell a key typed at that very moment would be the kernel's, who echoes it and takes Ctrl-U for its own. */
static void interject(const char *message)
{
    int point = rl_point;
    leave_line("");
    output_message("%s", message);
    rl_point = point;
    rl_on_new_line();
    rl_redisplay();
}

static void take_paste(const struct keys_event *event)
{
    struct buffer text = BUFFER_EMPTY, message = BUFFER_EMPTY;
    rl_callback_sigcleanup(); /* a search or a number being typed ends here */
    if (event->kind == KEYS_REFUSED || (size_t)rl_end + event->length > TERMINAL_ENTRY_LIMIT)
        buffer_print(&message, "The paste was not taken: it is %zu bytes long, and %zu is the most for one entry.",
                     event->length, TERMINAL_ENTRY_LIMIT);
    else if (!charset_add_inward(&text, event->bytes, event->length))
        buffer_add(&message, "The paste was not taken: it holds bytes that are not text in UTF-8.");
    else
        insert_text(buffer_text(&text));
    if (message.length > 0)
        interject(message.text);
    buffer_free(&text);
    buffer_free(&message);
}

/* ---- signals and the clock ---- */

/* The line goes into the history, so that it is never lost. */
static void interrupt(void)
{
    bool empty = rl_end == 0;
    char *line = memory_copy_text(rl_line_buffer);
    rl_callback_sigcleanup();
    leave_line("^C");
    remember(line);
    free(line);
    keys_forget(&keys);
    taken = 0;
    stop_editing();
    if (empty && session.just_interrupted) {
        finish(TERMINAL_INTERRUPTED, memory_copy_text(""));
        return;
    }
    if (empty)
        output_message("Ctrl-C once more leaves.");
    else if (!lost_line_explained)
        output_message("The line is kept: arrow up brings it back.");
    lost_line_explained = lost_line_explained || !empty;
    session.just_interrupted = empty;
    start_editing(false);
}

/* After a stop the terminal is in the shell's modes and the cursor anywhere. */
static void redraw_after_stop(void)
{
    if (rl_prep_term_function)
        (*rl_prep_term_function)(1);
    rl_reset_screen_size();
    rl_forced_update_display();
}

static void stop(void)
{
    struct timespec at_once = {0, 0};
    sigset_t only, continued;
    int point = rl_point;
    rl_callback_sigcleanup();
    leave_line("");
    rl_point = point;
    if (rl_deprep_term_function)
        (*rl_deprep_term_function)();
    sigemptyset(&only);
    sigaddset(&only, SIGTSTP);
    raise(SIGTSTP);
    sigprocmask(SIG_UNBLOCK, &only, NULL); /* stops here */
    sigprocmask(SIG_BLOCK, &only, NULL);
    sigemptyset(&continued);
    sigaddset(&continued, SIGCONT);
    sigtimedwait(&continued, NULL, &at_once); /* what woke us needs no second drawing */
    redraw_after_stop();
}

static void hang_up(int number)
{
    char *line = memory_copy_text(rl_line_buffer ? rl_line_buffer : "");
    terminal_state.signal = number;
    if (number != SIGHUP)
        leave_line("");
    stop_editing();
    finish(TERMINAL_HUNG_UP, line);
}

static void obey_signals(void)
{
    struct signalfd_siginfo signal_read;
    while (!session.done && read(session.signals, &signal_read, sizeof signal_read) == sizeof signal_read) {
        switch (signal_read.ssi_signo) {
        case SIGINT: interrupt(); break;
        case SIGTSTP: stop(); break;
        case SIGCONT: redraw_after_stop(); break;
        case SIGWINCH: rl_resize_terminal(); break;
        default: hang_up((int)signal_read.ssi_signo); break;
        }
    }
}

/* Searches and number arguments show a prompt of their own. */
static void tick(void)
{
    uint64_t ticks;
    struct buffer above = BUFFER_EMPTY, last = BUFFER_EMPTY, shown = BUFFER_EMPTY;
    if (read(session.timer, &ticks, sizeof ticks) != sizeof ticks ||
        RL_ISSTATE(RL_STATE_ISEARCH | RL_STATE_NSEARCH | RL_STATE_NUMERICARG | RL_STATE_COMPLETING))
        return;
    prompt_lay_out(session.ask, session.width, &above, &last);
    charset_add_outward(&shown, buffer_text(&last));
    rl_set_prompt(buffer_text(&shown));
    rl_redisplay();
    buffer_free(&above);
    buffer_free(&last);
    buffer_free(&shown);
}

/* ---- the loop ---- */

static void prepare_once(void)
{
    static bool prepared;
    if (prepared)
        return;
    prepared = true;
    rl_readline_name = "ownmark";
    rl_catch_signals = 0;
    rl_catch_sigwinch = 0;
    rl_change_environment = 0;
    rl_getc_function = next_key;
    rl_input_available_hook = key_is_ready;
    if (!terminal_state.moves_cursor || terminal_state.plain)
        rl_terminal_name = "dumb";
    rl_initialize(); /* reads the user's inputrc; what follows must hold whatever it says */
    rl_variable_bind("input-meta", "on");
    rl_variable_bind("output-meta", "on");
    rl_variable_bind("convert-meta", "off");
    rl_variable_bind("page-completions", "off");
    if (!terminal_state.moves_cursor || terminal_state.plain)
        rl_variable_bind("enable-bracketed-paste", "off");
    using_history();
    stifle_history(HISTORY_LINES);
}

/* A signal that was ignored when the program started (nohup) stays ignored. */
static void block_signals(void)
{
    static const int numbers[] = {SIGINT, SIGTERM, SIGHUP, SIGQUIT, SIGTSTP, SIGCONT, SIGWINCH};
    sigemptyset(&session.mask);
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
        struct sigaction action;
        if (sigaction(numbers[i], NULL, &action) == 0 && action.sa_handler != SIG_IGN)
            sigaddset(&session.mask, numbers[i]);
    }
    sigprocmask(SIG_BLOCK, &session.mask, &session.old_mask);
    session.signals = signalfd(-1, &session.mask, SFD_CLOEXEC | SFD_NONBLOCK);
}

static void start_clock(void)
{
    struct itimerspec each_second = {{1, 0}, {1, 0}};
    if (!session.ask->clock || !terminal_state.moves_cursor || terminal_state.plain)
        return;
    session.timer = timerfd_create(CLOCK_MONOTONIC, TFD_CLOEXEC | TFD_NONBLOCK);
    if (session.timer >= 0)
        timerfd_settime(session.timer, 0, &each_second, NULL);
}

/* A timer set to nothing would never go off. */
static void start_notice(void)
{
    double seconds = session.ask->notice_after > 0.001 ? session.ask->notice_after : 0.001;
    struct itimerspec once = {.it_value = {(time_t)seconds, (long)((seconds - (double)(time_t)seconds) * 1e9)}};
    if (!session.ask->notice)
        return;
    session.notice = timerfd_create(CLOCK_MONOTONIC, TFD_CLOEXEC | TFD_NONBLOCK);
    if (session.notice >= 0)
        timerfd_settime(session.notice, 0, &once, NULL);
}

static void drop_timer(int *timer)
{
    if (*timer >= 0)
        close(*timer);
    *timer = -1;
}

static void say_notice(void)
{
    drop_timer(&session.notice);
    rl_callback_sigcleanup(); /* a search or a number being typed ends here */
    interject(session.ask->notice);
}

static void wait_for_anything(void)
{
    struct pollfd wait[] = {{.fd = STDIN_FILENO, .events = POLLIN},
                            {.fd = session.signals, .events = POLLIN},
                            {.fd = session.timer, .events = POLLIN},
                            {.fd = session.notice, .events = POLLIN}};
    int ready = poll(wait, 4, keys_wait_for_silence(&keys) ? KEYS_SILENCE : -1);
    if (ready == 0)
        keys_silence(&keys);
    if (ready <= 0)
        return;
    if (wait[1].revents)
        obey_signals();
    if (!session.done && wait[2].revents)
        tick();
    if (!session.done && wait[3].revents)
        say_notice();
    if (!session.done && wait[0].revents && !read_keyboard())
        hang_up(SIGHUP); /* the terminal is gone */
}

static void take_event(struct keys_event *event)
{
    session.just_interrupted = false;
    if (event->kind == KEYS_TYPED) {
        rl_callback_read_char();
        return;
    }
    take_paste(event);
    keys_drop(&keys);
}

void line_ask(const struct terminal_ask *ask, struct terminal_entry *entry)
{
    session = (struct session){.ask = ask, .entry = entry, .signals = -1, .timer = -1, .notice = -1};
    prepare_once();
    block_signals();
    start_clock();
    start_notice();
    complete_from(ask);
    start_editing(true);
    if (ask->prefill)
        insert_text(ask->prefill);
    while (!session.done) {
        struct keys_event *event = keys_first(&keys);
        if (event)
            take_event(event);
        else
            wait_for_anything();
    }
    close(session.signals);
    session.signals = -1;
    drop_timer(&session.timer);
    drop_timer(&session.notice);
    sigprocmask(SIG_SETMASK, &session.old_mask, NULL);
}

void line_flush(void)
{
    keys_forget(&keys);
    taken = 0;
}

void line_close(void)
{
    stop_editing();
    clear_history();
    keys_free(&keys);
    taken = 0;
}
