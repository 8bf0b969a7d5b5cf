/* A marked question: its script, the tallies, the history of the question; and what a teacher's mark or a cause
 * given later changes in them. */
#include <assert.h>
#include <inttypes.h>
#include <math.h>
#include <string.h>

#include "base/text.h"
#include "record/derive-inner.h"
#include "record/log.h"

#define SECONDS_A_DAY 86400.0

/* ---- Tallies ------------------------------------------------------------------------------------- */

static const char *const headings[] = {"topic", "objective", "word"};

static const char *name_under(const struct mark_row *mark, int heading)
{
    return heading == 0 ? mark->topic : heading == 1 ? mark->objective : mark->word;
}

struct tally_change {
    const char *heading, *id;
    double got, maximum, attempts;
};

/* The first two days on which something was marked; a clock that went back adds none. */
static void note_day(struct row *tally, day_number day)
{
    double *number = tally->number;
    if (isnan(number[TALLY_FIRST]))
        number[TALLY_FIRST] = day;
    else if (isnan(number[TALLY_AGAIN]) && day > number[TALLY_FIRST])
        number[TALLY_AGAIN] = day;
}

static bool tally_add(struct derive *derive, const char *bank, struct tally_change change, const struct event *event)
{
    struct row *tally = derive_get(derive, TALLIES, SHELF_KEY(bank, change.heading, change.id));
    if (!tally)
        return false;
    if (tally->fresh)
        tally->number[TALLY_GOT] = tally->number[TALLY_MAXIMUM] = tally->number[TALLY_ATTEMPTS] = 0;
    tally->number[TALLY_GOT] += change.got;
    tally->number[TALLY_MAXIMUM] += change.maximum;
    tally->number[TALLY_ATTEMPTS] += change.attempts;
    tally->number[TALLY_LAST] = (double)event->at;
    if (event->kind == EVENT_QUESTION_MARKED)
        note_day(tally, event->day);
    return true;
}

/* Marks of one question mostly share the text itself (log_mark). */
static bool same_name(const char *a, const char *b)
{
    return a == b || text_equal(a, b);
}

/* Was this name under an earlier mark of the question already? */
static bool seen_before(const struct event *event, size_t index, int heading)
{
    for (size_t i = 0; i < index; i++)
        if (same_name(name_under(&event->marks[i], heading), name_under(&event->marks[index], heading)))
            return true;
    return false;
}

static bool tally_heading(struct derive *derive, const char *bank, const struct event *event, int heading)
{
    for (size_t i = 0; i < event->mark_count; i++) {
        const char *id = name_under(&event->marks[i], heading);
        if (!id || seen_before(event, i, heading))
            continue;
        double got = 0, maximum = 0;
        for (size_t j = i; j < event->mark_count; j++)
            if (same_name(name_under(&event->marks[j], heading), id)) {
                got += event->marks[j].got;
                maximum += event->marks[j].maximum;
            }
        if (!tally_add(derive, bank, (struct tally_change){headings[heading], id, got, maximum, 1}, event))
            return false;
    }
    return true;
}

/* A mark counts under each of its skills: their names are kept as one text with spaces between. */
static const char *next_skill(const char **rest, struct arena *arena)
{
    const char *start = *rest ? *rest + strspn(*rest, " ") : "";
    size_t length = strcspn(start, " ");
    *rest = start + length;
    return length ? arena_copy_bytes(arena, start, length) : NULL;
}

static bool has_skill(const struct mark_row *mark, const char *skill)
{
    size_t length = strlen(skill);
    for (const char *at = mark->skills; at && *at; at += strspn(at, " ")) {
        size_t word = strcspn(at, " ");
        if (word == length && strncmp(at, skill, length) == 0)
            return true;
        at += word;
    }
    return false;
}

static bool tally_skill(struct derive *derive, const char *bank, const struct event *event, size_t from, const char *skill)
{
    struct tally_change change = {"skill", skill, 0, 0, 1};
    for (size_t i = 0; i < event->mark_count; i++) {
        if (!has_skill(&event->marks[i], skill))
            continue;
        if (i < from)
            return true;    /* counted when that mark's turn was */
        change.got += event->marks[i].got;
        change.maximum += event->marks[i].maximum;
    }
    return tally_add(derive, bank, change, event);
}

