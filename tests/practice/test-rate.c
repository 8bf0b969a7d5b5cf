/* The ratings at the end of a sitting: asked once a topic, kept at once, gone on with. The steps are our own. */
#include "sitting.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/files.h"

#define RATING "1 to 4"

static bool ends_with(const char *text, const char *end)
{
    size_t length = strlen(text), tail = strlen(end);
    return length >= tail && strcmp(text + length - tail, end) == 0;
}

/* Leaves every answer blank until the questions are over. */
static void answer_nothing(struct sitting *sitting)
{
    for (int i = 0; i < 60 && !ends_with(sitting_prompt(sitting), RATING); i++) {
        const char *prompt = sitting_prompt(sitting);
        cr_assert_str_neq(prompt, "", "over without ratings");
        bool stage = strcmp(prompt, "command word") == 0 || strcmp(prompt, "point") == 0;
        bool text = strcmp(prompt, "rewrite") == 0 || strcmp(prompt, "answer") == 0;
        TYPE(sitting, stage ? ".skip" : text ? "." : "");
    }
}

/* Four questions on two topics. */
static void to_the_ratings(struct sitting *sitting)
{
    sitting_begin(sitting, "cycle.xml", NULL, 0);
    answer_nothing(sitting);
    sitting_expect(sitting, "How sure are you now?");
    sitting_expect_not(sitting, "End of the sitting");
}

static void expect_rated(struct sitting *sitting, const char *topic, double step)
{
    struct arena *arena = arena_new();
    struct event *events;
    size_t count;
    double found = 0;
    cr_assert(record_latest_events(sitting->record, "cycle", EVENT_TOPIC_RATED, arena, &events, &count, &sitting->messages));
    for (size_t i = 0; i < count; i++)
        if (strcmp(events[i].item, topic) == 0)
            found = events[i].number;
    cr_assert_eq(found, step, "%s: %g", topic, found);
    arena_free(arena);
}

static const char *id_of(const char *prompt)
{
    return strncmp(prompt, "Waves", 5) == 0 ? "waves" : "shore";
}

Test(practice, each_topic_of_the_sitting_is_rated_once_and_kept_at_once)
{
    struct sitting sitting;
    to_the_ratings(&sitting);
    const char *first = id_of(sitting_prompt(&sitting));
    TYPE(&sitting, "9");
    sitting_expect(&sitting, "Type 1 for lost");
    cr_assert_str_eq(id_of(sitting_prompt(&sitting)), first);
    expect_rated(&sitting, first, 0);
    TYPE(&sitting, "4");
    expect_rated(&sitting, first, 4);
    const char *second = id_of(sitting_prompt(&sitting));
    cr_assert_str_neq(second, first);
    TYPE(&sitting, "lost");
    expect_rated(&sitting, second, 1);
    sitting_expect_prompt(&sitting, "");
    sitting_expect(&sitting, "How sure you are, and what your marks say");
    sitting_expect(&sitting, "could teach it");
    cr_assert_eq(record_open_sitting(sitting.record, "cycle"), 0);
    sitting_end(&sitting);
}

Test(practice, a_topic_passed_over_is_not_asked_for_again)
{
    struct sitting sitting;
    to_the_ratings(&sitting);
    const char *first = id_of(sitting_prompt(&sitting));
    TYPE(&sitting, "");
    sitting_again(&sitting);
    cr_assert(ends_with(sitting_prompt(&sitting), RATING), "%s", sitting_prompt(&sitting));
    cr_assert_str_neq(id_of(sitting_prompt(&sitting)), first);
    expect_rated(&sitting, first, 0);
    TYPE(&sitting, "2");
    sitting_expect_prompt(&sitting, "");
    sitting_expect(&sitting, "following");
    sitting_end(&sitting);
}

static void write_bank(const char *path, const char *text, size_t length)
{
    struct messages messages = MESSAGES_EMPTY;
    cr_assert(file_write(path, text, length, 0600, true, &messages));
}

/* The bank has one question when the sitting ends, and four when it is gone on with: only the record tells that the
 * questions are over. */
Test(practice, a_resume_comes_back_to_the_ratings_not_to_another_question)
{
    struct sitting sitting;
    struct buffer bank = BUFFER_EMPTY;
    struct messages messages = MESSAGES_EMPTY;
    char folder[] = "/tmp/ownmark-bank-XXXXXX", path[64];
    cr_assert(mkdtemp(folder) && file_read("tests/data/cycle.xml", 1 << 20, &bank, &messages));
    snprintf(path, sizeof path, "%s/bank.xml", folder);
    const char *second = strstr(buffer_text(&bank), "<question id=\"sum\"");
    struct buffer first = BUFFER_EMPTY;
    buffer_add_bytes(&first, bank.text, (size_t)(second - bank.text));
    buffer_add(&first, "</bank>\n");
    write_bank(path, buffer_text(&first), first.length);
    sitting_begin(&sitting, path, NULL, 0);
    answer_nothing(&sitting);
    write_bank(path, buffer_text(&bank), bank.length);
    sitting_forget(&sitting);
    sitting_again(&sitting);
    sitting_again(&sitting);
    sitting_expect_prompt(&sitting, "Waves, 1 to 4");
    TYPE(&sitting, ".skip");
    sitting_expect_prompt(&sitting, "");
    sitting_expect(&sitting, "End of the sitting");
    sitting_expect_not(&sitting, "How sure you are, and");
    sitting_end(&sitting);
    remove(path);
    remove(folder);
    buffer_free(&first);
    buffer_free(&bank);
}

Test(practice, leaving_at_the_ratings_ends_the_sitting)
{
    struct sitting sitting;
    to_the_ratings(&sitting);
    TYPE(&sitting, "3", ".leave");
    sitting_expect_prompt(&sitting, "");
    sitting_expect(&sitting, "End of the sitting");
    sitting_expect(&sitting, "unaided");
    cr_assert_not(practice_was_left(sitting.practice));
    cr_assert_eq(record_open_sitting(sitting.record, "cycle"), 0);
    sitting_end(&sitting);
}

Test(practice, help_at_the_ratings_tells_the_steps)
{
    struct sitting sitting;
    to_the_ratings(&sitting);
    TYPE(&sitting, "?");
    sitting_expect(&sitting, "I could explain it to somebody else");
    sitting_expect(&sitting, "ends the sitting here");
    cr_assert(ends_with(sitting_prompt(&sitting), RATING));
    struct messages findings = MESSAGES_EMPTY;
    TYPE(&sitting, "1", "");
    cr_assert(record_check(sitting.record, &findings) && findings.count == 0);
    sitting_end(&sitting);
}

Test(practice, a_sitting_without_a_marked_question_asks_for_no_rating)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", "one", 0);
    TYPE(&sitting, "something", ".skip");
    sitting_expect_prompt(&sitting, "");
    sitting_expect(&sitting, "No question was marked this time");
    sitting_end(&sitting);
}
