#include <criterion/criterion.h>
#include <math.h>
#include "fixture.h"
#include "learner/plan.h"

#define EXAM (START + 40 * DAY)

static const struct learner_mark earned = {.topic = 0, .objective = 0, .word = 0, .got = 1, .maximum = 1,
                                           .moderated = NAN};

static struct learner *practised(void)
{
    struct learner *learner = small_learner();
    double last = NAN;
    struct learner_mark marks[] = {earned, earned, earned};
    marks[1].topic = 1;
    marks[2].topic = 3;
    marks[2].got = 0;
    cr_assert(learner_attempt(learner, START, &last, marks, 3));
    return learner;
}

Test(learner, gain_falls_with_repetition_and_grows_with_share)
{
    struct learner *learner = small_learner();
    double one = learner_gain(learner, 0, START, EXAM, 1.0), two = learner_gain(learner, 0, START, EXAM, 2.0);
    cr_expect_gt(one, 0.0);
    cr_expect_gt(two, one);
    cr_expect_lt(two, 2.0 * one);
    cr_expect_float_eq(learner_gain(learner, 3, START, EXAM, 1.0), one / 4.0, 1e-15);    /* .1 against .4 */
    learner_free(learner);
    learner = practised();
    cr_expect_lt(learner_gain(learner, 0, START, EXAM, 1.0), one);      /* just practised: the freshness is used */
    learner_free(learner);
}

/* Gain is what the exam's expected share rises by when the practice really happens without surprise: the
 * planner and the learner share one practice rule. */
Test(learner, gain_is_what_practice_brings)
{
    struct learner *learner = practised();
    double gain = learner_gain(learner, 2, START, EXAM, 1.0), before = learner_exam(learner, EXAM).share;
    size_t effect = learner_topic_effect(&learner->course, 2), n = learner->effects;
    double effective = 1.0 * 0.15, day = (double)START / 86400.0;
    cr_assert(learner_load(learner, effect, learner->mean[effect] + 0.5 * effective));
    cr_assert(learner_load(learner, 3 * n + 2, day));                                   /* last */
    cr_assert(learner_load(learner, 3 * n + 4 + 2, day));                               /* grown */
    cr_assert(learner_load(learner, 3 * n + 8 + 2, effective));                         /* strength */
    cr_expect_float_eq(learner_exam(learner, EXAM).share - before, gain, 1e-14);
    learner_free(learner);
}

Test(learner, choice_without_candidates)
{
    struct learner *learner = small_learner();
    struct learner_chooser *chooser = learner_choose_begin(learner, START, EXAM, LEARNER_NONE);
    cr_expect_not(learner_choose_result(chooser).found);
    learner_choose_free(chooser);
    learner_choose_free(NULL);
    learner_free(learner);
}

Test(learner, refused_candidates)
{
    struct learner_course course = small_course();
    const moment taught[] = {START - DAY, START + DAY, LEARNER_UNKNOWN, START};
    course.taught = taught;
    struct learner *learner = learner_new(&course, NULL);
    struct learner_chooser *chooser = learner_choose_begin(learner, START, EXAM, LEARNER_NONE);
    const size_t known[] = {0, 3, 2}, later[] = {0, 1}, unknown[] = {4};
    const struct learner_candidate bad[] = {
        {1, 4.0, later, 2, NAN}, {2, 4.0, unknown, 1, NAN}, {3, 0.0, known, 3, NAN}, {4, NAN, known, 3, NAN},
        {5, 4.0, known, 0, NAN}, {6, 4.0, known, 3, INFINITY}, {7, -1.0, known, 3, NAN}};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        cr_expect_not(learner_choose_offer(chooser, &bad[i]), "case %zu", i);
    cr_expect_not(learner_choose_result(chooser).found);
    cr_expect(learner_choose_offer(chooser, &(struct learner_candidate){8, 4.0, known, 3, NAN}));
    cr_expect_eq(learner_choose_result(chooser).id, (size_t)8);
    learner_choose_free(chooser);
    learner_free(learner);
}

static struct learner_choice choose(const struct learner *learner, size_t previous,
                                    const struct learner_candidate *candidates, size_t count)
{
    struct learner_chooser *chooser = learner_choose_begin(learner, START + DAY, EXAM, previous);
    for (size_t i = 0; i < count; i++)
        cr_assert(learner_choose_offer(chooser, &candidates[i]));
    struct learner_choice choice = learner_choose_result(chooser);
    learner_choose_free(chooser);
    return choice;
}

