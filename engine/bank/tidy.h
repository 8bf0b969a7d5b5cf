/* A bank laid out afresh, in the layout of markup.h. */
#ifndef OWNMARK_BANK_TIDY_H
#define OWNMARK_BANK_TIDY_H

#include <stdbool.h>
#include "base/buffer.h"
#include "base/message.h"

/* The bank at path as it would stand, with all its comments and processing instructions; attributes in the order of the
 * format's description. A second run gives the same bytes. What the result says was held against what the file says,
 * question by question. False with messages when the bank is not sound. */
bool bank_tidy(const char *path, struct buffer *out, struct messages *messages);

#endif
