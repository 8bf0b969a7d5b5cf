#include "bank/sense.h"

#include <assert.h>
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "bank/commandwords.h"
#include "bank/sense-inner.h"
#include "base/files.h"
#include "base/memory.h"
#include "base/text.h"
#include "quantity/unit.h"

enum {
    SUGGESTED_FROM = 2000,      /* among more names the search for a likely one would cost too much */
    UNITS_REMEMBERED = 4096,
    CHILDREN_NAMED = 5
};

struct sense *sense_new(const char *file, const char *folder)
{
    struct sense *sense = memory_get_zeroed(1, sizeof *sense);
    sense->file = file ? memory_copy_text(file) : NULL;
    sense->folder = folder ? memory_copy_text(folder) : NULL;
    struct names *tables[] = {&sense->topics, &sense->objectives, &sense->words, &sense->skills, &sense->constants,
                              &sense->units, &sense->questions, &sense->nodes, &sense->parts, &sense->symbols};
    for (size_t i = 0; i < sizeof tables / sizeof *tables; i++)
        *tables[i] = names_new();
    sense->ids = arena_new();
    sense->scratch = arena_new();
    return sense;
}

void sense_free(struct sense *sense)
{
    if (!sense)
        return;
    struct names *tables[] = {&sense->topics, &sense->objectives, &sense->words, &sense->skills, &sense->constants,
                              &sense->units, &sense->questions, &sense->nodes, &sense->parts, &sense->symbols};
    for (size_t i = 0; i < sizeof tables / sizeof *tables; i++)
        names_free(tables[i]);
    arena_free(sense->ids);
    arena_free(sense->scratch);
    free(sense->awaited);
    free(sense->file);
    free(sense->folder);
    free(sense);
}

/* ---- What every check uses ---- */

void sense_fault(const struct check *check, const char *format, ...)
{
    struct buffer text = BUFFER_EMPTY;
    if (!messages_full(check->messages)) {
        if (check->part)
            buffer_print(&text, "part %s: ", check->part->id);
        va_list arguments;
        va_start(arguments, format);
        buffer_print_list(&text, format, arguments);
        va_end(arguments);
    }
    struct place place = {check->sense->file, check->line, check->column};
    messages_add(check->messages, SEVERITY_ERROR, place, check->subject, "%s", buffer_text(&text));
    buffer_free(&text);
}

static size_t gather(const struct names *names, const char **into, size_t count)
{
    for (size_t i = 0; names && i < names->capacity; i++)
        if (names->entries[i].name)
            into[count++] = names->entries[i].name;
    return count;
}

static int by_text(const void *left, const void *right)
{
    return strcmp(*(const char *const *)left, *(const char *const *)right);
}

const char *sense_suggestion(const struct sense *sense, const char *name, const struct names *first,
                             const struct names *second, const struct messages *messages)
{
    size_t total = first->count + (second ? second->count : 0);
    if (messages_full(messages) || total == 0 || total > SUGGESTED_FROM)
        return "";
    const char **candidates = memory_get_zeroed(total, sizeof *candidates);
    gather(second, candidates, gather(first, candidates, 0));
    /* The tables' order changes from run to run; the message must not. */
    qsort(candidates, total, sizeof *candidates, by_text);
    const char *nearest = text_nearest(name, candidates, total);
    free(candidates);
    return nearest ? arena_print(sense->scratch, "; did you mean '%s'?", nearest) : "";
}

bool sense_unit(const struct check *check, const char *unit, const char *what, const char *symbol)
{
    struct sense *sense = check->sense;
    if (!unit || !*unit)
        return true;
    const int *remembered = names_find(&sense->units, unit);
    bool known = remembered ? *remembered != 0 : unit_is_known(unit);
    if (!remembered && sense->units.count < UNITS_REMEMBERED)
        names_add(&sense->units, arena_copy_text(sense->ids, unit), known);
    if (!known)
        sense_fault(check, "the unit '%s' of %s%s%s%s is not known, or can be read in two ways: write it with spaces "
                    "between the symbols and exponents behind them, as in kg m s-2", unit, what, symbol ? " '" : "",
                    symbol ? symbol : "", symbol ? "'" : "");
    return known;
}

/* ---- Look-ups ---- */

static int look_up(const struct sense *sense, struct sense_at at, const struct names *names, const char *name,
                   const char *what, struct messages *messages)
{
    const int *index = names_find(names, name);
    if (index)
        return *index;
    struct place place = {sense->file, at.line, at.column};
    const char *nearest = sense_suggestion(sense, name, names, NULL, messages);
    messages_add(messages, SEVERITY_ERROR, place, at.subject, "the %s '%s' is not declared in the course%s", what,
                 name, *nearest ? nearest : ": declare it there or name one that is");
    return -1;
}

