/* Hours given to practice. The length of a sitting is the advice cited in practice/hours.h; the rest is our own rule, and
 * what is expected was counted by hand. */
#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

#include "practice/hours.h"

static void expect_start(const char *text, int minute)
{
    int found = -1;
    bool good = hours_parse_start(text, &found);
    cr_expect(minute < 0 ? !good : good && found == minute, "'%s': %d, %d", text, good, found);
}

Test(practice, a_start_is_a_time_from_six_to_half_past_eight)
{
    expect_start("16:30", 990);
    expect_start("6:00", 360);
    expect_start("06:00", 360);
    expect_start("20:30", 1230);
    static const char *const bad[] = {"5:59", "20:31", "25:00", "16:60", "16.30", "16:3", "16:300", "1630", "", ":30", "x6:30",
                                      "16:30 ", " 16:30", "016:30", "-6:30"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        expect_start(bad[i], -1);
}

static void expect_days_off(const char *text, const char *again)
{
    struct arena *arena = arena_new();
    struct day_range *ranges;
    size_t count;
    struct buffer out = BUFFER_EMPTY;
    bool good = hours_parse_days_off(text, arena, &ranges, &count);
    if (good)
        hours_add_days_off(&out, ranges, count);
    cr_expect_eq(good, again != NULL, "'%s'", text);
    cr_expect(!again || strcmp(buffer_text(&out), again) == 0, "'%s' gave '%s'", text, buffer_text(&out));
    buffer_free(&out);
    arena_free(arena);
}

Test(practice, days_off_are_dates_and_ranges)
{
    expect_days_off("2027-05-03", "2027-05-03");
    expect_days_off("2026-12-24..2026-12-28", "2026-12-24..2026-12-28");
    expect_days_off("  2026-12-24..2026-12-28\t2027-05-03 ", "2026-12-24..2026-12-28 2027-05-03");
    expect_days_off("2027-05-03..2027-05-03", "2027-05-03");
    static const char *const bad[] = {"", "  ", "2027-02-30", "2027-05-04..2027-05-03", "2027-05-03..", "..2027-05-03",
                                      "2027-05-03...2027-05-04", "2027-05-03..2027-05-04..2027-05-05", "soon",
                                      "2027-05-03 soon"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        expect_days_off(bad[i], NULL);
}

Test(practice, hours_without_settings_are_the_usual_ones)
{
    struct arena *arena = arena_new();
    struct hours hours = hours_read(NULL, "none", arena);
    day_number monday = day_from_civil(2027, 5, 3);
    for (int i = 0; i < 7; i++)
        cr_expect_eq(hours_on(&hours, monday + i), i < 5 ? 20 : 0);
    cr_expect_eq(hours.start, 990);
    cr_expect_str_eq(hours_setting(6), "minutes-sunday");
    arena_free(arena);
}

Test(practice, a_day_off_has_no_minutes)
{
    const struct day_range off[] = {{100, 102}, {107, 107}};
    const struct hours hours = {.minutes = {1, 1, 1, 1, 1, 1, 1}, .off = off, .off_count = 2};
    for (day_number day = 98; day < 110; day++)
        cr_expect_eq(hours_on(&hours, day), (day >= 100 && day <= 102) || day == 107 ? 0 : 1, "day %d", (int)day);
}

/* At 20:00 an hour is left: 60 minutes would want two sittings and a break, so 50 in two of them fill it. */
Test(practice, what_fits_ends_by_nine)
{
    static const struct { int from, minutes, fits; } cases[] = {
        {990, 20, 20}, {990, 0, 0}, {1200, 45, 45}, {1200, 60, 50}, {1200, 46, 46}, {1259, 20, 1}, {1260, 20, 0},
        {1300, 20, 0}, {990, 600, 225}, {360, 600, 600}, {990, -5, -5}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        cr_expect_eq(hours_that_fit(cases[i].from, cases[i].minutes), cases[i].fits, "from %d, %d minutes: %d", cases[i].from,
                     cases[i].minutes, hours_that_fit(cases[i].from, cases[i].minutes));
}

/* Whatever the day: sittings of 1 to 45 minutes with 10 between, the minutes and the blocks used up, done by nine. */
Test(practice, every_day_is_parted_into_sittings_with_breaks)
{
    for (int from = HOURS_START_LEAST; from <= HOURS_START_MOST; from += 35)
        for (int wanted = 1; wanted <= HOURS_MINUTES_MOST; wanted += 7) {
            struct hours_sitting sittings[HOURS_SITTINGS_MOST];
            int minutes = hours_that_fit(from, wanted), sum = 0;
            size_t blocks = (size_t)(minutes + 3) / 4, taken = 0;
            cr_assert_gt(minutes, 0);
            size_t count = hours_sittings(from, minutes, blocks, sittings);
            cr_assert_eq((int)count, hours_sitting_count(minutes));
            for (size_t i = 0; i < count; i++) {
                cr_assert(sittings[i].minutes >= 1 && sittings[i].minutes <= 45);
                cr_assert_eq(sittings[i].first_block, taken);
                cr_assert_gt(sittings[i].block_count, (size_t)0);
                cr_assert_eq(sittings[i].from, i ? sittings[i - 1].from + sittings[i - 1].minutes + 10 : from);
                cr_assert(i == 0 || abs(sittings[i].minutes - sittings[i - 1].minutes) <= 1, "evenly");
                sum += sittings[i].minutes;
                taken += sittings[i].block_count;
            }
            cr_assert_eq(sum, minutes);
            cr_assert_eq(taken, blocks);
            cr_assert_leq(sittings[count - 1].from + sittings[count - 1].minutes, 21 * 60);
        }
}
