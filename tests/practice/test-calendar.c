/* Calendar files read back by an independent reader: libical 3.0.16, which brings its own parser and its own reckoning of
 * time zones (RFC 5545). Changes of the clock: the rules of Europe/London and Pacific/Auckland in the tz database. */
#include "plan-trial.h"

#include <libical/ical.h>
#include <stdlib.h>
#include <string.h>

#include "practice/calendar.h"

static icalcomponent *read_calendar(struct plan_trial *trial)
{
    struct buffer out = BUFFER_EMPTY;
    calendar_write(trial->bank, &trial->standing, &trial->table, trial->now, &out);
    icalcomponent *calendar = icalparser_parse_string(buffer_text(&out));
    cr_assert(calendar && icalcomponent_isa(calendar) == ICAL_VCALENDAR_COMPONENT);
    cr_expect_eq(icalcomponent_count_errors(calendar), 0, "%s", buffer_text(&out));
    cr_expect(icalrestriction_check(calendar), "%s", buffer_text(&out));
    cr_expect_str_eq(icalproperty_get_version(icalcomponent_get_first_property(calendar, ICAL_VERSION_PROPERTY)), "2.0");
    buffer_free(&out);
    return calendar;
}

static size_t sittings_in(const struct timetable *table)
{
    size_t count = 0;
    for (size_t i = 0; i < table->count; i++)
        count += table->days[i].sitting_count;
    return count;
}

static struct icaltimetype local_start(icalcomponent *event, const char *zone)
{
    icaltimezone *there = icaltimezone_get_builtin_timezone(zone);
    struct icaltimetype start = icalcomponent_get_dtstart(event);
    cr_assert(there && icaltime_is_utc(start) && !icaltime_is_date(start));
    return icaltime_convert_to_zone(start, there);
}

/* The days around a change of the clock in a zone: each sitting starts at the set time by that zone's clock. */
static void expect_start_on_the_wall(const char *zone, day_number from, day_number exam, int offsets)
{
    struct plan_trial trial;
    struct buffer day = BUFFER_EMPTY;
    plan_begin(&trial, NULL, zone);
    add_day_iso(&day, exam);
    plan_set(&trial, SETTING_EXAM_DATE, buffer_text(&day));
    plan_set(&trial, SETTING_START, "17:00");
    plan_every_day(&trial, "30");
    plan_make(&trial, from, 600, true);
    icalcomponent *calendar = read_calendar(&trial);
    day_number expected = from;
    int changes = 0, hour = -1;
    for (icalcomponent *event = icalcomponent_get_first_component(calendar, ICAL_VEVENT_COMPONENT); event;
         event = icalcomponent_get_next_component(calendar, ICAL_VEVENT_COMPONENT)) {
        struct icaltimetype start = local_start(event, zone), utc = icalcomponent_get_dtstart(event);
        cr_expect(start.hour == 17 && start.minute == 0 && start.second == 0, "%s: %s", zone,
                  icaltime_as_ical_string(start));
        cr_expect_eq(day_from_civil(start.year, start.month, start.day), expected);
        cr_expect_eq(icaldurationtype_as_int(icaltime_subtract(icalcomponent_get_dtend(event), utc)), 1800);
        changes += hour >= 0 && utc.hour != hour;
        hour = utc.hour;
        expected++;
    }
    cr_expect_eq(expected, exam);
    cr_expect_eq(changes, offsets, "%s: the clock changed %d times", zone, changes);
    icalcomponent_free(calendar);
    buffer_free(&day);
    plan_end(&trial);
}

