/* The learner of each bank, kept as rows by the ids of the course, so that a course may gain, lose or reorder
 * topics without anything being learnt anew. */
#include <assert.h>
#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "base/text.h"
#include "record/derive-inner.h"
#include "record/log.h"

enum { SECONDS_A_DAY = 86400, NOON = 43200 };

/* A replay after moderation: what stood at that point of the log. */
struct replay {
    struct derive *derive;
    struct student *student;
    struct arena *arena;
    const char *lines;              /* of the course; NULL: none seen yet */
    struct map own, general;        /* taught dates: setting name to const char ** */
    struct map marks;               /* slot to the teacher's mark, double * */
    struct map last;                /* question to the day it was last attempted, double * */
};

const char *const effect_scopes[] = {"course", "unit", "topic", "objective", "word"};

moment taught_moment(const char *text)
{
    day_number day;
    return text && day_parse(text, &day) ? (moment)day * SECONDS_A_DAY + NOON : LEARNER_UNKNOWN;
}

/* ---- Rows to state and back ---------------------------------------------------------------------- */

static enum learner_field last_field(enum learner_scope scope, bool whole)
{
    return whole ? LEARNER_ATTEMPTS : scope == LEARNER_TOPIC ? LEARNER_FRESHNESS : LEARNER_EVIDENCE;
}

bool effect_load(struct record *record, struct learner *learner, enum learner_scope scope, size_t which,
                 const double *number, bool whole)
{
    enum learner_field first = whole ? LEARNER_SEEN : LEARNER_MEAN;
    for (enum learner_field field = first; field <= last_field(scope, whole); field++) {
        size_t index = learner_entry_index(learner, (struct learner_entry){field, scope, which});
        if (!learner_load(learner, index, number[field - first]))
            return store_refuse(record, "the state of the learner is damaged; run 'ownmark record rebuild'");
    }
    return true;
}

static const char *id_of(const struct student *student, struct learner_entry entry)
{
    return entry.scope == LEARNER_COURSE ? "" : student->course.ids[entry.scope - LEARNER_UNIT][entry.which];
}

/* The means stand first in the state, so an effect's number is the place of its mean; by hand, because a rebuild
 * asks for every mark. */
static size_t effect_of(const struct student *student, struct learner_entry entry)
{
    const struct learner_course *course = &student->learner->course;
    switch (entry.scope) {
    case LEARNER_UNIT: return learner_unit_effect(course, entry.which);
    case LEARNER_TOPIC: return learner_topic_effect(course, entry.which);
    case LEARNER_OBJECTIVE: return learner_objective_effect(course, entry.which);
    case LEARNER_WORD: return learner_word_effect(course, entry.which);
    default: return 0;
    }
}

/* Reads an effect's row before it is first used. Effects that no mark touches are never read. */
static bool use_effect(struct derive *derive, struct student *student, enum learner_scope scope, size_t which)
{
    struct learner_entry entry = {LEARNER_MEAN, scope, which};
    bool *loaded = &student->loaded[effect_of(student, entry)];
    if (*loaded)
        return true;
    *loaded = true;
    struct row *row = derive_find(derive, EFFECTS,
                                  SHELF_KEY(student->bank, effect_scopes[scope], id_of(student, entry)));
    if (!row)
        return !store_faulted(derive->record);
    return effect_load(derive->record, student->learner, scope, which, row->number, false);
}

static bool save_effect(struct derive *derive, const struct student *student, struct learner_entry entry)
{
    const struct learner *learner = student->learner;
    struct row *row = derive_get(derive, EFFECTS,
                                 SHELF_KEY(student->bank, effect_scopes[entry.scope], id_of(student, entry)));
    if (!row)
        return false;
    for (entry.field = LEARNER_MEAN; entry.field <= last_field(entry.scope, false); entry.field++)
        row->number[entry.field] = learner->state[learner_entry_index(learner, entry)];
    return true;
}

static bool save_whole(struct derive *derive, const struct student *student)
{
    const struct learner *learner = student->learner;
    struct row *row = derive_get(derive, LEARNERS, SHELF_KEY(student->bank));
    if (!row)
        return false;
    struct learner_entry entry = {LEARNER_SEEN, LEARNER_COURSE, 0};
    for (; entry.field <= LEARNER_ATTEMPTS; entry.field++)
        row->number[entry.field - LEARNER_SEEN] = learner->state[learner_entry_index(learner, entry)];
    return true;
}

