/* Finding the command, reading its options, refusing what its descriptor does not allow. */
#include "commands/command.h"

#include <ctype.h>
#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <unistd.h>

#include "base/buffer.h"
#include "base/dates.h"
#include "base/message.h"
#include "base/text.h"
#include "commands/help.h"
#include "record/record.h"
#include "terminal/terminal.h"

static const struct option common_options[] = {
    {"--help", NULL, "show this help"},
    {"--json", NULL, "print the result as JSON"},
    {"--plain", NULL, "no colour, no cursor movement; for screen readers"},
    {"--record", "FILE", "use this record instead of the usual one"},
    {"--now", "WHEN", "pretend it is this date and time, for example 2026-05-18T14:30"},
    {NULL, NULL, NULL},
};

const struct option *help_common_options(void)
{
    return common_options;
}

static void complain(const char *format, ...) __attribute__((format(printf, 1, 2)));

static void complain(const char *format, ...)
{
    struct messages messages = MESSAGES_EMPTY;
    struct buffer text = BUFFER_EMPTY;
    va_list list;
    va_start(list, format);
    buffer_print_list(&text, format, list);
    va_end(list);
    messages_error(&messages, "%s", buffer_text(&text));
    messages_print_wrapped(&messages, terminal_error_width());
    messages_free(&messages);
    buffer_free(&text);
}

static const struct option *find_option(const struct option *options, const char *name, size_t length)
{
    for (size_t i = 0; options && options[i].name; i++)
        if (strlen(options[i].name) == length && strncmp(options[i].name, name, length) == 0)
            return &options[i];
    return NULL;
}

static void unknown_option(const struct command *command, const char *name)
{
    const char *candidates[COMMAND_OPTIONS * 2];
    size_t count = 0;
    for (size_t i = 0; command->options && command->options[i].name; i++)
        candidates[count++] = command->options[i].name;
    for (size_t i = 0; common_options[i].name; i++)
        candidates[count++] = common_options[i].name;
    const char *nearest = text_nearest(name, candidates, count);
    struct buffer hint = BUFFER_EMPTY;
    if (nearest)
        buffer_print(&hint, "; did you mean %s?", nearest);
    else
        buffer_print(&hint, "; 'ownmark %s --help' lists its options", command->name);
    complain("unknown option '%s'%s", name, buffer_text(&hint));
    buffer_free(&hint);
}

static bool take_common(struct arguments *arguments, const char *name, const char *value)
{
    moment when;
    if (strcmp(name, "--json") == 0 && !arguments->command->prints_results) {
        complain("'ownmark %s' has no JSON form; leave --json out", arguments->command->name);
        return false;
    }
    arguments->json = arguments->json || strcmp(name, "--json") == 0;
    arguments->plain = arguments->plain || strcmp(name, "--plain") == 0;
    if (strcmp(name, "--record") == 0)
        arguments->record = value;
    if (strcmp(name, "--now") != 0)
        return true;
    if (!moment_parse(value, &when)) {
        complain("--now '%s' is not a date and time; write for example 2026-05-18 or 2026-05-18T14:30", value);
        return false;
    }
    moment_set_now(when);
    return true;
}

static bool take_option(struct arguments *arguments, const char *word, const char *next, bool *used_next)
{
    size_t length = strcspn(word, "=");
    const struct option *own = find_option(arguments->command->options, word, length);
    const struct option *option = own ? own : find_option(common_options, word, length);
    if (!option) {
        unknown_option(arguments->command, word);
        return false;
    }
    const char *value = word[length] == '=' ? word + length + 1 : NULL;
    if (option->value && !value && next && (strncmp(next, "--", 2) != 0 || !next[2])) {
        value = next;   /* another option is none */
        *used_next = true;
    }
    if (option->value && !value) {
        complain("%s wants a value: %s", option->name, option->value);
        return false;
    }
    if (!option->value && value) {
        complain("%s takes no value", option->name);
        return false;
    }
    if (!own)
        return take_common(arguments, option->name, value);
    if (arguments->given_count == COMMAND_OPTIONS) {
        complain("too many options for '%s'", arguments->command->name);
        return false;
    }
    arguments->given[arguments->given_count] = option;
    arguments->values[arguments->given_count++] = value;
    return true;
}