Test(practice, five_o_clock_stays_five_o_clock_across_changes_of_the_clock)
{
    /* London: summer time begins on 28 March 2027 and ends on 31 October 2027. */
    expect_start_on_the_wall("Europe/London", day_from_civil(2027, 3, 22), day_from_civil(2027, 4, 5), 1);
    expect_start_on_the_wall("Europe/London", day_from_civil(2027, 10, 25), day_from_civil(2027, 11, 8), 1);
    expect_start_on_the_wall("Europe/London", day_from_civil(2026, 10, 20), day_from_civil(2027, 4, 5), 2);
    /* Auckland: summer time ends on 4 April 2027 and begins on 26 September 2027; its five o'clock is the day before in UTC. */
    expect_start_on_the_wall("Pacific/Auckland", day_from_civil(2027, 3, 29), day_from_civil(2027, 4, 12), 1);
    expect_start_on_the_wall("Pacific/Auckland", day_from_civil(2027, 9, 20), day_from_civil(2027, 10, 4), 1);
    expect_start_on_the_wall("UTC", day_from_civil(2027, 3, 22), day_from_civil(2027, 4, 5), 0);
}

/* ---- Importing again ----------------------------------------------------------------------------- */

static icalcomponent *event_at(icalcomponent *calendar, const char *uid)
{
    for (icalcomponent *event = icalcomponent_get_first_component(calendar, ICAL_VEVENT_COMPONENT); event;
         event = icalcomponent_get_next_component(calendar, ICAL_VEVENT_COMPONENT))
        if (strcmp(icalcomponent_get_uid(event), uid) == 0)
            return event;
    return NULL;
}

/* The event whose uid begins so: what follows is the record's own. */
static icalcomponent *event_like(icalcomponent *calendar, const char *beginning)
{
    for (icalcomponent *event = icalcomponent_get_first_component(calendar, ICAL_VEVENT_COMPONENT); event;
         event = icalcomponent_get_next_component(calendar, ICAL_VEVENT_COMPONENT))
        if (strncmp(icalcomponent_get_uid(event), beginning, strlen(beginning)) == 0)
            return event;
    return NULL;
}

static icalcomponent *begin_with(struct plan_trial *trial, day_number day, int minute)
{
    plan_begin(trial, NULL, "Europe/London");
    plan_set(trial, SETTING_EXAM_DATE, "2027-05-18");
    plan_every_day(trial, "90");
    plan_make(trial, day, minute, false);
    return read_calendar(trial);
}

Test(practice, a_sitting_keeps_its_uid_and_its_sequence_rises)
{
    struct plan_trial trial;
    day_number monday = day_from_civil(2027, 5, 3);
    icalcomponent *first = begin_with(&trial, monday, 600);
    cr_expect_eq((size_t)icalcomponent_count_components(first, ICAL_VEVENT_COMPONENT), sittings_in(&trial.table));
    plan_practise(&trial, monday, 1000, 20);
    plan_set(&trial, SETTING_START, "18:00");
    plan_make(&trial, monday + 1, 600, false);
    icalcomponent *second = read_calendar(&trial);
    size_t kept = 0;
    for (icalcomponent *event = icalcomponent_get_first_component(second, ICAL_VEVENT_COMPONENT); event;
         event = icalcomponent_get_next_component(second, ICAL_VEVENT_COMPONENT)) {
        icalcomponent *before = event_at(first, icalcomponent_get_uid(event));
        cr_assert(before, "%s is new", icalcomponent_get_uid(event));
        cr_expect_gt(icalcomponent_get_sequence(event), icalcomponent_get_sequence(before));
        cr_expect_gt(icaltime_compare(icalcomponent_get_dtstamp(event), icalcomponent_get_dtstamp(before)), 0);
        cr_expect_eq(icaltime_compare(icalproperty_get_lastmodified(icalcomponent_get_first_property(event,
                                          ICAL_LASTMODIFIED_PROPERTY)), icalcomponent_get_dtstamp(event)), 0);
        cr_expect_eq(local_start(event, "Europe/London").day, local_start(before, "Europe/London").day);
        kept++;
    }
    cr_expect_eq(kept, sittings_in(&trial.table));
    icalcomponent_free(first);
    icalcomponent_free(second);
    plan_end(&trial);
}

