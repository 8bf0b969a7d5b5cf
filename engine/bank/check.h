/* Checking a bank without opening it for practice: schema and sense. Streams, one question at a time: memory
 * does not grow with the number of questions beyond their ids. */
#ifndef OWNMARK_BANK_CHECK_H
#define OWNMARK_BANK_CHECK_H

#include <stdbool.h>
#include <stddef.h>
#include "base/message.h"
#include "bank/model.h"

struct bank_check {
    bool sound;             /* no error; warnings do not count */
    char id[65];
    char course[128];
    size_t questions;
    long marks;
};

/* All faults of the file into messages (limit BANK_FAULT_LIMIT), most specific one a place. progress, if not
 * NULL, is called about every megabyte with bytes done and total. */
struct bank_check bank_check(const char *path, struct messages *messages,
                             void (*progress)(size_t done, size_t total, void *context), void *context);

/* The same for bytes that are to become the file at path, which need not exist yet: figures are looked for beside it. */
struct bank_check bank_check_bytes(const char *path, const char *bytes, size_t length, struct messages *messages);

#endif
