/* What the files of the course's interview share. For this room only. */
#ifndef OWNMARK_AUTHORING_COURSE_INTERVIEW_INNER_H
#define OWNMARK_AUTHORING_COURSE_INTERVIEW_INNER_H

#include "authoring/course-interview.h"
#include "base/buffer.h"

enum field { FIELD_NAME, FIELD_ID, FIELD_MARKS, FIELD_MINUTES, FIELD_OBJECTIVES, FIELD_SKILLS, FIELD_TOPICS, FIELDS };

struct course_interview {
    char *values[FIELDS];           /* lines with newlines between them */
    enum field field;               /* FIELDS: over */
    bool left;
    char *draft;                    /* where what was typed is kept; NULL: nowhere */
    struct page *page;
    bool page_shown;
    struct buffer prompt, text;     /* text: the finished course */
    struct practice_ask ask;
};

static inline bool course_field_is_list(enum field field)
{
    return field == FIELD_OBJECTIVES || field == FIELD_SKILLS || field == FIELD_TOPICS;
}

/* ---- Lines and values (course-lines.c) ---- */

char *course_first_word(char **line);       /* taken off the line */

/* What is wrong with a value, or with a line of the list in hand, before it is taken; NULL: nothing. */
const char *course_fault_of(enum field field, const char *text);
const char *course_fault_of_line(const struct course_interview *interview, const char *line);

double course_shares_so_far(const struct course_interview *interview);     /* of the objectives or topics in hand */

/* ---- Kept between two goes (course-kept.c) ---- */

bool course_save(const struct course_interview *interview, struct messages *messages);
void course_load(struct course_interview *interview);      /* a file that cannot be read is none */
void course_forget(const struct course_interview *interview);

#endif