static bool tally_skills(struct derive *derive, const char *bank, const struct event *event)
{
    for (size_t i = 0; i < event->mark_count; i++) {
        const char *rest = event->marks[i].skills, *skill;
        while ((skill = next_skill(&rest, derive->arena)))
            if (!tally_skill(derive, bank, event, i, skill))
                return false;
    }
    return true;
}

/* ---- Causes -------------------------------------------------------------------------------------- */

static const char *cause_of(struct derive *derive, int64_t script, const char *part, const char *item)
{
    char key[24];
    struct row *cause = derive_find(derive, CAUSES, SHELF_KEY(shelf_number_key(key, script), part, item));
    return cause ? cause->text[CAUSE_NAME] : NULL;
}

/* Marks lost for a cause; `attempts` counts points with at least something lost. */
static bool tally_cause(struct derive *derive, const char *bank, const char *cause, double lost, double attempts,
                        const struct event *event)
{
    return !cause || (lost == 0 && attempts == 0) ||
           tally_add(derive, bank, (struct tally_change){"cause", cause, 0, lost, attempts}, event);
}

/* ---- The marked question ------------------------------------------------------------------------- */

/* NAN counts as nothing, but the sum of nothing else is NAN. */
static void add_known(double *sum, double value)
{
    if (!isnan(value))
        *sum = isnan(*sum) ? value : *sum + value;
}

static bool same_part_before(const struct event *event, size_t index)
{
    for (size_t i = 0; i < index; i++)
        if (same_name(event->marks[i].part, event->marks[index].part))
            return true;
    return false;
}

static bool add_part(struct derive *derive, struct row *script, const struct event *event, size_t index)
{
    char key[24];
    const char *id = event->marks[index].part;
    struct row *part = derive_find(derive, PARTS, SHELF_KEY(shelf_number_key(key, event->script), id));
    if (!part)
        return !store_faulted(derive->record);
    double final = 0, maximum = 0;
    for (size_t i = index; i < event->mark_count; i++)
        if (same_name(event->marks[i].part, id)) {
            final += event->marks[i].got;
            maximum += event->marks[i].maximum;
        }
    add_known(&script->number[SCRIPT_SECONDS], part->number[PART_SECONDS]);
    add_known(&script->number[SCRIPT_ALLOWED], part->number[PART_ALLOWED]);
    if (isnan(part->number[PART_PREDICTED]))
        return true;
    add_known(&script->number[SCRIPT_PREDICTED], part->number[PART_PREDICTED]);
    add_known(&script->number[SCRIPT_PREDICTED_FINAL], final);
    add_known(&script->number[SCRIPT_PREDICTED_MAXIMUM], maximum);
    return true;
}

static bool close_script(struct derive *derive, struct row *script, const struct event *event)
{
    script->changed = true;
    double *number = script->number;
    number[SCRIPT_STATE] = STATE_MARKED;
    number[SCRIPT_MARKED] = (double)event->sequence;
    number[SCRIPT_AT] = (double)event->at;
    number[SCRIPT_FIRST] = number[SCRIPT_FINAL] = number[SCRIPT_MAXIMUM] = 0;
    for (size_t i = 0; i < event->mark_count; i++) {
        number[SCRIPT_FIRST] += event->marks[i].first; /* NAN stays: no first ticks somewhere, no first sum */
        number[SCRIPT_FINAL] += event->marks[i].got;
        number[SCRIPT_MAXIMUM] += event->marks[i].maximum;
        if (!same_part_before(event, i) && !add_part(derive, script, event, i))
            return false;
    }
    return true;
}

/* Was the idea of this slot earned wherever the question asks for it? Told once, at its first slot. */
static bool earns_idea(const struct event *event, size_t index)
{
    const char *idea = event->marks[index].idea;
    for (size_t i = 0; idea && i < event->mark_count; i++) {
        const struct mark_row *mark = &event->marks[i];
        if (same_name(mark->idea, idea) && (i < index || mark->got < mark->maximum))
            return false;
    }
    return idea != NULL;
}

