/* The timetable: its rules, over whole courses. Days and minutes were counted by hand; what a day is filled with is the
 * learner's, whose tests are in tests/learner. */
#include "plan-trial.h"

#include <stdlib.h>
#include <string.h>

#include "practice/timetable-page.h"
#include "report/text.h"

enum { HALF_PAST_FOUR = 990 };

static day_number date(int year, int month, int day)
{
    return day_from_civil(year, month, day);
}

static int minute_of(moment when, day_number day)
{
    return (int)((when - day_at(day, 0, 0)) / 60);
}

/* Every promise of practice/hours.h and timetable.h that holds for any day. */
static void expect_promises(const struct plan_trial *trial)
{
    for (size_t i = 0; i < trial->table.count; i++) {
        const struct timetable_day *day = &trial->table.days[i];
        int sum = 0, of_parts = 0;
        cr_assert(i == 0 || day->day > trial->table.days[i - 1].day);
        cr_assert(day->day >= trial->table.today && day->day < trial->table.exam);
        for (size_t j = 0; j < day->sitting_count; j++) {
            const struct timetable_sitting *sitting = &day->sittings[j];
            int minutes = (int)(sitting->end - sitting->start) / 60, of_sitting = 0;
            cr_assert(minutes >= 1 && minutes <= 45);
            cr_assert(j == 0 || sitting->start - day->sittings[j - 1].end == 600, "a break of ten minutes");
            cr_assert_leq(minute_of(sitting->end, day->day), 21 * 60);
            cr_assert_geq(sitting->start, trial->now);
            for (size_t k = 0; k < sitting->part_count; k++)
                of_sitting += sitting->parts[k].minutes;
            cr_assert_eq(of_sitting, minutes);
            sum += minutes;
        }
        for (size_t k = 0; k < day->part_count; k++) {
            of_parts += day->parts[k].minutes;
            cr_assert(day->minutes < 12 || day->parts[k].minutes * 2 <= day->minutes + 8, "%d of %d minutes on one topic",
                      day->parts[k].minutes, day->minutes);
        }
        cr_assert(sum == day->minutes && of_parts == day->minutes);
    }
}

Test(practice, the_exam_is_the_day_that_is_set)
{
    struct plan_trial trial;
    struct arena *arena = arena_new();
    plan_begin(&trial, NULL, "UTC");
    cr_expect_eq(timetable_exam(NULL, "coastal-science", arena), NO_DAY);
    cr_expect_eq(timetable_exam(trial.record, bank_id(trial.bank), arena), NO_DAY);
    plan_set(&trial, SETTING_EXAM_DATE, "2027-05-18");
    cr_expect_eq(timetable_exam(trial.record, bank_id(trial.bank), arena), date(2027, 5, 18));
    cr_expect_eq(timetable_exam(trial.record, "another", arena), NO_DAY);
    arena_free(arena);
    plan_end(&trial);
}

Test(practice, school_days_are_filled_up_to_the_day_before_the_exam)
{
    struct plan_trial trial;
    plan_begin(&trial, NULL, "UTC");
    plan_set(&trial, SETTING_EXAM_DATE, "2027-05-18");
    plan_make(&trial, date(2027, 5, 3), 15 * 60, false);        /* a Monday */
    expect_promises(&trial);
    cr_expect_eq(trial.table.count, (size_t)11);                /* two weeks of five days and a Monday */
    for (size_t i = 0; i < trial.table.count; i++) {
        cr_expect_lt(day_weekday(trial.table.days[i].day), 5);
        cr_expect_eq(trial.table.days[i].minutes, 20);
        cr_expect_eq(trial.table.days[i].sitting_count, (size_t)1);
        cr_expect_eq(minute_of(trial.table.days[i].sittings[0].start, trial.table.days[i].day), HALF_PAST_FOUR);
    }
    cr_expect_eq(trial.table.last, date(2027, 5, 17));
    cr_expect_eq(trial.table.later_days, 0L);
    plan_end(&trial);
}

Test(practice, holidays_and_days_off_stay_free)
{
    struct plan_trial trial;
    plan_begin(&trial, NULL, "UTC");
    plan_set(&trial, SETTING_EXAM_DATE, "2027-02-01");
    plan_every_day(&trial, "60");
    plan_set(&trial, SETTING_DAYS_OFF, "2026-12-24..2027-01-03 2027-01-20");
    plan_make(&trial, date(2026, 12, 21), 600, true);
    expect_promises(&trial);
    for (day_number day = date(2026, 12, 21); day < date(2027, 2, 1); day++) {
        bool off = (day >= date(2026, 12, 24) && day <= date(2027, 1, 3)) || day == date(2027, 1, 20);
        cr_expect_eq(plan_day(&trial, day) == NULL, off, "day %d", (int)(day - date(2026, 12, 21)));
    }
    plan_end(&trial);
}

