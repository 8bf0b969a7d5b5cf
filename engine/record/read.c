/* Reading what is derived. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "base/text.h"
#include "record/derive-inner.h"

static const char failed[] = "cannot read the record";

/* ---- One list, one statement --------------------------------------------------------------------- */

/* Fills one element from the present row; texts go into arena. */
typedef void take_row(struct record *record, sqlite3_stmt *row, struct arena *arena, void *element);

static bool texts_are_sound(struct record *record, sqlite3_stmt *row)
{
    for (int i = 0; i < sqlite3_column_count(row); i++) {
        if (sqlite3_column_type(row, i) != SQLITE_TEXT)
            continue;
        const char *text = store_text(record, row, i);
        if (text && !text_is_valid(text, (size_t)sqlite3_column_bytes(row, i)))
            return store_refuse(record, "a derived text is damaged; run 'ownmark record rebuild'");
    }
    return !store_faulted(record);
}

/* All rows of a bound statement as an array in arena. */
static bool list(struct record *record, sqlite3_stmt *select, struct arena *arena, take_row *take, size_t size,
                 void **items, size_t *count, struct messages *messages)
{
    char *found = NULL;
    size_t capacity = 0;
    int state = -1;
    *count = 0;
    while (select && (state = store_row(record, select)) == 1 && texts_are_sound(record, select)) {
        found = memory_grow(found, &capacity, *count, size);
        memset(found + *count * size, 0, size);
        take(record, select, arena, found + *count * size);
        ++*count;
    }
    *items = arena_get_array(arena, *count, size);
    if (*count)
        memcpy(*items, found, *count * size);
    free(found);
    if (select)
        sqlite3_reset(select);
    return (state == 0 && !store_faulted(record)) || store_report(record, messages, failed);
}

static sqlite3_stmt *of_bank(struct record *record, const char *sql, const char *bank)
{
    store_start(record);
    sqlite3_stmt *select = store_statement(record, sql);
    if (select)
        store_bind_text(record, select, 1, bank);
    return select;
}

static moment moment_at(sqlite3_stmt *row, int column)
{
    return sqlite3_column_type(row, column) == SQLITE_NULL ? NO_MOMENT : sqlite3_column_int64(row, column);
}

static day_number day_at_column(sqlite3_stmt *row, int column)
{
    return sqlite3_column_type(row, column) == SQLITE_NULL ? NO_DAY : sqlite3_column_int(row, column);
}

/* ---- Settings ------------------------------------------------------------------------------------ */

static const char *value_of(struct record *record, const char *bank, const char *name, struct arena *arena)
{
    sqlite3_stmt *select = store_statement(record, "SELECT value FROM setting WHERE name = ?2 AND bank IN (?1, '') "
                                           "AND value IS NOT NULL ORDER BY bank DESC LIMIT 1");
    if (!select)
        return NULL;
    store_bind_text(record, select, 1, bank ? bank : "");
    store_bind_text(record, select, 2, name);
    const char *value = NULL;
    if (store_row(record, select) == 1 && texts_are_sound(record, select))
        value = store_copy_text(record, select, 0, arena);
    sqlite3_reset(select);
    return value;
}

const char *record_setting(struct record *record, const char *bank, const char *name, struct arena *arena)
{
    store_start(record);
    return value_of(record, bank, name, arena);
}

bool record_taught(struct record *record, const char *bank, const char *const *topic_ids, size_t count,
                   moment *taught, struct messages *messages)
{
    store_start(record);
    struct arena *arena = arena_new();
    for (size_t i = 0; i < count; i++)
        taught[i] = taught_moment(value_of(record, bank, arena_print(arena, SETTING_TAUGHT "%s", topic_ids[i]), arena));
    arena_free(arena);
    return !store_faulted(record) || store_report(record, messages, failed);
}

/* ---- The learner --------------------------------------------------------------------------------- */

static void index_ids(struct map *map, const char *const *ids, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (!map_find(map, ids[i]))
            map_add(map, ids[i], (void *)(uintptr_t)(i + 1));
}

/* Entries of a course that has changed since are left out. */
static bool load_effect(struct record *record, sqlite3_stmt *row, struct learner *learner, const struct map *maps)
{
    const char *kind = store_text(record, row, 0), *id = store_text(record, row, 1);
    double number[LEARNER_FRESHNESS + 1];
    for (int i = 0; i <= LEARNER_FRESHNESS; i++)
        number[i] = store_number(row, i + 2);
    for (int scope = LEARNER_COURSE; kind && id && scope <= LEARNER_WORD; scope++) {
        if (strcmp(kind, effect_scopes[scope]) != 0)
            continue;
        uintptr_t place = scope == LEARNER_COURSE ? 1 : (uintptr_t)map_find(&maps[scope], id);
        return place == 0 || effect_load(record, learner, (enum learner_scope)scope, place - 1, number, false);
    }
    return !store_faulted(record) &&
           store_refuse(record, "the state of the learner is damaged; run 'ownmark record rebuild'");
}