Test(learner, the_choice_weighs_minutes_memory_and_variety)
{
    struct learner *learner = small_learner();
    const size_t first[] = {0, 0}, second[] = {1, 1};
    const double yesterday = (double)START / 86400.0;
    const struct learner_candidate plain[] = {{1, 4, second, 2, NAN}, {2, 4, first, 2, NAN}, {3, 4, first, 2, NAN}};
    struct learner_choice choice = choose(learner, LEARNER_NONE, plain, 3);
    cr_expect_eq(choice.id, (size_t)2);         /* larger share; first of two alike */
    cr_expect_eq(choice.topic, (size_t)0);
    cr_expect_float_eq(choice.gain, learner_gain(learner, 0, START + DAY, EXAM, 2.0), 1e-16);
    cr_expect_float_eq(choice.score, choice.gain / 4.0, 1e-16);
    cr_expect_eq(choose(learner, 0, plain, 3).id, (size_t)1);       /* not the same topic again */

    const struct learner_candidate slow[] = {{1, 4, second, 2, NAN}, {2, 40, first, 2, NAN}};
    cr_expect_eq(choose(learner, LEARNER_NONE, slow, 2).id, (size_t)1);
    const struct learner_candidate seen[] = {{1, 4, second, 2, NAN}, {2, 4, first, 2, yesterday}};
    cr_expect_eq(choose(learner, LEARNER_NONE, seen, 2).id, (size_t)1);
    choice = choose(learner, 0, &plain[1], 1);
    cr_expect_float_eq(choice.score, 0.05 * choice.gain / 4.0, 1e-16);
    choice = choose(learner, LEARNER_NONE, &seen[1], 1);
    cr_expect_float_eq(choice.score, choice.gain / 4.0 * (1.0 - exp(-1.0 / 15.0)), 1e-15);
    learner_free(learner);
}

/* Mixed questions: the sum over topics does not depend on the order of points, and what is kept equals what
 * is worked out afresh, beyond the number of marks that is kept too. */
Test(learner, kept_gains_equal_fresh_ones)
{
    struct learner *learner = practised();
    const size_t mixed[] = {2, 0, 1, 0}, turned[] = {0, 0, 1, 2};
    size_t many[40] = {0};
    struct learner_chooser *chooser = learner_choose_begin(learner, START, EXAM, LEARNER_NONE);
    double sum = learner_gain(learner, 0, START, EXAM, 2.0) + learner_gain(learner, 1, START, EXAM, 1.0)
               + learner_gain(learner, 2, START, EXAM, 1.0);
    for (int round = 0; round < 2; round++) {
        cr_assert(learner_choose_offer(chooser, &(struct learner_candidate){9, 1.0, mixed, 4, NAN}));
        cr_expect_eq(learner_choose_result(chooser).gain, sum);
    }
    cr_assert(learner_choose_offer(chooser, &(struct learner_candidate){10, 1.0, turned, 4, NAN}));
    cr_expect_eq(learner_choose_result(chooser).id, (size_t)9);     /* a tie to the last bit */
    cr_assert(learner_choose_offer(chooser, &(struct learner_candidate){11, 0.01, many, 40, NAN}));
    cr_expect_eq(learner_choose_result(chooser).gain, learner_gain(learner, 0, START, EXAM, 40.0));
    for (size_t i = 0; i < 40; i++)
        many[i] = 2;
    cr_assert(learner_choose_offer(chooser, &(struct learner_candidate){12, 1e-6, many, 8, NAN}));
    cr_expect_eq(learner_choose_result(chooser).gain, learner_gain(learner, 2, START, EXAM, 8.0));
    learner_choose_free(chooser);
    learner_free(learner);
}

/* ---- Timetable ---- */

Test(learner, timetable_without_days_or_room)
{
    struct learner *learner = small_learner();
    const moment days[] = {START, START + DAY};
    const size_t none[] = {0, 0};
    struct learner_block blocks[1];
    cr_expect_eq(learner_timetable(learner, days, none, 2, EXAM, LEARNER_BLOCK_MARKS, blocks), (size_t)0);
    cr_expect_eq(learner_timetable(learner, NULL, NULL, 0, EXAM, LEARNER_BLOCK_MARKS, blocks), (size_t)0);
    learner_free(learner);
}

