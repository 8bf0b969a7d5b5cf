/* Moments and day numbers: computed by Python 3.11 datetime and zoneinfo, unless said otherwise. */
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "base/dates.h"
#include "trial.h"

static void live_in(const char *zone)
{
    setenv("TZ", zone, 1);
    tzset();
}

static void check_moment(const char *text, moment expected)
{
    moment result = NO_MOMENT;
    cr_expect(moment_parse(text, &result), "'%s' was not understood", text);
    cr_expect(result == expected, "'%s' gave %ld, not %ld", text, result, expected);
}

Test(base, dates_moment_parse)
{
    live_in("Europe/Berlin");
    check_moment("2026-05-18", 1779098400);
    check_moment("2026-05-18 14:30", 1779107400);
    check_moment("2026-05-18T14:30", 1779107400);
    check_moment("2026-05-18T14:30:05", 1779107405);
    check_moment("2026-05-18T13:30:00Z", 1779111000);
    check_moment("2026-05-18 13:30Z", 1779111000);
    check_moment("2026-05-18T14:30:00+01:00", 1779111000);
    check_moment("2026-05-18T04:00-09:30", 1779111000);
    check_moment("1970-01-01T00:00Z", 0);
    check_moment("1970-01-01T00:00+01:00", -3600);
    check_moment("9999-12-31T23:59:59Z", 253402300799);
}

Test(base, dates_moment_parse_refuses)
{
    static const char *const refused[] = {
        "", " ", "today", "2026", "2026-05", "2026-5-18", "2026-05-1", "26-05-18", "2026/05/18", "20260518",
        "2026-00-18", "2026-13-18", "2026-05-00", "2026-05-32", "2026-04-31", "2026-02-29", "2100-02-29",
        "1969-12-31", "0000-01-01", "10000-01-01", "2026-05-18 ", " 2026-05-18", "2026-05-18T", "2026-05-18Z",
        "2026-05-18 14", "2026-05-18 14:", "2026-05-18 14:3", "2026-05-18 24:00", "2026-05-18 14:60",
        "2026-05-18 14:30:60", "2026-05-18 14:30:", "2026-05-18 14:30:5", "2026-05-18t14:30", "2026-05-18  14:30",
        "2026-05-18 14:30z", "2026-05-18 14:30 Z", "2026-05-18 14:30Z0", "2026-05-18 14:30+1", "2026-05-18 14:30+01",
        "2026-05-18 14:30+0100", "2026-05-18 14:30+24:00", "2026-05-18 14:30+01:60", "2026-05-18 14:30+01:00x",
        "2026-05-18 -4:30", "+026-05-18", "2026-05-18 14:30\n"};
    for (size_t i = 0; i < sizeof refused / sizeof *refused; i++) {
        moment result = 77;
        cr_expect(!moment_parse(refused[i], &result), "'%s' was taken", refused[i]);
        cr_expect(result == 77, "'%s' left a result", refused[i]);
    }
}

Test(base, dates_day_parse)
{
    static const struct { const char *text; day_number day; } known[] = {
        {"2026-05-18", 20591}, {"18 May 2026", 20591}, {"18 may 2026", 20591}, {"18 MAY 2026", 20591},
        {"29 February 2000", 11016}, {"29 Feb 2000", 11016}, {"30 December 2011", 15338}, {"1 January 1970", 0},
        {"01 January 1970", 0}, {"31 December 9999", 2932896}, {"1970-01-01", 0}, {"9999-12-31", 2932896}};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        day_number day = NO_DAY;
        cr_expect(day_parse(known[i].text, &day) && day == known[i].day, "'%s' gave %d", known[i].text, day);
    }
    static const char *const refused[] = {
        "", "18", "18 May", "May 18 2026", "18 Ma 2026", "18 Mayo 2026", "18 Sept 2026", "31 June 2026",
        "29 February 2026", "0 May 2026", "118 May 2026", "18  May 2026", "18 May  2026", "18 May 26",
        "18 May 2026 ", "18 May 20260", "18 May 1969", "x May 2026", "2026-05-18 14:30", "1", " "};
    for (size_t i = 0; i < sizeof refused / sizeof *refused; i++) {
        day_number day = 77;
        cr_expect(!day_parse(refused[i], &day) && day == 77, "'%s' was taken", refused[i]);
    }
}

