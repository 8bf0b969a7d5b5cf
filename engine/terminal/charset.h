/* Between the program's UTF-8 and what the locale can show. Private to this room. */
#ifndef OWNMARK_TERMINAL_CHARSET_H
#define OWNMARK_TERMINAL_CHARSET_H

#include <stdbool.h>
#include "base/buffer.h"

/* Takes the locale from the environment (LC_CTYPE only, so that numbers keep their points). */
void charset_from_environment(void);
void charset_set(const char *name);   /* as nl_langinfo(CODESET) names it; for tests */
bool charset_is_utf8(void);

/* Adds valid UTF-8 text as the locale writes it. What it has no character for becomes its ASCII neighbour (quotes,
 * dashes, spaces) or <U+2265>. */
void charset_add_outward(struct buffer *out, const char *text);

/* Adds what was typed, as UTF-8; false when it is not text in the locale's encoding. In an ASCII locale, bytes beyond
 * ASCII are taken for UTF-8. */
bool charset_add_inward(struct buffer *out, const char *typed, size_t length);

#endif
