/* Drafts: cells, rows, parts, the file, the trial. Values: our own, from draft.h. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "authoring/draft.h"
#include "support/same.h"
#include "talk.h"

static struct talk talk;
static struct draft draft;

static void set_up(void)
{
    talk_set_up(&talk, "tests/data/cycle.xml");
    draft = (struct draft){NULL, 0, 0};
}

static void tear_down(void)
{
    draft_free(&draft);
    talk_tear_down(&talk);
}

#define DRAFT(name) Test(draft, name, .init = set_up, .fini = tear_down)

DRAFT(cells_are_set_and_emptied)
{
    cr_expect(draft_is_empty(&draft));
    draft_add_row(&draft);
    cr_expect(draft_is_empty(&draft));
    cr_expect_str_eq(draft_get(&draft, 0, SHEET_ASK), "");
    draft_set(&draft, 0, SHEET_ASK, "State one.");
    draft_set(&draft, 0, SHEET_ASK, draft_get(&draft, 0, SHEET_ASK));       /* its own text */
    cr_expect_str_eq(draft_get(&draft, 0, SHEET_ASK), "State one.");
    cr_expect_not(draft_is_empty(&draft));
    draft_set(&draft, 0, SHEET_ASK, "");
    cr_expect(draft_is_empty(&draft));
}

DRAFT(a_new_row_belongs_to_the_part_before)
{
    draft_add_row(&draft);
    draft_set(&draft, 0, SHEET_PART, "a");
    draft_set(&draft, 0, SHEET_GROUP, "any 2");
    draft_set(&draft, 0, SHEET_QUESTION, "x");
    draft_add_row(&draft), draft_add_row(&draft);
    cr_expect_str_eq(draft_get(&draft, 2, SHEET_GROUP), "any 2");
    draft_set(&draft, 2, SHEET_PART, "b");
    draft_set(&draft, 1, SHEET_QUESTION, "y");          /* the id is one for all rows */
    cr_expect_str_eq(draft_get(&draft, 2, SHEET_QUESTION), "y");
    cr_expect_eq(draft_part_first(&draft, 1), 0);
    cr_expect_eq(draft_part_end(&draft, 0), 2);
    cr_expect_eq(draft_part_first(&draft, 2), 2);
    cr_expect_eq(draft_part_end(&draft, 2), 3);
    draft_remove_row(&draft, 0);
    cr_expect_eq(draft.count, 2);
    cr_expect_eq(draft_part_end(&draft, 0), 1);
}

DRAFT(a_file_brings_every_cell_back)
{
    struct draft again = {NULL, 0, 0};
    draft_add_row(&draft), draft_add_row(&draft);
    for (size_t row = 0; row < 2; row++)
        for (int i = 0; i < SHEET_COLUMNS; i++) {
            char text[64];
            snprintf(text, sizeof text, "%zu \"%d\", \u201cé\u201d; =1+1\nnext", i == SHEET_QUESTION || i == SHEET_PART ? 0 : row, i);
            draft_set(&draft, row, (enum sheet_column)i, text);
        }
    cr_assert(draft_save(&draft, talk.draft, &talk.messages));
    cr_assert(draft_load(&again, talk.draft, &talk.messages));
    cr_assert_eq(again.count, 2);
    for (size_t row = 0; row < 2; row++)
        for (int i = 0; i < SHEET_COLUMNS; i++)
            cr_expect_str_eq(draft_get(&again, row, (enum sheet_column)i), draft_get(&draft, row, (enum sheet_column)i));
    draft_free(&again);
}

DRAFT(a_file_that_is_not_there_is_an_empty_draft)
{
    cr_expect(draft_load(&draft, talk.draft, &talk.messages));
    cr_expect_eq(draft.count, 0);
    cr_expect_eq(talk.messages.count, 0);
}

DRAFT(a_bank_s_question_becomes_a_draft_and_is_the_same_again)
{
    struct bank *bank = bank_open(talk.bank, false, &talk.messages);
    struct buffer course = BUFFER_EMPTY;
    bank_course_text(bank, &course);
    for (size_t i = 0; i < bank_question_count(bank); i++) {
        struct arena *arena = arena_new();
        const struct course *read;
        const char *where = "";
        draft_free(&draft);
        cr_assert(draft_from_question(&draft, bank, i, &talk.messages), "%s", talk.messages.items[0].text);
        const struct question *after = draft_try(&draft, buffer_text(&course), arena, &read, &talk.messages);
        const struct question *before = bank_question(bank, i, arena, &talk.messages);
        cr_expect(after && same_question(before, after, &where), "%s: %s", before->id, where);
        arena_free(arena);
    }
    buffer_free(&course);
    bank_close(bank);
}

DRAFT(a_trial_says_what_is_wrong_without_rows_and_columns)
{
    struct bank *bank = bank_open(talk.bank, false, &talk.messages);
    struct buffer course = BUFFER_EMPTY;
    struct arena *arena = arena_new();
    const struct course *read;
    bank_course_text(bank, &course);
    cr_assert(draft_from_question(&draft, bank, 1, &talk.messages));
    draft_set(&draft, 0, SHEET_GIVENS, "L is long");
    cr_expect_eq(draft_try(&draft, buffer_text(&course), arena, &read, &talk.messages), NULL);
    cr_assert(talk.messages.count > 0);
    for (size_t i = 0; i < talk.messages.count; i++) {
        cr_expect_eq(strstr(talk.messages.items[i].text, "row "), NULL, "%s", talk.messages.items[i].text);
        cr_expect_eq(talk.messages.items[i].place.line, 0);
    }
    arena_free(arena);
    buffer_free(&course);
    bank_close(bank);
}
