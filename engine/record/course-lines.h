/* The line format of a course (record.h) read back. Private to this room. */
#ifndef OWNMARK_RECORD_COURSE_LINES_H
#define OWNMARK_RECORD_COURSE_LINES_H

#include "base/arena.h"
#include "learner/model.h"
#include "record/map.h"

enum line_kind { LINE_UNIT, LINE_TOPIC, LINE_OBJECTIVE, LINE_WORD, LINE_KINDS };

struct course_lines {
    size_t count[LINE_KINDS];
    const char **ids[LINE_KINDS];       /* in arena */
    struct map index[LINE_KINDS];       /* id to index + 1 */
    size_t *unit;                       /* [topics] */
    double *share;                      /* [topics], 0 … 1 */
    double *mix;                        /* [objectives], 0 … 1 */
    enum learner_objective_kind *kind;  /* [objectives] */
};

/* NULL when the text is well formed, else what is wrong as a phrase. Free the maps in any case. */
const char *course_lines_read(struct course_lines *lines, const char *text, struct arena *arena);
void course_lines_free(struct course_lines *lines);

/* Index of an id, or SIZE_MAX. */
size_t course_lines_find(const struct course_lines *lines, enum line_kind kind, const char *id);

#endif
