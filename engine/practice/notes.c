#include "practice/notes.h"

#include "bank/course.h"
#include "base/text.h"

static void keep(struct topic_notes *notes, enum condense_stage stage, const struct event *event, struct arena *arena)
{
    notes->texts[stage] = arena_copy_text(arena, event->text);
    notes->kept[stage] = event->day;
    if (notes->drafting == stage) {
        notes->drafting = CONDENSE_NONE;
        notes->draft = NULL;
    }
}

/* A line for another stage than the one in hand begins that stage's draft. */
static void take_draft(struct topic_notes *notes, enum condense_stage stage, const struct event *event, struct arena *arena)
{
    bool going_on = notes->drafting == stage;
    const char *before = going_on ? notes->draft : "";
    notes->drafting = stage;
    notes->draft = before;
    if (text_equal(event->detail, "line"))
        notes->half_line = arena_copy_text(arena, event->text);
    else if (text_equal(event->detail, "+") && *before)
        notes->draft = arena_print(arena, "%s\n%s", before, event->text);
    else
        notes->draft = arena_copy_text(arena, event->text);
}

void notes_apply(struct topic_notes *notes, const struct event *event, struct arena *arena)
{
    enum condense_stage stage = (enum condense_stage)event->number;
    notes->half_line = NULL;
    if (!event->detail)
        keep(notes, stage, event, arena);
    else
        take_draft(notes, stage, event, arena);
}

bool notes_read(struct record *record, const struct bank *bank, struct arena *arena, struct topic_notes **notes,
                struct messages *messages)
{
    const struct course *course = bank_course(bank);
    struct event *events = NULL;
    size_t count = 0;
    *notes = arena_get_array(arena, course->topic_count, sizeof **notes);
    for (size_t i = 0; i < course->topic_count; i++)
        for (int stage = 0; stage < CONDENSE_ROOM; stage++)
            (*notes)[i].kept[stage] = NO_DAY;
    if (record && !record_topic_events(record, bank_id(bank), EVENT_NOTE_CONDENSED, arena, &events, &count, messages))
        return false;
    for (size_t i = 0; i < count; i++) {
        int topic = course_topic(course, events[i].item);
        if (topic >= 0)
            notes_apply(&(*notes)[topic], &events[i], arena);
    }
    return true;
}