Test(learner, timetable_waits_for_teaching)
{
    struct learner_course course = small_course();
    const moment taught[] = {START + 5 * DAY, LEARNER_UNKNOWN, START - DAY, LEARNER_UNKNOWN};
    course.taught = taught;
    struct learner *learner = learner_new(&course, NULL);
    moment days[10];
    size_t slots[10];
    for (size_t d = 0; d < 10; d++) {
        days[d] = START + (moment)d * DAY;
        slots[d] = 2;
    }
    struct learner_block blocks[20];
    size_t count = learner_timetable(learner, days, slots, 10, EXAM, LEARNER_BLOCK_MARKS, blocks), found = 0;
    for (size_t i = 0; i < count; i++)
        if (blocks[i].topic == 0) {
            cr_expect_geq(blocks[i].day, (size_t)5);
            found++;
        }
    cr_expect_gt(found, (size_t)0);
    learner_free(learner);
}

/* The plan against a plain one that re-simulates everything for every choice: same blocks. */
static double plain_value(const struct learner *learner, const moment *days, size_t day_count,
                          size_t (*visits)[12])
{
    double total = 0.0;
    for (size_t k = 0; k < 4; k++) {
        size_t effect = learner_topic_effect(&learner->course, k);
        double level = learner->mean[effect], s = learner->strength[k], f = learner->freshness[k];
        double last = learner->last[k], variance = learner->variance[effect];
        for (size_t d = 0; d < day_count; d++) {
            if (visits[k][d] == 0)
                continue;
            double now = (double)days[d] / 86400.0;
            double fresh = isnan(last) ? 1.0 : 1.0 - (1.0 - f) * exp(-fmax(now - last, 0.0) / 3.0);
            double e = fresh * (1.0 - pow(0.85, 2.4 * (double)visits[k][d]));
            level += 0.5 * e / (1.0 + s);
            s += e;
            f = fresh - e;
            last = now;
        }
        double day = (double)EXAM / 86400.0, gap = isnan(last) ? 60.0 : day - last;
        double m = learner->mean[0] + learner->mean[learner_unit_effect(&learner->course, k / 2)] + level;
        double v = learner->variance[0] + learner->variance[learner_unit_effect(&learner->course, k / 2)] + variance;
        for (size_t a = 0; a < 3; a++) {
            size_t o = learner_objective_effect(&learner->course, a);
            m += learner->course.mix[a] * learner->mean[o];
            v += learner->course.mix[a] * learner->course.mix[a] * learner->variance[o];
        }
        v += isnan(last) ? 0.0 : fmin(0.001 * gap, fmax(0.3 - variance, 0.0));
        m -= 0.36 * log(1.0 + gap) / (1.0 + 0.1 * s);
        total += learner->course.share[k] / (1.0 + exp(-m / sqrt(1.0 + 3.14159265358979323846 / 8.0 * v)));
    }
    return total;
}

Test(learner, timetable_equals_a_plain_search)
{
    struct learner *learner = practised();
    moment days[6];
    size_t slots[6], left[6], visits[4][12] = {{0}};
    for (size_t d = 0; d < 6; d++) {
        days[d] = START + (moment)(1 + 3 * d) * DAY;
        left[d] = slots[d] = 1 + d % 3;
    }
    struct learner_block blocks[12];
    size_t count = learner_timetable(learner, days, slots, 6, EXAM, LEARNER_BLOCK_MARKS, blocks);
    cr_assert_eq(count, (size_t)12);
    for (size_t i = 0; i < count; i++) {
        double now = plain_value(learner, days, 6, visits), most = 0.0;
        struct learner_block best = {0, 0};
        for (size_t k = 0; k < 4; k++)
            for (size_t d = 0; d < 6; d++) {
                if (left[d] == 0)
                    continue;
                visits[k][d]++;
                double gain = plain_value(learner, days, 6, visits) - now;
                visits[k][d]--;
                if (gain > most + 1e-12) {
                    most = gain;
                    best = (struct learner_block){d, k};
                }
            }
        cr_expect(blocks[i].day == best.day && blocks[i].topic == best.topic, "block %zu", i);
        visits[best.topic][best.day]++;
        left[best.day]--;
    }
    learner_free(learner);
}

Test(learner, a_topic_fills_four_blocks_and_half_a_day_at_most)
{
    struct learner_course course = small_course();
    const moment taught[] = {START + 5 * DAY, START + 9 * DAY, START + 5 * DAY, START + 5 * DAY};
    course.taught = taught;
    struct learner *learner = learner_new(&course, NULL);
    cr_expect_eq(learner_timetable_most(learner, START, 5), (size_t)5, "nothing is taught yet");
    cr_expect_eq(learner_timetable_most(learner, START + 5 * DAY, 5), (size_t)3);
    cr_expect_eq(learner_timetable_most(learner, START + 5 * DAY, 6), (size_t)3);
    cr_expect_eq(learner_timetable_most(learner, START + 5 * DAY, 1), (size_t)1);
    cr_expect_eq(learner_timetable_most(learner, START + 5 * DAY, 12), (size_t)4);
    cr_expect_eq(learner_timetable_most(learner, START + 5 * DAY, 20), (size_t)7, "three topics have to fill it");
    cr_expect_eq(learner_timetable_most(learner, START + 9 * DAY, 16), (size_t)4);
    cr_expect_eq(learner_timetable_most(learner, START + 5 * DAY, 0), (size_t)0);
    learner_free(learner);
}

