/* A sitting driven by lines of text, over a bank of the tests and a record of its own. */
#ifndef OWNMARK_TESTS_PRACTICE_SITTING_H
#define OWNMARK_TESTS_PRACTICE_SITTING_H

#include <criterion/criterion.h>

#include "practice/practice.h"

struct sitting {
    char folder[64], path[96];
    struct bank *bank;
    struct record *record;
    struct practice *practice;
    struct messages messages;
    struct buffer shown;        /* all screens so far, as plain text 80 wide */
};

/* Opens tests/data/BANK (or BANK, when it begins with a slash) and a new record; question NULL: chosen by the program. minutes 0: no limit. */
void sitting_begin(struct sitting *sitting, const char *bank, const char *question, double minutes);

/* Closes and opens everything again, as after a kill, and goes on with the open sitting. */
void sitting_again(struct sitting *sitting);

/* Types lines one after another; each must be taken. */
void sitting_type(struct sitting *sitting, const char *const *lines, size_t count);
#define TYPE(sitting, ...) \
    sitting_type(sitting, (const char *const[]){__VA_ARGS__}, sizeof((const char *const[]){__VA_ARGS__}) / sizeof(char *))

const char *sitting_prompt(struct sitting *sitting);        /* "" when it is over */
void sitting_expect_prompt(struct sitting *sitting, const char *prompt);
void sitting_expect(struct sitting *sitting, const char *text);         /* shown since the last sitting_forget */
void sitting_expect_not(struct sitting *sitting, const char *text);
void sitting_forget(struct sitting *sitting);
void sitting_end(struct sitting *sitting);                  /* frees and removes everything */

#endif
