/* Questions, their parts, givens and written matter; schemes are in write-scheme.c. */
#include "bank/write.h"

#include <math.h>
#include <string.h>

#include "bank/write-inner.h"

/* ---- Written matter ------------------------------------------------------------------------------- */

void write_rich(struct markup *element, const struct rich *text)
{
    static const char *const names[] = {[RUN_EMPHASIS] = "em", [RUN_SUBSCRIPT] = "sub", [RUN_SUPERSCRIPT] = "sup"};
    for (size_t i = 0; i < text->count; i++) {
        const struct run *run = &text->runs[i];
        if (run->style == RUN_PLAIN)
            markup_text(element, run->text);
        else if (run->style == RUN_VALUE)
            markup_value(element, run->text);
        else
            markup_inline(element, names[run->style], run->text);
    }
}

static void write_row(struct markup *table, const struct table_row *row)
{
    struct markup *element = markup_child(table, row->heading ? "head" : "row");
    for (size_t i = 0; i < row->count; i++)
        write_rich(markup_child(element, "cell"), &row->cells[i]);
}

static void write_block(struct markup *around, const struct block *block)
{
    static const char *const names[] = {[BLOCK_PARAGRAPH] = "p", [BLOCK_TABLE] = "table", [BLOCK_FIGURE] = "figure",
                                        [BLOCK_SOURCE] = "source", [BLOCK_LIST] = "list"};
    struct markup *element = markup_child(around, names[block->kind]);
    if (block->kind == BLOCK_PARAGRAPH)
        write_rich(element, &block->text);
    if (block->kind == BLOCK_FIGURE) {
        markup_attribute(element, "file", block->file);
        markup_attribute(element, "text", block->alternative);
    }
    if (block->kind == BLOCK_SOURCE) {
        markup_attribute(element, "title", block->title);
        markup_attribute(element, "credit", block->text.count ? block->text.runs[0].text : NULL);
    }
    if ((block->kind == BLOCK_TABLE || block->kind == BLOCK_FIGURE) && block->text.count)
        write_rich(markup_child(element, "caption"), &block->text);
    for (size_t i = 0; i < block->row_count; i++)
        write_row(element, &block->rows[i]);
    for (size_t i = 0; i < block->item_count; i++)
        write_rich(markup_child(element, "item"), &block->items[i]);
    for (size_t i = 0; i < block->block_count; i++)
        write_block(element, &block->blocks[i]);
}

static void write_blocks(struct markup *around, const char *name, const struct blocks *blocks)
{
    if (!blocks->count)
        return;
    struct markup *element = markup_child(around, name);
    for (size_t i = 0; i < blocks->count; i++)
        write_block(element, &blocks->items[i]);
}

/* ---- Givens --------------------------------------------------------------------------------------- */

const char *write_list(struct arena *arena, const char *const *items, size_t count)
{
    const char *list = NULL;
    for (size_t i = 0; i < count; i++)
        list = list ? arena_print(arena, "%s %s", list, items[i]) : items[i];
    return list;
}

static void write_given(struct markup *around, const struct given *given, struct arena *arena)
{
    struct markup *element = markup_child(around, "given");
    markup_attribute(element, "symbol", given->symbol);
    markup_attribute(element, "unit", *given->unit ? given->unit : NULL);
    if (given->form == GIVEN_FIXED || given->form == GIVEN_CHOICE)
        markup_attribute(element, given->form == GIVEN_FIXED ? "value" : "choices",
                         write_list(arena, given->choices, given->choice_count));
    markup_attribute(element, "from", given->low);
    markup_attribute(element, "to", given->high);
    markup_attribute(element, "step", given->step);
    markup_attribute(element, "formula", given->formula);
    if (given->form == GIVEN_COMPUTED)
        markup_whole(element, "places", given->places);
    markup_text(element, given->name);
}

static void write_givens(struct markup *around, const struct given *givens, size_t count, struct arena *arena)
{
    for (size_t i = 0; i < count; i++)
        write_given(around, &givens[i], arena);
}

/* ---- Parts and questions -------------------------------------------------------------------------- */

static void write_part(struct markup *around, const struct writing *writing, const struct part *part)
{
    const struct course *course = writing->course;
    struct markup *element = markup_child(around, "part");
    const char *skills = NULL;
    if (writing->question->part_count > 1 || strcmp(part->id, "a") != 0)
        markup_attribute(element, "id", part->id);
    markup_attribute(element, "objective", course->objectives[part->objective].id);
    markup_attribute(element, "command", course->words[part->word].word);
    markup_whole(element, "marks", part->marks);
    for (size_t i = 0; i < part->skill_count; i++)
        skills = arena_print(writing->arena, "%s%s%s", skills ? skills : "", skills ? " " : "",
                             course->skills[part->skills[i]].id);
    markup_attribute(element, "skills", skills);
    if (part->lines != 2 * part->marks)
        markup_whole(element, "lines", part->lines);
    write_blocks(element, "ask", &part->ask);
    write_givens(element, part->givens, part->given_count, writing->arena);
    write_scheme(element, writing, part);
    write_blocks(element, "model", &part->model);
    write_blocks(element, "note", &part->note);
}

static void write_head(struct markup *element, const struct writing *writing)
{
    static const char *const demands[] = {"low", "standard", "high"};
    const struct question *question = writing->question;
    const struct course *course = writing->course;
    const char *also = NULL;
    markup_attribute(element, "id", question->id);
    markup_attribute(element, "topic", course->topics[question->topic].id);
    for (size_t i = 0; i < question->also_count; i++)
        also = arena_print(writing->arena, "%s%s%s", also ? also : "", also ? " " : "", course->topics[question->also[i]].id);
    markup_attribute(element, "also", also);
    markup_attribute(element, "demand", question->demand == DEMAND_STANDARD ? NULL : demands[question->demand]);
    if (fabs(question->minutes - question->marks * course->minutes_per_mark) > 1e-9)
        markup_attribute(element, "minutes", write_decimal(writing->arena, question->minutes));
    markup_attribute(element, "enemies", write_list(writing->arena, question->enemies, question->enemy_count));
}

struct markup *question_markup(const struct course *course, const struct question *question, struct arena *arena)
{
    const struct writing writing = {course, question, arena};
    struct markup *element = markup_new(arena, "question");
    write_head(element, &writing);
    write_blocks(element, "stem", &question->stem);
    if (question->caution)
        markup_text(markup_child(element, "caution"), question->caution);
    write_givens(element, question->givens, question->given_count, arena);
    for (size_t i = 0; i < question->part_count; i++)
        write_part(element, &writing, &question->parts[i]);
    write_blocks(element, "note", &question->note);
    return element;
}

void question_write(const struct course *course, const struct question *question, struct buffer *out)
{
    struct arena *arena = arena_new();
    markup_render(question_markup(course, question, arena), 1, out);
    arena_free(arena);
}