/* Much time and few topics: the search stops with room left, and the rest is filled in proportion to the shares
 * (.4 .3 .2 .1, small_course) wherever topics are taught. */
Test(learner, room_that_is_left_is_filled_by_turns)
{
    enum { DAYS = 120, SLOTS = 10 };
    struct learner_course course = small_course();
    const moment taught[] = {LEARNER_UNKNOWN, LEARNER_UNKNOWN, START + 3 * DAY, LEARNER_UNKNOWN};
    course.taught = taught;
    struct learner *learner = learner_new(&course, NULL);
    moment days[DAYS], exam = START + DAYS * DAY;
    size_t slots[DAYS], placed[DAYS] = {0}, of_topic[4] = {0};
    static struct learner_block blocks[DAYS * SLOTS];
    for (size_t d = 0; d < DAYS; d++) {
        days[d] = START + (moment)d * DAY;
        slots[d] = SLOTS;
    }
    size_t count = learner_timetable(learner, days, slots, DAYS, exam, LEARNER_BLOCK_MARKS, blocks);
    cr_assert_lt(count, (size_t)(DAYS * SLOTS), "there is room to fill");
    count = learner_timetable_spread(learner, days, slots, NULL, DAYS, exam, LEARNER_BLOCK_MARKS, blocks);
    cr_assert_eq(count, (size_t)(DAYS * SLOTS));
    learner_timetable_order(learner, START, blocks, count);
    for (size_t i = 1; i < DAYS * SLOTS; i++)
        cr_expect(blocks[i].day != blocks[i - 1].day || blocks[i].topic != blocks[i - 1].topic, "twice running");
    for (size_t i = 0; i < DAYS * SLOTS; i++) {
        placed[blocks[i].day]++;
        of_topic[blocks[i].topic]++;
        cr_expect(blocks[i].topic != 2 || blocks[i].day >= 3, "before it is taught");
    }
    for (size_t d = 0; d < DAYS; d++)
        cr_expect_eq(placed[d], slots[d], "day %zu", d);
    cr_expect(of_topic[0] > of_topic[1] && of_topic[1] > of_topic[2] && of_topic[2] > of_topic[3], "%zu %zu %zu %zu", of_topic[0], of_topic[1],
              of_topic[2], of_topic[3]);
    learner_free(learner);
}

Test(learner, nothing_is_filled_where_nothing_is_taught)
{
    struct learner_course course = small_course();
    const moment taught[] = {EXAM, EXAM, EXAM, START + DAY};
    course.taught = taught;
    struct learner *learner = learner_new(&course, NULL);
    const moment days[] = {START, START + DAY};
    const size_t slots[] = {2, 2};
    struct learner_block blocks[4];
    cr_expect_eq(learner_timetable_spread(learner, days, slots, NULL, 2, EXAM, LEARNER_BLOCK_MARKS, blocks), (size_t)2);
    cr_expect_eq(learner_timetable_spread(learner, NULL, NULL, NULL, 0, EXAM, LEARNER_BLOCK_MARKS, blocks), (size_t)0);
    cr_expect(blocks[0].day == 1 && blocks[0].topic == 3 && blocks[1].day == 1 && blocks[1].topic == 3);
    learner_free(learner);
}

Test(learner, arranging_keeps_blocks_and_parts_topics)
{
    for (uint64_t seed = 1; seed <= 200; seed++) {
        struct random_source source = {seed};
        struct learner_block blocks[24];
        size_t count = (size_t)random_below(&source, 25), tally[3][3] = {{0}}, sizes[3] = {0};
        for (size_t i = 0; i < count; i++) {
            blocks[i] = (struct learner_block){(size_t)random_below(&source, 3), (size_t)random_below(&source, 3)};
            tally[blocks[i].day][blocks[i].topic]++;
            sizes[blocks[i].day]++;
        }
        learner_timetable_arrange(blocks, count);
        for (size_t i = 0; i < count; i++) {
            tally[blocks[i].day][blocks[i].topic]--;
            if (i == 0)
                continue;
            cr_expect_geq(blocks[i].day, blocks[i - 1].day, "seed %lu", (unsigned long)seed);
        }
        for (size_t d = 0; d < 3; d++)
            for (size_t k = 0; k < 3; k++)
                cr_expect_eq(tally[d][k], (size_t)0, "seed %lu", (unsigned long)seed);
    }
}

