/* Which questions ask again for missed points that are due. Rules: the header of practice/due.h. */
#include "sitting.h"

#include <string.h>

#include "practice/due.h"

#define AT 1767225600   /* 2026-01-01T00:00:00Z, a time with no exam date: gaps of 9 days (learner/missed.h) */
enum { DAY = 86400, START = 20454 };    /* 2026-01-01 as a day number */

/* One question of the bank of ideas, marked on a day; got: marks a point, in order. */
static void mark_question(struct sitting *sitting, const char *question, int day, const double *got)
{
    bool shared = strcmp(question, "alone") != 0, two = strcmp(question, "fetch-3") == 0;
    struct mark_row marks[2] = {
        {.part = "a", .item = "a.1", .topic = "waves", .objective = "AO1", .idea = shared ? "fetch" : NULL, .got = got[0],
         .first = got[0], .maximum = 1},
        {.part = "a", .item = "a.2", .topic = "waves", .objective = "AO1", .got = got[1], .first = got[1], .maximum = 1}};
    struct event opened = event_blank(EVENT_QUESTION_OPENED), marked = event_blank(EVENT_QUESTION_MARKED);
    char hash[33];
    cr_assert(record_keep_content(sitting->record, question, hash, &sitting->messages));
    opened.sitting = record_open_sitting(sitting->record, "ideas");
    opened.bank = "ideas";
    opened.item = question;
    opened.content = hash;
    opened.number = 0;
    opened.at = marked.at = AT + (moment)day * DAY;
    opened.day = marked.day = START + day;
    cr_assert(record_append(sitting->record, &opened, 1, &sitting->messages));
    marked.script = opened.sequence;
    marked.marks = marks;
    marked.mark_count = two ? 2 : 1;
    cr_assert(record_append(sitting->record, &marked, 1, &sitting->messages));
}

#define MARK(question, day, ...) mark_question(&sitting, question, day, (const double[2]){__VA_ARGS__})

/* The due questions by id, "; " between, in order. */
static void expect_due(struct sitting *sitting, const struct wish *wish, int day, const char *wanted)
{
    struct arena *arena = arena_new();
    struct due due;
    struct buffer found = BUFFER_EMPTY;
    cr_assert(due_read(sitting->record, sitting->bank, wish, START + day, arena, &due, &sitting->messages));
    for (size_t i = 0; i < due.count; i++)
        buffer_print(&found, "%s%s", i ? "; " : "", bank_summary(sitting->bank, (size_t)due.questions[i])->id);
    if (!due.count && due.next != NO_DAY)
        buffer_print(&found, "next %d", due.next - START);
    cr_expect_str_eq(buffer_text(&found), wanted, "day %d: %s, wanted %s", day, buffer_text(&found), wanted);
    buffer_free(&found);
    arena_free(arena);
}

static const struct wish anything = {CHOOSE_ANY, CHOOSE_ANY, CHOOSE_ANY, CHOOSE_ANY, CHOOSE_ANY, NULL, 0};

Test(practice, nothing_missed_is_nothing_due)
{
    struct sitting sitting;
    sitting_begin(&sitting, "ideas.xml", "alone", 0);
    expect_due(&sitting, &anything, 0, "");
    MARK("fetch-1", 0, 1);
    expect_due(&sitting, &anything, 0, "");
    sitting_end(&sitting);
}

Test(practice, a_point_is_asked_for_through_the_question_with_its_idea_left_longest)
{
    struct sitting sitting;
    sitting_begin(&sitting, "ideas.xml", "alone", 0);
    MARK("fetch-2", 0, 1);
    MARK("fetch-1", 1, 0);
    expect_due(&sitting, &anything, 1, "fetch-3");          /* never met */
    MARK("fetch-3", 2, 1, 1);
    expect_due(&sitting, &anything, 2, "next 11");          /* that was a success for fetch-1 */
    expect_due(&sitting, &anything, 11, "fetch-2");         /* left longest now */
    MARK("fetch-2", 11, 1);
    MARK("fetch-3", 20, 1, 1);
    MARK("fetch-2", 29, 1);
    expect_due(&sitting, &anything, 99, "");                /* secure: a success and three on later days */
    sitting_end(&sitting);
}

Test(practice, a_point_without_another_question_comes_in_its_own)
{
    struct sitting sitting;
    struct wish shore = anything;
    sitting_begin(&sitting, "ideas.xml", "alone", 0);
    MARK("alone", 0, 0);
    MARK("fetch-1", 0, 0);
    expect_due(&sitting, &anything, 0, "alone; fetch-2");
    shore.topic = 1;
    expect_due(&sitting, &shore, 0, "alone; fetch-3");      /* the wish holds for the other question too */
    shore.topic = 0;
    expect_due(&sitting, &shore, 0, "fetch-2");
    shore.question = bank_find(sitting.bank, "fetch-1");
    expect_due(&sitting, &shore, 0, "fetch-1");             /* only its own is allowed */
    sitting_end(&sitting);
}

/* fetch-3 comes anyway for its second point, and asks for the idea on the way. */
Test(practice, no_point_is_asked_for_twice)
{
    struct sitting sitting;
    sitting_begin(&sitting, "ideas.xml", "alone", 0);
    MARK("fetch-3", 0, 0, 0);
    MARK("fetch-1", 0, 0);
    expect_due(&sitting, &anything, 0, "fetch-3");
    sitting_end(&sitting);
}

Test(practice, a_question_that_left_the_bank_is_asked_for_by_its_idea)
{
    struct sitting sitting;
    sitting_begin(&sitting, "ideas.xml", "alone", 0);
    MARK("fetch-0", 0, 0);
    expect_due(&sitting, &anything, 0, "fetch-1");
    sitting_end(&sitting);
}

/* Leaves the question in hand without an answer, until the next one is shown. */
static void pass_on_to(struct sitting *sitting, const char *heading)
{
    sitting_forget(sitting);
    for (int i = 0; i < 12 && !strstr(buffer_text(&sitting->shown), heading); i++)
        TYPE(sitting, i % 2 ? "" : ".skip");
    sitting_expect(sitting, heading);
}

Test(practice, every_third_question_asks_again_for_a_missed_point)
{
    static const char again[] = "asks again for a point you missed";
    struct sitting sitting;
    sitting_begin(&sitting, "ideas.xml", NULL, 0);
    MARK("alone", 0, 0, 0);
    MARK("fetch-1", 0, 0, 0);
    MARK("fetch-2", 0, 0, 0);
    MARK("fetch-3", 0, 0, 0);
    sitting_expect_not(&sitting, again);
    pass_on_to(&sitting, "Question 2");
    sitting_expect_not(&sitting, again);
    pass_on_to(&sitting, "Question 3");
    sitting_expect(&sitting, again);
    pass_on_to(&sitting, "Question 4");
    sitting_expect_not(&sitting, again);
    sitting_end(&sitting);
}
