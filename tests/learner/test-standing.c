#include <criterion/criterion.h>
#include <math.h>
#include "fixture.h"

static const struct learner_mark earned = {.topic = 0, .objective = 0, .word = 0, .got = 1, .maximum = 1,
                                           .moderated = NAN};

static struct learner *practised(void)
{
    struct learner *learner = small_learner();
    double last = NAN;
    struct learner_mark marks[] = {earned, earned, earned, earned};
    marks[1].topic = 2;
    marks[1].objective = 2;
    marks[1].word = 1;
    marks[1].got = 0;
    marks[2].objective = 1;
    marks[3].topic = 1;
    marks[3].maximum = 3;
    cr_assert(learner_attempt(learner, START, &last, marks, 4));
    return learner;
}

/* 1/(1+e^-x) for the differences of the logistic rows of 09b_elo_logistic.tsv (mpmath, 50 digits): 0, -4, 6,
 * -1.2, 40, -40. The ends must neither overflow nor leave [0, 1]. */
Test(learner, the_logistic_function)
{
    cr_expect_eq(learner_logistic(0.0), 0.5);
    cr_expect_float_eq(learner_logistic(-4.0), 0.0179862099621, 1e-13);
    cr_expect_float_eq(learner_logistic(6.0), 0.997527376843, 1e-12);
    cr_expect_float_eq(learner_logistic(-1.2), 0.231475216501, 1e-12);
    cr_expect_eq(learner_logistic(40.0), 1.0);
    cr_expect_float_eq(learner_logistic(-40.0) / 4.24835425529e-18, 1.0, 1e-11);
    cr_expect_eq(learner_logistic(INFINITY), 1.0);
    cr_expect(learner_logistic(-INFINITY) >= 0.0 && learner_logistic(-INFINITY) < 1e-300);
}

/* With one topic, one objective, one unit and no words the exam, the objective and the unit are the topic. */
Test(learner, one_topic_is_the_whole)
{
    const size_t unit[] = {0};
    const double one[] = {1.0};
    const enum learner_objective_kind kind[] = {LEARNER_APPLY};
    struct learner_course course = {.units = 1, .topics = 1, .objectives = 1, .unit = unit, .share = one,
                                    .mix = one, .kind = kind};
    struct learner *learner = learner_new(&course, NULL);
    struct learner_mark mark = earned;
    mark.word = LEARNER_NONE;
    double last = NAN;
    cr_assert(learner_attempt(learner, START, &last, &mark, 1));
    moment when = START + 20 * DAY;
    double topic = learner_topic(learner, 0, when).share;
    cr_expect_float_eq(learner_exam(learner, when).share, topic, 1e-15);
    cr_expect_float_eq(learner_objective(learner, 0, when).share, topic, 1e-15);
    cr_expect_float_eq(learner_unit(learner, 0, when).share, topic, 1e-15);
    learner_free(learner);
}

/* The slice over everything has the exam's expected share, and its spread in marks is the exam's without
 * the exam's own model error: sd_logit^2 = var / (p(1-p))^2 + vM. */
Test(learner, the_slice_over_everything_is_the_exam)
{
    struct learner *learner = practised();
    moment when = START + 9 * DAY;
    struct learner_total exam = learner_exam(learner, when);
    struct learner_estimate all = learner_across(
        learner, (struct learner_slice){LEARNER_NONE, LEARNER_NONE, LEARNER_NONE}, when);
    cr_expect_float_eq(all.share, exam.share, 1e-14);
    double variance = exam.sd * exam.sd - 0.045 * 0.045 - 0.011 * 0.011 * 9.0;
    double slope = exam.share * (1.0 - exam.share);
    cr_expect_float_eq(all.sd, sqrt(variance / (slope * slope) + 0.25), 1e-12);
    learner_free(learner);
}