/* A topic twice running only where it fills more than half the day, rounded up. */
Test(learner, arranging_parts_topics_where_it_can)
{
    for (uint64_t seed = 1; seed <= 200; seed++) {
        struct random_source source = {seed};
        struct learner_block blocks[9];
        size_t count = 1 + (size_t)random_below(&source, 9), most = 0, tally[3] = {0}, twice = 0;
        for (size_t i = 0; i < count; i++) {
            blocks[i] = (struct learner_block){0, (size_t)random_below(&source, 3)};
            size_t topic = blocks[i].topic;
            most = ++tally[topic] > most ? tally[topic] : most;
        }
        learner_timetable_arrange(blocks, count);
        for (size_t i = 1; i < count; i++)
            twice += blocks[i].topic == blocks[i - 1].topic ? 1 : 0;
        size_t unavoidable = 2 * most > count + 1 ? 2 * most - count - 1 : 0;
        cr_expect_eq(twice, unavoidable, "seed %lu", (unsigned long)seed);
    }
}

Test(learner, a_day_begins_with_the_weakest_of_its_topics)
{
    struct learner *learner = practised();
    struct learner_block blocks[] = {{1, 0}, {0, 0}, {0, 1}, {0, 0}, {0, 3}, {0, 2}};
    double share[4];
    for (size_t i = 0; i < 4; i++)
        share[i] = learner_topic(learner, i, START + DAY).share;
    learner_timetable_order(learner, START + DAY, blocks, 6);
    for (size_t i = 0; i < 5; i++) {
        cr_expect_eq(blocks[i].day, (size_t)0);
        cr_expect_leq(share[blocks[0].topic], share[blocks[i].topic]);
        cr_expect(i == 0 || blocks[i].topic != blocks[i - 1].topic);
    }
    cr_expect_eq(blocks[5].day, (size_t)1);
    learner_timetable_order(learner, START, blocks, 0);
    learner_free(learner);
}

Test(learner, what_is_likely_to_be_kept)
{
    cr_expect_eq(learner_timetable_kept(0, 0), 1.0);
    cr_expect_float_eq(learner_timetable_kept(3, 5), 7.0 / 9.0, 1e-15);
    const size_t slots[] = {5, 5, 5, 5, 0, 1};
    const size_t half[] = {5, 2, 3, 2, 0, 1};       /* 2.5 carried on: 2, 3, 2 and .5 with .5 is 1 */
    size_t likely[6];
    learner_timetable_likely(0.5, slots, 6, likely);
    for (size_t d = 0; d < 6; d++)
        cr_expect_eq(likely[d], half[d], "day %zu: %zu", d, likely[d]);
    learner_timetable_likely(1.0, slots, 6, likely);
    for (size_t d = 0; d < 6; d++)
        cr_expect_eq(likely[d], slots[d]);
    learner_timetable_likely(1.0, slots, 0, likely);
}

static size_t plan_of(const struct learner *learner, const size_t *slots, const size_t *likely, struct learner_block *blocks)
{
    const moment days[] = {START + DAY, START + 4 * DAY, START + 12 * DAY, START + 30 * DAY};
    return learner_timetable_spread(learner, days, slots, likely, 4, EXAM, LEARNER_BLOCK_MARKS, blocks);
}

/* The likely slots first, as if there were no others; then the rest. */
Test(learner, what_is_likely_is_planned_before_the_rest)
{
    struct learner *learner = practised();
    const size_t slots[] = {3, 3, 3, 3}, likely[] = {3, 1, 1, 0};
    struct learner_block all[12], few[12], both[12], same[12];
    size_t count = plan_of(learner, slots, NULL, all), certain = plan_of(learner, likely, NULL, few), differing = 0;
    cr_assert_eq(certain, (size_t)5);
    cr_assert_eq(plan_of(learner, slots, likely, both), count);
    for (size_t i = 0; i < certain; i++)
        cr_expect(both[i].day == few[i].day && both[i].topic == few[i].topic);
    cr_assert_eq(plan_of(learner, slots, slots, same), count);
    for (size_t i = 0; i < count; i++) {
        cr_expect(same[i].day == all[i].day && same[i].topic == all[i].topic);
        differing += both[i].day != all[i].day || both[i].topic != all[i].topic;
    }
    cr_expect_gt(differing, (size_t)0);
    learner_free(learner);
}