static bool save_student(struct derive *derive, struct student *student)
{
    struct learner *learner = student->learner;
    if (!learner || learner->touched_count == 0)
        return true;
    bool *saved = memory_get_zeroed(learner->effects, sizeof *saved);
    bool done = true, whole = false;
    for (size_t i = 0; done && i < learner->touched_count; i++) {
        struct learner_entry entry = learner_entry_at(learner, learner->touched[i]);
        if (entry.field >= LEARNER_SEEN) {
            whole = true;
            continue;
        }
        bool *this_one = &saved[effect_of(student, entry)];
        done = *this_one || save_effect(derive, student, entry);
        *this_one = true;
    }
    free(saved);
    learner_forget_touched(learner);
    return done && (!whole || save_whole(derive, student));
}

/* ---- Students ------------------------------------------------------------------------------------ */

static void drop_learner(struct student *student)
{
    learner_free(student->learner);
    student->learner = NULL;
    free(student->loaded);
    student->loaded = NULL;
    course_lines_free(&student->course);
    student->course = (struct course_lines){0};
    arena_reset(student->arena);
}

struct student *student_of(struct derive *derive, const char *bank)
{
    for (struct student *student = derive->students; student; student = student->next)
        if (strcmp(student->bank, bank) == 0)
            return student;
    struct student *student = memory_get_zeroed(1, sizeof *student);
    student->bank = memory_copy_text(bank);
    student->arena = arena_new();
    student->next = derive->students;
    derive->students = student;
    return student;
}

void students_free(struct derive *derive)
{
    struct student *next;
    for (struct student *student = derive->students; student; student = next) {
        next = student->next;
        drop_learner(student);
        arena_free(student->arena);
        free((char *)student->bank);
        free(student);
    }
    derive->students = NULL;
}

bool students_save(struct derive *derive, bool drop)
{
    bool done = true;
    for (struct student *student = derive->students; student; student = student->next) {
        done = done && save_student(derive, student);
        if (drop)
            drop_learner(student);
    }
    return done;
}

/* ---- Building ------------------------------------------------------------------------------------ */

static const char *taught_in_replay(const struct replay *replay, const char *name)
{
    const char *const *value = map_find(&replay->own, name);
    if (!value || !*value)
        value = map_find(&replay->general, name);
    return value ? *value : NULL;
}

static bool read_taught(struct derive *derive, struct student *student, moment *taught)
{
    size_t topics = student->course.count[LINE_TOPIC];
    struct buffer name = BUFFER_EMPTY;
    for (size_t i = 0; i < topics; i++) {
        buffer_clear(&name);
        buffer_print(&name, SETTING_TAUGHT "%s", student->course.ids[LINE_TOPIC][i]);
        const char *value = student->replaying ? taught_in_replay(student->replaying, buffer_text(&name))
                                               : derive_setting(derive, student->bank, buffer_text(&name));
        taught[i] = taught_moment(value);
    }
    buffer_free(&name);
    return !store_faulted(derive->record);
}

static const char *course_text(struct derive *derive, const struct student *student)
{
    if (student->replaying)
        return student->replaying->lines;
    struct row *row = derive_find(derive, COURSES, SHELF_KEY(student->bank));
    return row ? row->text[COURSE_LINES] : NULL;
}

/* Builds the learner when it is not there; it stays NULL when the bank has no course. */
static bool build_learner(struct derive *derive, struct student *student)
{
    if (student->learner)
        return true;
    const char *lines = course_text(derive, student);
    if (!lines)
        return !store_faulted(derive->record);
    struct course_lines *course = &student->course;
    const char *fault = course_lines_read(course, lines, student->arena);
    if (fault)
        return store_refuse(derive->record, "the stored course is damaged (%s); run 'ownmark record rebuild'", fault);
    moment *taught = arena_get_array(student->arena, course->count[LINE_TOPIC], sizeof *taught);
    if (!read_taught(derive, student, taught))
        return false;
    struct learner_course shape = {course->count[LINE_UNIT], course->count[LINE_TOPIC],
                                   course->count[LINE_OBJECTIVE], course->count[LINE_WORD],
                                   course->unit, course->share, course->mix, course->kind, taught};
    student->learner = learner_new(&shape, NULL);
    assert(student->learner); /* course_lines_read lets nothing through that it refuses */
    learner_forget_touched(student->learner); /* priors are not stored: a row not read yet must not be overwritten */
    student->loaded = memory_get_zeroed(student->learner->effects, sizeof *student->loaded);
    struct row *row = derive_find(derive, LEARNERS, SHELF_KEY(student->bank));
    if (!row)
        return !store_faulted(derive->record);
    return effect_load(derive->record, student->learner, LEARNER_COURSE, 0, row->number, true);
}

/* ---- Learning ------------------------------------------------------------------------------------ */

