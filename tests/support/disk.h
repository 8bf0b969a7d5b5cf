/* A disk that fails on command. What the program does to files through the C library is counted: making a temporary file,
 * writing, setting the mode, syncing, renaming. */
#ifndef OWNMARK_TESTS_DISK_H
#define OWNMARK_TESTS_DISK_H

#include <stdbool.h>

/* From now on the at-th such call (from 1) fails with this errno; a write has then written half of what it was given. 0: the disk
 * is well again. code 0: instead of failing, the process is killed there. */
void disk_fail(long at, int code);

/* Did it come that far? Reset by disk_fail. */
bool disk_failed(void);

#endif
