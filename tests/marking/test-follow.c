/* Follow-through. Values worked by hand; the rule is common practice (docs/marking.md, rule 5). */
#include "trial.h"

static const struct bound_value items[] = {
    {"force", "30", "N", 30, false}, {"area", "6", "m^2", 6, true}, {"pressure", "5", "Pa", 5, true},
    {"depth", "0.5", "m", 0.5, true},
};
static const struct values values = {items, 4};

static struct follow follow_with(const char *formula, bool allowed, const char *symbol, double mine)
{
    struct arena *arena = arena_new();
    struct node point = {.kind = NODE_POINT, .follow = allowed,
                         .number = KEY(.symbol = "pressure", .formula = formula, .unit = "Pa")};
    struct follow follow = marking_follow(&values, &point, &(struct own_value){symbol, mine}, 1, arena);
    arena_free(arena);
    return follow;
}

#define check_follow(follow_, reason_, expected_)                                                        \
    do {                                                                                                 \
        struct follow got_ = (follow_);                                                                  \
        cr_expect(got_.reason == (reason_) && fabs(got_.expected - (expected_)) < 1e-9, "reason %d, expected %g", \
                  got_.reason, got_.expected);                                                           \
    } while (0)

Test(marking, follow_recomputes_from_own_values)
{
    check_follow(follow_with("force / area", true, "area", 5), FOLLOW_APPLIES, 6);
    check_follow(follow_with("force / area", true, "area", 6), FOLLOW_SAME, 5);
    check_follow(follow_with("force / area", true, "depth", 99), FOLLOW_SAME, 5);
}

/* A given is not the student's to change; nor does their own answer to this very point count. */
Test(marking, follow_leaves_givens_alone)
{
    check_follow(follow_with("force / area", true, "force", 60), FOLLOW_SAME, 5);
    check_follow(follow_with("force / area", true, "pressure", 7), FOLLOW_SAME, 5);
}

Test(marking, follow_refused)
{
    check_follow(follow_with("force / area", false, "area", 5), FOLLOW_NOT_ALLOWED, 5);
    check_follow(follow_with("force / area", true, "area", 0), FOLLOW_TRIVIAL, 5);
    check_follow(follow_with("5 + force * area", true, "area", 0), FOLLOW_TRIVIAL, 185);
    check_follow(follow_with("force * (area - 5)", true, "area", 5), FOLLOW_TRIVIAL, 30);
    check_follow(follow_with("sqrt(area)", true, "area", -4), FOLLOW_TRIVIAL, sqrt(6));
}

Test(marking, follow_of_a_fixed_value_or_interval)
{
    struct arena *arena = arena_new();
    struct own_value own = {"area", 5};
    struct node fixed = {.kind = NODE_POINT, .follow = true, .number = KEY(.value = "5", .unit = "Pa")};
    check_follow(marking_follow(&values, &fixed, &own, 1, arena), FOLLOW_SAME, 5);
    struct node read_off = {.kind = NODE_POINT, .follow = true, .number = KEY(.has_interval = true, .from = 4, .to = 5)};
    struct follow follow = marking_follow(&values, &read_off, &own, 1, arena);
    cr_expect(follow.reason == FOLLOW_SAME && isnan(follow.expected) && isnan(follow.scheme_value));
    struct node computed = {.kind = NODE_POINT, .follow = true, .number = KEY(.formula = "force / area")};
    check_follow(marking_follow(&values, &computed, NULL, 0, arena), FOLLOW_SAME, 5);
    arena_free(arena);
}

/* Correct answer only: what follows from an own value does not show the method. */
Test(marking, follow_and_correct_answer_only)
{
    struct trial *trial = trial_new(ALL(CHILDREN((struct node){.kind = NODE_POINT, .id = "p", .marks = 1,
                                    .number = KEY(.value = "6")})), 1);
    trial_tick(trial, "y");
    trial->points[0].value = VALUE_FOLLOWS;
    check_line(trial_award(trial), "p", 1, REASON_ON_YOUR_WORD);
    trial_end(trial);
}
