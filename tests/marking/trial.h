/* What several test files of this room need: schemes written in C, ticks as letters, one call to award. */
#ifndef OWNMARK_TESTS_MARKING_TRIAL_H
#define OWNMARK_TESTS_MARKING_TRIAL_H

#include <math.h>
#include <stdint.h>
#include <string.h>
#include <criterion/criterion.h>

#include "base/arena.h"
#include "marking/marking.h"

enum { TRIAL_POINTS = 64 };

#define POINT(...) (struct node){.kind = NODE_POINT, .marks = 1, .follow = true, __VA_ARGS__}
#define METHOD(...) POINT(.point_kind = POINT_METHOD, __VA_ARGS__)
#define ACCURACY(...) POINT(.point_kind = POINT_ACCURACY, __VA_ARGS__)
#define INDEPENDENT(...) POINT(.point_kind = POINT_INDEPENDENT, __VA_ARGS__)
#define IMPLIED(...) POINT(.point_kind = POINT_IMPLIED, __VA_ARGS__)
#define CHILDREN(...) .children = (const struct node[]){__VA_ARGS__}, \
                      .child_count = sizeof((const struct node[]){__VA_ARGS__}) / sizeof(struct node)
#define NEEDS(...) .needs = (const char *const[]){__VA_ARGS__}, \
                   .need_count = sizeof((const char *const[]){__VA_ARGS__}) / sizeof(char *)
#define ALL(...) (struct node){.kind = NODE_ALL, __VA_ARGS__}
#define ANY(n, ...) (struct node){.kind = NODE_ANY, .take = (n), __VA_ARGS__}
#define LIST(n, rule, ...) (struct node){.kind = NODE_LIST, .take = (n), .list_rule = (rule), __VA_ARGS__}
#define ROUTES(...) (struct node){.kind = NODE_ROUTES, __VA_ARGS__}
#define KEY(...) &(const struct number_key){.places = -1, __VA_ARGS__}

/* One part and what is said about its answer; everything in arena. */
struct trial {
    struct arena *arena;
    struct part part;
    struct part_input input;
    struct marking_state state;
    struct point_input points[TRIAL_POINTS];
};

/* A part of `marks` over root. The caller ends with trial_end. */
struct trial *trial_new(struct node root, int marks);
void trial_end(struct trial *trial);

/* One letter a point: y yes, n no, u not sure, any other undecided. Clears all other flags of the points. */
void trial_tick(struct trial *trial, const char *ticks);

/* Awards with a fresh state, or with the state as it is carried on; checks what holds for every award: the sums of
 * the lines, and the bounds. */
const struct award *trial_award(struct trial *trial);
const struct award *trial_award_on(struct trial *trial);

/* The first line about the node with this id; the test fails when there is none. */
const struct award_line *trial_line(const struct award *award, const char *id);

/* What holds for every award. */
void check_sums(const struct award *award);

#define check_marks(award_, marks_)                                                                      \
    cr_expect_eq((award_)->marks, marks_, "got %d marks, want %d", (award_)->marks, marks_)

#define check_line(award_, id_, marks_, reason_)                                                         \
    do {                                                                                                 \
        const struct award_line *line_ = trial_line(award_, id_);                                        \
        cr_expect(line_->marks == (marks_) && line_->reason == (reason_), "%s: %d marks, %s: %s", id_,   \
                  line_->marks, award_reason_name(line_->reason), line_->text);                          \
    } while (0)

#define check_text(actual, expected)                                                                     \
    do {                                                                                                 \
        const char *actual_ = (actual), *expected_ = (expected);                                         \
        cr_expect(strcmp(actual_, expected_) == 0, "got  [%s]\nwant [%s]", actual_, expected_);          \
    } while (0)

#endif