/* After the slots themselves: a question that earns an idea in one place and loses it in another does not show it. */
static bool take_ideas(struct derive *derive, const struct missed_slot *slot, const struct event *event)
{
    for (size_t i = 0; i < event->mark_count; i++)
        if (earns_idea(event, i) && !missed_earn_idea(derive, slot, event->marks[i].idea))
            return false;
    return true;
}

/* The slots, one by one: causes and missed points. */
static bool take_slots(struct derive *derive, const struct row *script, const struct event *event)
{
    struct missed_slot slot = {.bank = script->text[SCRIPT_BANK], .question = script->text[SCRIPT_QUESTION],
                               .content = script->text[SCRIPT_CONTENT], .day = event->day,
                               .exam = missed_exam_day(derive, script->text[SCRIPT_BANK])};
    for (size_t i = 0; i < event->mark_count; i++) {
        const struct mark_row *mark = &event->marks[i];
        double lost = mark->maximum - mark->got;
        slot.cause = lost > 0 ? cause_of(derive, event->script, mark->part, mark->item) : NULL;
        if (!tally_cause(derive, slot.bank, slot.cause, lost, lost > 0, event) ||
            !missed_take(derive, &slot, mark, mark->got, mark->confident))
            return false;
    }
    return take_ideas(derive, &slot, event);
}

bool derive_marked(struct derive *derive, const struct event *event)
{
    struct row *script = derive_script(derive, event);
    if (!script)
        return false;
    if (script->number[SCRIPT_STATE] != STATE_OPEN)
        return store_refuse(derive->record, "script %" PRId64 " is closed already", event->script);
    const char *bank = script->text[SCRIPT_BANK];
    struct row *question = derive_get(derive, QUESTIONS, SHELF_KEY(bank, script->text[SCRIPT_QUESTION]));
    if (!question || !close_script(derive, script, event))
        return false;
    for (int heading = 0; heading < 3; heading++)
        if (!tally_heading(derive, bank, event, heading))
            return false;
    if (!tally_skills(derive, bank, event) || !take_slots(derive, script, event))
        return false;
    struct student *student = student_of(derive, bank);
    if (!student->replay &&
        !student_learn(derive, student, question->number[QUESTION_ATTEMPTED], event))
        return false;
    question->number[QUESTION_TIMES]++;
    question->number[QUESTION_LAST] = (double)event->at;
    question->number[QUESTION_ATTEMPTED] = fmax(question->number[QUESTION_ATTEMPTED], (double)event->at / SECONDS_A_DAY);
    return true;
}

/* ---- Later changes ------------------------------------------------------------------------------- */

/* A slot of a marked script as it stands; its texts are in the arena of derive. */
struct slot {
    struct mark_row mark;
    double stands;              /* the teacher's mark, or the student's */
    bool found;
};

static bool read_slot(struct derive *derive, const struct row *script, const struct event *event, struct slot *slot)
{
    struct record *record = derive->record;
    *slot = (struct slot){.found = false};
    sqlite3_stmt *select = store_statement(record, "SELECT " LOG_MARK_COLUMNS " FROM main.mark "
                                           "WHERE seq = ? AND part = ? AND item = ?");
    if (!select)
        return false;
    store_bind_whole(record, select, 1, (int64_t)script->number[SCRIPT_MARKED]);
    store_bind_text(record, select, 2, event->part);
    store_bind_text(record, select, 3, event->item);
    int state = store_row(record, select);
    if (state == 1) {
        slot->mark = log_mark(record, select, derive->arena, NULL);
        slot->found = true;
        sqlite3_reset(select);
    }
    char key[24];
    struct row *moderated = slot->found ? derive_find(derive, MODERATED,
        SHELF_KEY(script->text[SCRIPT_BANK], shelf_number_key(key, event->script), event->part, event->item)) : NULL;
    slot->stands = moderated ? moderated->number[MODERATED_TEACHER] : slot->mark.got;
    return state >= 0 && !store_faulted(record);
}

