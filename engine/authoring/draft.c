#include "authoring/draft.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "authoring/sheet-inner.h"
#include "base/files.h"
#include "base/memory.h"
#include "base/text.h"

/* ---- Cells and rows ------------------------------------------------------------------------------- */

static void free_row(struct draft_row *row)
{
    for (size_t i = 0; i < SHEET_COLUMNS; i++)
        free(row->cells[i]);
}

void draft_free(struct draft *draft)
{
    for (size_t i = 0; i < draft->count; i++)
        free_row(&draft->rows[i]);
    free(draft->rows);
    *draft = (struct draft){NULL, 0, 0};
}

bool draft_is_empty(const struct draft *draft)
{
    for (size_t row = 0; row < draft->count; row++)
        for (size_t i = 0; i < SHEET_COLUMNS; i++)
            if (draft->rows[row].cells[i])
                return false;
    return true;
}

const char *draft_get(const struct draft *draft, size_t row, enum sheet_column column)
{
    assert(row < draft->count);
    return draft->rows[row].cells[column] ? draft->rows[row].cells[column] : "";
}

void draft_set(struct draft *draft, size_t row, enum sheet_column column, const char *text)
{
    char *copy = text && *text ? memory_copy_text(text) : NULL;
    assert(row < draft->count);
    free(draft->rows[row].cells[column]);
    draft->rows[row].cells[column] = copy;
    if (column == SHEET_QUESTION)
        for (size_t i = 0; i < draft->count; i++)
            if (i != row) {
                free(draft->rows[i].cells[column]);
                draft->rows[i].cells[column] = copy ? memory_copy_text(copy) : NULL;
            }
}

void draft_add_row(struct draft *draft)
{
    static const enum sheet_column shared[] = {SHEET_QUESTION, SHEET_PART, SHEET_GROUP};
    draft->rows = memory_grow(draft->rows, &draft->capacity, draft->count, sizeof *draft->rows);
    memset(&draft->rows[draft->count++], 0, sizeof *draft->rows);
    for (size_t i = 0; draft->count > 1 && i < sizeof shared / sizeof *shared; i++)
        draft_set(draft, draft->count - 1, shared[i], draft_get(draft, draft->count - 2, shared[i]));
}

void draft_remove_row(struct draft *draft, size_t row)
{
    assert(row < draft->count);
    free_row(&draft->rows[row]);
    memmove(&draft->rows[row], &draft->rows[row + 1], (draft->count - row - 1) * sizeof *draft->rows);
    draft->count--;
}

size_t draft_part_first(const struct draft *draft, size_t row)
{
    while (row > 0 && text_equal(draft_get(draft, row - 1, SHEET_PART), draft_get(draft, row, SHEET_PART)))
        row--;
    return row;
}

size_t draft_part_end(const struct draft *draft, size_t row)
{
    size_t end = row + 1;
    while (end < draft->count && text_equal(draft_get(draft, end, SHEET_PART), draft_get(draft, row, SHEET_PART)))
        end++;
    return end;
}

/* ---- As XML --------------------------------------------------------------------------------------- */

/* The draft as the table it would be, below a first row of headings. */
static void make_table(const struct draft *draft, struct table *table)
{
    struct csv_row *rows = arena_get_array(table->arena, draft->count + 1, sizeof *rows);
    table->name = "draft";
    table->csv = (struct csv){rows, draft->count + 1};
    rows[0] = (struct csv_row){.number = 1};
    for (size_t i = 0; i < SHEET_COLUMNS; i++)
        table->columns[i] = i;
    for (size_t i = 0; i < draft->count; i++) {
        const char **cells = arena_get_array(table->arena, SHEET_COLUMNS, sizeof *cells);
        for (size_t k = 0; k < SHEET_COLUMNS; k++)
            cells[k] = draft_get(draft, i, (enum sheet_column)k);
        rows[i + 1] = (struct csv_row){i + 2, cells, SHEET_COLUMNS};
    }
}

