#include "practice/hours.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "base/text.h"

static const char *const settings[7] = {
    "minutes-monday", "minutes-tuesday", "minutes-wednesday", "minutes-thursday", "minutes-friday", "minutes-saturday",
    "minutes-sunday",
};

const char *hours_setting(int weekday)
{
    assert(weekday >= 0 && weekday < 7);
    return settings[weekday];
}

/* ---- Reading what is typed and kept --------------------------------------------------------------- */

static bool is_digit(char character)
{
    return character >= '0' && character <= '9';
}

bool hours_parse_start(const char *text, int *minute)
{
    if (!is_digit(text[0]))
        return false;
    size_t digits = is_digit(text[1]) ? 2 : 1;
    const char *after = text + digits;
    if (after[0] != ':' || !is_digit(after[1]) || !is_digit(after[2]) || after[3] || after[1] > '5')
        return false;
    int hour = digits == 2 ? (text[0] - '0') * 10 + text[1] - '0' : text[0] - '0';
    *minute = hour * 60 + (after[1] - '0') * 10 + after[2] - '0';
    return *minute >= HOURS_START_LEAST && *minute <= HOURS_START_MOST;
}

static bool parse_range(char *word, struct day_range *range)
{
    char *dots = strstr(word, "..");
    if (dots)
        *dots = '\0';
    return day_parse(word, &range->first) && day_parse(dots ? dots + 2 : word, &range->last) &&
           range->first <= range->last;
}

bool hours_parse_days_off(const char *text, struct arena *arena, struct day_range **ranges, size_t *count)
{
    char *rest = arena_copy_text(arena, text), *at = NULL;
    *ranges = arena_get_array(arena, strlen(text) / 2 + 1, sizeof **ranges);
    *count = 0;
    for (char *word = strtok_r(rest, " \t\n", &at); word; word = strtok_r(NULL, " \t\n", &at))
        if (!parse_range(word, &(*ranges)[(*count)++]))
            return false;
    return *count > 0;
}

void hours_add_days_off(struct buffer *out, const struct day_range *ranges, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        buffer_add(out, i ? " " : "");
        add_day_iso(out, ranges[i].first);
        if (ranges[i].last == ranges[i].first)
            continue;
        buffer_add(out, "..");
        add_day_iso(out, ranges[i].last);
    }
}

static int usual_minutes(int weekday)
{
    return weekday < 5 ? HOURS_SCHOOL_DAY : 0;
}

static int minutes_from(const char *setting, int usual)
{
    char *end;
    double value = setting ? strtod(setting, &end) : -1;
    return setting && end != setting && value >= 0 && value <= HOURS_MINUTES_MOST ? (int)value : usual;
}

struct hours hours_read(struct record *record, const char *bank, struct arena *arena)
{
    struct hours hours = {.start = HOURS_START_USUAL};
    struct day_range *off;
    for (int i = 0; i < 7; i++)
        hours.minutes[i] = minutes_from(record ? record_setting(record, bank, settings[i], arena) : NULL, usual_minutes(i));
    const char *start = record ? record_setting(record, bank, SETTING_START, arena) : NULL;
    if (start && !hours_parse_start(start, &hours.start))
        hours.start = HOURS_START_USUAL;
    const char *days = record ? record_setting(record, bank, SETTING_DAYS_OFF, arena) : NULL;
    if (days && hours_parse_days_off(days, arena, &off, &hours.off_count))
        hours.off = off;
    else
        hours.off_count = 0;
    return hours;
}

/* ---- Laying out a day ----------------------------------------------------------------------------- */

int hours_on(const struct hours *hours, day_number day)
{
    for (size_t i = 0; i < hours->off_count; i++)
        if (day >= hours->off[i].first && day <= hours->off[i].last)
            return 0;
    return hours->minutes[day_weekday(day)];
}

int hours_sitting_count(int minutes)
{
    return (minutes + HOURS_SITTING_MOST - 1) / HOURS_SITTING_MOST;
}

int hours_that_fit(int from, int minutes)
{
    while (minutes > 0 && from + minutes + HOURS_BREAK * (hours_sitting_count(minutes) - 1) > HOURS_END)
        minutes--;
    return minutes;
}

size_t hours_sittings(int from, int minutes, size_t blocks, struct hours_sitting sittings[HOURS_SITTINGS_MOST])
{
    assert(minutes > 0 && blocks > 0);
    size_t count = (size_t)hours_sitting_count(minutes);
    assert(count <= blocks && count <= HOURS_SITTINGS_MOST);
    for (size_t i = 0; i < count; i++) {
        int begun = minutes * (int)i / (int)count, done = minutes * (int)(i + 1) / (int)count;
        size_t first = blocks * i / count, end = blocks * (i + 1) / count;
        sittings[i] = (struct hours_sitting){from + begun + HOURS_BREAK * (int)i, done - begun, first, end - first};
    }
    return count;
}
