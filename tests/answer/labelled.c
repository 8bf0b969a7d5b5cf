#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "answer/labelled.h"
#include "bank/scheme.h"

enum { CELLS = 7, LINE_BYTES = 4096, SEED = 1 };

/* ---- The table ---- */

/* Cuts line at its tabs; the number of cells, which may be more than there is room for. */
static size_t cut(char *line, char *cells[CELLS])
{
    size_t count = 0;
    for (char *cell = line; cell; count++) {
        char *tab = strchr(cell, '\t');
        if (tab)
            *tab = '\0';
        if (count < CELLS)
            cells[count] = cell;
        cell = tab ? tab + 1 : NULL;
    }
    return count;
}

static const char *const labels[] = {[LABEL_NOT] = "not", [LABEL_EARNED] = "earned", [LABEL_UNCLEAR] = "unclear"};
static const char *const halves[] = {"first", "second", "held-out"};

/* The place of the cell among three; 3 when it is none of them. */
static size_t place_of(const char *cell, const char *const three[3])
{
    size_t at = 0;
    while (at < 3 && strcmp(cell, three[at]) != 0)
        at++;
    return at;
}

static const char *fault_of(char *const cells[CELLS], size_t count)
{
    if (count != CELLS)
        return "the line has not seven cells";
    for (size_t i = 0; i < CELLS; i++)
        if (!*cells[i])
            return "a cell is empty";
    if (place_of(cells[4], halves) == 3)
        return "the half is neither \"first\" nor \"second\" nor \"held-out\"";
    if (place_of(cells[5], labels) == 3)
        return "the label is neither \"earned\" nor \"not\" nor \"unclear\"";
    return NULL;
}

static struct labelled row_of(char *const cells[CELLS], unsigned long line, struct arena *arena)
{
    return (struct labelled){
        .question = arena_copy_text(arena, cells[0]), .part = arena_copy_text(arena, cells[1]),
        .point = arena_copy_text(arena, cells[2]), .kind = arena_copy_text(arena, cells[3]),
        .half = arena_copy_text(arena, cells[4]), .label = (enum label)place_of(cells[5], labels),
        .answer = arena_copy_text(arena, cells[6]), .line = line,
    };
}

static size_t count_lines(FILE *file)
{
    size_t lines = 1;
    for (int c; (c = getc(file)) != EOF;)
        lines += c == '\n';
    rewind(file);
    return lines;
}

bool labelled_read(const char *path, struct arena *arena, struct labelled_table *table, struct messages *messages)
{
    *table = (struct labelled_table){NULL, 0};
    FILE *file = fopen(path, "r");
    if (!file) {
        messages_add(messages, SEVERITY_ERROR, (struct place){path, 0, 0}, NULL, "the file cannot be opened");
        return false;
    }
    struct labelled *rows = arena_get_array(arena, count_lines(file), sizeof *rows);
    char line[LINE_BYTES], *cells[CELLS];
    size_t errors = messages->errors;
    for (unsigned long number = 1; fgets(line, sizeof line, file); number++) {
        line[strcspn(line, "\n")] = '\0';
        if (*line == '#' || strncmp(line, "question\t", 9) == 0)
            continue;
        const char *fault = fault_of(cells, cut(line, cells));
        if (fault)
            messages_add(messages, SEVERITY_ERROR, (struct place){path, number, 0}, NULL, "%s", fault);
        else
            rows[table->count++] = row_of(cells, number, arena);
    }
    fclose(file);
    table->rows = rows;
    return messages->errors == errors;
}

const char *label_name(enum label label)
{
    return labels[label];
}

/* ---- Judging ---- */

static bool open_course(struct labelled_course *course, const char *path, struct arena *kept, struct messages *messages)
{
    course->bank = bank_open(path, false, messages);
    if (!course->bank)
        return false;
    course->vocabulary = vocabulary_new(kept);
    vocabulary_add_course(course->vocabulary, bank_course(course->bank));
    struct arena *arena = arena_new();
    bool complete = true;
    for (size_t i = 0; complete && i < bank_question_count(course->bank); i++) {
        arena_reset(arena);
        const struct question *question = bank_question(course->bank, i, arena, messages);
        complete = question != NULL;
        if (complete)
            vocabulary_add_question(course->vocabulary, question);
    }
    arena_free(arena);
    return complete;
}

bool labelled_open(struct labelled_judge *judge, const char *const *banks, size_t count, struct messages *messages)
{
    assert(count <= LABELLED_BANKS);
    *judge = (struct labelled_judge){.count = count, .arena = arena_new()};
    for (size_t i = 0; i < count; i++)
        if (!open_course(&judge->courses[i], banks[i], judge->arena, messages)) {
            labelled_close(judge);
            return false;
        }
    return true;
}

void labelled_close(struct labelled_judge *judge)
{
    arena_free(judge->arena);
    for (size_t i = 0; i < judge->count; i++)
        if (judge->courses[i].bank)
            bank_close(judge->courses[i].bank);
    *judge = (struct labelled_judge){.count = 0};
}

static const struct part *find_part(const struct question *question, const char *id)
{
    for (size_t i = 0; i < question->part_count; i++)
        if (strcmp(question->parts[i].id, id) == 0)
            return &question->parts[i];
    return NULL;
}

const struct point_evidence *labelled_evidence(const struct labelled_judge *judge, const struct labelled *row,
                                               struct arena *arena)
{
    int index = -1;
    const struct labelled_course *of = judge->courses;
    for (size_t i = 0; i < judge->count && index < 0; i++) {
        of = &judge->courses[i];
        index = bank_find(of->bank, row->question);
    }
    if (index < 0)
        return NULL;
    const struct course *course = bank_course(of->bank);
    struct messages messages = MESSAGES_EMPTY;
    struct values values = {NULL, 0};
    const struct question *question = bank_question(of->bank, (size_t)index, arena, &messages);
    bool drawn = question && values_draw(course, question, SEED, arena, &values, &messages);
    messages_free(&messages);
    const struct part *part = drawn ? find_part(question, row->part) : NULL;
    if (!part)
        return NULL;
    struct evidence_ask ask = {.course = course, .question = question, .part = part, .values = &values,
                               .vocabulary = of->vocabulary};
    return evidence_point(evidence_of(&ask, row->answer, arena), row->point);
}

/* ---- Counting ---- */

void labelled_add(struct labelled_count *count, const struct labelled *row, enum evidence_verdict verdict)
{
    count->rows++;
    bool earned = row->label == LABEL_EARNED, lost = row->label == LABEL_NOT;
    count->earned += earned;
    count->lost += lost;
    count->earned_said += verdict == LOOKS_EARNED;
    count->lost_said += verdict == LOOKS_NOT_EARNED;
    count->earned_found += verdict == LOOKS_EARNED && earned;
    count->lost_found += verdict == LOOKS_NOT_EARNED && lost;
}

bool labelled_is_miss(const struct labelled *row, enum evidence_verdict verdict)
{
    return verdict != CANT_TELL && row->label != (verdict == LOOKS_EARNED ? LABEL_EARNED : LABEL_NOT);
}

static double ratio(size_t part, size_t whole)
{
    return whole ? (double)part / (double)whole : NAN;
}

double labelled_precision(const struct labelled_count *count)
{
    return ratio(count->earned_found + count->lost_found, count->earned_said + count->lost_said);
}

double labelled_recall(const struct labelled_count *count)
{
    return ratio(count->earned_found + count->lost_found, count->earned + count->lost);
}