int sense_objective(const struct sense *sense, struct sense_at at, const char *id, struct messages *messages)
{
    return look_up(sense, at, &sense->objectives, id, "objective", messages);
}

int sense_skill(const struct sense *sense, struct sense_at at, const char *id, struct messages *messages)
{
    return look_up(sense, at, &sense->skills, id, "skill", messages);
}

int sense_word(const struct sense *sense, struct sense_at at, const char *word, struct messages *messages)
{
    const int *index = names_find(&sense->words, word);
    if (index)
        return *index;
    const char *folded = command_word_folded(sense->scratch, word);
    index = names_find(&sense->words, folded);
    if (index)
        return *index;
    struct place place = {sense->file, at.line, at.column};
    const char *nearest = sense_suggestion(sense, folded, &sense->words, NULL, messages);
    messages_add(messages, SEVERITY_ERROR, place, at.subject, "the command word '%s' is not known%s", word,
                 *nearest ? nearest : ": use a built-in one or add a <command-word> to the course");
    return -1;
}

int sense_topic(const struct sense *sense, struct sense_at at, const char *id, struct messages *messages)
{
    int index = look_up(sense, at, &sense->topics, id, "topic", messages);
    if (index < 0 || sense->course->topics[index].is_leaf)
        return index;
    struct buffer children = BUFFER_EMPTY;
    size_t named = 0;
    for (size_t i = (size_t)index + 1; i < sense->course->topic_count && named <= CHILDREN_NAMED; i++) {
        if (sense->course->topics[i].parent != index)
            break;
        buffer_print(&children, named == CHILDREN_NAMED ? ", …" : named ? ", %s" : "%s",
                     sense->course->topics[i].id);
        named++;
    }
    struct place place = {sense->file, at.line, at.column};
    messages_add(messages, SEVERITY_ERROR, place, at.subject,
                 "the topic '%s' has sub-topics, and a question belongs to one of them: %s", id,
                 buffer_text(&children));
    buffer_free(&children);
    return -1;
}

bool sense_strand_level(const struct sense *sense, struct sense_at at, const char *strand, int level,
                        size_t count, struct messages *messages)
{
    if (level >= 1 && (size_t)level <= count)
        return true;
    struct place place = {sense->file, at.line, at.column};
    messages_add(messages, SEVERITY_ERROR, place, at.subject,
                 "the strand '%s' describes level %d, but the levels go from 1 to %zu", strand, level, count);
    return false;
}

/* ---- Ids and enemies ---- */

static void check_id(struct check *check)
{
    struct sense *sense = check->sense;
    const char *id = check->question->id;
    int line = (int)check->question->line;
    int *known = names_find(&sense->questions, id);
    if (!known)
        names_add(&sense->questions, arena_copy_text(sense->ids, id), line);
    else if (*known < 0)
        *known = line;      /* it was awaited as an enemy */
    else
        sense_fault(check, "the id '%s' is taken by the question at line %d: give each question an id of its own",
                    id, *known);
}

static void check_enemies(struct check *check)
{
    struct sense *sense = check->sense;
    const struct question *question = check->question;
    const char *owner = NULL;
    for (size_t i = 0; i < question->enemy_count; i++) {
        const char *enemy = question->enemies[i];
        if (strcmp(enemy, question->id) == 0) {
            sense_fault(check, "the question names itself among its enemies: take '%s' out", enemy);
            continue;
        }
        if (names_find(&sense->questions, enemy))
            continue;
        owner = owner ? owner : arena_copy_text(sense->ids, question->id);
        sense->awaited = memory_grow(sense->awaited, &sense->awaited_capacity, sense->awaited_count,
                                     sizeof *sense->awaited);
        struct awaited *awaited = &sense->awaited[sense->awaited_count];
        *awaited = (struct awaited){arena_copy_text(sense->ids, enemy), owner, check->line, check->column};
        names_add(&sense->questions, awaited->id, -1 - (int)sense->awaited_count++);
    }
}

static void report_missing(struct sense *sense, const struct awaited *awaited, struct messages *messages)
{
    struct check check = {.sense = sense, .messages = messages, .line = awaited->line, .column = awaited->column};
    struct buffer subject = BUFFER_EMPTY;
    buffer_print(&subject, "question %s", awaited->owner);
    check.subject = buffer_text(&subject);
    const char *nearest = sense_suggestion(sense, awaited->id, &sense->questions, NULL, messages);
    sense_fault(&check, "its enemy '%s' is no question of this bank%s", awaited->id,
                *nearest ? nearest : ": name one that is, or take it out");
    buffer_free(&subject);
}