/* The first sitting of today is done: what is left is the second, moved, and no third thing beside the first file's. */
Test(practice, what_is_left_of_today_replaces_what_stood_there)
{
    struct plan_trial trial;
    day_number monday = day_from_civil(2027, 5, 3);
    icalcomponent *first = begin_with(&trial, monday, 600);
    cr_assert(event_like(first, "coastal-science-2027-05-03-2-"));
    cr_expect_null(event_like(first, "coastal-science-2027-05-03-3-"));
    plan_practise(&trial, monday, 1000, 27);
    plan_make(&trial, monday, 18 * 60, false);
    icalcomponent *second = read_calendar(&trial);
    cr_expect_null(event_like(second, "coastal-science-2027-05-03-1-"));
    icalcomponent *moved = event_like(second, "coastal-science-2027-05-03-2-");
    cr_assert(moved);
    cr_expect_eq(local_start(moved, "Europe/London").hour, 18);
    icalcomponent_free(first);
    icalcomponent_free(second);
    plan_end(&trial);
}

/* Two students with one calendar: nothing of the one takes the place of anything of the other's. */
Test(practice, two_records_share_no_uid)
{
    struct plan_trial one, other;
    icalcomponent *first = begin_with(&one, day_from_civil(2027, 5, 3), 600);
    plan_begin(&other, NULL, "Europe/London");
    plan_practise(&other, day_from_civil(2027, 5, 2), 600, 1);
    plan_set(&other, SETTING_EXAM_DATE, "2027-05-18");
    plan_make(&other, day_from_civil(2027, 5, 3), 600, false);
    icalcomponent *second = read_calendar(&other);
    for (icalcomponent *event = icalcomponent_get_first_component(second, ICAL_VEVENT_COMPONENT); event;
         event = icalcomponent_get_next_component(second, ICAL_VEVENT_COMPONENT))
        cr_expect_null(event_at(first, icalcomponent_get_uid(event)), "%s", icalcomponent_get_uid(event));
    icalcomponent_free(first);
    icalcomponent_free(second);
    plan_end(&one);
    plan_end(&other);
}

/* ---- What it says -------------------------------------------------------------------------------- */

Test(practice, a_sitting_names_its_topics_and_its_minutes)
{
    struct plan_trial trial;
    struct buffer wanted = BUFFER_EMPTY;
    plan_begin(&trial, NULL, "Europe/London");
    plan_set(&trial, SETTING_EXAM_DATE, "2027-05-18");
    plan_miss(&trial, day_from_civil(2027, 5, 3), 600, 1);
    plan_make(&trial, day_from_civil(2027, 5, 4), 600, false);
    const struct timetable_sitting *sitting = &trial.table.days[0].sittings[0];
    icalcomponent *calendar = read_calendar(&trial);
    icalcomponent *event = icalcomponent_get_first_component(calendar, ICAL_VEVENT_COMPONENT);
    cr_expect_eq(event_like(calendar, "coastal-science-2027-05-04-1-"), event);
    buffer_add(&wanted, "1 missed point first: ownmark practise --missed --minutes 2\nThen: ");
    timetable_add_parts(&wanted, trial.bank, &trial.standing, sitting->parts, sitting->part_count, " min");
    buffer_add(&wanted, "\nownmark practise --minutes 18");     /* of 20 */
    cr_expect_str_eq(icalcomponent_get_description(event), buffer_text(&wanted));
    buffer_clear(&wanted);
    for (size_t i = 0; i < sitting->part_count; i++)
        buffer_print(&wanted, "%s%s", i ? "; " : "Coastal Science: ",
                     timetable_topic(trial.bank, &trial.standing, sitting->parts[i].topic)->name);
    cr_expect_str_eq(icalcomponent_get_summary(event), buffer_text(&wanted), "commas and semicolons come back");
    icalcomponent_free(calendar);
    buffer_free(&wanted);
    plan_end(&trial);
}
