/* Which question comes next: the topic by the gain of a block, the question by how long it was left. Expected values
 * follow from the contract in learner/next.h; gains are those of learner_gain, tested in test-plan.c. */
#include <criterion/criterion.h>
#include <math.h>
#include "fixture.h"
#include "learner/next.h"

#define EXAM (START + 40 * DAY)
#define FORESEEN (START + 28 * DAY)     /* how far gains are reckoned */

static const struct learner_setting now_alone = {START, EXAM, LEARNER_NONE, 1.5};

static struct learner_open unmet(size_t id, size_t topic)
{
    return (struct learner_open){id, topic, NO_MOMENT, NAN};
}

static struct learner_open met(size_t id, size_t topic, int days_ago)
{
    moment when = START - days_ago * DAY;
    return (struct learner_open){id, topic, when, (double)when / 86400.0};
}

static struct learner_choice choose(const struct learner *learner, const struct learner_setting *setting,
                                    const struct learner_open *open, size_t count)
{
    struct learner_next *next = learner_next_begin(learner);
    for (size_t i = 0; i < count; i++)
        learner_next_offer(next, &open[i]);
    struct learner_choice choice = learner_next_choose(next, setting);
    learner_next_free(next);
    return choice;
}

Test(learner, nothing_offered_nothing_chosen)
{
    struct learner *learner = small_learner();
    cr_expect_not(choose(learner, &now_alone, NULL, 0).found);
    struct learner_next *next = learner_next_begin(learner);
    cr_expect_eq(learner_next_any(next), LEARNER_NONE);
    const struct learner_open open = unmet(7, 2);
    learner_next_offer(next, &open);
    cr_expect_eq(learner_next_any(next), (size_t)7);
    learner_next_forget(next);
    cr_expect_eq(learner_next_any(next), LEARNER_NONE);
    cr_expect_not(learner_next_choose(next, &now_alone).found);
    learner_next_free(next);
    learner_next_free(NULL);
    learner_free(learner);
}

Test(learner, the_topic_is_chosen_by_a_block_whatever_the_question)
{
    struct learner *learner = small_learner();
    const struct learner_open open[] = {unmet(4, 3), unmet(9, 0), unmet(5, 1)};
    struct learner_choice choice = choose(learner, &now_alone, open, 3);
    cr_expect_eq(choice.id, (size_t)9);             /* the largest share of four topics nobody practised */
    cr_expect_eq(choice.topic, (size_t)0);
    double gain = learner_gain(learner, 0, START, FORESEEN, LEARNER_NEXT_MARKS);
    cr_expect_float_eq(choice.gain, gain, 1e-16);
    cr_expect_float_eq(choice.score, gain / (LEARNER_NEXT_MARKS * 1.5), 1e-16);
    learner_free(learner);
}

Test(learner, not_met_before_longest_left_and_the_first_of_two_alike)
{
    struct learner *learner = small_learner();
    const struct learner_open recent[] = {met(1, 0, 3), met(2, 0, 30), met(3, 0, 30), met(4, 0, 9)};
    struct learner_choice choice = choose(learner, &now_alone, recent, 4);
    cr_expect_eq(choice.id, (size_t)2);
    cr_expect_float_eq(choice.score, choice.gain / 4.5 * (1.0 - exp(-30.0 / 15.0)), 1e-15);
    const struct learner_open fresh[] = {met(1, 0, 3), unmet(2, 0), met(3, 0, 300), unmet(4, 0)};
    choice = choose(learner, &now_alone, fresh, 4);
    cr_expect_eq(choice.id, (size_t)2);
    cr_expect_float_eq(choice.score, choice.gain / 4.5, 1e-16);
    /* Left without marks: met, but there is nothing to remember of it. */
    const struct learner_open left[] = {{1, 0, START - DAY, NAN}};
    choice = choose(learner, &now_alone, left, 1);
    cr_expect_float_eq(choice.score, choice.gain / 4.5, 1e-16);
    learner_free(learner);
}

