#include "practice/calendar.h"

#include <assert.h>
#include <inttypes.h>

#include "base/hash.h"
#include "base/text.h"
#include "report/icalendar.h"

static long sequence_at(moment now)
{
    moment minutes = now / 60;
    return minutes < 0 ? 0 : minutes > INT32_MAX ? INT32_MAX : (long)minutes;
}

/* Hashed: the moment itself is nobody's business. */
static void add_uid(struct buffer *out, const struct bank *bank, moment began, day_number day, size_t ordinal)
{
    enum { SEED = 5545 };
    buffer_print(out, "%s-", bank_id(bank));
    add_day_iso(out, day);
    buffer_print(out, "-%zu-%016" PRIx64 "@ownmark", ordinal + 1, hash_bytes(SEED, &began, sizeof began));
}

static void add_summary(struct buffer *out, const struct bank *bank, const struct standing *standing,
                        const struct timetable_sitting *sitting)
{
    buffer_print(out, "%s: ", bank_course(bank)->name);
    for (size_t i = 0; i < sitting->part_count; i++)
        buffer_print(out, "%s%s", i ? "; " : "", timetable_topic(bank, standing, sitting->parts[i].topic)->name);
}

static void add_sitting(struct buffer *out, const struct bank *bank, const struct standing *standing,
                        const struct timetable *timetable, const struct timetable_day *day, size_t ordinal, moment now)
{
    const struct timetable_sitting *sitting = &day->sittings[ordinal];
    struct buffer uid = BUFFER_EMPTY, summary = BUFFER_EMPTY, description = BUFFER_EMPTY;
    add_uid(&uid, bank, timetable->began, day->day, day->sittings_before + ordinal);
    add_summary(&summary, bank, standing, sitting);
    long minutes = (long)(sitting->end - sitting->start) / 60;
    if (ordinal == 0 && day->missed) {
        long missed = timetable_missed_minutes(day);
        buffer_print(&description, "%s first: ownmark practise --missed --minutes %ld\nThen: ",
                     text_count((long)day->missed, "missed point", "missed points"), missed);
        minutes -= missed;
    }
    timetable_add_parts(&description, bank, standing, sitting->parts, sitting->part_count, " min");
    if (minutes > 0)
        buffer_print(&description, "\nownmark practise --minutes %ld", minutes);
    icalendar_add_event(out, &(struct icalendar_event){
        .uid = buffer_text(&uid), .sequence = sequence_at(now), .stamp = now, .start = sitting->start, .end = sitting->end,
        .summary = buffer_text(&summary), .description = buffer_text(&description)});
    buffer_free(&uid);
    buffer_free(&summary);
    buffer_free(&description);
}

void calendar_write(const struct bank *bank, const struct standing *standing, const struct timetable *timetable, moment now,
                    struct buffer *out)
{
    assert(timetable->count > 0);
    icalendar_begin(out, "-//ownmark//ownmark timetable//EN");
    for (size_t i = 0; i < timetable->count; i++)
        for (size_t j = 0; j < timetable->days[i].sitting_count; j++)
            add_sitting(out, bank, standing, timetable, &timetable->days[i], j, now);
    icalendar_end(out);
}
