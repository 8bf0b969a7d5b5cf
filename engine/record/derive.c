#include "record/derive-inner.h"

#include <assert.h>
#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "base/text.h"
#include "record/log.h"

static const struct shelf_kind kinds[SHELVES] = {
    [SITTINGS] = {"sitting", {"seq"}, {"opened", "closed"}, {"bank", "path", "ending"}},
    [BANKS] = {"bank", {"id"}, {"last"}, {"path"}},
    [COURSES] = {"course", {"bank"}, {"seq"}, {"lines", "content"}},
    [SETTINGS] = {"setting", {"bank", "name"}, {"seq"}, {"value"}},
    [SCRIPTS] = {"script", {"seq"},
                 {"state", "marked", "at", "predicted", "predicted_final", "predicted_maximum", "first", "final",
                  "maximum", "moderated", "seconds", "allowed"},
                 {"bank", "question", "content"}},
    [PARTS] = {"script_part", {"script", "part"}, {"predicted", "seconds", "allowed"}, {NULL}},
    [CAUSES] = {"cause", {"script", "part", "item"}, {NULL}, {"cause"}},
    [MODERATED] = {"moderated", {"bank", "script", "part", "item"}, {"seq", "own", "teacher", "maximum"}, {NULL}},
    [QUESTIONS] = {"question", {"bank", "question"}, {"last", "times", "variants", "attempted"}, {NULL}},
    [SEEDS] = {"seed", {"bank", "question", "seed"}, {"times"}, {NULL}},
    [TALLIES] = {"tally", {"bank", "heading", "id"}, {"got", "maximum", "attempts", "last", "first", "again"}, {NULL}},
    [MISSED] = {"missed", {"bank", "question", "part", "item"},
                {"state", "since", "due", "step", "look", "success", "later", "gap", "losses", "lost"},
                {"topic", "word", "idea", "cause", "content"}},
    [IDEAS] = {"idea", {"bank", "idea", "place"}, {NULL}, {"question", "part", "item"}},
    [EFFECTS] = {"effect", {"bank", "kind", "id"},
                 {"mean", "variance", "evidence", "last", "grown", "strength", "freshness"}, {NULL}},
    [LEARNERS] = {"learner", {"bank"},
                  {"seen", "over_marks", "over_of", "under_marks", "under_of", "attempts"}, {NULL}},
};

/* COURSE_SEEN, SITTING_*, QUESTION_OPENED, PREDICTED, ANSWER_FINISHED, CAUSE_GIVEN, QUESTION_MARKED, QUESTION_LEFT,
 * SETTING, MODERATED: derive_apply below. */
const char derive_kinds[] = "(kind < 5 OR kind > 16 OR kind IN (8, 9))";

static_assert((int)SHELVES == (int)DERIVED_TABLES, "one shelf a table");

const char *derived_table(int index)
{
    return kinds[index].table;
}

struct derive *derive_new(struct record *record, bool whole_log)
{
    struct derive *derive = memory_get_zeroed(1, sizeof *derive);
    derive->record = record;
    derive->whole_log = whole_log;
    derive->arena = arena_new();
    for (int i = 0; i < SHELVES; i++)
        shelf_open(&derive->shelves[i], &kinds[i], record, whole_log);
    return derive;
}

void derive_free(struct derive *derive)
{
    if (!derive)
        return;
    students_free(derive);
    for (int i = 0; i < SHELVES; i++)
        shelf_close(&derive->shelves[i]);
    arena_free(derive->arena);
    free(derive);
}

void derive_forget(struct derive *derive)
{
    students_free(derive);
    for (int i = 0; i < SHELVES; i++)
        shelf_forget(&derive->shelves[i]);
    arena_reset(derive->arena);
}

static bool finish_students(struct derive *derive)
{
    bool done = true;
    for (struct student *student = derive->students; done && student; student = student->next)
        done = !student->replay || student_replay(derive, student);
    return done && students_save(derive, true);
}

bool derive_flush(struct derive *derive)
{
    bool done = finish_students(derive);
    for (int i = 0; done && i < SHELVES; i++)
        done = shelf_save(&derive->shelves[i]);
    derive_forget(derive);
    return done;
}

/* ---- Shared small things ------------------------------------------------------------------------- */

struct row *derive_find(struct derive *derive, enum shelf_id shelf, const char *const *keys)
{
    return shelf_find(&derive->shelves[shelf], keys);
}