static double teachers_mark(const struct student *student, int64_t script, const struct mark_row *mark)
{
    if (!student->replaying)
        return NAN;
    struct buffer key = BUFFER_EMPTY;
    buffer_print(&key, "%" PRId64 "\x1f%s\x1f%s", script, mark->part, mark->item);
    const double *found = map_find(&student->replaying->marks, buffer_text(&key));
    buffer_free(&key);
    return found ? *found : NAN;
}

/* The names of a mark in the numbers of the course, with the texts they were found for. */
struct numbered_names {
    const char *id[LINE_KINDS];
    size_t number[LINE_KINDS];
};

/* Marks of one question mostly share the text itself (log_mark): it is looked up once. */
static size_t number_of(const struct course_lines *course, enum line_kind kind, const char *id,
                        struct numbered_names *known)
{
    if (id != known->id[kind]) {
        known->id[kind] = id;
        known->number[kind] = course_lines_find(course, kind, id);
    }
    return known->number[kind];
}

/* One mark in the learner's numbering, its effects read. False without a fault: the course knows no such topic or
 * objective (any more), and the mark teaches nothing. */
static bool number_mark(struct derive *derive, struct student *student, int64_t script, const struct mark_row *mark,
                        struct numbered_names *known, struct learner_mark *numbered)
{
    const struct course_lines *course = &student->course;
    *numbered = (struct learner_mark){
        .topic = number_of(course, LINE_TOPIC, mark->topic, known),
        .objective = number_of(course, LINE_OBJECTIVE, mark->objective, known),
        .word = mark->word ? number_of(course, LINE_WORD, mark->word, known) : LEARNER_NONE,
        .difficulty = mark->difficulty,
        .got = mark->got,
        .maximum = mark->maximum,
        .moderated = teachers_mark(student, script, mark),
    };
    if (numbered->topic == SIZE_MAX || numbered->objective == SIZE_MAX)
        return false;
    return use_effect(derive, student, LEARNER_COURSE, 0) &&
           use_effect(derive, student, LEARNER_UNIT, course->unit[numbered->topic]) &&
           use_effect(derive, student, LEARNER_TOPIC, numbered->topic) &&
           use_effect(derive, student, LEARNER_OBJECTIVE, numbered->objective) &&
           (numbered->word == LEARNER_NONE || use_effect(derive, student, LEARNER_WORD, numbered->word));
}

bool student_learn(struct derive *derive, struct student *student, double question_last, const struct event *event)
{
    if (!build_learner(derive, student))
        return false;
    if (!student->learner)
        return true;
    struct learner_mark few[32];
    struct learner_mark *marks = event->mark_count <= 32 ? few : memory_get_zeroed(event->mark_count, sizeof *marks);
    struct numbered_names known = {0};
    size_t count = 0;
    for (size_t i = 0; i < event->mark_count; i++)
        if (number_mark(derive, student, event->script, &event->marks[i], &known, &marks[count]))
            count++;
    if (count > 0 && !store_faulted(derive->record))
        learner_attempt(student->learner, event->at, &question_last, marks, count);
    if (marks != few)
        free(marks);
    return !store_faulted(derive->record);
}

/* ---- Replay after moderation --------------------------------------------------------------------- */

static void set_number(const struct replay *replay, struct map *map, const char *key, double value)
{
    double *number = map_find(map, key);
    if (!number) {
        number = arena_get(replay->arena, sizeof *number);
        map_add(map, arena_copy_text(replay->arena, key), number);
    }
    *number = value;
}

/* Reads the bank's moderated rows into the shelf, where those of this append or rebuild already are. */
static bool read_moderated(struct derive *derive, const char *bank)
{
    struct record *record = derive->record;
    if (derive->whole_log)
        return true;
    sqlite3_stmt *select = store_statement(record, "SELECT script, part, item FROM moderated WHERE bank = ?");
    if (!select)
        return false;
    store_bind_text(record, select, 1, bank);
    int state;
    while ((state = store_row(record, select)) == 1) {
        const char *script = store_text(record, select, 0), *part = store_text(record, select, 1);
        const char *item = store_text(record, select, 2);
        if (!script || !part || !item || !derive_find(derive, MODERATED, SHELF_KEY(bank, script, part, item)))
            break;
    }
    sqlite3_reset(select);
    return state == 0;
}

static int by_sequence(const void *left, const void *right)
{
    const struct row *const *a = left, *const *b = right;
    double first = (*a)->number[MODERATED_SEQ], second = (*b)->number[MODERATED_SEQ];
    return (first > second) - (first < second);
}