bool sense_end(struct sense *sense, struct messages *messages)
{
    size_t errors = messages->errors;
    arena_reset(sense->scratch);
    /* First out with the names that never came: none may be suggested in place of another. */
    struct names declared = names_new();
    for (size_t i = 0; i < sense->questions.capacity; i++) {
        const struct name_entry *entry = &sense->questions.entries[i];
        if (entry->name && entry->value >= 0)
            names_add(&declared, entry->name, entry->value);
    }
    names_free(&sense->questions);
    sense->questions = declared;
    for (size_t i = 0; i < sense->awaited_count; i++)
        if (!names_find(&declared, sense->awaited[i].id))
            report_missing(sense, &sense->awaited[i], messages);
    if (sense->question_count == 0) {
        struct check check = {.sense = sense, .messages = messages};
        sense_fault(&check, "the bank has no question: add at least one");
    }
    return messages->errors == errors;
}

/* ---- One question ---- */

static void check_figure(struct check *check, const struct block *figure)
{
    const char *folder = check->sense->folder;
    if (!figure->alternative || text_is_blank(figure->alternative))
        sense_fault(check, "the figure '%s' has no text that stands for it: add text=\"…\", enough to answer "
                    "without seeing it", figure->file);
    if (folder && !path_is_file_beneath(folder, figure->file))
        sense_fault(check, "the figure '%s' is no file in the bank's folder: put it beside or below the bank, and "
                    "write its path from there, without links and without '..'", figure->file);
}

static void check_figures(struct check *check, const struct block *blocks, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (blocks[i].kind == BLOCK_FIGURE)
            check_figure(check, &blocks[i]);
        check_figures(check, blocks[i].blocks, blocks[i].block_count);
    }
}

static bool is_practical(const struct check *check, const struct part *part)
{
    for (size_t i = 0; i < part->skill_count; i++)
        if (part->skills[i] >= 0 && strcmp(check->sense->course->skills[part->skills[i]].id, "practical") == 0)
            return true;
    return false;
}

static void check_part(struct check *check, const struct part *part)
{
    check->line = part->line;
    check->column = part->column;
    if (!names_add(&check->sense->parts, part->id, 0))
        sense_fault(check, "the part id '%s' stands twice in this question: give each part its own", part->id);
    check->part = part;
    check_figures(check, part->ask.items, part->ask.count);
    check_figures(check, part->model.items, part->model.count);
    check_figures(check, part->note.items, part->note.count);
    if (is_practical(check, part) && !check->question->caution)
        sense_fault(check, "it is marked as practical work, but the question has no <caution>: add one before the "
                    "parts that says it is a paper exercise");
    sense_check_scheme(check);
    check->part = NULL;
}

static void check_question(struct check *check)
{
    const struct question *question = check->question;
    check_id(check);
    check_enemies(check);
    if (!isfinite(question->minutes) || question->minutes <= 0)
        sense_fault(check, "the minutes are not above 0: leave minutes out to have them worked out from the marks");
    if (question->part_count == 0)
        sense_fault(check, "the question has no part: add one with its ask and its scheme");
    check_figures(check, question->stem.items, question->stem.count);
    check_figures(check, question->note.items, question->note.count);
    for (size_t i = 0; i < question->part_count; i++)
        check_part(check, &question->parts[i]);
    check->line = question->line;
    check->column = question->column;
    sense_check_numbers(check);
}

static const char *subject_of(struct sense *sense, const struct question *question)
{
    static const char before[] = "question ";
    size_t length = strlen(question->id);
    char *subject = arena_get(sense->scratch, sizeof before + length);
    memcpy(subject, before, sizeof before - 1);
    memcpy(subject + sizeof before - 1, question->id, length + 1);
    return subject;
}

bool sense_question(struct sense *sense, const struct question *question, struct messages *messages)
{
    assert(sense->course);
    names_clear(&sense->nodes);
    names_clear(&sense->parts);
    names_clear(&sense->symbols);
    arena_reset(sense->scratch);
    size_t errors = messages->errors;
    sense->question_count++;
    struct check check = {
        .sense = sense, .messages = messages, .question = question, .line = question->line,
        .column = question->column, .subject = subject_of(sense, question),
    };
    check_question(&check);
    return messages->errors == errors;
}