struct row *derive_get(struct derive *derive, enum shelf_id shelf, const char *const *keys)
{
    struct row *row = shelf_get(&derive->shelves[shelf], keys);
    if (row)
        row->changed = true;
    return row;
}

void derive_set_text(struct derive *derive, enum shelf_id shelf, struct row *row, size_t index, const char *text)
{
    shelf_set_text(&derive->shelves[shelf], row, index, text);
}

struct row *derive_script(struct derive *derive, const struct event *event)
{
    char key[24];
    struct row *script = derive_find(derive, SCRIPTS, SHELF_KEY(shelf_number_key(key, event->script)));
    if (!script)
        store_refuse(derive->record, "event %" PRId64 " belongs to script %" PRId64 ", which was never opened",
                     event->sequence, event->script);
    return script;
}

const char *derive_setting(struct derive *derive, const char *bank, const char *name)
{
    struct row *row = derive_find(derive, SETTINGS, SHELF_KEY(bank, name));
    if (!row || !row->text[SETTING_VALUE])
        row = derive_find(derive, SETTINGS, SHELF_KEY("", name));
    return row ? row->text[SETTING_VALUE] : NULL;
}

/* ---- One function a kind of event ---------------------------------------------------------------- */

static bool course_seen(struct derive *derive, const struct event *event)
{
    struct course_lines lines;
    const char *fault = course_lines_read(&lines, event->text, derive->arena);
    course_lines_free(&lines);
    if (fault)
        return store_refuse(derive->record, "the description of the course is wrong: %s", fault);
    struct row *row = derive_get(derive, COURSES, SHELF_KEY(event->bank));
    if (!row)
        return false;
    if (!text_equal(row->text[COURSE_LINES], event->text) && !students_save(derive, true))
        return false;
    row->number[COURSE_SEQ] = (double)event->sequence;
    derive_set_text(derive, COURSES, row, COURSE_LINES, event->text);
    derive_set_text(derive, COURSES, row, COURSE_CONTENT, event->content);
    return true;
}

static bool sitting_opened(struct derive *derive, const struct event *event)
{
    char key[24];
    struct row *row = derive_get(derive, SITTINGS, SHELF_KEY(shelf_number_key(key, event->sequence)));
    struct row *bank = row ? derive_get(derive, BANKS, SHELF_KEY(event->bank)) : NULL;
    if (!bank)
        return false;
    row->number[SITTING_OPENED] = (double)event->at;
    derive_set_text(derive, SITTINGS, row, SITTING_BANK, event->bank);
    derive_set_text(derive, SITTINGS, row, SITTING_PATH, event->text);
    bank->number[BANK_LAST] = (double)event->at;
    derive_set_text(derive, BANKS, bank, BANK_PATH, event->text);
    return true;
}

static bool sitting_closed(struct derive *derive, const struct event *event)
{
    char key[24];
    struct row *row = derive_find(derive, SITTINGS, SHELF_KEY(shelf_number_key(key, event->sitting)));
    if (!row)
        return store_refuse(derive->record, "sitting %" PRId64 " was never opened", event->sitting);
    if (!isnan(row->number[SITTING_CLOSED]))
        return true;    /* closed twice: the first one stands */
    row->changed = true;
    row->number[SITTING_CLOSED] = (double)event->sequence;
    derive_set_text(derive, SITTINGS, row, SITTING_ENDING, event->detail);
    return true;
}

static bool question_opened(struct derive *derive, const struct event *event)
{
    char key[24], seed_key[24];
    struct row *script = derive_get(derive, SCRIPTS, SHELF_KEY(shelf_number_key(key, event->sequence)));
    struct row *question = script ? derive_get(derive, QUESTIONS, SHELF_KEY(event->bank, event->item)) : NULL;
    const char *drawn = shelf_number_key(seed_key, (int64_t)event->number);
    struct row *seed = question ? derive_get(derive, SEEDS, SHELF_KEY(event->bank, event->item, drawn)) : NULL;
    if (!seed)
        return false;
    script->number[SCRIPT_STATE] = STATE_OPEN;
    derive_set_text(derive, SCRIPTS, script, SCRIPT_BANK, event->bank);
    derive_set_text(derive, SCRIPTS, script, SCRIPT_QUESTION, event->item);
    derive_set_text(derive, SCRIPTS, script, SCRIPT_CONTENT, event->content);
    if (question->fresh)
        question->number[QUESTION_TIMES] = question->number[QUESTION_VARIANTS] = 0;
    if (seed->fresh) {
        seed->number[SEED_TIMES] = 0;
        question->number[QUESTION_VARIANTS]++;
    }
    seed->number[SEED_TIMES]++;
    return true;
}

