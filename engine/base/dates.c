#include "base/dates.h"

#include <assert.h>
#include <inttypes.h>
#include <math.h>
#include <string.h>
#include <strings.h>
#include <time.h>

enum { SECONDS_A_DAY = 86400, YEAR_MIN = 1970, YEAR_MAX = 9999 };

/* --now: the moment that was set, and the elapsed time at which it was. */
static moment set_moment = NO_MOMENT;
static double set_at;

double clock_elapsed(void)
{
    struct timespec now;
    clock_gettime(CLOCK_BOOTTIME, &now);
    return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

moment moment_now(void)
{
    if (set_moment != NO_MOMENT)
        return set_moment + (moment)(clock_elapsed() - set_at);
    struct timespec now;
    clock_gettime(CLOCK_REALTIME, &now);
    return now.tv_sec;
}

void moment_set_now(moment now)
{
    set_moment = now;
    set_at = clock_elapsed();
}

/* Whole division that rounds down, also below zero. */
static int64_t divided_down(int64_t value, int64_t divisor)
{
    return value / divisor - (value % divisor < 0);
}

/* Days before the first of March of a year, counted from 0000-03-01. A year that starts in March has its
 * leap day at the end, which makes both directions plain. */
static int64_t days_before_march(int64_t year)
{
    return year * 365 + divided_down(year, 4) - divided_down(year, 100) + divided_down(year, 400);
}

/* 0000-03-01 lies this many days before 1970-01-01. */
static const int64_t march_of_year_0 = 719468;

/* Days of the months before this one (0 March … 11 February): 31, 30, 31, 30, 31 and again. */
static int days_before_month(int month_from_march)
{
    return (153 * month_from_march + 2) / 5;
}

day_number day_from_civil(int year, int month, int day)
{
    assert(month >= 1 && month <= 12);
    int from_march = (month + 9) % 12;
    int64_t march_year = (int64_t)year - (month < 3);
    return (day_number)(days_before_march(march_year) + days_before_month(from_march) + day - 1 -
                        march_of_year_0);
}

void day_to_civil(day_number day, int *year, int *month, int *day_of_month)
{
    assert(day != NO_DAY);
    int64_t days = day + march_of_year_0;
    /* 146097 days are 400 years. The estimate is right or one too high or low. */
    int64_t march_year = divided_down(days * 400, 146097);
    while (days_before_march(march_year) > days)
        march_year--;
    while (days_before_march(march_year + 1) <= days)
        march_year++;
    int of_year = (int)(days - days_before_march(march_year));
    int from_march = (5 * of_year + 2) / 153;
    *month = (from_march + 2) % 12 + 1;
    *year = (int)(march_year + (*month < 3));
    *day_of_month = of_year - days_before_month(from_march) + 1;
}

int day_weekday(day_number day)
{
    int64_t since_monday = (int64_t)day + 3; /* 1970-01-01 was a Thursday */
    return (int)(since_monday - divided_down(since_monday, 7) * 7);
}

day_number day_of(moment when)
{
    time_t time = when;
    struct tm local;
    if (when == NO_MOMENT || !localtime_r(&time, &local))
        return NO_DAY;
    return day_from_civil(local.tm_year + 1900, local.tm_mon + 1, local.tm_mday);
}

/* Seconds that local clocks are ahead of UTC at a moment. */
static int64_t offset_at(moment when)
{
    time_t time = when;
    struct tm local;
    return localtime_r(&time, &local) ? local.tm_gmtoff : 0;
}

/* The moment at which local clocks show `shown` (seconds as if they were UTC). mktime leaves open which
 * of two it takes and what it does with a time that never was, hence the two offsets of a day before and a
 * day after. Shown twice: the first. Never shown: the old offset carries it on past the change. */
static moment moment_from_local(int64_t shown)
{
    moment with_old = shown - offset_at(shown - SECONDS_A_DAY);
    moment with_new = shown - offset_at(shown + SECONDS_A_DAY);
    if (with_old + offset_at(with_old) == shown)
        return with_old;
    return with_new + offset_at(with_new) == shown ? with_new : with_old;
}

moment day_at(day_number day, int hour, int minute)
{
    assert(day != NO_DAY);
    return moment_from_local((int64_t)day * SECONDS_A_DAY + hour * 3600 + minute * 60);
}

/* Reads exactly `digits` digits and moves on. */
static bool take_digits(const char **at, int digits, int *value)
{
    *value = 0;
    for (int i = 0; i < digits; i++, ++*at) {
        if (**at < '0' || **at > '9')
            return false;
        *value = *value * 10 + (**at - '0');
    }
    return true;
}

static bool take(const char **at, char wanted)
{
    if (**at != wanted)
        return false;
    ++*at;
    return true;
}

static bool civil_exists(int year, int month, int day)
{
    if (year < YEAR_MIN || year > YEAR_MAX || month < 1 || month > 12 || day < 1 || day > 31)
        return false;
    int same_year, same_month, same_day;
    day_to_civil(day_from_civil(year, month, day), &same_year, &same_month, &same_day);
    return same_month == month;
}

static bool take_iso_day(const char **at, day_number *result)
{
    int year, month, day;
    if (!take_digits(at, 4, &year) || !take(at, '-') || !take_digits(at, 2, &month) || !take(at, '-') ||
        !take_digits(at, 2, &day) || !civil_exists(year, month, day))
        return false;
    *result = day_from_civil(year, month, day);
    return true;
}

/* "14:30" or "14:30:05", in seconds of the day. */
static bool take_time(const char **at, int *result)
{
    int hour, minute, second = 0;
    if (!take_digits(at, 2, &hour) || !take(at, ':') || !take_digits(at, 2, &minute))
        return false;
    if (take(at, ':') && !take_digits(at, 2, &second))
        return false;
    if (hour > 23 || minute > 59 || second > 59)
        return false;
    *result = hour * 3600 + minute * 60 + second;
    return true;
}

/* "Z" or "+01:00", in seconds ahead of UTC. */
static bool take_zone(const char **at, int *result)
{
    int hour, minute;
    *result = 0;
    if (take(at, 'Z'))
        return true;
    int sign = take(at, '+') ? 1 : take(at, '-') ? -1 : 0;
    if (sign == 0 || !take_digits(at, 2, &hour) || !take(at, ':') || !take_digits(at, 2, &minute) ||
        hour > 23 || minute > 59)
        return false;
    *result = sign * (hour * 3600 + minute * 60);
    return true;
}

bool moment_parse(const char *text, moment *result)
{
    day_number day;
    int time, ahead;
    if (!take_iso_day(&text, &day))
        return false;
    if (!*text) {
        *result = day_at(day, 12, 0);
        return true;
    }
    if ((!take(&text, 'T') && !take(&text, ' ')) || !take_time(&text, &time))
        return false;
    int64_t shown = (int64_t)day * SECONDS_A_DAY + time;
    if (!*text) {
        *result = moment_from_local(shown);
        return true;
    }
    if (!take_zone(&text, &ahead) || *text)
        return false;
    *result = shown - ahead;
    return true;
}

static const char *const month_names[] = {"January", "February", "March",     "April",   "May",      "June",
                                          "July",    "August",   "September", "October", "November", "December"};

/* A month's English name or its first three letters, whatever their case; 0 when it is none. */
static int month_from_name(const char *name, size_t length)
{
    for (int month = 1; month <= 12; month++) {
        const char *full = month_names[month - 1];
        if ((length == 3 || length == strlen(full)) && strncasecmp(name, full, length) == 0)
            return month;
    }
    return 0;
}

/* "18 May 2026" */
static bool parse_written_day(const char *text, day_number *result)
{
    int day, year;
    if (!take_digits(&text, text[0] && text[1] != ' ' ? 2 : 1, &day) || !take(&text, ' '))
        return false;
    size_t length = strcspn(text, " ");
    int month = month_from_name(text, length);
    text += length;
    if (!month || !take(&text, ' ') || !take_digits(&text, 4, &year) || *text ||
        !civil_exists(year, month, day))
        return false;
    *result = day_from_civil(year, month, day);
    return true;
}

bool day_parse(const char *text, day_number *result)
{
    const char *at = text;
    day_number day;
    if (take_iso_day(&at, &day) && !*at) {
        *result = day;
        return true;
    }
    return parse_written_day(text, result);
}

const char *weekday_name(int weekday)
{
    static const char *const names[] = {"Monday", "Tuesday",  "Wednesday", "Thursday",
                                        "Friday", "Saturday", "Sunday"};
    assert(weekday >= 0 && weekday <= 6);
    return names[weekday];
}

void add_day_long(struct buffer *out, day_number day)
{
    int year, month, day_of_month;
    day_to_civil(day, &year, &month, &day_of_month);
    buffer_print(out, "%s %d %s %d", weekday_name(day_weekday(day)), day_of_month, month_names[month - 1],
                 year);
}

void add_day_short(struct buffer *out, day_number day, day_number today)
{
    int year, month, day_of_month, this_year, ignored_month, ignored_day;
    day_to_civil(day, &year, &month, &day_of_month);
    day_to_civil(today, &this_year, &ignored_month, &ignored_day);
    buffer_print(out, "%d %s", day_of_month, month_names[month - 1]);
    if (year != this_year)
        buffer_print(out, " %d", year);
}

void add_day_relative(struct buffer *out, day_number day, day_number today)
{
    assert(day != NO_DAY && today != NO_DAY);
    int64_t ahead = (int64_t)day - today;
    if (ahead == 0)
        buffer_add(out, "today");
    else if (ahead == 1)
        buffer_add(out, "tomorrow");
    else if (ahead == -1)
        buffer_add(out, "yesterday");
    else if (ahead > 0)
        buffer_print(out, "in %" PRId64 " days", ahead);
    else
        buffer_print(out, "%" PRId64 " days ago", -ahead);
}

void add_time_of_day(struct buffer *out, moment when)
{
    assert(when != NO_MOMENT);
    int64_t minutes = divided_down(when + offset_at(when), 60);
    int64_t of_day = minutes - divided_down(minutes, 1440) * 1440;
    buffer_print(out, "%02" PRId64 ":%02" PRId64, of_day / 60, of_day % 60);
}

static void add_counted(struct buffer *out, int64_t n, const char *unit)
{
    buffer_print(out, "%" PRId64 " %s%s", n, unit, n == 1 ? "" : "s");
}

void add_duration(struct buffer *out, double seconds)
{
    const double longest = 1e15; /* keeps the whole numbers whole */
    if (!(seconds >= 1)) {       /* a clock that went wrong included */
        buffer_add(out, "under a second");
        return;
    }
    seconds = seconds < longest ? seconds : longest;
    int64_t whole = llround(seconds);
    int64_t minutes = llround(seconds / 60);
    if (whole < 60) {
        add_counted(out, whole, "second");
    } else if (whole < 600) {
        add_counted(out, whole / 60, "minute");
        if (whole % 60) {
            buffer_add_character(out, ' ');
            add_counted(out, whole % 60, "second");
        }
    } else if (minutes < 60) {
        add_counted(out, minutes, "minute");
    } else {
        buffer_print(out, "%" PRId64 " h", minutes / 60);
        if (minutes % 60)
            buffer_print(out, " %" PRId64 " min", minutes % 60);
    }
}

void add_day_iso(struct buffer *out, day_number day)
{
    int year, month, date;
    day_to_civil(day, &year, &month, &date);
    buffer_print(out, "%04d-%02d-%02d", year, month, date);
}

void add_iso(struct buffer *out, moment when)
{
    assert(when != NO_MOMENT);
    int64_t day = divided_down(when, SECONDS_A_DAY);
    int64_t of_day = when - day * SECONDS_A_DAY;
    int year, month, day_of_month;
    assert(day > INT32_MIN && day <= INT32_MAX);
    day_to_civil((day_number)day, &year, &month, &day_of_month);
    buffer_print(out, "%04d-%02d-%02dT%02d:%02d:%02dZ", year, month, day_of_month, (int)(of_day / 3600),
                 (int)(of_day / 60 % 60), (int)(of_day % 60));
}
