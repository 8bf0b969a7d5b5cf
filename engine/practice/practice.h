/* The practice cycle as a machine: lines of text in, screens out; no terminal in it.
 *
 * A sitting asks questions one after another; each goes through read, plan, answer, check. At its end the student says
 * how sure each topic feels. Whatever is entered is appended to the record before the next prompt is given, and the
 * machine's own state is only what those events say: a sitting that was left, killed or cut off goes on at the same place.
 *
 *     loop: show practice_screen(); a = practice_ask(); if a is NULL: finished; practice_enter(line)
 *
 * In every prompt "?" asks for help, and a line that is just one of these words is an instruction:
 * .leave  .skip  .back  .sheet  .question  and while answering also  .  .edit  .clock */
#ifndef OWNMARK_PRACTICE_PRACTICE_H
#define OWNMARK_PRACTICE_PRACTICE_H

#include <stdbool.h>
#include <stddef.h>
#include "bank/bank.h"
#include "base/message.h"
#include "practice/choose.h"
#include "record/record.h"
#include "report/page.h"

struct practice;

struct practice_plan {
    struct wish wish;
    struct wish_words words;    /* the wish as it was typed, for the record and for messages */
    double minutes;             /* length of the sitting; 0: no limit */
    int questions;              /* how many at most; 0: no limit */
    bool missed;                /* only questions with a missed point that is due today */
    bool why;                   /* show the best five with their figures at each choice */
};

/* Starts a new sitting. bank and record stay the caller's and must outlive it. NULL with a message when the wish
 * leaves no question or the record cannot be written. Where only missed points are wanted and none is due, the sitting is
 * at its end, its screen says when the next is, and nothing is written. */
struct practice *practice_begin(struct bank *bank, struct record *record, const struct practice_plan *plan,
                                struct messages *messages);

/* Goes on with an open sitting of this bank. NULL with a message when its events cannot be read. */
struct practice *practice_resume(struct bank *bank, struct record *record, int64_t sitting,
                                 struct messages *messages);

/* Closes a sitting that will not be gone on with; what was fully marked in it counts. */
bool practice_abandon(struct bank *bank, struct record *record, int64_t sitting, struct messages *messages);

void practice_free(struct practice *practice);  /* NULL is allowed */

/* What to show now; the machine's, valid until the next call. Empty when there is nothing new. */
const struct page *practice_screen(struct practice *practice);

/* What is asked now; NULL when the sitting is over or was left. */
struct practice_ask {
    const char *prompt;                 /* without the final "> " */
    const char *const *completions;
    size_t completion_count;
    const char *prefill;                /* a line to start from, or NULL */
    bool several_lines;                 /* a text of several lines is being collected: a paste may hold many */
    bool clock;                         /* a clock runs and is not hidden */
    double used, allowed;               /* seconds, as of this call */
    const char *notice;                 /* to be said once when the time allowed is used up, or NULL */
    bool out_of_sight;                  /* move what was shown before this screen out of sight first */
};
const struct practice_ask *practice_ask(struct practice *practice);

enum practice_result {
    PRACTICE_ON,            /* go on */
    PRACTICE_EDIT,          /* open practice_edit_text in an editor, then call practice_edited */
    PRACTICE_FAILED         /* the record could not be written: messages say why; nothing was taken in */
};
/* Takes one entry. pasted: a text pasted as a whole, in which nothing is an instruction. */
enum practice_result practice_enter(struct practice *practice, const char *line, bool pasted,
                                    struct messages *messages);
const char *practice_edit_text(const struct practice *practice);
enum practice_result practice_edited(struct practice *practice, const char *text, struct messages *messages);

/* A half-typed line handed over when the terminal goes away: kept so that the resume starts from it. */
bool practice_keep_draft(struct practice *practice, const char *line, struct messages *messages);

/* Leaves now, to come back later (as ".leave" does): the screen then says how. Where only the ratings of topics are
 * missing the sitting ends instead. */
void practice_leave(struct practice *practice);
bool practice_was_left(const struct practice *practice);

#endif
