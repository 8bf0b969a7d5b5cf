/* A whole table into a bank: all of it or nothing. */
#include <stdlib.h>
#include <string.h>

#include "authoring/sheet-inner.h"
#include "bank/change.h"
#include "base/memory.h"
#include "base/text.h"

struct import {
    struct table *table;
    struct bank *bank;          /* NULL: it does not exist yet */
    bool replace;
    struct buffer course;       /* the bank's, as text */
    struct bank_change *changes;
    size_t count, capacity;
    struct sheet_result *result;
};

/* ---- Messages about the XML become messages about cells ---------------------------------------------- */

/* Where 'name' stands in the text, quoted; NULL. */
static const char *quoted(const char *text, const char *name)
{
    size_t length = strlen(name);
    for (const char *at = text; (at = strchr(at, '\'')) != NULL; at++)
        if (strncmp(at + 1, name, length) == 0 && at[1 + length] == '\'')
            return at;
    return NULL;
}

/* What the checks of sense say of an attribute without naming it as one. */
static const struct { enum sheet_column column; const char *words; } hints[] = {
    {SHEET_TOPIC, "the topic '"}, {SHEET_COMMAND, "the command word '"}, {SHEET_OBJECTIVE, "the objective '"},
    {SHEET_SKILLS, "the skill '"}, {SHEET_MARKS, "marks=\""}, {SHEET_FORMULA, "formula"}, {SHEET_UNIT, "the unit '"},
    {SHEET_ENEMIES, "enem"},
};

/* The column a message is about: the attribute or element it names first. SHEET_COLUMNS: it names none. */
static size_t column_of(const struct table *table, const char *text)
{
    size_t column = SHEET_COLUMNS;
    const char *first = NULL;
    for (size_t i = 0; i < sizeof hints / sizeof *hints; i++)
        if (strstr(text, hints[i].words) && table->columns[hints[i].column] != CSV_COLUMN_LIMIT)
            return hints[i].column;
    for (size_t i = 0; i < SHEET_COLUMNS; i++) {
        const struct sheet_heading *heading = &sheet_headings[i];
        const char *at = quoted(text, heading->attribute ? heading->attribute : heading->name);
        if (at && table->columns[i] != CSV_COLUMN_LIMIT && (!first || at < first)) {
            first = at;
            column = i;
        }
    }
    return column;
}

static void tell(const struct rows *rows, const char *xml, const struct message *message)
{
    const struct table *table = rows->table;
    size_t row = rows_row_of_line(rows, xml, message->place.line ? message->place.line : 1);
    size_t column = column_of(table, message->text);
    if (column < SHEET_COLUMNS) {
        table_fault(table, row, (enum sheet_column)column, "%s", message->text);
        return;
    }
    messages_add(table->messages, SEVERITY_ERROR, (struct place){table->name, table->csv.rows[row].number, 0}, NULL, "row %lu: %s",
                 table->csv.rows[row].number, message->text);
}

/* ---- One question ----------------------------------------------------------------------------------- */

static bool is_repeated(const struct rows *rows)
{
    for (size_t row = 1; row < rows->first; row++)
        if (text_equal(table_cell(rows->table, row, SHEET_QUESTION), rows->id)) {
            table_fault(rows->table, rows->first, SHEET_QUESTION, "question '%s' begins in row %lu already; keep its rows together",
                        rows->id, rows->table->csv.rows[row].number);
            return true;
        }
    return false;
}

static void keep(struct import *import, const struct rows *rows, const char *xml)
{
    bool known = import->bank && bank_find(import->bank, rows->id) >= 0;
    if (known && !import->replace) {
        table_fault(rows->table, rows->first, SHEET_QUESTION, "the bank has a question '%s' already; give this one another id, or "
                    "say --replace to put it in the other's place", rows->id);
        return;
    }
    import->changes = memory_grow(import->changes, &import->capacity, import->count, sizeof *import->changes);
    import->changes[import->count++] = (struct bank_change){known ? rows->id : NULL, arena_copy_text(rows->table->arena, xml)};
    import->result->added += !known;
    import->result->replaced += known;
}

static void take_question(struct import *import, const struct rows *rows)
{
    struct messages faults = MESSAGES_EMPTY;
    struct buffer xml = BUFFER_EMPTY;
    const struct course *course;
    const struct question *question;
    size_t before = import->table->messages->errors;
    markup_render(rows_markup(rows), 1, &xml);
    if (import->table->messages->errors == before && !is_repeated(rows) &&
        bank_from_text(buffer_text(&import->course), buffer_text(&xml), rows->table->arena, &course, &question, &faults))
        keep(import, rows, buffer_text(&xml));
    for (size_t i = 0; i < faults.count; i++)
        tell(rows, buffer_text(&xml), &faults.items[i]);
    messages_free(&faults);
    buffer_free(&xml);
}

/* ---- All of them ------------------------------------------------------------------------------------ */

static void take_table(struct import *import)
{
    struct rows rows;
    for (size_t first = 1; table_next(import->table, first, &rows); first += rows.count)
        take_question(import, &rows);
}

/* Into the bank that is there or, with the id of a new one, into that. */
static bool write_all(const struct import *import, const char *bank_path, const char *id, struct messages *messages)
{
    struct buffer text = BUFFER_EMPTY;
    if (import->bank)
        return bank_change(bank_path, import->changes, import->count, messages);
    const char **questions = memory_get_zeroed(import->count + 1, sizeof *questions);
    for (size_t i = 0; i < import->count; i++)
        questions[i] = import->changes[i].xml;
    bank_new_text(&text, id, buffer_text(&import->course), questions, import->count);
    bool written = bank_create(bank_path, buffer_text(&text), text.length, messages);
    buffer_free(&text);
    free(questions);
    return written;
}

static bool run_import(struct import *import, const char *table_path, const char *bank_path, const char *id, bool dry,
                       struct messages *messages)
{
    struct table table = {.arena = arena_new(), .messages = messages};
    size_t before = messages->errors;
    import->table = &table;
    *import->result = (struct sheet_result){0, 0};
    if (table_read(&table, table_path))
        take_table(import);
    bool imported = messages->errors == before && (dry || write_all(import, bank_path, id, messages));
    free(import->changes);
    arena_free(table.arena);
    return imported;
}

bool sheet_import(const char *table_path, const char *bank_path, bool replace, bool dry, struct sheet_result *result,
                  struct messages *messages)
{
    struct import import = {.bank = bank_open(bank_path, true, messages), .replace = replace, .result = result};
    if (import.bank)
        bank_course_text(import.bank, &import.course);
    bool imported = import.bank && run_import(&import, table_path, bank_path, NULL, dry, messages);
    bank_close(import.bank);
    buffer_free(&import.course);
    return imported;
}

bool sheet_import_new(const char *table_path, const char *bank_path, const char *id, const char *course, bool dry,
                      struct sheet_result *result, struct messages *messages)
{
    struct import import = {.result = result};
    buffer_add(&import.course, course);
    bool imported = run_import(&import, table_path, bank_path, id, dry, messages);
    buffer_free(&import.course);
    return imported;
}
