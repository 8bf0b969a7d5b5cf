/* Coverage over tallies made by hand; dates and counts worked out by hand. */
#include <criterion/criterion.h>

#include <string.h>

#include "practice/coverage.h"
#include "report/text.h"

enum { TODAY = 20000 };     /* 4 October 2024 */

static const struct topic topics[] = {
    {.id = "a", .name = "Alpha", .parent = -1, .share = 60},
    {.id = "a.1", .name = "One", .parent = 0, .share = 40, .is_leaf = true},
    {.id = "a.2", .name = "Two", .parent = 0, .share = 20, .is_leaf = true},
    {.id = "b", .name = "Beta", .parent = -1, .share = 30, .is_leaf = true},
    {.id = "c", .name = "Gamma", .parent = -1, .share = 10, .is_leaf = true},
};
static const struct course course = {.topics = topics, .topic_count = 5};

static struct tally on(const char *id, day_number first, day_number again)
{
    return (struct tally){.id = id, .first = first, .again = again, .attempts = 1, .maximum = 1};
}

static void expect_said(const struct coverage *coverage, day_number exam, const char *text)
{
    const struct text_look look = {.width = 100};
    struct page *page = page_new();
    struct buffer out = BUFFER_EMPTY;
    coverage_show(page, &course, coverage, TODAY, exam);
    page_render_text(page, &look, &out);
    for (char *end; (end = strchr(out.text, '\n'));)
        *end = ' ';
    cr_assert(strstr(buffer_text(&out), text), "not said: \"%s\" in\n%s", text, buffer_text(&out));
    buffer_free(&out);
    page_free(page);
}

Test(practice, coverage_counts_leaves_met_once_and_on_two_days)
{
    struct arena *arena = arena_new();
    struct coverage coverage;
    const struct tally tallies[] = {on("a.1", TODAY - 30, TODAY - 10), on("b", TODAY - 5, NO_DAY), on("gone", TODAY - 90, NO_DAY)};
    coverage_of(&course, tallies, 3, TODAY, arena, &coverage);
    cr_assert(coverage.topics == 4 && coverage.once == 2 && coverage.twice == 1 && coverage.never_count == 2);
    cr_assert(coverage.never[0] == 2 && coverage.never[1] == 4);
    cr_assert_float_eq(coverage.share_once, 0.7, 1e-12);
    cr_assert_float_eq(coverage.share_twice, 0.4, 1e-12);
    /* Two topics in 30 days: two more in 30. One twice in 30 days: three more in 90. */
    cr_assert(coverage.once_by == TODAY + 30 && coverage.twice_by == TODAY + 90, "%d %d", coverage.once_by - TODAY,
              coverage.twice_by - TODAY);
    expect_said(&coverage, NO_DAY, "2 of 4 topics met (70 of 100 marks of the paper), 1 of them on more than one day.");
    expect_said(&coverage, NO_DAY, "Not met yet: Two; Gamma.");
    expect_said(&coverage, NO_DAY, "every topic will have been met by 3 November, and twice by 2 January 2025.");
    expect_said(&coverage, TODAY + 70, "The exam is in 10 weeks: a new topic at least every 5 weeks meets each of them before it.");
    expect_said(&coverage, TODAY + 41, "a new topic at least every 20 days meets each of them before it.");
    expect_said(&coverage, TODAY + 1, "The exam is tomorrow: 2 new topics a day meet each of them before it.");
    expect_said(&coverage, TODAY + 2, "The exam is in 2 days: 1 new topic a day meets each of them before it.");
    arena_free(arena);
}

Test(practice, coverage_tells_no_pace_from_less_than_two_weeks)
{
    struct arena *arena = arena_new();
    struct coverage coverage;
    const struct tally tallies[] = {on("a.1", TODAY - 13, TODAY - 1)};
    coverage_of(&course, tallies, 1, TODAY, arena, &coverage);
    cr_assert(coverage.once_by == NO_DAY && coverage.twice_by == NO_DAY);
    coverage_of(&course, tallies, 1, TODAY + 1, arena, &coverage);
    cr_assert(coverage.once_by == TODAY + 1 + 42 && coverage.twice_by == TODAY + 1 + 42);
    const struct tally once[] = {on("a.1", TODAY - 30, NO_DAY), on("a.2", TODAY - 30, NO_DAY)};
    coverage_of(&course, once, 2, TODAY, arena, &coverage);
    expect_said(&coverage, NO_DAY, "every topic will have been met by 3 November. ");
    const struct tally both[] = {on("a.1", TODAY - 30, TODAY), on("a.2", TODAY - 30, TODAY)};
    coverage_of(&course, both, 2, TODAY, arena, &coverage);
    expect_said(&coverage, NO_DAY, "every topic will have been met twice by 3 November. ");
    coverage_of(&course, NULL, 0, TODAY, arena, &coverage);
    cr_assert(coverage.once == 0 && coverage.never_count == 4 && coverage.once_by == NO_DAY);
    expect_said(&coverage, NO_DAY, "0 of 4 topics met");
    arena_free(arena);
}

Test(practice, coverage_of_a_whole_course_has_nothing_left_to_say)
{
    struct arena *arena = arena_new();
    struct coverage coverage;
    const struct tally tallies[] = {on("a.1", TODAY - 40, TODAY), on("a.2", TODAY - 40, TODAY), on("b", TODAY - 40, TODAY),
                                    on("c", TODAY - 20, TODAY)};
    coverage_of(&course, tallies, 4, TODAY, arena, &coverage);
    cr_assert(coverage.once == 4 && coverage.twice == 4 && coverage.never_count == 0);
    cr_assert(coverage.once_by == NO_DAY && coverage.twice_by == NO_DAY);
    expect_said(&coverage, TODAY + 9, "The exam is in 9 days.");
    arena_free(arena);
}

Test(practice, coverage_with_one_topic_left)
{
    struct arena *arena = arena_new();
    struct coverage coverage;
    const struct tally tallies[] = {on("a.1", TODAY - 40, TODAY), on("a.2", TODAY - 40, TODAY), on("b", TODAY - 40, TODAY)};
    coverage_of(&course, tallies, 3, TODAY, arena, &coverage);
    expect_said(&coverage, TODAY + 70, "The exam is in 10 weeks; one topic is left to meet.");
    arena_free(arena);
}

Test(practice, days_ahead_in_weeks_when_far)
{
    static const struct { int days; const char *text; } cases[] = {
        {0, "today"}, {1, "tomorrow"}, {20, "in 20 days"}, {21, "in 3 weeks"}, {27, "in 3 weeks"}, {175, "in 25 weeks"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct buffer out = BUFFER_EMPTY;
        add_days_ahead(&out, TODAY + cases[i].days, TODAY);
        cr_assert_str_eq(buffer_text(&out), cases[i].text);
        buffer_free(&out);
    }
}