static bool part_entry(struct derive *derive, const struct event *event)
{
    char key[24];
    struct row *part = derive_script(derive, event)
                           ? derive_get(derive, PARTS, SHELF_KEY(shelf_number_key(key, event->script), event->part))
                           : NULL;
    if (!part)
        return false;
    if (event->kind == EVENT_PREDICTED) {
        part->number[PART_PREDICTED] = event->number;
        return true;
    }
    char *end = NULL;
    double allowed = event->text ? strtod(event->text, &end) : NAN;
    part->number[PART_SECONDS] = event->number;
    part->number[PART_ALLOWED] = end && *end == '\0' && isfinite(allowed) ? allowed : NAN;
    return true;
}

static bool question_left(struct derive *derive, const struct event *event)
{
    struct row *script = derive_script(derive, event);
    if (!script)
        return false;
    if (script->number[SCRIPT_STATE] != STATE_OPEN)
        return store_refuse(derive->record, "script %" PRId64 " is closed already", event->script);
    struct row *question = derive_get(derive, QUESTIONS,
                                      SHELF_KEY(script->text[SCRIPT_BANK], script->text[SCRIPT_QUESTION]));
    if (!question)
        return false;
    script->changed = true;
    script->number[SCRIPT_STATE] = STATE_LEFT;
    script->number[SCRIPT_AT] = (double)event->at;
    question->number[QUESTION_LAST] = (double)event->at;
    return true;
}

static bool setting_changed(struct derive *derive, const struct event *event)
{
    struct row *row = derive_get(derive, SETTINGS, SHELF_KEY(event->bank ? event->bank : "", event->item));
    if (!row)
        return false;
    row->number[SETTING_SEQ] = (double)event->sequence;
    derive_set_text(derive, SETTINGS, row, SETTING_VALUE, event->text);
    /* A learner is built with the taught dates of its time. */
    return !text_starts_with(event->item, SETTING_TAUGHT) || students_save(derive, true);
}

static bool apply(struct derive *derive, const struct event *event)
{
    switch (event->kind) {
    case EVENT_COURSE_SEEN: return course_seen(derive, event);
    case EVENT_SITTING_OPENED: return sitting_opened(derive, event);
    case EVENT_SITTING_CLOSED: return sitting_closed(derive, event);
    case EVENT_QUESTION_OPENED: return question_opened(derive, event);
    case EVENT_PREDICTED:
    case EVENT_ANSWER_FINISHED: return part_entry(derive, event);
    case EVENT_CAUSE_GIVEN: return derive_cause(derive, event);
    case EVENT_QUESTION_MARKED: return derive_marked(derive, event);
    case EVENT_QUESTION_LEFT: return question_left(derive, event);
    case EVENT_SETTING: return setting_changed(derive, event);
    case EVENT_MODERATED: return derive_moderated(derive, event);
    default: return true;
    }
}

bool derive_apply(struct derive *derive, const struct event *event)
{
    return apply(derive, event) && !store_faulted(derive->record);
}

/* ---- The whole log ------------------------------------------------------------------------------- */

static bool stream_all(struct derive *derive, struct log_stream *stream, size_t total,
                       void (*progress)(size_t done, size_t total, void *context), void *context)
{
    struct event event;
    int state;
    size_t count = 0;
    while ((state = log_next(stream, &event)) == 1) {
        if (!derive_apply(derive, &event))
            return false;
        if (progress && ++count % 4096 == 0)
            progress((size_t)event.sequence < total ? (size_t)event.sequence : total, total, context);
    }
    return state == 0;
}

bool derive_everything(struct record *record, bool write, bool validate, int64_t differences[DERIVED_TABLES],
                       void (*progress)(size_t done, size_t total, void *context), void *context)
{
    int64_t total;
    if (!store_whole(record, store_statement(record, "SELECT max(seq) FROM event"), 0, &total))
        return false;
    struct derive *derive = derive_new(record, true);
    struct log_stream stream;
    bool done = log_open(&stream, record, validate ? "1" : derive_kinds, "1", NULL, validate) &&
                stream_all(derive, &stream, (size_t)total, progress, context);
    log_close(&stream);
    done = done && finish_students(derive);
    for (int i = 0; done && i < SHELVES; i++)
        done = shelf_settle(&derive->shelves[i], write, &differences[i]);
    if (done && progress)
        progress((size_t)total, (size_t)total, context);
    derive_free(derive);
    return done;
}
