#include "practice/timetable.h"

#include <assert.h>
#include <math.h>

enum { EXAM_HOUR = 9, ROUND_UP = 5, LOOK_BACK = 28, SITTING_SHORTEST = 5 };  /* minutes, except the hour and the days */

/* What is worked on while a timetable is made. */
struct layout {
    struct record *record;
    const char *bank;
    const struct learner *learner;
    struct arena *arena;
    struct hours hours;
    moment now;
    struct timetable_day *days;
    int *from;                      /* [days]: minute of the day at which the first sitting starts */
    double kept;                    /* part of the last weeks' study days on which something was answered */
    size_t count;
    struct learner_block *blocks;   /* of all days, in order */
    size_t block_count;
};

day_number timetable_exam(struct record *record, const char *bank, struct arena *arena)
{
    day_number day;
    const char *setting = record ? record_setting(record, bank, SETTING_EXAM_DATE, arena) : NULL;
    return setting && day_parse(setting, &day) ? day : NO_DAY;
}

/* ---- The days there are ----------------------------------------------------------------------------- */

static moment at_minute(day_number day, int minute)
{
    return day_at(day, minute / 60, minute % 60);
}

/* By the clock on the wall, so that it holds on the days the clocks change. */
static int first_minute(const struct layout *layout, day_number day)
{
    int minute = layout->hours.start;
    while (minute < HOURS_END && at_minute(day, minute) < layout->now)
        minute += ROUND_UP - minute % ROUND_UP;
    return minute;
}

/* Of the study days since the first question, four weeks back at most and without today. */
static double kept_part(const struct layout *layout, day_number today, const struct script_marks *scripts, size_t count)
{
    bool answered[LOOK_BACK] = {false};
    size_t planned = 0, kept = 0;
    int first = 0;
    for (size_t i = 0; i < count; i++) {
        long back = (long)today - 1 - (long)day_of(scripts[i].at);
        if (back >= 0 && back < LOOK_BACK)
            answered[back] = true;
        if (back >= first)
            first = back < LOOK_BACK ? (int)back + 1 : LOOK_BACK;
    }
    for (int back = 0; back < first; back++)
        if (hours_on(&layout->hours, today - 1 - back) > 0) {
            planned++;
            kept += answered[back];
        }
    return learner_timetable_kept(kept, planned);
}

static bool read_done(struct layout *layout, struct timetable *timetable, struct messages *messages)
{
    struct script_marks *scripts = NULL;
    size_t count = 0;
    double marks = 0;
    if (layout->record && !record_script_marks(layout->record, layout->bank, layout->arena, &scripts, &count, messages))
        return false;
    for (size_t i = 0; i < count; i++)
        marks += day_of(scripts[i].at) == timetable->today ? scripts[i].maximum : 0;
    layout->kept = kept_part(layout, timetable->today, scripts, count);
    timetable->done_today = (int)lround(fmin(marks, 1e6) * TIMETABLE_BLOCK_MINUTES / LEARNER_BLOCK_MARKS);
    return true;
}

/* Study days up to the day before `planned`. */
static void gather_days(struct layout *layout, struct timetable *timetable, day_number planned)
{
    size_t most = (size_t)(planned - timetable->today);
    layout->days = arena_get_array(layout->arena, most, sizeof *layout->days);
    layout->from = arena_get_array(layout->arena, most, sizeof *layout->from);
    timetable->wanted_today = hours_on(&layout->hours, timetable->today);
    for (day_number day = timetable->today; day < planned; day++) {
        int from = first_minute(layout, day);
        int wanted = hours_on(&layout->hours, day) - (day == timetable->today ? timetable->done_today : 0);
        if (day == timetable->today && timetable->done_today > 0 && wanted < SITTING_SHORTEST)
            continue;
        int minutes = hours_that_fit(from, wanted);
        if (minutes <= 0)
            continue;
        layout->from[layout->count] = from;
        layout->days[layout->count++] = (struct timetable_day){.day = day, .minutes = minutes};
    }
}

static void count_later(const struct layout *layout, struct timetable *timetable)
{
    for (day_number day = timetable->last + 1; day < timetable->exam; day++) {
        int minutes = hours_that_fit(layout->hours.start, hours_on(&layout->hours, day));
        timetable->later_days += minutes > 0;
        timetable->later_minutes += minutes;
    }
}

