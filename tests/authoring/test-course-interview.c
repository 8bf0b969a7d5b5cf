/* A course described line by line. Values: our own; the format: docs/bank-format.md. */
#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "authoring/course-interview.h"
#include "bank/bank.h"
#include "base/buffer.h"
#include "base/memory.h"
#include "report/text.h"

static struct course_interview *interview;
static struct buffer said;
static struct messages messages;

static void set_up(void)
{
    interview = course_interview_new(NULL);
}

static void tear_down(void)
{
    course_interview_free(interview);
    buffer_free(&said);
    messages_free(&messages);
}

static void listen(void)
{
    static const struct text_look look = {.width = 80};
    page_render_text(course_interview_screen(interview), &look, &said);
}

/* Each line is one entry; returns the prompt that follows, "" when it is over. */
static const char *type(const char *lines)
{
    char *copy = memory_copy_text(lines);
    for (char *line = copy, *end; *line; line = end + 1) {
        end = strchr(line, '\n');
        *end = '\0';
        cr_assert(course_interview_ask(interview) != NULL, "over before '%s'", line);
        cr_assert_eq(course_interview_enter(interview, line, false, &messages), PRACTICE_ON);
        listen();
    }
    free(copy);
    const struct practice_ask *ask = course_interview_ask(interview);
    return ask ? ask->prompt : "";
}

static void expect(const char *text)
{
    cr_expect(strstr(buffer_text(&said), text) != NULL, "not said: \"%s\" in\n%s", text, buffer_text(&said));
}

#define COURSE(name) Test(course_interview, name, .init = set_up, .fini = tear_down)
#define TO_OBJECTIVES "Ponds & Streams\n\n60\n72\n"
#define OBJECTIVES "AO1 60 know Know it\nAO2 40% apply Use it\n\n"
#define TOPICS "Reeds 30\nLife in ponds\n- Frogs 50\n- Newts 20\n\n"

COURSE(whole_it_is_read_as_any_course)
{
    const struct course *course;
    struct arena *arena = arena_new();
    cr_expect_str_eq(type(TO_OBJECTIVES OBJECTIVES "practical 15 Practical work\n\n" TOPICS), "");
    cr_expect_str_eq(course_interview_id(interview), "ponds-streams");
    cr_assert(bank_from_text(course_interview_text(interview), NULL, arena, &course, NULL, &messages));
    cr_expect_str_eq(course->name, "Ponds & Streams");
    cr_expect_eq(course->objective_count, 2);
    cr_expect_eq(course->objectives[1].share, 40);
    cr_expect_eq(course->skill_count, 1);
    cr_expect_eq(course->topic_count, 4);
    cr_expect_str_eq(course->topics[2].id, "life-in-ponds.frogs");
    arena_free(arena);
}

COURSE(a_wrong_line_is_told_at_once)
{
    cr_expect_str_eq(type("\nPonds\n9 ponds\n"), "id of the bank [ponds]");
    cr_expect_str_eq(type("\nsixty\n-5\n60\n0\n72\n"), "objective");
    expect("Please type a whole number of marks");
    expect("Please type minutes");
    cr_expect_str_eq(type("\nAO1\nAO1 forty know Know\nAO1 101 know Know\n1 40 know Know\nAO1 40 knows Know\nAO1 40 know\n"), "objective");
    expect("At least one is wanted");
    expect("The second word is the share");
    expect("The first word is a short name");
    expect("The third word says");
    expect("Its name is missing");
    cr_expect_str_eq(type(OBJECTIVES "practical work\npractical 15\n"), "skill");
    expect("The second word is the least share");
    cr_expect_str_eq(type("\n- Frogs 50\nLife in ponds\n- Frogs\n"), "topic");
    expect("A sub-topic follows its main topic");
    expect("A sub-topic has a share of the marks");
}

COURSE(shares_add_up_before_the_next_list)
{
    cr_expect_str_eq(type(TO_OBJECTIVES "AO1 60 know Know it\n\n"), "objective");
    expect("The shares add up to 60, not to 100");
    cr_expect_str_eq(type("AO2 40 apply Use it\n\n\nReeds 30\n\n"), "topic");
    expect("The shares add up to 30, not to 100");
    cr_expect_str_eq(type("Frogs 70\n\n"), "");
}

COURSE(back_takes_lines_and_answers_back)
{
    cr_expect_str_eq(type(".back\nPonds\n.back\n"), "name of the course [Ponds]");
    cr_expect_str_eq(type("Pools\n"), "id of the bank [pools]");
    cr_expect_str_eq(type("\n60\n72\nAO1 60 know Know it\nAO2 60 apply Use it\n.back\n"), "objective");
    expect("Taken back: AO2 60 apply Use it");
    cr_expect_str_eq(type(".back\n.back\n"), "minutes of the whole examination [72]");
    cr_expect_str_eq(type("\n" OBJECTIVES ".back\n"), "objective");
    expect("AO2 40% apply Use it");
    cr_expect_str_eq(type("\n\n" TOPICS), "");
    expect("Pools has 2 objectives");
}

/* What only the reader sees: two topics that get the same id. */
COURSE(a_course_that_cannot_stand_is_asked_for_again)
{
    cr_expect_str_eq(type(TO_OBJECTIVES OBJECTIVES "\nReeds 50\nReeds 50\n\n"), "objective");
    expect("The course cannot stand like this");
    cr_expect_str_eq(type(OBJECTIVES "\n" TOPICS), "");
    cr_expect(course_interview_text(interview) != NULL);
}

COURSE(left_it_leaves_nothing)
{
    cr_expect_str_eq(type(TO_OBJECTIVES "?\n.leave\n"), "");
    expect("Nothing was written");
    cr_expect_eq(course_interview_text(interview), NULL);
    cr_expect_eq(course_interview_id(interview), NULL);
}

/* Begins again with the file, as after a kill. */
static const char *begin_again(const char *draft)
{
    course_interview_free(interview);
    buffer_clear(&said);
    interview = course_interview_new(draft);
    listen();
    return course_interview_ask(interview)->prompt;
}

COURSE(left_or_killed_it_goes_on_where_it_was)
{
    char draft[] = "/tmp/ownmark-course-XXXXXX";
    cr_assert_geq(mkstemp(draft), 0);
    unlink(draft);
    cr_expect_str_eq(begin_again(draft), "name of the course");
    type(".leave\n");
    expect("Nothing was written");
    cr_expect_neq(access(draft, F_OK), 0);
    begin_again(draft);
    type("Ponds\n\n60\n");
    cr_expect_str_eq(begin_again(draft), "minutes of the whole examination");
    expect("Ponds was left half described");
    type("72\nAO1 60 know Know it\n.leave\n");
    expect("Kept for later");
    cr_expect_str_eq(begin_again(draft), "objective");
    expect("AO1 60 know Know it");
    cr_expect_str_eq(type("AO2 40 apply Use it\n\n\nReeds 30\n\xff\n"), "topic");
    expect("no text");
    cr_expect_str_eq(begin_again(draft), "topic");
    cr_expect_str_eq(type("Frogs 70\n\n"), "");
    cr_expect(course_interview_text(interview) != NULL);
    unlink(draft);
}

COURSE(names_of_any_letters_give_ids)
{
    cr_expect_str_eq(type("Wasser im Wäldchen\n"), "id of the bank [wasser-im-w-ldchen]");
    cr_expect_str_eq(type("\n60\n72\n" OBJECTIVES "\nÉtangs 40\n池 60\n\n"), "");
    cr_expect(course_interview_text(interview) != NULL);
}
