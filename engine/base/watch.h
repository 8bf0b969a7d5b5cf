/* Waiting until a file is saved. */
#ifndef OWNMARK_BASE_WATCH_H
#define OWNMARK_BASE_WATCH_H

#include <stdbool.h>
#include "base/message.h"

struct watch;

/* Watches the file's folder, for editors save by writing the file or by putting another in its place. What happens from now
 * on is not missed, however late watch_wait is called. While there is a watch, an interrupt (Ctrl-C) is held back until
 * watch_wait, which it ends; watch_free puts back what was done with it before. NULL with a message. */
struct watch *watch_new(const char *path, struct messages *messages);
void watch_free(struct watch *watch);   /* NULL is allowed */

/* Returns true once the file has been saved since the last call; several saves at once count as one. False when an
 * interrupt (Ctrl-C) or another signal with a handler came, or nothing can be watched any more. */
bool watch_wait(struct watch *watch);

#endif