/* ---- What goes into them ---------------------------------------------------------------------------- */

static size_t blocks_in(int minutes)
{
    int blocks = (minutes + TIMETABLE_BLOCK_MINUTES / 2) / TIMETABLE_BLOCK_MINUTES;
    return blocks > 0 ? (size_t)blocks : 1;
}

static void fill_days(struct layout *layout, moment exam)
{
    size_t room = 0;
    moment *moments = arena_get_array(layout->arena, layout->count, sizeof *moments);
    size_t *slots = arena_get_array(layout->arena, layout->count, sizeof *slots);
    size_t *likely = arena_get_array(layout->arena, layout->count, sizeof *likely);
    for (size_t i = 0; i < layout->count; i++) {
        moments[i] = at_minute(layout->days[i].day, layout->from[i]);
        slots[i] = blocks_in(layout->days[i].minutes);
        room += slots[i];
    }
    layout->blocks = arena_get_array(layout->arena, room, sizeof *layout->blocks);
    learner_timetable_likely(layout->kept, slots, layout->count, likely);
    layout->block_count = learner_timetable_spread(layout->learner, moments, slots, likely, layout->count, exam,
                                                   LEARNER_BLOCK_MARKS, layout->blocks);
    learner_timetable_order(layout->learner, layout->now, layout->blocks, layout->block_count);
}

size_t timetable_parts(const struct learner_block *blocks, size_t block_count, int minutes, struct timetable_part *parts)
{
    size_t count = 0;
    for (size_t i = 0; i < block_count; i++) {
        int length = minutes * (int)(i + 1) / (int)block_count - minutes * (int)i / (int)block_count;
        size_t at = 0;
        while (at < count && parts[at].topic != blocks[i].topic)
            at++;
        if (at == count)
            parts[count++] = (struct timetable_part){.topic = blocks[i].topic};
        parts[at].minutes += length;
    }
    return count;
}

static void add_to_day(struct timetable_day *day, struct timetable_part *parts, const struct timetable_sitting *sitting)
{
    for (size_t i = 0; i < sitting->part_count; i++) {
        size_t at = 0;
        while (at < day->part_count && parts[at].topic != sitting->parts[i].topic)
            at++;
        if (at == day->part_count)
            parts[day->part_count++] = (struct timetable_part){.topic = sitting->parts[i].topic};
        parts[at].minutes += sitting->parts[i].minutes;
    }
    day->parts = parts;
}

static void lay_out_day(struct layout *layout, struct timetable_day *day, int from, const struct learner_block *blocks,
                        size_t block_count)
{
    struct hours_sitting hours[HOURS_SITTINGS_MOST];
    size_t count = hours_sittings(from, day->minutes, block_count, hours);
    struct timetable_sitting *sittings = arena_get_array(layout->arena, count, sizeof *sittings);
    struct timetable_part *parts = arena_get_array(layout->arena, block_count, sizeof *parts);
    for (size_t i = 0; i < count; i++) {
        struct timetable_part *own = arena_get_array(layout->arena, hours[i].block_count, sizeof *own);
        sittings[i].start = at_minute(day->day, hours[i].from);
        sittings[i].end = sittings[i].start + hours[i].minutes * 60;
        sittings[i].part_count = timetable_parts(&blocks[hours[i].first_block], hours[i].block_count, hours[i].minutes, own);
        sittings[i].parts = own;
        add_to_day(day, parts, &sittings[i]);
    }
    day->sittings = sittings;
    day->sitting_count = count;
}

static size_t sittings_done(const struct layout *layout, const struct timetable *timetable, const struct timetable_day *day)
{
    int of_day = hours_sitting_count(hours_that_fit(layout->hours.start, timetable->wanted_today));
    return timetable->done_today > 0 && (size_t)of_day > day->sitting_count ? (size_t)of_day - day->sitting_count : 0;
}

/* A day the learner found no use for goes; one it filled in part becomes shorter. Days after the last one looked at
 * were only there so that the others are filled with them in view. */