/* Units weighted by their shares make the exam. */
Test(learner, units_add_up_to_the_exam)
{
    struct learner *learner = practised();
    double first = learner_unit(learner, 0, START).share, second = learner_unit(learner, 1, START).share;
    cr_expect_float_eq(0.7 * first + 0.3 * second, learner_exam(learner, START).share, 1e-14);
    learner_free(learner);
}

Test(learner, objectives_and_words_follow_their_marks)
{
    struct learner *learner = practised(), *fresh = small_learner();
    cr_expect_gt(learner_objective(fresh, 0, START).share, learner_objective(fresh, 1, START).share);
    cr_expect_gt(learner_objective(fresh, 1, START).share, learner_objective(fresh, 2, START).share);
    double gap = learner_objective(learner, 0, START).share - learner_objective(learner, 2, START).share;
    double before = learner_objective(fresh, 0, START).share - learner_objective(fresh, 2, START).share;
    cr_expect_gt(gap, before);
    cr_expect_gt(learner_word(learner, 0, START).share, learner_word(learner, 2, START).share);
    cr_expect_lt(learner_word(learner, 1, START).share, learner_word(learner, 2, START).share);
    cr_expect_eq(learner_word(fresh, 0, START).share, learner_word(fresh, 2, START).share);
    learner_free(learner);
    learner_free(fresh);
}

/* At the priors every topic has the same slope, so the variance of a part is, by hand, in log-odds: vC +
 * vU (.7^2 + .3^2) + vT (sum of shares squared) + vA (sum of mix squared, or 1 for one objective) + vW + vM. */
Test(learner, the_spread_of_a_part_by_hand)
{
    struct learner *learner = small_learner();
    double common = 0.4 + 0.15 * 0.58 + 0.2 * 0.30 + 0.25;
    cr_expect_float_eq(learner_word(learner, 1, START).sd, sqrt(common + 0.04 * 0.36 + 0.1), 1e-12);
    cr_expect_float_eq(learner_objective(learner, 1, START).sd, sqrt(common + 0.04), 1e-12);
    struct learner_estimate both = learner_across(learner, (struct learner_slice){1, 0, 2}, START);
    cr_expect_float_eq(both.sd, sqrt(0.4 + 0.15 + 0.2 * 5.0 / 9.0 + 0.04 + 0.1 + 0.25), 1e-12);
    learner_free(learner);
}

/* Shares that add up to nothing: topics weigh the same. A unit without topics has no estimate. */
Test(learner, weightless_topics_and_empty_units)
{
    struct learner_course course = small_course();
    const double nothing[] = {0.5, 0.5, 0.0, 0.0};
    course.share = nothing;
    course.units = 3;
    struct learner *learner = learner_new(&course, NULL);
    double last = NAN;
    struct learner_mark mark = earned;
    mark.topic = 2;
    learner_attempt(learner, START, &last, &mark, 1);
    double mean = (learner_topic(learner, 2, START).share + learner_topic(learner, 3, START).share) / 2.0;
    cr_expect_float_eq(learner_unit(learner, 1, START).share, mean, 1e-15);
    cr_expect(isnan(learner_unit(learner, 2, START).share));
    learner_free(learner);
}

Test(learner, forgetting_only_lowers_and_slows)
{
    struct learner *learner = practised();
    double before = learner_topic(learner, 0, START).logit, lost_before = INFINITY;
    for (int day = 1; day < 60; day++) {
        double now = learner_topic(learner, 0, START + day * DAY).logit;
        cr_expect_lt(now, before);
        cr_expect_lt(before - now, lost_before);
        lost_before = before - now;
        before = now;
    }
    learner_free(learner);
}

/* The day's sum of ln(1 + 30 days) x 0.36 / (1 + 0.1 s): by hand from the formula. */
Test(learner, loss_is_a_power_law_of_the_odds)
{
    struct learner *learner = practised();
    double lost = learner_topic(learner, 0, START).logit - learner_topic(learner, 0, START + 30 * DAY).logit;
    cr_expect_float_eq(lost, 0.36 * log(31.0) / (1.0 + 0.1 * learner->strength[0]), 1e-12);
    learner_free(learner);
}

