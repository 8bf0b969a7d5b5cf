/* Are two questions the same but for where they stand in their files? */
#ifndef OWNMARK_TESTS_SUPPORT_SAME_H
#define OWNMARK_TESTS_SUPPORT_SAME_H

#include <stdbool.h>
#include "bank/model.h"

/* False: *where names the first thing that differs. */
bool same_question(const struct question *a, const struct question *b, const char **where);

#endif