static void lay_out_days(struct layout *layout, struct timetable *timetable)
{
    size_t block = 0, kept = 0;
    for (size_t i = 0; i < layout->count; i++) {
        size_t first = block;
        while (block < layout->block_count && layout->blocks[block].day == i)
            block++;
        if (block == first || layout->days[i].day > timetable->last)
            continue;
        struct timetable_day *day = &layout->days[kept++];
        *day = layout->days[i];
        size_t slots = blocks_in(day->minutes);
        day->minutes = (int)((size_t)day->minutes * (block - first) / slots);
        day->minutes = day->minutes > 0 ? day->minutes : 1;
        lay_out_day(layout, day, layout->from[i], &layout->blocks[first], block - first);
        day->sittings_before = day->day == timetable->today ? sittings_done(layout, timetable, day) : 0;
    }
    assert(block == layout->block_count);
    timetable->days = layout->days;
    timetable->count = kept;
}

/* ---- What else belongs to a day --------------------------------------------------------------------- */

static double missed_minutes(size_t missed)
{
    return (double)missed * TIMETABLE_BLOCK_MINUTES / LEARNER_BLOCK_MARKS;
}

long timetable_missed_minutes(const struct timetable_day *day)
{
    long of_sitting = (long)(day->sittings[0].end - day->sittings[0].start) / 60;
    long of_missed = lround(ceil(missed_minutes(day->missed)));
    return of_missed < of_sitting ? of_missed : of_sitting;
}

/* A heap of missed points is spread over the days to come: as many as take half of a day's minutes. */
static bool has_room_for_missed(const struct timetable_day *day)
{
    return day->missed == 0 || 2.0 * missed_minutes(day->missed + 1) <= day->minutes;
}

static bool place_missed(const struct layout *layout, const struct timetable *timetable, struct messages *messages)
{
    struct missed_point *points;
    size_t count = 0;
    if (layout->record && !record_missed(layout->record, layout->bank, layout->arena, &points, &count, messages))
        return false;
    for (size_t i = 0; i < count; i++) {
        if (points[i].state == MISSED_SECURE)
            continue;
        day_number due = missed_due(&points[i].cycle, timetable->today);
        size_t at = 0;
        while (at < timetable->count && (layout->days[at].day < due || !has_room_for_missed(&layout->days[at])))
            at++;
        if (at < timetable->count)
            layout->days[at].missed++;
    }
    return true;
}

static size_t first_untold(const struct layout *layout)
{
    for (size_t i = 0; i < layout->block_count; i++) {
        size_t topic = layout->blocks[i].topic;
        if (layout->learner->course.taught[topic] == LEARNER_UNKNOWN && isnan(layout->learner->last[topic]))
            return topic;
    }
    return LEARNER_NONE;
}

bool timetable_make(struct record *record, const struct bank *bank, const struct standing *standing, moment now,
                    day_number exam, bool all, struct arena *arena, struct timetable *timetable, struct messages *messages)
{
    struct layout layout = {.record = record, .bank = bank_id(bank), .learner = standing->learner, .arena = arena,
                            .hours = hours_read(record, bank_id(bank), arena), .now = now};
    *timetable = (struct timetable){.today = day_of(now), .exam = exam, .began = record ? record_began(record) : NO_MOMENT};
    assert(exam >= timetable->today);
    int ahead = exam - timetable->today < TIMETABLE_PLANNED_DAYS ? exam - timetable->today : TIMETABLE_PLANNED_DAYS;
    day_number planned = timetable->today + ahead;
    timetable->last = all || ahead <= TIMETABLE_WHOLE_DAYS ? planned - 1 : timetable->today + TIMETABLE_NEXT_DAYS - 1;
    if (!read_done(&layout, timetable, messages))
        return false;
    gather_days(&layout, timetable, planned);
    count_later(&layout, timetable);
    fill_days(&layout, day_at(planned, EXAM_HOUR, 0));
    lay_out_days(&layout, timetable);
    timetable->untold = first_untold(&layout);
    return place_missed(&layout, timetable, messages);
}

/* ---- In words --------------------------------------------------------------------------------------- */

const struct topic *timetable_topic(const struct bank *bank, const struct standing *standing, size_t topic)
{
    return &bank_course(bank)->topics[standing->topic_of_leaf[topic]];
}

void timetable_add_parts(struct buffer *out, const struct bank *bank, const struct standing *standing,
                         const struct timetable_part *parts, size_t count, const char *unit)
{
    for (size_t i = 0; i < count; i++)
        buffer_print(out, "%s%s %d%s", i ? "; " : "", timetable_topic(bank, standing, parts[i].topic)->name, parts[i].minutes,
                     unit);
}
