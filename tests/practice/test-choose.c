/* Choosing, over whole sittings. */
#include "sitting.h"

#include <string.h>

/* Answers whatever is asked, badly, until `count` questions were asked; the order of topics is read from the screens. */
static void expect_no_topic_twice_running(struct sitting *sitting)
{
    const char *first = strstr(buffer_text(&sitting->shown), "Question 1: ");
    const char *second = strstr(buffer_text(&sitting->shown), "Question 2: ");
    cr_assert(first && second, "two questions were wanted:\n%s", buffer_text(&sitting->shown));
    cr_assert(strncmp(first + strlen("Question 1: "), second + strlen("Question 2: "), 5) != 0, "the same topic twice running:\n%s",
              buffer_text(&sitting->shown));
}

Test(practice, never_two_in_a_row_from_one_topic)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", NULL, 0);
    TYPE(&sitting, "", "", ".");
    sitting_expect_prompt(&sitting, "Enter for the next question, .leave to stop");
    TYPE(&sitting, "");
    expect_no_topic_twice_running(&sitting);
    sitting_end(&sitting);
}

Test(practice, the_first_reason_is_that_nothing_was_met)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", NULL, 0);
    sitting_expect(&sitting, "Chosen because you have not met");
    sitting_end(&sitting);
}

/* One mark on Waves, two on Shore: of both too little is known for a figure. */
Test(practice, under_three_marks_no_figure_is_given_as_a_reason)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", NULL, 0);
    for (int i = 0; i < 20 && !strstr(buffer_text(&sitting.shown), "Question 3"); i++) {
        const char *prompt = sitting_prompt(&sitting);
        bool text = strcmp(prompt, "answer") == 0 || strcmp(prompt, "rewrite") == 0;
        TYPE(&sitting, text ? "." : strcmp(prompt, "command word") == 0 ? ".skip" : "");
    }
    sitting_expect(&sitting, "Chosen because you have met little of Waves yet");
    sitting_expect_not(&sitting, "of 100");
    sitting_end(&sitting);
}

Test(practice, a_question_comes_once_a_sitting_and_the_sitting_ends_when_none_is_left)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", NULL, 0);
    for (int i = 0; i < 60 && *sitting_prompt(&sitting); i++) {
        bool answering = strcmp(sitting_prompt(&sitting), "answer") == 0 || strcmp(sitting_prompt(&sitting), "rewrite") == 0;
        TYPE(&sitting, answering ? "." : strstr(sitting_prompt(&sitting), "next question") ? "" : ".skip");
    }
    sitting_expect_prompt(&sitting, "");
    sitting_expect(&sitting, "on 4 questions");
    sitting_expect_not(&sitting, "Question 5");
    sitting_end(&sitting);
}

Test(practice, a_wish_by_name_or_id_is_read_and_an_unknown_one_refused)
{
    struct sitting sitting;
    struct wish wish;
    struct wish_words good = {.topic = "Shore", .objective = "ao1"}, bad = {.skill = "math"};
    sitting_begin(&sitting, "cycle.xml", "one", 0);
    cr_assert(wish_read(sitting.bank, &good, &wish, &sitting.messages));
    cr_assert_eq(wish.topic, 1);
    cr_assert_eq(wish.objective, 0);
    cr_assert_eq(choose_count(sitting.bank, &wish), 1);
    cr_assert(!wish_read(sitting.bank, &bad, &wish, &sitting.messages));
    cr_assert_not_null(strstr(sitting.messages.items[0].text, "did you mean 'maths'?"));
    sitting_end(&sitting);
}
