/* The data are the test's own. */
#include <criterion/criterion.h>

#include "bank/course.h"

static const struct topic topics[] = {{.id = "waves"}, {.id = "waves.motion"}};
static const struct objective objectives[] = {{.id = "AO1"}, {.id = "AO2"}};
static const struct skill skills[] = {{.id = "maths"}};
static const struct course course = {.topics = topics, .topic_count = 2, .objectives = objectives, .objective_count = 2,
                                     .skills = skills, .skill_count = 1};

Test(bank, a_course_finds_what_it_has_by_id)
{
    cr_expect_eq(course_topic(&course, "waves.motion"), 1);
    cr_expect_eq(course_objective(&course, "AO1"), 0);
    cr_expect_eq(course_skill(&course, "maths"), 0);
}

Test(bank, a_course_finds_nothing_under_other_ids)
{
    cr_expect_eq(course_topic(&course, "Waves"), -1);
    cr_expect_eq(course_topic(&course, "waves.mot"), -1);
    cr_expect_eq(course_topic(&course, NULL), -1);
    cr_expect_eq(course_objective(&course, ""), -1);
    cr_expect_eq(course_skill(&course, "practical"), -1);
}
