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

static bool one_of(const char *cell, const char *one, const char *other)
{
    return strcmp(cell, one) == 0 || strcmp(cell, other) == 0;
}

static const char *fault_of(char *const cells[CELLS], size_t count)
{
    if (count != CELLS)
        return "the line has not seven cells";
    for (size_t i = 0; i < CELLS; i++)
        if (!*cells[i])
            return "a cell is empty";
    if (!one_of(cells[4], "first", "second"))
        return "the half is neither \"first\" nor \"second\"";
    if (!one_of(cells[5], "earned", "not"))
        return "the label is neither \"earned\" nor \"not\"";
    return NULL;
}

static struct labelled row_of(char *const cells[CELLS], unsigned long line, struct arena *arena)
{
    return (struct labelled){
        .question = arena_copy_text(arena, cells[0]), .part = arena_copy_text(arena, cells[1]),
        .point = arena_copy_text(arena, cells[2]), .kind = arena_copy_text(arena, cells[3]),
        .half = arena_copy_text(arena, cells[4]), .earned = strcmp(cells[5], "earned") == 0,
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

/* ---- Judging ---- */

bool labelled_open(struct labelled_judge *judge, const char *path, struct messages *messages)
{
    struct bank *bank = bank_open(path, false, messages);
    if (!bank)
        return false;
    *judge = (struct labelled_judge){.bank = bank, .arena = arena_new()};
    judge->vocabulary = vocabulary_new(judge->arena);
    vocabulary_add_course(judge->vocabulary, bank_course(bank));
    struct arena *arena = arena_new();
    bool complete = true;
    for (size_t i = 0; complete && i < bank_question_count(bank); i++) {
        arena_reset(arena);
        const struct question *question = bank_question(bank, i, arena, messages);
        complete = question != NULL;
        if (complete)
            vocabulary_add_question(judge->vocabulary, question);
    }
    arena_free(arena);
    if (!complete)
        labelled_close(judge);
    return complete;
}

void labelled_close(struct labelled_judge *judge)
{
    arena_free(judge->arena);
    bank_close(judge->bank);
    *judge = (struct labelled_judge){0};
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
    int index = bank_find(judge->bank, row->question);
    if (index < 0)
        return NULL;
    const struct course *course = bank_course(judge->bank);
    struct messages messages = MESSAGES_EMPTY;
    struct values values = {NULL, 0};
    const struct question *question = bank_question(judge->bank, (size_t)index, arena, &messages);
    bool drawn = question && values_draw(course, question, SEED, arena, &values, &messages);
    messages_free(&messages);
    const struct part *part = drawn ? find_part(question, row->part) : NULL;
    if (!part)
        return NULL;
    struct evidence_ask ask = {.course = course, .question = question, .part = part, .values = &values,
                               .vocabulary = judge->vocabulary};
    return evidence_point(evidence_of(&ask, row->answer, arena), row->point);
}

/* ---- Counting ---- */

void labelled_add(struct labelled_count *count, const struct labelled *row, enum evidence_verdict verdict)
{
    count->rows++;
    count->earned += row->earned;
    count->lost += !row->earned;
    count->earned_said += verdict == LOOKS_EARNED;
    count->lost_said += verdict == LOOKS_NOT_EARNED;
    count->earned_found += verdict == LOOKS_EARNED && row->earned;
    count->lost_found += verdict == LOOKS_NOT_EARNED && !row->earned;
}

bool labelled_is_miss(const struct labelled *row, enum evidence_verdict verdict)
{
    return verdict != CANT_TELL && row->earned != (verdict == LOOKS_EARNED);
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
    return ratio(count->earned_found + count->lost_found, count->rows);
}