static bool load_effects(struct record *record, const char *bank, struct learner *learner, const struct map *maps)
{
    sqlite3_stmt *select = store_statement(record, "SELECT kind, id, mean, variance, evidence, last, grown, strength, "
                                           "freshness FROM effect WHERE bank = ?");
    if (!select)
        return false;
    store_bind_text(record, select, 1, bank);
    int state;
    while ((state = store_row(record, select)) == 1 && load_effect(record, select, learner, maps))
        ;
    sqlite3_reset(select);
    return state == 0;
}

static bool load_whole(struct record *record, const char *bank, struct learner *learner)
{
    sqlite3_stmt *select = store_statement(record, "SELECT seen, over_marks, over_of, under_marks, under_of, attempts "
                                           "FROM learner WHERE bank = ?");
    if (!select)
        return false;
    store_bind_text(record, select, 1, bank);
    int state = store_row(record, select);
    if (state != 1)
        return state == 0;
    double number[LEARNER_ATTEMPTS - LEARNER_SEEN + 1];
    for (int i = 0; i <= LEARNER_ATTEMPTS - LEARNER_SEEN; i++)
        number[i] = store_number(select, i);
    sqlite3_reset(select);
    return effect_load(record, learner, LEARNER_COURSE, 0, number, true);
}

struct learner *record_learner(struct record *record, const char *bank, const struct learner_course *course,
                               const char *const *unit_ids, const char *const *topic_ids,
                               const char *const *objective_ids, const char *const *word_ids,
                               struct messages *messages)
{
    store_start(record);
    struct learner *learner = learner_new(course, NULL);
    if (!learner) {
        messages_error(messages, "cannot work out a standing: the course has no topics or objectives, or a share "
                       "that is not a number; run 'ownmark bank check'");
        return NULL;
    }
    struct map maps[LEARNER_WORD + 1] = {MAP_EMPTY};
    index_ids(&maps[LEARNER_UNIT], unit_ids, course->units);
    index_ids(&maps[LEARNER_TOPIC], topic_ids, course->topics);
    index_ids(&maps[LEARNER_OBJECTIVE], objective_ids, course->objectives);
    index_ids(&maps[LEARNER_WORD], word_ids, course->words);
    bool loaded = load_whole(record, bank, learner) && load_effects(record, bank, learner, maps);
    for (int scope = 0; scope <= LEARNER_WORD; scope++)
        map_free(&maps[scope]);
    if (loaded)
        return learner;
    learner_free(learner);
    store_report(record, messages, failed);
    return NULL;
}

/* ---- Lists --------------------------------------------------------------------------------------- */

static void take_question(struct record *record, sqlite3_stmt *row, struct arena *arena, void *element)
{
    *(struct question_history *)element = (struct question_history){
        .question = store_copy_text(record, row, 0, arena),
        .last = moment_at(row, 1),
        .times = sqlite3_column_int(row, 2),
        .variants = (uint64_t)sqlite3_column_int64(row, 3),
        .attempted = store_number(row, 4),
    };
}

bool record_question_history(struct record *record, const char *bank, struct arena *arena,
                             struct question_history **items, size_t *count, struct messages *messages)
{
    /* Text is compared byte for byte, as strcmp does: the order is fit for bsearch. */
    sqlite3_stmt *select = of_bank(record, "SELECT question, last, times, variants, attempted FROM question "
                                   "WHERE bank = ? ORDER BY question", bank);
    return list(record, select, arena, take_question, sizeof **items, (void **)items, count, messages);
}

static void take_tally(struct record *record, sqlite3_stmt *row, struct arena *arena, void *element)
{
    *(struct tally *)element = (struct tally){
        .id = store_copy_text(record, row, 0, arena),
        .got = store_number(row, 1),
        .maximum = store_number(row, 2),
        .attempts = (long)sqlite3_column_int64(row, 3),
        .last = sqlite3_column_int64(row, 4),
        .first = day_at_column(row, 5),
        .again = day_at_column(row, 6),
    };
}