/* 26 weeks ahead: 28 days are shown, all when asked for, and further away the plan goes as far as it is made. */
Test(practice, half_a_year_is_planned_to_its_end)
{
    struct plan_trial trial;
    plan_begin(&trial, NULL, "UTC");
    plan_set(&trial, SETTING_EXAM_DATE, "2027-05-18");
    plan_every_day(&trial, "60");
    plan_make(&trial, date(2026, 11, 17), 600, false);          /* 182 days before */
    expect_promises(&trial);
    cr_expect_eq(trial.table.count, (size_t)28);
    cr_expect_eq(trial.table.later_days, 154L);
    cr_expect_eq(trial.table.later_minutes, 154L * 60);
    struct timetable_part first = trial.table.days[5].parts[0];
    plan_make(&trial, date(2026, 11, 17), 600, true);
    expect_promises(&trial);
    cr_expect_eq(trial.table.count, (size_t)182);
    cr_expect_eq(trial.table.later_days, 0L);
    cr_expect(trial.table.days[5].parts[0].topic == first.topic && trial.table.days[5].parts[0].minutes == first.minutes,
              "the same plan, seen further");
    for (size_t i = 0; i < trial.table.count; i++)
        cr_expect_eq(trial.table.days[i].minutes, 60, "day %zu", i);
    plan_make(&trial, date(2026, 10, 1), 600, true);            /* 229 days before: planned as if it were 200 */
    expect_promises(&trial);
    cr_expect_eq(trial.table.count, (size_t)TIMETABLE_PLANNED_DAYS);
    cr_expect_eq(trial.table.later_days, 29L);
    plan_end(&trial);
}

/* Forty-five minutes and a break, evening hours at most. */
Test(practice, a_long_day_has_breaks_and_an_evening)
{
    struct plan_trial trial;
    plan_begin(&trial, NULL, "UTC");
    plan_set(&trial, SETTING_EXAM_DATE, "2027-05-10");
    plan_every_day(&trial, "600");
    plan_make(&trial, date(2027, 5, 3), 0, false);
    expect_promises(&trial);
    cr_expect_eq(trial.table.days[1].minutes, 225);             /* 16:30 to 21:00 less four breaks, as sittings of 45 */
    cr_expect_eq(trial.table.days[1].sitting_count, (size_t)5);
    plan_end(&trial);
}

Test(practice, today_begins_now_and_ends_with_what_is_done)
{
    struct plan_trial trial;
    day_number day = date(2027, 5, 3);
    plan_begin(&trial, NULL, "UTC");
    plan_set(&trial, SETTING_EXAM_DATE, "2027-05-18");
    plan_set(&trial, "minutes-monday", "90");
    plan_make(&trial, day, 17 * 60 + 2, false);
    cr_expect_eq(minute_of(plan_day(&trial, day)->sittings[0].start, day), 17 * 60 + 5, "five minutes, rounded up");
    cr_expect_eq(plan_day(&trial, day)->minutes, 90);
    cr_expect_eq(plan_day(&trial, day)->sittings_before, (size_t)0);
    plan_practise(&trial, day, 17 * 60 + 10, 27);               /* 27 marks are 45 minutes: 4 minutes for 2.4 */
    plan_make(&trial, day, 18 * 60, false);
    expect_promises(&trial);
    cr_expect_eq(trial.table.done_today, 45);
    cr_expect_eq(plan_day(&trial, day)->minutes, 45);
    cr_expect_eq(plan_day(&trial, day)->sittings_before, (size_t)1, "the second sitting stays the second");
    plan_practise(&trial, day, 18 * 60 + 30, 25);               /* 87 of 90 minutes: nobody sits down for three */
    plan_make(&trial, day, 19 * 60, false);
    cr_expect_null(plan_day(&trial, day));
    plan_practise(&trial, day, 18 * 60 + 40, 2);
    plan_make(&trial, day, 19 * 60, false);
    cr_expect_null(plan_day(&trial, day));
    plan_make(&trial, day, 21 * 60, false);
    cr_expect_null(plan_day(&trial, day));
    plan_end(&trial);
}