bool derive_cause(struct derive *derive, const struct event *event)
{
    char key[24];
    struct row *script = derive_script(derive, event);
    struct row *cause = script ? derive_get(derive, CAUSES, SHELF_KEY(shelf_number_key(key, event->script),
                                                                      event->part, event->item)) : NULL;
    if (!cause)
        return false;
    const char *before = cause->text[CAUSE_NAME];
    const char *after = event->detail && *event->detail ? event->detail : NULL;
    derive_set_text(derive, CAUSES, cause, CAUSE_NAME, after);
    struct slot slot;
    if (script->number[SCRIPT_STATE] != STATE_MARKED)
        return true;    /* counted when it is marked */
    if (!read_slot(derive, script, event, &slot))
        return false;
    double lost = slot.found ? slot.mark.maximum - slot.stands : 0;
    if (lost <= 0 || text_equal(before, after))
        return true;
    struct missed_slot place = {.bank = script->text[SCRIPT_BANK], .question = script->text[SCRIPT_QUESTION],
                                .cause = after};
    return tally_cause(derive, place.bank, before, -lost, -1, event) &&
           tally_cause(derive, place.bank, after, lost, 1, event) &&
           missed_set_cause(derive, &place, event->part, event->item);
}

static bool note_moderation(struct derive *derive, struct row *script, const struct event *event,
                            const struct slot *slot)
{
    char key[24];
    struct row *row = derive_get(derive, MODERATED, SHELF_KEY(script->text[SCRIPT_BANK],
                                 shelf_number_key(key, event->script), event->part, event->item));
    if (!row)
        return false;
    row->number[MODERATED_SEQ] = (double)event->sequence;
    row->number[MODERATED_OWN] = slot->mark.got;
    row->number[MODERATED_TEACHER] = event->number;
    row->number[MODERATED_MAXIMUM] = slot->mark.maximum;
    script->changed = true;
    double *total = &script->number[SCRIPT_MODERATED];
    *total = (isnan(*total) ? script->number[SCRIPT_FINAL] : *total) + event->number - slot->stands;
    struct row *part = derive_find(derive, PARTS, SHELF_KEY(shelf_number_key(key, event->script), event->part));
    if (part && !isnan(part->number[PART_PREDICTED]))
        script->number[SCRIPT_PREDICTED_FINAL] += event->number - slot->stands;
    return !store_faulted(derive->record);
}

static bool move_tallies(struct derive *derive, const char *bank, const struct event *event,
                         const struct slot *slot, const char *cause)
{
    double change = event->number - slot->stands, maximum = slot->mark.maximum;
    for (int heading = 0; heading < 3; heading++) {
        const char *id = name_under(&slot->mark, heading);
        if (id && !tally_add(derive, bank, (struct tally_change){headings[heading], id, change, 0, 0}, event))
            return false;
    }
    const char *rest = slot->mark.skills, *skill;
    while ((skill = next_skill(&rest, derive->arena)))
        if (!tally_add(derive, bank, (struct tally_change){"skill", skill, change, 0, 0}, event))
            return false;
    double points = (event->number < maximum) - (slot->stands < maximum);
    return tally_cause(derive, bank, cause, -change, points, event);
}

bool derive_moderated(struct derive *derive, const struct event *event)
{
    struct row *script = derive_script(derive, event);
    struct slot slot;
    if (!script || !read_slot(derive, script, event, &slot))
        return false;
    if (!slot.found)
        return store_refuse(derive->record, "script %" PRId64 " has no marks for part '%s', '%s'", event->script,
                            event->part, event->item);
    if (event->number > slot.mark.maximum)
        return store_refuse(derive->record, "%g marks are more than the %g on offer for part '%s', '%s'",
                            event->number, slot.mark.maximum, event->part, event->item);
    const char *cause = cause_of(derive, event->script, event->part, event->item);
    struct missed_slot place = {.bank = script->text[SCRIPT_BANK], .question = script->text[SCRIPT_QUESTION],
                                .content = script->text[SCRIPT_CONTENT], .cause = cause, .day = event->day,
                                .exam = missed_exam_day(derive, script->text[SCRIPT_BANK])};
    bool was_full = slot.stands >= slot.mark.maximum, is_full = event->number >= slot.mark.maximum;
    /* A mark claimed and not given was lost in confidence, whatever the student said at the time. */
    if (was_full != is_full && !missed_take(derive, &place, &slot.mark, event->number, was_full))
        return false;
    student_of(derive, place.bank)->replay = true;
    return note_moderation(derive, script, event, &slot) && move_tallies(derive, place.bank, event, &slot, cause);
}
