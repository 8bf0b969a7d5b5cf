/* Private to this room. */
#ifndef OWNMARK_TERMINAL_WIDTH_H
#define OWNMARK_TERMINAL_WIDTH_H

#include <stddef.h>

/* The columns to write in on a terminal that has so many: 40 to 100, 80 when it does not say (0). */
size_t width_clamp(unsigned columns);

#endif
