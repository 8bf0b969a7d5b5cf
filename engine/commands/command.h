/* One command, one file, one descriptor; table.c lists them. What is legal is declared here and refused centrally. */
#ifndef OWNMARK_COMMANDS_COMMAND_H
#define OWNMARK_COMMANDS_COMMAND_H

#include <stdbool.h>
#include <stddef.h>

/* Exit status of every command. */
enum exit_status {
    EXIT_DONE = 0,
    EXIT_FINDING = 1,       /* a check that failed */
    EXIT_BAD_USE = 2,       /* bad use or bad input; nothing was changed */
    EXIT_SYSTEM = 3         /* the record or the system failed */
};

struct option {
    const char *name;       /* "--topic" */
    const char *value;      /* "TOPIC" in the help; NULL: a flag */
    const char *help;
};

enum { COMMAND_OPTIONS = 16, COMMAND_WORDS = 64 };

struct arguments;

struct command {
    const char *name;       /* "practise", "bank check" */
    const char *summary;    /* one line for the list of commands */
    const char *words;      /* "[BANK]": what may follow, for the usage line; NULL: nothing */
    size_t words_least, words_most;
    const char *help;       /* a paragraph or two */
    const char *example;    /* one line that works */
    bool prints_results;    /* takes --json */
    const struct option *options;       /* ended by a name of NULL; NULL: none of its own */
    enum exit_status (*run)(const struct arguments *arguments);
};

/* All commands, ended by a name of NULL. */
extern const struct command *const commands[];

/* ---- What was typed ------------------------------------------------------------------------------- */

struct arguments {
    const struct command *command;
    const char *words[COMMAND_WORDS];
    size_t word_count;
    const struct option *given[COMMAND_OPTIONS];
    const char *values[COMMAND_OPTIONS];
    size_t given_count;
    bool json, plain;
    const char *record;     /* --record; NULL: the usual place */
};

const char *argument_value(const struct arguments *arguments, const char *option);  /* NULL: not given */
bool argument_given(const struct arguments *arguments, const char *option);

/* A whole number or a number of an option within bounds. False with a message on standard error. Not given: *value
 * stays as it is. */
bool argument_whole(const struct arguments *arguments, const char *option, long least, long most, long *value);
bool argument_number(const struct arguments *arguments, const char *option, double least, double most, double *value);

/* One of some words (ended by NULL), by its number. Not given: *choice stays as it is. */
bool argument_choice(const struct arguments *arguments, const char *option, const char *const *words, size_t *choice);

/* Runs what main was given and returns the exit status. */
int command_main(int count, char **words);

#endif