/* "-5" is a value to be refused by the one who reads it, with the range that is allowed; no option looks so. */
static bool is_negative_number(const char *word)
{
    return word[0] == '-' && (isdigit((unsigned char)word[1]) || (word[1] == '.' && isdigit((unsigned char)word[2])));
}

static bool take_words(struct arguments *arguments, int count, char **words)
{
    bool options_over = false;
    for (int i = 0; i < count; i++) {
        const char *word = words[i];
        if (!options_over && strcmp(word, "--") == 0) {
            options_over = true;
        } else if (!options_over && word[0] == '-' && word[1] && !is_negative_number(word)) {
            bool used_next = false;
            const char *same = strcmp(word, "-o") == 0 ? "--output" : word;
            if (!take_option(arguments, same, i + 1 < count ? words[i + 1] : NULL, &used_next))
                return false;
            i += used_next;
        } else if (arguments->word_count < COMMAND_WORDS) {
            arguments->words[arguments->word_count++] = word;
        }
    }
    const struct command *command = arguments->command;
    if (arguments->word_count > command->words_most) {
        complain("'%s' is one word too many; usage: ownmark %s", arguments->words[command->words_most], command->name);
        return false;
    }
    if (arguments->word_count < command->words_least) {
        complain("'ownmark %s' wants %s", command->name, command->words);
        return false;
    }
    return true;
}

const char *argument_value(const struct arguments *arguments, const char *option)
{
    const char *value = NULL;
    for (size_t i = 0; i < arguments->given_count; i++)
        if (strcmp(arguments->given[i]->name, option) == 0)
            value = arguments->values[i];
    return value;
}

bool argument_given(const struct arguments *arguments, const char *option)
{
    for (size_t i = 0; i < arguments->given_count; i++)
        if (strcmp(arguments->given[i]->name, option) == 0)
            return true;
    return false;
}

bool argument_number(const struct arguments *arguments, const char *option, double least, double most, double *value)
{
    const char *text = argument_value(arguments, option);
    if (!text)
        return true;
    char *end;
    double number = strtod(text, &end);
    if (end == text || *end || !isfinite(number) || number < least || number > most) {
        complain("%s '%s' is not a number from %g to %g", option, text, least, most);
        return false;
    }
    *value = number;
    return true;
}

bool argument_whole(const struct arguments *arguments, const char *option, long least, long most, long *value)
{
    double number = (double)*value;
    if (!argument_number(arguments, option, (double)least, (double)most, &number))
        return false;
    if (number != floor(number)) {
        complain("%s '%s' is not a whole number", option, argument_value(arguments, option));
        return false;
    }
    *value = (long)number;
    return true;
}

bool argument_choice(const struct arguments *arguments, const char *option, const char *const *words, size_t *choice)
{
    const char *text = argument_value(arguments, option);
    struct buffer list = BUFFER_EMPTY;
    for (size_t i = 0; words[i]; i++) {
        if (text && strcmp(words[i], text) == 0)
            *choice = i;
        buffer_print(&list, "%s%s", i ? ", " : "", words[i]);
    }
    bool good = !text || (words[*choice] && strcmp(words[*choice], text) == 0);
    if (!good)
        complain("%s '%s' is not one of %s", option, text, buffer_text(&list));
    buffer_free(&list);
    return good;
}

/* ---- Finding the command -------------------------------------------------------------------------- */

/* Length in words of the match, 0 for none: "bank check" matches two. */
static int match(const struct command *command, int count, char **words)
{
    const char *space = strchr(command->name, ' ');
    size_t first = space ? (size_t)(space - command->name) : strlen(command->name);
    if (count < 1 || strlen(words[0]) != first || strncmp(words[0], command->name, first) != 0)
        return 0;
    if (!space)
        return 1;
    return count > 1 && strcmp(words[1], space + 1) == 0 ? 2 : 0;
}

static const struct command *find_command(int count, char **words, int *length)
{
    for (size_t i = 0; commands[i]; i++) {
        *length = match(commands[i], count, words);
        if (*length)
            return commands[i];
    }
    return NULL;
}