static void take_pair(struct replay *replay, const struct row *row)
{
    struct buffer key = BUFFER_EMPTY;
    double *mark = arena_get(replay->arena, sizeof *mark);
    buffer_print(&key, "%s\x1f%s\x1f%s", row->key[1], row->key[2], row->key[3]);
    *mark = row->number[MODERATED_TEACHER];
    map_add(&replay->marks, arena_copy_text(replay->arena, buffer_text(&key)), mark);
    buffer_free(&key);
    if (replay->student->learner)
        learner_moderated_pair(replay->student->learner, row->number[MODERATED_OWN], row->number[MODERATED_TEACHER],
                               row->number[MODERATED_MAXIMUM]);
}

/* Every teacher's mark in force, in the order given: for the bias, and (in replay->marks) for each point. */
static bool take_pairs(struct replay *replay)
{
    struct derive *derive = replay->derive;
    if (!read_moderated(derive, replay->student->bank))
        return false;
    const struct shelf *shelf = &derive->shelves[MODERATED];
    struct row **rows = memory_get_zeroed(shelf->count, sizeof *rows);
    size_t count = 0;
    for (size_t i = 0; i < shelf->count; i++)
        if (strcmp(shelf->rows[i]->key[0], replay->student->bank) == 0)
            rows[count++] = shelf->rows[i];
    qsort(rows, count, sizeof *rows, by_sequence);
    for (size_t i = 0; i < count; i++)
        take_pair(replay, rows[i]);
    free(rows);
    return true;
}

static bool replay_marked(struct replay *replay, const struct event *event)
{
    struct derive *derive = replay->derive;
    struct row *script = derive_script(derive, event);
    if (!script)
        return false;
    const char *question = script->text[SCRIPT_QUESTION];
    const double *known = map_find(&replay->last, question);
    double last = known ? *known : NAN;
    if (!student_learn(derive, replay->student, last, event))
        return false;
    set_number(replay, &replay->last, question, fmax(last, (double)event->at / SECONDS_A_DAY));
    return true;
}

static void set_taught(struct replay *replay, const struct event *event)
{
    struct map *map = event->bank ? &replay->own : &replay->general;
    const char **value = map_find(map, event->item);
    if (!value) {
        value = arena_get(replay->arena, sizeof *value);
        map_add(map, arena_copy_text(replay->arena, event->item), value);
    }
    *value = arena_copy_text(replay->arena, event->text);
}

/* The same steps as derive_apply takes for these kinds, from the log alone. */
static bool replay_event(struct replay *replay, const struct event *event)
{
    struct student *student = replay->student;
    if (event->kind == EVENT_QUESTION_MARKED)
        return replay_marked(replay, event);
    if (event->kind == EVENT_COURSE_SEEN && text_equal(event->text, replay->lines))
        return true;
    if (!save_student(replay->derive, student))
        return false;
    drop_learner(student);
    if (event->kind == EVENT_COURSE_SEEN)
        replay->lines = arena_copy_text(replay->arena, event->text);
    else
        set_taught(replay, event);
    return true;
}

static bool replay_log(struct replay *replay)
{
    struct log_stream stream;
    bool opened = log_open(&stream, replay->derive->record,
                           "(bank = ?1 AND kind IN (1, 18)) OR "
                           "(kind = 21 AND (bank IS NULL OR bank = ?1) AND item GLOB '" SETTING_TAUGHT "*')",
                           "1", replay->student->bank, false);
    struct event event;
    int state = -1;
    while (opened && (state = log_next(&stream, &event)) == 1 && replay_event(replay, &event))
        ;
    log_close(&stream);
    return state == 0;
}

/* The bias has to be known before the first mark is read: it is stored first, with the present course, and found
 * again by whatever course the log begins with. */
static bool replay_bias(struct replay *replay)
{
    struct derive *derive = replay->derive;
    struct student *student = replay->student;
    drop_learner(student);
    bool done = shelf_remove(&derive->shelves[EFFECTS], student->bank) &&
                shelf_remove(&derive->shelves[LEARNERS], student->bank) && build_learner(derive, student) &&
                take_pairs(replay) && save_student(derive, student);
    drop_learner(student);
    return done;
}

bool student_replay(struct derive *derive, struct student *student)
{
    struct replay replay = {.derive = derive, .student = student, .arena = arena_new()};
    bool done = replay_bias(&replay);
    student->replaying = &replay;
    done = done && replay_log(&replay) && save_student(derive, student);
    student->replaying = NULL;
    drop_learner(student);
    map_free(&replay.own);
    map_free(&replay.general);
    map_free(&replay.marks);
    map_free(&replay.last);
    arena_free(replay.arena);
    return done;
}
