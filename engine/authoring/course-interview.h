/* Describing the course of a new bank by being asked: lines in, screens out, like interview.h. */
#ifndef OWNMARK_AUTHORING_COURSE_INTERVIEW_H
#define OWNMARK_AUTHORING_COURSE_INTERVIEW_H

#include <stdbool.h>
#include "base/message.h"
#include "practice/practice.h"
#include "report/page.h"

struct course_interview;

/* draft: the file that keeps a course half described (NULL: none); when it is there, it is gone on with. */
struct course_interview *course_interview_new(const char *draft);
void course_interview_free(struct course_interview *interview);     /* NULL is allowed */

const struct page *course_interview_screen(struct course_interview *interview);
const struct practice_ask *course_interview_ask(struct course_interview *interview);    /* NULL: over */
enum practice_result course_interview_enter(struct course_interview *interview, const char *line, bool pasted,
                                            struct messages *messages);
bool course_interview_keep_draft(struct course_interview *interview, const char *line, struct messages *messages);
void course_interview_leave(struct course_interview *interview);

/* When it is over: the course as XML, one level in, and the bank's id; NULL when it was left. The interview's. */
const char *course_interview_text(const struct course_interview *interview);
const char *course_interview_id(const struct course_interview *interview);

#endif
