/* What the files of 'ownmark paper' share. */
#ifndef OWNMARK_COMMANDS_PAPER_H
#define OWNMARK_COMMANDS_PAPER_H

#include "base/arena.h"
#include "base/message.h"
#include "commands/command.h"
#include "paper/gather.h"
#include "report/page.h"

enum { PAPER_FILES = 5 };
extern const char *const paper_file_names[PAPER_FILES];

struct paper_work {
    const struct arguments *arguments;
    struct arena *arena;
    struct messages *messages;
    struct paper_wishes wishes;
    struct gathered gathered;
    struct choice choice;
    struct verdict with_enemies, with_all;      /* of the trials, for the nearest paper */
    double seconds;
    char *folder;
    bool nearest;                               /* choice is the nearest paper, not one that meets all */
};

/* Reads the options that say what is wanted, and the papers to avoid, into arena. False with messages, or with a message
 * already on standard error. */
bool paper_read_wishes(const struct arguments *arguments, struct arena *arena, struct paper_wishes *wishes,
                       struct messages *messages);

/* Is there a choice at all? */
bool paper_has_choice(const struct choice *choice);

/* The paper that was written; what the nearest one misses; why there is none that meets all. */
void paper_tell_written(struct page *page, const struct paper_work *work);
void paper_tell_misses(struct page *page, const struct paper_work *work);
void paper_tell_none(struct page *page, const struct paper_work *work, enum solve_outcome strict, bool interrupted);

/* The choice as JSON on standard output. */
void paper_show_json(const struct paper_work *work, bool written);

#endif
