/* What 'bank write' keeps between two goes: half-written questions, and the course of a bank that does not exist yet. */
#ifndef OWNMARK_COMMANDS_KEPT_H
#define OWNMARK_COMMANDS_KEPT_H

#include <stdbool.h>
#include "base/buffer.h"
#include "base/message.h"

/* The file for a bank, named by where the bank is, and for one question of it (NULL: a new one). The caller frees; NULL with
 * messages. */
char *kept_path(const char *bank, const char *question, const char *ending, struct messages *messages);

/* A course that was described: the bank's id on the first line, then its XML. */
char *kept_course_path(const char *bank, struct messages *messages);

bool kept_course_read(const char *bank, struct buffer *out, struct messages *messages);     /* false with messages: there is none */
void kept_course_forget(const char *bank);

/* Cuts the kept text after its first line: returns the XML behind it, the text itself is the id then. */
const char *kept_course_split(struct buffer *kept);

#endif
