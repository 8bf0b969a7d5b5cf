/* From a choice to a paper that can be printed and put on file. */
#ifndef OWNMARK_PAPER_MAKE_H
#define OWNMARK_PAPER_MAKE_H

#include "base/dates.h"
#include "paper/gather.h"
#include "paper/opened.h"

/* Fills `opened` from the chosen items, in their order, numbers drawn. folder: where the paper's file will be, which
 * must exist; paths of banks are written as seen from there. Everything hangs in arena (opened->arena is left NULL) and
 * the banks are those gathered from: there is nothing to free. False with messages when a bank changed meanwhile. */
bool paper_make(const struct gathered *gathered, const bool *chosen, moment made, const char *folder, struct arena *arena,
                struct opened_paper *opened, struct messages *messages);

/* The path of `target` as seen from `folder`, both absolute and without "." and ".."; in the arena. */
const char *paper_path_from(const char *folder, const char *target, struct arena *arena);

#endif