/* A week without practice: what is left is laid out like a fresh plan from that day, and nothing speaks of the week. */
Test(practice, missed_days_are_simply_not_there)
{
    struct plan_trial trial;
    const struct text_look look = {.width = 80};
    struct buffer shown = BUFFER_EMPTY;
    plan_begin(&trial, NULL, "UTC");
    plan_set(&trial, SETTING_EXAM_DATE, "2027-05-18");
    plan_practise(&trial, date(2027, 4, 30), 1000, 9);
    plan_make(&trial, date(2027, 5, 10), 15 * 60, false);
    expect_promises(&trial);
    cr_expect_eq(trial.table.days[0].day, date(2027, 5, 10));
    cr_expect_eq(trial.table.days[0].minutes, 20, "nothing is added for days that are gone");
    struct page *page = page_new();
    const struct timetable_view view = {trial.bank, &trial.standing, &trial.table, trial.now, NULL};
    timetable_show(page, &view);
    page_render_text(page, &look, &shown);
    static const char *const words[] = {"missed a day", "behind", "late", "should have", "catch up", "days ago", "not done"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        cr_expect_null(strstr(buffer_text(&shown), words[i]), "'%s' in\n%s", words[i], buffer_text(&shown));
    page_free(page);
    buffer_free(&shown);
    plan_end(&trial);
}

Test(practice, a_day_begins_with_the_weakest_of_its_topics)
{
    struct plan_trial trial;
    plan_begin(&trial, NULL, "UTC");
    plan_set(&trial, SETTING_EXAM_DATE, "2027-05-18");
    plan_every_day(&trial, "60");
    plan_practise(&trial, date(2027, 4, 30), 1000, 60);
    plan_make(&trial, date(2027, 5, 3), 600, false);
    for (size_t i = 0; i < trial.table.count; i++) {
        const struct timetable_day *day = &trial.table.days[i];
        double first = learner_topic(trial.standing.learner, day->parts[0].topic, trial.now).share;
        for (size_t k = 1; k < day->part_count; k++)
            if (day->parts[k].minutes * 2 <= day->minutes)      /* more would come first, so that it need not follow itself */
                cr_expect_leq(first, learner_topic(trial.standing.learner, day->parts[k].topic, trial.now).share);
    }
    plan_end(&trial);
}

Test(practice, topics_wait_until_they_are_taught)
{
    struct plan_trial trial;
    struct buffer name = BUFFER_EMPTY;
    plan_begin(&trial, "tests/data/cycle.xml", "UTC");
    plan_set(&trial, SETTING_EXAM_DATE, "2027-05-18");
    plan_set(&trial, SETTING_TAUGHT "waves", "2027-05-10");
    plan_make(&trial, date(2027, 5, 3), 600, false);
    for (size_t i = 0; i < trial.table.count; i++) {
        const struct timetable_day *day = &trial.table.days[i];
        for (size_t k = 0; k < day->part_count; k++)
            cr_expect(day->day >= date(2027, 5, 10) ||
                      strcmp(timetable_topic(trial.bank, &trial.standing, day->parts[k].topic)->id, "waves") != 0);
    }
    cr_expect_str_eq(timetable_topic(trial.bank, &trial.standing, trial.table.untold)->id, "shore");
    timetable_add_parts(&name, trial.bank, &trial.standing, trial.table.days[0].parts, 1, " min");
    cr_expect_str_eq(buffer_text(&name), "Shore 20 min");
    buffer_free(&name);
    plan_end(&trial);
}

Test(practice, a_timetable_without_time_is_empty)
{
    struct plan_trial trial;
    plan_begin(&trial, NULL, "UTC");
    plan_set(&trial, SETTING_EXAM_DATE, "2027-05-18");
    plan_make(&trial, date(2027, 5, 18), 600, true);            /* the day itself */
    cr_expect_eq(trial.table.count, (size_t)0);
    plan_every_day(&trial, "0");
    plan_make(&trial, date(2027, 5, 3), 600, true);
    cr_expect_eq(trial.table.count, (size_t)0);
    plan_end(&trial);
}

/* 20 minutes over three blocks, in the order A B A: 6, 7 and 7 minutes. */
Test(practice, blocks_share_the_minutes)
{
    const struct learner_block blocks[] = {{0, 4}, {0, 2}, {0, 4}};
    struct timetable_part parts[3];
    cr_expect_eq(timetable_parts(blocks, 3, 20, parts), (size_t)2);
    cr_expect(parts[0].topic == 4 && parts[0].minutes == 13 && parts[1].topic == 2 && parts[1].minutes == 7);
    cr_expect_eq(timetable_parts(blocks, 0, 0, parts), (size_t)0);
}

/* Missed points stand on the first day that has work from their own day on. */
Test(practice, missed_points_stand_on_the_next_day_with_work)
{
    struct plan_trial trial;
    plan_begin(&trial, NULL, "UTC");
    plan_set(&trial, SETTING_EXAM_DATE, "2027-05-18");
    plan_miss(&trial, date(2027, 5, 1), 600, 3);                /* a Saturday without practice */
    plan_make(&trial, date(2027, 5, 1), 700, false);
    cr_expect_eq(trial.table.days[0].day, date(2027, 5, 3));
    cr_expect_eq(trial.table.days[0].missed, (size_t)3);
    cr_expect_eq(trial.table.days[1].missed, (size_t)0);
    plan_end(&trial);
}

/* 20 minutes, 4 for 2.4 marks: half of the day has room for six. */
Test(practice, a_heap_of_missed_points_is_spread_over_the_days)
{
    struct plan_trial trial;
    plan_begin(&trial, NULL, "UTC");
    plan_set(&trial, SETTING_EXAM_DATE, "2027-05-18");
    plan_miss(&trial, date(2027, 5, 1), 600, 15);
    plan_make(&trial, date(2027, 5, 1), 700, false);
    cr_expect_eq(trial.table.days[0].missed, (size_t)6);
    cr_expect_eq(trial.table.days[1].missed, (size_t)6);
    cr_expect_eq(trial.table.days[2].missed, (size_t)3);
    plan_end(&trial);
}

/* How many days' work differs from what the learner plans when so much of each later day is likely to be kept. */
static size_t days_unlike(const struct plan_trial *trial, double kept)
{
    size_t count = trial->table.count, block = 0, unlike = 0;
    moment *days = arena_get_array(trial->arena, count, sizeof *days);
    size_t *slots = arena_get_array(trial->arena, count, sizeof *slots);
    size_t *likely = arena_get_array(trial->arena, count, sizeof *likely);
    struct learner_block *blocks = arena_get_array(trial->arena, 5 * count, sizeof *blocks);
    for (size_t i = 0; i < count; i++) {
        days[i] = trial->table.days[i].sittings[0].start;
        slots[i] = 5;                                           /* of four minutes, in twenty */
    }
    learner_timetable_likely(kept, slots, count, likely);
    size_t placed = learner_timetable_spread(trial->standing.learner, days, slots, likely, count,
                                             day_at(trial->table.exam, 9, 0), LEARNER_BLOCK_MARKS, blocks);
    cr_assert_eq(placed, 5 * count);
    learner_timetable_order(trial->standing.learner, trial->now, blocks, placed);
    for (size_t i = 0; i < count; i++, block += 5) {
        struct timetable_part parts[5];
        const struct timetable_day *day = &trial->table.days[i];
        size_t parts_count = timetable_parts(&blocks[block], 5, 20, parts);
        unlike += parts_count != day->part_count || memcmp(parts, day->parts, parts_count * sizeof *parts) != 0;
    }
    return unlike;
}

/* One of the twenty school days of four weeks was kept; with the others as days off, all were. */
Test(practice, missed_days_are_reckoned_with_but_days_off_are_none)
{
    struct plan_trial trial;
    plan_begin(&trial, NULL, "UTC");
    plan_set(&trial, SETTING_EXAM_DATE, "2027-02-01");
    plan_practise(&trial, date(2026, 11, 2), HALF_PAST_FOUR, 3);
    plan_make(&trial, date(2026, 11, 30), 600, true);
    cr_expect_eq(days_unlike(&trial, (1.0 + 4.0) / (20.0 + 4.0)), (size_t)0);
    cr_expect_gt(days_unlike(&trial, 1.0), (size_t)0);
    plan_set(&trial, SETTING_DAYS_OFF, "2026-11-03..2026-11-29");
    plan_make(&trial, date(2026, 11, 30), 600, true);
    cr_expect_eq(days_unlike(&trial, 1.0), (size_t)0);
    plan_end(&trial);
}

/* Only the last four weeks count, and today does not. */
Test(practice, days_kept_are_counted_four_weeks_back)
{
    struct plan_trial trial;
    plan_begin(&trial, NULL, "UTC");
    plan_set(&trial, SETTING_EXAM_DATE, "2027-02-01");
    plan_practise(&trial, date(2026, 10, 5), HALF_PAST_FOUR, 3);
    plan_practise(&trial, date(2026, 11, 27), HALF_PAST_FOUR, 3);
    plan_practise(&trial, date(2026, 11, 30), 600, 1);
    plan_make(&trial, date(2026, 11, 30), 601, true);
    cr_expect_eq(trial.table.done_today, 2);
    plan_make(&trial, date(2026, 12, 1), 600, true);            /* from 3 November: 20 days, 2 kept */
    cr_expect_eq(days_unlike(&trial, (2.0 + 4.0) / (20.0 + 4.0)), (size_t)0);
    plan_end(&trial);
}
