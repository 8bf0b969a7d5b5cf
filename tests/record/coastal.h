/* The course of COURSE_LINES as the learner sees it. */
#ifndef OWNMARK_TESTS_RECORD_COASTAL_H
#define OWNMARK_TESTS_RECORD_COASTAL_H

#include "folder.h"

extern const char *const topic_ids[3], *const unit_ids[2], *const objective_ids[2], *const word_ids[2];
extern const struct learner_course coastal;

/* The state the record derived; the caller frees. */
struct learner *read_learner(struct record *record, const char *bank, const struct learner_course *course,
                             const char *const *topics);
void expect_same_state(const struct learner *got, const struct learner *want);     /* to the last bit */

#endif