Test(learner, a_near_exam_is_reckoned_to_the_day)
{
    struct learner *learner = small_learner();
    const struct learner_open open = unmet(1, 0);
    struct learner_choice choice = choose(learner, &(struct learner_setting){START, START + 9 * DAY, LEARNER_NONE, 1.5}, &open, 1);
    cr_expect_float_eq(choice.gain, learner_gain(learner, 0, START, START + 9 * DAY, LEARNER_NEXT_MARKS), 1e-16);
    learner_free(learner);
}

/* Half of the days left, at least one. */
Test(learner, rest_counts_for_more_the_nearer_the_exam)
{
    cr_expect_eq(learner_next_rest(NAN, 40.0), 1.0);
    cr_expect_eq(learner_next_rest(0.0, 40.0), 0.0);
    cr_expect_eq(learner_next_rest(-3.0, 40.0), 0.0);       /* the clock went back */
    cr_expect_float_eq(learner_next_rest(10.0, 40.0), 1.0 - exp(-0.5), 1e-15);
    cr_expect_float_eq(learner_next_rest(10.0, 20.0), 1.0 - exp(-1.0), 1e-15);
    cr_expect_float_eq(learner_next_rest(1.0, 0.5), 1.0 - exp(-1.0), 1e-15);
    cr_expect_float_eq(learner_next_rest(1.0, -9.0), 1.0 - exp(-1.0), 1e-15);
}

Test(learner, a_topic_that_rested_comes_before_one_just_met)
{
    struct learner *learner = small_learner();
    struct learner_mark mark = {.topic = 0, .objective = 0, .word = 0, .got = 1, .maximum = 1, .moderated = NAN};
    double last = NAN, other = NAN;
    cr_assert(learner_attempt(learner, START - 20 * DAY, &other, &(struct learner_mark){
        .topic = 1, .objective = 0, .word = 0, .got = 1, .maximum = 1, .moderated = NAN}, 1));
    cr_assert(learner_attempt(learner, START - 14 * DAY, &last, &mark, 1));
    const struct learner_open open[] = {unmet(1, 0), unmet(2, 1)};
    double first = learner_gain(learner, 0, START, FORESEEN, LEARNER_NEXT_MARKS);
    double second = learner_gain(learner, 1, START, FORESEEN, LEARNER_NEXT_MARKS);
    struct learner_choice choice = choose(learner, &now_alone, open, 2);
    cr_expect_gt(first, second);            /* by its share; 14 days of rest against 20 turn it */
    cr_expect_eq(choice.id, (size_t)2);
    cr_expect_float_eq(choice.score, second / 4.5 * learner_next_rest(20.0, 40.0), 1e-12);
    cr_expect_float_eq(choice.gain, second, 1e-16);
    learner_free(learner);
}

Test(learner, never_the_topic_before_while_another_has_something)
{
    struct learner *learner = small_learner();
    const struct learner_setting after_first = {START, EXAM, 0, 1.5};
    const struct learner_open two[] = {unmet(1, 0), unmet(2, 3)};
    cr_expect_eq(choose(learner, &now_alone, two, 2).id, (size_t)1);
    cr_expect_eq(choose(learner, &after_first, two, 2).id, (size_t)2);
    cr_expect_eq(choose(learner, &after_first, two, 1).id, (size_t)1);
    learner_free(learner);
}

Test(learner, a_topic_not_taught_yet_is_only_for_who_asks)
{
    struct learner_course course = small_course();
    const moment taught[] = {START + DAY, START + DAY, START, LEARNER_UNKNOWN};
    course.taught = taught;
    struct learner *learner = learner_new(&course, NULL);
    struct learner_next *next = learner_next_begin(learner);
    const struct learner_open open[] = {unmet(3, 1), unmet(8, 0), unmet(6, 3)};
    learner_next_offer(next, &open[0]);
    learner_next_offer(next, &open[1]);
    cr_expect_not(learner_next_choose(next, &now_alone).found);
    cr_expect_eq(learner_next_any(next), (size_t)8);        /* the lowest topic */
    learner_next_offer(next, &open[2]);
    cr_expect_eq(learner_next_choose(next, &now_alone).id, (size_t)6);
    learner_next_free(next);
    learner_free(learner);
}
