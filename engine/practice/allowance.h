/* Extra time, as a factor. */
#ifndef OWNMARK_PRACTICE_ALLOWANCE_H
#define OWNMARK_PRACTICE_ALLOWANCE_H

#include "record/record.h"

/* 1 without extra time, 1.25 for a quarter more, by the settings; record NULL: 1. */
double allowance_of(struct record *record, const char *bank, struct arena *arena);

#endif