Test(learner, the_exam_is_less_certain_from_afar)
{
    struct learner *learner = practised(), *fresh = small_learner();
    cr_expect_gt(learner_exam(learner, START + 90 * DAY).sd, 0.011 * sqrt(90.0));
    cr_expect_eq(learner_exam(fresh, START).sd, learner_exam(fresh, START + 90 * DAY).sd);
    learner_free(learner);
    learner_free(fresh);
}

Test(learner, meeting_the_same_question_again_helps_for_a_while)
{
    struct learner *learner = practised();
    struct learner_mark mark = earned;
    double now = (double)START / 86400.0, never = learner_point(learner, &mark, START, NAN);
    double today = learner_point(learner, &mark, START, now), old = learner_point(learner, &mark, START, now - 200.0);
    cr_expect_gt(today, old);
    cr_expect_gt(old, never);
    cr_expect_float_eq(old, never, 1e-5);
    cr_expect_eq(learner_point(learner, &mark, START, now + 5.0), today);    /* a clock that went back */
    learner_free(learner);
}

Test(learner, bands_need_evidence)
{
    cr_expect_eq(learner_band_of(0.9, 2.9), LEARNER_NO_EVIDENCE);
    cr_expect_eq(learner_band_of(0.9, 0.0), LEARNER_NO_EVIDENCE);
    cr_expect_eq(learner_band_of(NAN, 30.0), LEARNER_NO_EVIDENCE);
    cr_expect_eq(learner_band_of(0.9, NAN), LEARNER_NO_EVIDENCE);
    cr_expect_eq(learner_band_of(0.39, 3.0), LEARNER_LOW);
    cr_expect_eq(learner_band_of(0.40, 3.0), LEARNER_MIDDLE);
    cr_expect_eq(learner_band_of(0.69, 3.0), LEARNER_MIDDLE);
    cr_expect_eq(learner_band_of(0.70, 3.0), LEARNER_HIGH);
}

/* practised(): 4 attempts' points: topic 0 two marks, topic 1 three, topic 2 one; six in the course. */
Test(learner, evidence_counts_marks_on_offer)
{
    struct learner *learner = practised();
    const struct learner_course *course = &learner->course;
    const double topics[] = {2.0, 3.0, 1.0, 0.0};
    for (size_t k = 0; k < 4; k++)
        cr_expect_eq(learner->evidence[learner_topic_effect(course, k)], topics[k]);
    cr_expect_eq(learner->evidence[0], 6.0);
    cr_expect_eq(learner->evidence[learner_unit_effect(course, 0)], 5.0);
    cr_expect_eq(learner->evidence[learner_objective_effect(course, 2)], 1.0);
    cr_expect_eq(learner->evidence[learner_word_effect(course, 0)], 5.0);
    learner_free(learner);
}

/* The contract in learner/model.h; 1.4 as measured in simulation, docs/learner.md. */
Test(learner, one_paper_is_less_certain_than_all_papers)
{
    struct learner *learner = practised();
    struct learner_total all = learner_exam(learner, START), one = learner_paper(learner, START, 60.0);
    double luck = 1.4 * all.share * (1.0 - all.share) / 60.0;
    cr_expect_eq(one.share, all.share);
    cr_expect_float_eq(one.sd * one.sd, all.sd * all.sd + luck, 1e-15);
    cr_expect_float_eq(one.high80 - one.share, 1.2815515655446004 * one.sd, 1e-15);
    cr_expect_float_eq(learner_paper(learner, START, 1e12).sd, all.sd, 1e-9);
    struct learner_total tiny = learner_paper(learner, START, 1.0);
    cr_expect(tiny.low80 == 0.0 && tiny.high80 == 1.0, "%g %g", tiny.low80, tiny.high80);
    learner_free(learner);
}