static bool is_group(const char *word)
{
    for (size_t i = 0; commands[i]; i++)
        if (text_starts_with(commands[i]->name, word) && commands[i]->name[strlen(word)] == ' ')
            return true;
    return false;
}

static void unknown_command(int count, char **words)
{
    struct buffer typed = BUFFER_EMPTY, hint = BUFFER_EMPTY;
    const char *names[64];
    size_t known = 0;
    buffer_add(&typed, words[0]);
    if (is_group(words[0]) && count > 1)
        buffer_print(&typed, " %s", words[1]);
    for (; commands[known] && known < sizeof names / sizeof *names; known++)
        names[known] = commands[known]->name;
    const char *nearest = text_nearest(buffer_text(&typed), names, known);
    if (nearest)
        buffer_print(&hint, "; did you mean 'ownmark %s'?", nearest);
    else
        buffer_add(&hint, "; 'ownmark --help' lists the commands");
    complain("no command '%s'%s", buffer_text(&typed), buffer_text(&hint));
    buffer_free(&typed);
    buffer_free(&hint);
}

static bool wants_help(int count, char **words)
{
    for (int i = 0; i < count && strcmp(words[i], "--") != 0; i++)
        if (strcmp(words[i], "--help") == 0)
            return true;
    return false;
}

/* A record that cannot be read is the command's own affair: nothing is said about it here. */
static bool is_always_plain(const char *path)
{
    struct messages unheeded = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    struct record *record = record_open(path, RECORD_READ, &unheeded);
    bool plain = record && text_equal(record_setting(record, NULL, SETTING_PLAIN, arena), "yes");
    record_close(record);
    arena_free(arena);
    messages_free(&unheeded);
    return plain;
}

static void open_terminal(bool plain, const char *record)
{
    terminal_open(plain || is_always_plain(record));
}

static enum exit_status run_command(const struct command *command, int count, char **words)
{
    struct arguments arguments = {.command = command};
    if (wants_help(count, words)) {
        open_terminal(false, NULL);
        help_show_command(command);
        return EXIT_DONE;
    }
    if (!take_words(&arguments, count, words))
        return EXIT_BAD_USE;
    open_terminal(arguments.plain, arguments.record);
    return command->run(&arguments);
}

static enum exit_status run(int count, char **words)
{
    if (count == 0) {
        open_terminal(false, NULL);
        return help_say_what_next();
    }
    if (strcmp(words[0], "--version") == 0) {
        terminal_write(OWNMARK_VERSION_LINE, strlen(OWNMARK_VERSION_LINE));
        return EXIT_DONE;
    }
    int length;
    const struct command *command = find_command(count, words, &length);
    if (command)
        return run_command(command, count - length, words + length);
    bool help = strcmp(words[0], "--help") == 0 || strcmp(words[0], "help") == 0;
    bool group = is_group(words[0]) && (count == 1 || strcmp(words[1], "--help") == 0);
    if (help || group) {
        open_terminal(false, NULL);
        help_show_commands(group ? words[0] : NULL);
        return help || count > 1 ? EXIT_DONE : EXIT_BAD_USE;
    }
    unknown_command(count, words);
    return EXIT_BAD_USE;
}

/* Descriptors 0 to 2 always exist, so that no file opened later takes their place; no core file ever holds what a
 * student wrote. */
static bool secure_process(void)
{
    for (int fd = 0; fd <= 2; fd++)
        if (fcntl(fd, F_GETFD) < 0 && errno == EBADF && open("/dev/null", fd == 0 ? O_RDONLY : O_WRONLY) != fd)
            return false;
    struct rlimit none = {0, 0};
    return setrlimit(RLIMIT_CORE, &none) == 0;
}

int command_main(int count, char **words)
{
    if (!secure_process())
        return EXIT_SYSTEM;
    enum exit_status status = run(count - 1, words + 1);
    if (terminal_output_failed()) {
        complain("the output could not be written: %s; check the disk, or what the output goes to", terminal_output_reason());
        status = EXIT_SYSTEM;
    }
    terminal_close();
    return (int)status;
}