bool record_tallies(struct record *record, const char *bank, enum tally_by by, struct arena *arena,
                    struct tally **items, size_t *count, struct messages *messages)
{
    static const char *const names[] = {[TALLY_TOPIC] = "topic", [TALLY_OBJECTIVE] = "objective",
                                        [TALLY_WORD] = "word", [TALLY_CAUSE] = "cause", [TALLY_SKILL] = "skill"};
    /* A cause taken back leaves an empty tally behind. */
    sqlite3_stmt *select = of_bank(record, "SELECT id, got, maximum, attempts, last, first, again FROM tally "
                                   "WHERE bank = ?1 AND heading = ?2 AND attempts > 0 ORDER BY id", bank);
    if (select)
        store_bind_text(record, select, 2, names[by]);
    return list(record, select, arena, take_tally, sizeof **items, (void **)items, count, messages);
}

static void take_missed(struct record *record, sqlite3_stmt *row, struct arena *arena, void *element)
{
    double number[MISSED_LOST + 1];
    for (int i = 0; i <= MISSED_LOST; i++)
        number[i] = store_number(row, i);
    struct missed_cycle cycle = missed_cycle_from(number);
    const char *text[8];
    for (int i = 0; i < 8; i++)
        text[i] = store_copy_text(record, row, MISSED_LOST + 1 + i, arena);
    *(struct missed_point *)element = (struct missed_point){
        .question = text[0], .part = text[1], .item = text[2], .topic = text[3], .word = text[4], .idea = text[5],
        .cause = text[6], .content = text[7],
        .state = cycle.state, .since = cycle.since, .due = cycle.due, .cycle = cycle,
        .lost = number[MISSED_LOST],
        .successes = cycle.success == NO_DAY ? 0 : 1 + cycle.later,
    };
}

bool record_missed(struct record *record, const char *bank, struct arena *arena, struct missed_point **items,
                   size_t *count, struct messages *messages)
{
    sqlite3_stmt *select = of_bank(record, "SELECT state, since, due, step, look, success, later, gap, losses, lost, "
                                   "question, part, item, topic, word, idea, cause, content FROM missed "
                                   "WHERE bank = ? ORDER BY question, part, item", bank);
    return list(record, select, arena, take_missed, sizeof **items, (void **)items, count, messages);
}

static void take_moderation(struct record *record, sqlite3_stmt *row, struct arena *arena, void *element)
{
    (void)record;
    (void)arena;
    *(struct moderation *)element = (struct moderation){
        (long)sqlite3_column_int64(row, 0), store_number(row, 1), store_number(row, 2), store_number(row, 3),
    };
}

bool record_moderation(struct record *record, const char *bank, struct moderation *sums, struct messages *messages)
{
    struct arena *arena = arena_new();
    struct moderation *found;
    size_t count;
    sqlite3_stmt *select = of_bank(record, "SELECT count(*), total(own), total(teacher), total(maximum) FROM moderated "
                                   "WHERE bank = ?", bank);
    bool read = list(record, select, arena, take_moderation, sizeof *found, (void **)&found, &count, messages);
    *sums = read && count ? found[0] : (struct moderation){0};
    arena_free(arena);
    return read;
}

static void take_script(struct record *record, sqlite3_stmt *row, struct arena *arena, void *element)
{
    *(struct script_marks *)element = (struct script_marks){
        .script = sqlite3_column_int64(row, 0),
        .question = store_copy_text(record, row, 1, arena),
        .at = sqlite3_column_int64(row, 2),
        .predicted = store_number(row, 3),
        .predicted_final = store_number(row, 4),
        .predicted_maximum = store_number(row, 5),
        .first = store_number(row, 6),
        .final = store_number(row, 7),
        .maximum = store_number(row, 8),
        .moderated = store_number(row, 9),
        .seconds = store_number(row, 10),
        .allowed = store_number(row, 11),
    };
}

bool record_script_marks(struct record *record, const char *bank, struct arena *arena,
                         struct script_marks **items, size_t *count, struct messages *messages)
{
    sqlite3_stmt *select = of_bank(record, "SELECT seq, question, at, predicted, predicted_final, predicted_maximum, "
                                   "first, final, maximum, moderated, seconds, allowed FROM script "
                                   "WHERE bank = ? AND state = 1 ORDER BY marked", bank);
    return list(record, select, arena, take_script, sizeof **items, (void **)items, count, messages);
}

static void take_bank(struct record *record, sqlite3_stmt *row, struct arena *arena, void *element)
{
    *(struct known_bank *)element = (struct known_bank){
        .id = store_copy_text(record, row, 0, arena),
        .path = store_copy_text(record, row, 1, arena),
        .last = sqlite3_column_int64(row, 2),
    };
}

bool record_banks(struct record *record, struct arena *arena, struct known_bank **items, size_t *count,
                  struct messages *messages)
{
    store_start(record);
    sqlite3_stmt *select = store_statement(record, "SELECT id, path, last FROM bank ORDER BY last DESC, id");
    return list(record, select, arena, take_bank, sizeof **items, (void **)items, count, messages);
}
