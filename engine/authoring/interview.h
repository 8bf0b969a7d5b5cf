/* Writing questions by being asked: a machine like that of practice.h, lines of text in, screens out; no terminal in it.
 *
 * What is typed goes into a draft (draft.h), which is saved before the next prompt; a draft that was left is offered again. A
 * question goes into the bank only when it is whole and sound, and everything else in the file stays byte for byte.
 * In every prompt "?" helps, Enter takes what stands in square brackets or keeps what is there, "-" means nothing; .back takes
 * the last answer back, .edit asks for an editor (PRACTICE_EDIT), .leave keeps the draft for later. */
#ifndef OWNMARK_AUTHORING_INTERVIEW_H
#define OWNMARK_AUTHORING_INTERVIEW_H

#include <stdbool.h>
#include "base/message.h"
#include "practice/practice.h"
#include "report/page.h"

struct interview;

struct interview_plan {
    const char *path;           /* of the bank */
    const char *draft;          /* where the draft is kept; a question to change has one of its own */
    const char *question;       /* id of a question to change; NULL: a new one */
    const char *course_text;    /* for a bank that does not exist yet: its course as XML; NULL: it exists */
    const char *id;             /* … and its id */
};

/* NULL with messages: the bank has faults, the question cannot be changed by interview, the draft cannot be read. */
struct interview *interview_begin(const struct interview_plan *plan, struct messages *messages);
void interview_free(struct interview *interview);   /* NULL is allowed */

const struct page *interview_screen(struct interview *interview);
const struct practice_ask *interview_ask(struct interview *interview);      /* NULL: over */
enum practice_result interview_enter(struct interview *interview, const char *line, bool pasted, struct messages *messages);
const char *interview_edit_text(const struct interview *interview);     /* after PRACTICE_EDIT */
enum practice_result interview_edited(struct interview *interview, const char *text, struct messages *messages);
bool interview_keep_draft(struct interview *interview, const char *line, struct messages *messages);
void interview_leave(struct interview *interview);

#endif