static void add_xml(const struct draft *draft, struct buffer *out, struct messages *messages)
{
    struct table table = {.arena = arena_new(), .messages = messages};
    struct rows rows = {&table, 1, draft->count, NULL};
    make_table(draft, &table);
    markup_render(rows_markup(&rows), 1, out);
    arena_free(table.arena);
}

void draft_xml(const struct draft *draft, struct buffer *out)
{
    struct messages silent = MESSAGES_EMPTY;
    add_xml(draft, out, &silent);
    messages_free(&silent);
}

/* "row 2, column 'givens': …" without its place. */
static const char *without_row(const char *text)
{
    const char *end = text_starts_with(text, "row ") ? strstr(text, "': ") : NULL;
    return end ? end + 3 : text;
}

/* Places in a draft mean nothing to its author. */
static void without_places(const struct messages *found, struct messages *messages)
{
    for (size_t i = 0; i < found->count; i++)
        messages_add(messages, found->items[i].severity, (struct place){NULL, 0, 0}, NULL, "%s",
                     without_row(found->items[i].text));
}

const struct question *draft_try(const struct draft *draft, const char *course_text, struct arena *arena,
                                 const struct course **course, struct messages *messages)
{
    struct messages found = MESSAGES_EMPTY;
    struct buffer xml = BUFFER_EMPTY;
    const struct question *question = NULL;
    add_xml(draft, &xml, &found);
    if (found.errors || !bank_from_text(course_text, buffer_text(&xml), arena, course, &question, &found))
        question = NULL;
    without_places(&found, messages);
    messages_free(&found);
    buffer_free(&xml);
    return question;
}

/* ---- From a table --------------------------------------------------------------------------------- */

static void take_table(struct draft *draft, const struct table *table)
{
    for (size_t row = 1; row < table->csv.count; row++) {
        draft_add_row(draft);
        for (size_t i = 0; i < SHEET_COLUMNS; i++)
            draft_set(draft, row - 1, (enum sheet_column)i, table_cell(table, row, (enum sheet_column)i));
    }
    /* What belongs to a part may be written once; each row of a draft names its part. */
    for (size_t row = 1; row < draft->count; row++)
        if (!*draft_get(draft, row, SHEET_PART))
            draft_set(draft, row, SHEET_PART, draft_get(draft, row - 1, SHEET_PART));
}

bool draft_from_question(struct draft *draft, struct bank *bank, size_t index, struct messages *messages)
{
    struct buffer text = BUFFER_EMPTY;
    struct messages found = MESSAGES_EMPTY;
    struct table table = {.arena = arena_new(), .messages = &found, .name = bank_path(bank)};
    bool read = sheet_write(bank, &index, 1, &text, &found) && !found.count;
    read = read && table_understand(&table, buffer_text(&text), text.length);
    if (read)
        take_table(draft, &table);
    else
        messages_error(messages, "question '%s' cannot be changed by interview: %s. Change it in an editor",
                       bank_summary(bank, index)->id, found.count ? found.items[0].text : "it cannot be read");
    messages_free(&found);
    buffer_free(&text);
    arena_free(table.arena);
    return read;
}

bool draft_save(const struct draft *draft, const char *path, struct messages *messages)
{
    struct buffer text = BUFFER_EMPTY;
    char *folder = path_folder_of(path);
    sheet_add_headings(&text);
    for (size_t i = 0; i < draft->count; i++) {
        const char *cells[SHEET_COLUMNS];
        for (size_t k = 0; k < SHEET_COLUMNS; k++)
            cells[k] = draft_get(draft, i, (enum sheet_column)k);
        sheet_add_row(&text, cells);
    }
    bool saved = directory_make(folder, messages) &&
                 file_write(path, buffer_text(&text), text.length, 0600, true, messages);
    free(folder);
    buffer_free(&text);
    return saved;
}

bool draft_load(struct draft *draft, const char *path, struct messages *messages)
{
    if (access(path, F_OK) != 0)
        return true;
    struct table table = {.arena = arena_new(), .messages = messages};
    bool read = table_read(&table, path);
    if (read)
        take_table(draft, &table);
    else
        messages_error(messages, "the half-written question in '%s' cannot be read; remove that file to start afresh", path);
    arena_free(table.arena);
    return read;
}
