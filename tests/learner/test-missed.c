/* The rules and the example "60 days give 9" are the trade's as the project states them: common practice, no
 * source, unless said otherwise. */
#include <criterion/criterion.h>
#include "base/random.h"
#include "learner/missed.h"

#define TODAY ((day_number)20000)
#define EXAM (TODAY + 60)

Test(learner, gaps)
{
    const struct { int days, gap; } cases[] = {{60, 9}, {365, 21}, {140, 21}, {136, 20}, {20, 3}, {10, 2}, {7, 1},
                                               {1, 1}, {0, 1}, {-5, 1}, {INT32_MAX, 21}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        cr_expect_eq(missed_gap(cases[i].days), cases[i].gap, "%d days", cases[i].days);
}

/* The rule with its second half written out: a quarter of the days where three gaps do not fit. */
Test(learner, gaps_follow_the_whole_rule)
{
    for (int days = 0; days <= 400; days++) {
        int gap = (days * 15 + 50) / 100;
        gap = gap < 1 ? 1 : gap > 21 ? 21 : gap;
        if (3 * gap > days)
            gap = days / 4 > 1 ? days / 4 : 1;
        cr_expect_eq(missed_gap(days), gap, "%d days", days);
    }
}

Test(learner, open_recovering_secure)
{
    struct missed_cycle c = missed_begin(TODAY, false, EXAM);
    cr_expect_eq(c.state, MISSED_OPEN);
    cr_expect_eq(c.due, TODAY);
    c = missed_earned(c, TODAY, EXAM);
    cr_expect_eq(c.state, MISSED_RECOVERING);
    for (int step = 1; step <= 3; step++) {
        cr_expect_eq(c.due, TODAY + 9 * step);
        cr_expect_eq(c.state, MISSED_RECOVERING);
        c = missed_earned(c, c.due, EXAM);
    }
    cr_expect_eq(c.state, MISSED_SECURE);
    cr_expect_eq(c.due, NO_DAY);
    cr_expect_eq(missed_due(&c, TODAY + 100), NO_DAY);
    struct missed_cycle again = missed_earned(c, TODAY + 50, EXAM);
    cr_expect_eq(again.state, MISSED_SECURE);
    cr_expect_eq(again.success, c.success);
}

Test(learner, two_successes_on_one_day_count_once)
{
    struct missed_cycle c = missed_earned(missed_begin(TODAY, false, EXAM), TODAY, EXAM);
    c = missed_earned(c, TODAY, EXAM);
    cr_expect_eq(c.later, 0);
    c = missed_earned(c, TODAY - 3, EXAM);      /* the clock went back */
    cr_expect_eq(c.later, 0);
    c = missed_earned(c, TODAY + 1, EXAM);      /* early, but a later day */
    cr_expect_eq(c.later, 1);
    cr_expect_eq(c.due, TODAY + 1 + 9);
    c = missed_earned(c, TODAY + 1, EXAM);
    cr_expect_eq(c.later, 1);
}

Test(learner, a_failure_opens_again_from_any_state)
{
    struct missed_cycle c = missed_begin(TODAY, false, EXAM);
    c = missed_lost(c, TODAY + 1, false, EXAM);
    cr_expect_eq(c.losses, 2);
    c = missed_earned(missed_earned(c, TODAY + 1, EXAM), TODAY + 10, EXAM);
    cr_expect_eq(c.later, 1);
    c = missed_lost(c, TODAY + 20, false, EXAM);
    cr_expect_eq(c.state, MISSED_OPEN);
    cr_expect_eq(c.due, TODAY + 20);
    cr_expect_eq(c.since, TODAY + 20);
    cr_expect_eq(c.later, 0);
    c = missed_earned(c, TODAY + 20, EXAM);
    cr_expect_eq(c.due, TODAY + 26);            /* 40 days left: 6 */
    for (int i = 0; i < 3; i++)
        c = missed_earned(c, c.due, EXAM);
    cr_expect_eq(c.state, MISSED_SECURE);
    c = missed_lost(c, TODAY + 50, false, EXAM);
    cr_expect_eq(c.state, MISSED_OPEN);
    cr_expect_eq(c.losses, 4);
}

/* Butler, Fazio & Marsh 2011 (abstract read): confident mistakes come back after a week unless met again. */
Test(learner, a_confident_loss_gets_one_more_look)
{
    struct missed_cycle c = missed_earned(missed_begin(TODAY, true, EXAM), TODAY, EXAM);
    cr_expect_eq(c.due, TODAY + 7);
    c = missed_earned(c, TODAY + 7, EXAM);
    cr_expect_eq(c.later, 0);                   /* the look is extra */
    for (int step = 1; step <= 3; step++) {
        cr_expect_eq(c.due, TODAY + 9 * step);
        c = missed_earned(c, c.due, EXAM);
    }
    cr_expect_eq(c.state, MISSED_SECURE);
}

Test(learner, the_look_stands_between_short_gaps)
{
    day_number exam = TODAY + 20;               /* gap 3 */
    struct missed_cycle c = missed_earned(missed_begin(TODAY, true, exam), TODAY, exam);
    const day_number due[] = {3, 6, 7, 9};
    for (size_t i = 0; i < 4; i++) {
        cr_expect_eq(c.due, TODAY + due[i], "look %zu", i);
        cr_expect_eq(c.state, MISSED_RECOVERING);
        c = missed_earned(c, c.due, exam);
    }
    cr_expect_eq(c.state, MISSED_SECURE);
}

/* Three successes before the week is over: not secure until the look. */
Test(learner, not_secure_before_the_look)
{
    struct missed_cycle c = missed_earned(missed_begin(TODAY, true, TODAY + 9), TODAY, TODAY + 9);
    for (int i = 0; i < 3; i++)
        c = missed_earned(c, c.due, TODAY + 9);
    cr_expect_eq(c.later, 3);
    cr_expect_eq(c.state, MISSED_RECOVERING);
    cr_expect_eq(c.due, TODAY + 7);
    c = missed_earned(c, TODAY + 7, TODAY + 9);
    cr_expect_eq(c.state, MISSED_SECURE);
    c = missed_begin(TODAY, true, TODAY + 7);   /* the look would fall on the exam: none is planned */
    cr_expect_eq(c.look, NO_DAY);
}

Test(learner, coming_back_late_serves_look_and_step_at_once)
{
    struct missed_cycle c = missed_earned(missed_begin(TODAY, true, EXAM), TODAY, EXAM);
    c = missed_earned(c, TODAY + 12, EXAM);
    cr_expect_eq(c.later, 1);
    cr_expect_eq(c.look, NO_DAY);
    cr_expect_eq(c.due, TODAY + 21);
    c = missed_earned(missed_begin(TODAY, true, EXAM), TODAY + 8, EXAM);    /* put right only after a week */
    cr_expect_eq(c.look, NO_DAY);
    cr_expect_eq(c.later, 0);
}

Test(learner, no_look_is_ever_overdue)
{
    struct missed_cycle c = missed_earned(missed_begin(TODAY, false, EXAM), TODAY, EXAM);
    cr_expect_eq(missed_due(&c, TODAY), TODAY + 9);
    cr_expect_eq(missed_due(&c, TODAY + 9), TODAY + 9);
    cr_expect_eq(missed_due(&c, TODAY + 30), TODAY + 30);
    c = missed_begin(TODAY, false, EXAM);
    cr_expect_eq(missed_due(&c, TODAY + 5), TODAY + 5);
}

/* What is left must fit: back on day 50 of 60 with two looks to come, 9 days do not. */
Test(learner, gaps_shrink_when_they_no_longer_fit)
{
    struct missed_cycle c = missed_earned(missed_begin(TODAY, false, EXAM), TODAY, EXAM);
    c = missed_earned(c, TODAY + 50, EXAM);
    cr_expect_eq(c.due, TODAY + 52);            /* 10 days: 10 x .15 = 1.5, rounded 2 */
    c = missed_earned(c, c.due, EXAM);
    cr_expect_eq(c.due, TODAY + 54);
}

Test(learner, without_an_exam_date_sixty_days_are_assumed)
{
    struct missed_cycle c = missed_earned(missed_begin(TODAY, true, NO_DAY), TODAY, NO_DAY);
    cr_expect_eq(c.look, TODAY + 7);
    cr_expect_eq(c.step, TODAY + 9);
    c = missed_earned(missed_begin(TODAY, false, TODAY - 1), TODAY, TODAY - 1);     /* it has passed */
    cr_expect_eq(c.due, TODAY + 9);
}

/* Whatever happens: the state says what is planned, and a plan lies after the latest success. */
Test(learner, any_history_keeps_the_cycle_sound)
{
    for (uint64_t seed = 1; seed <= 300; seed++) {
        struct random_source source = {seed};
        day_number day = TODAY, exam = random_below(&source, 4) ? TODAY + (day_number)random_below(&source, 90) : NO_DAY;
        struct missed_cycle c = missed_begin(day, random_below(&source, 2) == 0, exam);
        for (int i = 0; i < 40; i++) {
            day += (day_number)random_below(&source, 12);
            if (random_below(&source, 6) == 0)
                c = missed_lost(c, day, random_below(&source, 2) == 0, exam);
            else
                c = missed_earned(c, day, exam);
            bool secure = c.state == MISSED_SECURE;
            cr_expect_eq(secure, c.due == NO_DAY, "seed %lu step %d", (unsigned long)seed, i);
            cr_expect_eq(secure, c.later == 3 && c.look == NO_DAY, "seed %lu step %d", (unsigned long)seed, i);
            if (c.state == MISSED_RECOVERING)
                cr_expect(c.due > c.success && c.gap >= 1 && c.gap <= 21, "seed %lu step %d", (unsigned long)seed, i);
            if (!secure)
                cr_expect_geq(missed_due(&c, day), day, "seed %lu step %d", (unsigned long)seed, i);
        }
    }
}
