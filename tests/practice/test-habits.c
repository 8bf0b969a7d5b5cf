/* Sentences about habits, from whole sittings. */
#include "sitting.h"

#include <string.h>

#include "practice/habits.h"
#include "report/text.h"

/* Three sittings over the list: predicted 2, ticked 1. */
static void sit_three_times(struct sitting *sitting)
{
    struct practice_plan plan = {.wish = WISH_ANYTHING, .questions = 1};
    sitting_begin(sitting, "cycle.xml", "list", 0);
    for (int i = 0; i < 3; i++) {
        TYPE(sitting, "name", "2", "limpet, crab", ".", "1", "w", "1", "", ".", "");
        sitting_expect_prompt(sitting, "");
        if (i == 2)
            break;
        practice_free(sitting->practice);
        plan.wish.question = bank_find(sitting->bank, "list");
        sitting->practice = practice_begin(sitting->bank, sitting->record, &plan, &sitting->messages);
        cr_assert_not_null(sitting->practice);
    }
}

static void expect_page(struct page *page, const char *text)
{
    const struct text_look look = {.width = 100};
    struct buffer out = BUFFER_EMPTY;
    page_render_text(page, &look, &out);
    cr_assert(strstr(buffer_text(&out), text) != NULL, "not said: \"%s\" in\n%s", text, buffer_text(&out));
    buffer_free(&out);
    page_free(page);
}

/* Predicted 2 of 2 and earned 1 of 2, three times: 3 marks too many on 6, which is 5.0 in ten. */
Test(practice, judging_is_told_in_marks_in_ten)
{
    struct sitting sitting;
    struct page *page = page_new();
    sit_three_times(&sitting);
    cr_assert(habits_of_judging(sitting.record, sitting.bank, page, &sitting.messages));
    expect_page(page, "you predict 5.0 marks in ten too many on average");
    sitting_end(&sitting);
}

Test(practice, little_evidence_says_nothing_about_judging)
{
    struct sitting sitting;
    struct page *page = page_new();
    sitting_begin(&sitting, "cycle.xml", "list", 0);
    TYPE(&sitting, "name", "2", "limpet, crab", ".", "1", "w", "1", "", ".");
    cr_assert(habits_of_judging(sitting.record, sitting.bank, page, &sitting.messages));
    cr_assert_eq(page->count, 0);
    page_free(page);
    sitting_end(&sitting);
}

Test(practice, the_dearest_cause_names_the_habit)
{
    struct sitting sitting;
    struct page *page = page_new();
    sit_three_times(&sitting);
    cr_assert(habits_of_losing(sitting.record, sitting.bank, page, &sitting.messages));
    expect_page(page, "Lost so far through a gap in knowledge, every time counted: 3 marks.");
    sitting_end(&sitting);
}

Test(practice, a_missed_point_keeps_the_words_it_had)
{
    struct sitting sitting;
    struct arena *arena = arena_new();
    struct missed_point *missed;
    size_t count;
    sitting_begin(&sitting, "cycle.xml", "one", 0);
    TYPE(&sitting, "a time", "n", "1", "", ".");
    cr_assert(record_missed(sitting.record, "cycle", arena, &missed, &count, &sitting.messages));
    cr_assert_eq(count, 1);
    cr_assert_str_eq(habits_point_words(sitting.record, sitting.bank, &missed[0], NULL, arena),
                     "distance of open water over which the wind blows");
    arena_free(arena);
    sitting_end(&sitting);
}
