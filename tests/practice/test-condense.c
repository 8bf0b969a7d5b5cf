/* Stages of condensed notes. The days (six months, two months, two weeks, two days) and the lengths are common practice, no
 * source; dates here were counted by hand. */
#include <criterion/criterion.h>

#include "practice/condense.h"

static void expect_due(const day_number kept[CONDENSE_ROOM], day_number exam, day_number due, int line)
{
    cr_assert_eq(condense_due(kept, exam), due, "line %d: %d", line, condense_due(kept, exam));
}
#define KEPT(...) ((const day_number[CONDENSE_ROOM]){NO_DAY, __VA_ARGS__})
#define DUE(kept, exam, due) expect_due(kept, exam, due, __LINE__)

Test(practice, a_stage_of_notes_is_read_from_number_or_name)
{
    cr_assert_eq(condense_stage_read("1"), CONDENSE_FULL);
    cr_assert_eq(condense_stage_read("full"), CONDENSE_FULL);
    cr_assert_eq(condense_stage_read("full notes"), CONDENSE_FULL);
    cr_assert_eq(condense_stage_read("sum"), CONDENSE_SUMMARY);
    cr_assert_eq(condense_stage_read("outline"), CONDENSE_OUTLINE);
    cr_assert_eq(condense_stage_read("line"), CONDENSE_LINE);
    cr_assert_eq(condense_stage_read("one line"), CONDENSE_LINE);
    cr_assert_eq(condense_stage_read("4"), CONDENSE_LINE);
    cr_assert_eq(condense_stage_read(""), CONDENSE_NONE);
    cr_assert_eq(condense_stage_read("0"), CONDENSE_NONE);
    cr_assert_eq(condense_stage_read("5"), CONDENSE_NONE);
    cr_assert_eq(condense_stage_read("page"), CONDENSE_NONE);
    cr_assert_str_eq(condense_name(CONDENSE_LINE), "one line");
    cr_assert_str_eq(condense_name(CONDENSE_NONE), "");
}

Test(practice, notes_may_be_longer_for_a_topic_that_weighs_more)
{
    cr_assert_eq(condense_limit(CONDENSE_FULL, 10, 10), 300);
    cr_assert_eq(condense_limit(CONDENSE_SUMMARY, 10, 10), 120);
    cr_assert_eq(condense_limit(CONDENSE_OUTLINE, 10, 10), 45);
    cr_assert_eq(condense_limit(CONDENSE_LINE, 10, 10), 20);
    cr_assert_eq(condense_limit(CONDENSE_FULL, 8, 13), 310);        /* 300 x 1.04 = 312 */
    cr_assert_eq(condense_limit(CONDENSE_FULL, 50, 10), 600);       /* at most twice */
    cr_assert_eq(condense_limit(CONDENSE_SUMMARY, 1, 10), 60);      /* at least half */
    cr_assert_eq(condense_limit(CONDENSE_LINE, 50, 10), 20);
}

Test(practice, words_of_notes_are_counted_as_a_person_does)
{
    cr_assert_eq(condense_word_count(""), 0);
    cr_assert_eq(condense_word_count(" - -> \n . "), 0);
    cr_assert_eq(condense_word_count("one"), 1);
    cr_assert_eq(condense_word_count("sea-bed slows the wave's base"), 5);
    cr_assert_eq(condense_word_count("- fetch -> height\n- v = 2.5 m/s"), 5);
    cr_assert_eq(condense_word_count("a\tb\nc\r\nd"), 4);
    cr_assert_eq(condense_word_count("énergie → plage"), 2);
}

Test(practice, the_next_stage_follows_the_latest)
{
    cr_assert_eq(condense_next(KEPT(NO_DAY, NO_DAY, NO_DAY, NO_DAY)), CONDENSE_FULL);
    cr_assert_eq(condense_next(KEPT(10, NO_DAY, NO_DAY, NO_DAY)), CONDENSE_SUMMARY);
    cr_assert_eq(condense_next(KEPT(NO_DAY, NO_DAY, 5, NO_DAY)), CONDENSE_LINE);
    cr_assert_eq(condense_next(KEPT(10, 20, 30, 40)), CONDENSE_NONE);
    cr_assert_eq(condense_latest(KEPT(NO_DAY, NO_DAY, NO_DAY, NO_DAY)), CONDENSE_NONE);
    cr_assert_eq(condense_latest(KEPT(30, 20, NO_DAY, NO_DAY)), CONDENSE_SUMMARY);
}

Test(practice, stages_come_due_about_six_months_two_months_two_weeks_and_two_days_before_the_exam)
{
    DUE(KEPT(NO_DAY, NO_DAY, NO_DAY, NO_DAY), 1000, 818);
    DUE(KEPT(818, NO_DAY, NO_DAY, NO_DAY), 1000, 939);      /* even shares: 818 + 180 / 3 = 878, earlier */
    DUE(KEPT(818, 939, NO_DAY, NO_DAY), 1000, 986);         /* 939 + 59 / 2 = 968 */
    DUE(KEPT(818, 939, 986, NO_DAY), 1000, 998);
    DUE(KEPT(818, 939, 986, 998), 1000, NO_DAY);
    DUE(KEPT(818, NO_DAY, NO_DAY, NO_DAY), NO_DAY, NO_DAY);
}

Test(practice, with_little_time_left_the_stages_share_it)
{
    DUE(KEPT(NO_DAY, NO_DAY, NO_DAY, NO_DAY), 20, -162);    /* at once */
    DUE(KEPT(0, NO_DAY, NO_DAY, NO_DAY), 20, 6);            /* 18 days for three stages */
    DUE(KEPT(0, 6, NO_DAY, NO_DAY), 20, 12);
    DUE(KEPT(0, 6, 12, NO_DAY), 20, 18);
    DUE(KEPT(18, NO_DAY, NO_DAY, NO_DAY), 20, 19);          /* never twice on one day … */
    DUE(KEPT(18, 20, NO_DAY, NO_DAY), 20, 20);              /* … but on the day of the exam */
    DUE(KEPT(25, NO_DAY, NO_DAY, NO_DAY), 20, 20);
}
