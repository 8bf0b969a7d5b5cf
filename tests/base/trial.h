/* What several test files of this room need. */
#ifndef OWNMARK_TESTS_BASE_TRIAL_H
#define OWNMARK_TESTS_BASE_TRIAL_H

#include <stddef.h>
#include <stdint.h>
#include <criterion/criterion.h>

#include "base/buffer.h"

/* The seed of a property: OWNMARK_SEED when set, so that a failure can be repeated, else `usual`. */
uint64_t trial_seed(uint64_t usual);

/* Runs act in a child process. Gives its exit status (or 256 + signal) and adds its standard error. */
int trial_in_child(void (*act)(void), struct buffer *error_output);

/* A new folder, its path in static storage; trial_folder_end removes it with all that is in it. */
const char *trial_folder(void);
void trial_folder_end(void);

/* Makes a file with this content, or ends the test. */
void trial_make_file(const char *path, const char *bytes, size_t length);

#define check_text(actual, expected)                                                                     \
    do {                                                                                                 \
        const char *actual_ = (actual), *expected_ = (expected);                                         \
        cr_expect(strcmp(actual_, expected_) == 0, "got  [%s]\nwant [%s]", actual_, expected_);          \
    } while (0)

#endif