/* The leap rule stated anew: every fourth year, not every hundredth, but every four-hundredth. */
static int days_in(int year, int month)
{
    static const int lengths[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    bool leap = year % 400 == 0 || (year % 4 == 0 && year % 100 != 0);
    return lengths[month - 1] + (month == 2 && leap);
}

/* Walks through every day from 1 January of year 1 (day -719162) to the end of 9999. */
Test(base, dates_civil_property_every_day)
{
    day_number day = -719162;
    for (int year = 1; year <= 9999; year++) {
        for (int month = 1; month <= 12; month++) {
            for (int of_month = 1; of_month <= days_in(year, month); of_month++, day++) {
                int y, m, d;
                day_to_civil(day, &y, &m, &d);
                if (y != year || m != month || d != of_month || day_from_civil(year, month, of_month) != day)
                    cr_assert_fail("day %d: %d-%d-%d, wanted %d-%d-%d", day, y, m, d, year, month, of_month);
            }
        }
    }
    cr_expect(day == 2932897);
}

Test(base, dates_weekday)
{
    cr_expect(day_weekday(0) == 3);        /* Thursday */
    cr_expect(day_weekday(20591) == 0);    /* 18 May 2026, Monday */
    cr_expect(day_weekday(-4) == 6 && day_weekday(-3) == 0 && day_weekday(-719162) == 0);
    cr_expect(day_weekday(3) == 6);
    check_text(weekday_name(0), "Monday");
    check_text(weekday_name(6), "Sunday");
}

Test(base, dates_summer_time_in_berlin)
{
    live_in("Europe/Berlin");
    day_number spring = day_from_civil(2026, 3, 29), autumn = day_from_civil(2026, 10, 25);
    cr_expect(day_at(spring, 1, 59) == 1774745940);
    cr_expect(day_at(spring, 3, 0) == 1774746000);
    cr_expect(day_at(spring, 2, 30) == 1774747800, "skipped: 02:30 becomes 03:30");
    cr_expect(day_at(spring, 3, 30) == 1774747800);
    check_moment("2026-03-29 02:30", 1774747800);
    cr_expect(day_at(autumn, 2, 30) == 1792888200, "shown twice: the first");
    cr_expect(day_at(spring + 1, 0, 0) - day_at(spring, 0, 0) == 23 * 3600);
    cr_expect(day_at(autumn + 1, 0, 0) - day_at(autumn, 0, 0) == 25 * 3600);
    cr_expect(day_of(day_at(spring, 0, 0)) == spring && day_of(day_at(spring, 0, 0) - 1) == spring - 1);
    cr_expect(day_of(day_at(autumn, 23, 59)) == autumn && day_of(day_at(autumn + 1, 0, 0)) == autumn + 1);
}

/* Samoa went over the date line: 29 December 2011 was followed by the 31st. */
Test(base, dates_skipped_day_in_apia)
{
    live_in("Pacific/Apia");
    day_number skipped = day_from_civil(2011, 12, 30);
    cr_expect(day_at(skipped - 1, 23, 59) == 1325239140);
    cr_expect(day_at(skipped + 1, 0, 30) == 1325241000);
    cr_expect(day_at(skipped + 1, 12, 0) == 1325282400);
    cr_expect(day_at(skipped, 12, 0) == 1325282400, "the skipped noon moves on to the next");
    cr_expect(day_of(1325239199) == skipped - 1 && day_of(1325239200) == skipped + 1);
}

/* Every hour of two years: what day_of says agrees with day_at. (It need not where clocks once went back
 * over midnight, as in St John's until 2011: such a day begins twice.) */
static void check_days_agree(const char *zone, moment from)
{
    live_in(zone);
    for (moment when = from; when < from + 2 * 366 * 86400; when += 3600) {
        day_number day = day_of(when);
        cr_assert(day_at(day, 0, 0) <= when && when < day_at(day + 1, 0, 0), "%s, %ld", zone, when);
    }
}

Test(base, dates_property_a_moment_lies_in_its_day)
{
    check_days_agree("UTC", 0);
    check_days_agree("Europe/Berlin", 1767225600);
    check_days_agree("Pacific/Apia", 1293840000);
    check_days_agree("Australia/Lord_Howe", 1767225600);
    check_days_agree("America/Santiago", 1767225600); /* midnight itself is skipped there */
}

Test(base, dates_far_ends)
{
    live_in("Europe/Berlin");
    cr_expect(day_of(-1) == 0, "01:59:59 on 1 January 1970 in Berlin is 00:59:59 there");
    cr_expect(day_of(-3601) == -1);
    cr_expect(day_of(253402300799) == 2932897, "it is already the year 10000 in Berlin");
    cr_expect(day_of(NO_MOMENT) == NO_DAY);
    cr_expect(day_of(INT64_MAX) == NO_DAY);
}

static void check_duration(double seconds, const char *expected)
{
    struct buffer out = BUFFER_EMPTY;
    add_duration(&out, seconds);
    check_text(buffer_text(&out), expected);
    buffer_free(&out);
}

Test(base, dates_duration)
{
    check_duration(-5, "under a second");
    check_duration(__builtin_nan(""), "under a second");
    check_duration(0, "under a second");
    check_duration(0.999, "under a second");
    check_duration(1, "1 second");
    check_duration(1.4, "1 second");
    check_duration(45, "45 seconds");
    check_duration(59.4, "59 seconds");
    check_duration(59.6, "1 minute");
    check_duration(61, "1 minute 1 second");
    check_duration(90, "1 minute 30 seconds");
    check_duration(360, "6 minutes");
    check_duration(599, "9 minutes 59 seconds");
    check_duration(599.6, "10 minutes");
    check_duration(600, "10 minutes");
    check_duration(629, "10 minutes");
    check_duration(631, "11 minutes");
    check_duration(720, "12 minutes");
    check_duration(3569, "59 minutes");
    check_duration(3571, "1 h");
    check_duration(3600, "1 h");
    check_duration(7500, "2 h 5 min");
    check_duration(7229, "2 h");
    check_duration(90000, "25 h");
    check_duration(__builtin_inf(), "277777777777 h 47 min");
}

static void check_day(void (*add)(struct buffer *, day_number, day_number), day_number day, const char *expected)
{
    struct buffer out = BUFFER_EMPTY;
    add(&out, day, 20591);
    check_text(buffer_text(&out), expected);
    buffer_free(&out);
}

Test(base, dates_days_as_written)
{
    struct buffer out = BUFFER_EMPTY;
    add_day_long(&out, 20591);
    check_text(buffer_text(&out), "Monday 18 May 2026");
    buffer_free(&out);
    check_day(add_day_short, 20591, "18 May");
    check_day(add_day_short, day_from_civil(2026, 1, 1), "1 January");
    check_day(add_day_short, day_from_civil(2025, 12, 31), "31 December 2025");
    check_day(add_day_short, day_from_civil(2027, 1, 1), "1 January 2027");
    check_day(add_day_relative, 20591, "today");
    check_day(add_day_relative, 20592, "tomorrow");
    check_day(add_day_relative, 20590, "yesterday");
    check_day(add_day_relative, 20593, "in 2 days");
    check_day(add_day_relative, 20589, "2 days ago");
    check_day(add_day_relative, INT32_MAX, "in 2147463056 days");
    check_day(add_day_relative, INT32_MIN + 1, "2147504238 days ago");
}

/* ISO 8601 calendar dates. */
Test(base, dates_iso_days)
{
    static const struct { int year, month, day; const char *text; } cases[] = {
        {2026, 5, 18, "2026-05-18"}, {1, 1, 1, "0001-01-01"}, {9999, 12, 31, "9999-12-31"}, {2028, 2, 29, "2028-02-29"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct buffer out = BUFFER_EMPTY;
        add_day_iso(&out, day_from_civil(cases[i].year, cases[i].month, cases[i].day));
        check_text(buffer_text(&out), cases[i].text);
        buffer_free(&out);
    }
}

static void check_time(void (*add)(struct buffer *, moment), moment when, const char *expected)
{
    struct buffer out = BUFFER_EMPTY;
    add(&out, when);
    check_text(buffer_text(&out), expected);
    buffer_free(&out);
}

Test(base, dates_moments_as_written)
{
    live_in("Europe/Berlin");
    check_time(add_time_of_day, 1779107400, "14:30");
    check_time(add_time_of_day, 1779107459, "14:30");
    check_time(add_time_of_day, -3601, "23:59");
    check_time(add_iso, 1779111000, "2026-05-18T13:30:00Z");
    check_time(add_iso, 0, "1970-01-01T00:00:00Z");
    check_time(add_iso, -1, "1969-12-31T23:59:59Z");
    check_time(add_iso, 253402300799, "9999-12-31T23:59:59Z");
    live_in("Asia/Kolkata");
    check_time(add_time_of_day, 0, "05:30");
}

Test(base, dates_clocks)
{
    moment now = moment_now();
    time_t system = time(NULL);
    cr_expect(now >= system - 2 && now <= system + 2);
    double before = clock_elapsed(), after = clock_elapsed();
    cr_expect(before > 0 && after >= before);
    moment_set_now(1779111000);
    moment set = moment_now();
    cr_expect(set >= 1779111000 && set <= 1779111002);
    moment_set_now(0);
    cr_expect(moment_now() <= 2);
}
