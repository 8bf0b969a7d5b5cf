#include <criterion/criterion.h>
#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "fixture.h"

#define LOG 300

static const uint64_t seeds[] = {1, 42, 20260518, 0x9E3779B97F4A7C15u};
#define SEEDS (sizeof seeds / sizeof *seeds)

static void make_log(uint64_t seed, struct logged *log)
{
    struct random_source source = {seed};
    moment clock = START;
    for (size_t i = 0; i < LOG; i++)
        log[i] = random_attempt(&source, &clock);
}

static bool same_state(const struct learner *a, const struct learner *b)
{
    return a->size == b->size && memcmp(a->state, b->state, a->size * sizeof *a->state) == 0;
}

static const struct learner_mark earned = {.topic = 0, .objective = 0, .word = 0, .got = 1, .maximum = 1,
                                           .moderated = NAN};

Test(learner, replay_gives_the_same_bits)
{
    static struct logged log[LOG];
    for (size_t s = 0; s < SEEDS; s++) {
        double first[QUESTIONS], second[QUESTIONS];
        struct learner *a = small_learner(), *b = small_learner();
        make_log(seeds[s], log);
        no_questions(first);
        no_questions(second);
        apply(a, log, 0, LOG, first);
        apply(b, log, 0, LOG / 3, second);
        learner_reset(b);
        no_questions(second);
        apply(b, log, 0, LOG, second);
        cr_expect(same_state(a, b), "seed %lu", (unsigned long)seeds[s]);
        cr_expect_eq(memcmp(first, second, sizeof first), 0, "seed %lu", (unsigned long)seeds[s]);
        learner_free(a);
        learner_free(b);
    }
}

/* What a store does: keep the touched entries after each attempt, later put every entry back. */
Test(learner, stored_entries_restore_the_same_bits)
{
    static struct logged log[LOG];
    for (size_t s = 0; s < SEEDS; s++) {
        double questions[QUESTIONS], same[QUESTIONS];
        struct learner *whole = small_learner(), *before = small_learner(), *after = small_learner();
        double *store = calloc(whole->size, sizeof *store);
        make_log(seeds[s], log);
        no_questions(questions);
        no_questions(same);
        apply(whole, log, 0, LOG, same);
        for (size_t i = 0; i < LOG / 2; i++) {
            apply(before, log, i, i + 1, questions);
            for (size_t t = 0; t < before->touched_count; t++)
                store[before->touched[t]] = before->state[before->touched[t]];
            learner_forget_touched(before);
        }
        for (size_t i = 0; i < after->size; i++)
            cr_assert(learner_load(after, i, store[i]), "entry %zu", i);
        cr_expect(same_state(before, after), "seed %lu: an entry changed untouched", (unsigned long)seeds[s]);
        apply(after, log, LOG / 2, LOG, questions);
        cr_expect(same_state(whole, after), "seed %lu", (unsigned long)seeds[s]);
        free(store);
        learner_free(whole);
        learner_free(before);
        learner_free(after);
    }
}

/* One point of one topic touches: topic variance, grown; mean, variance and evidence of five effects;
 * strength, freshness, last; seen; attempts. The topic's mean and variance are touched twice. */
Test(learner, touches_only_what_an_attempt_bears_on)
{
    struct learner *learner = small_learner();
    cr_expect_eq(learner->touched_count, learner->size);
    learner_forget_touched(learner);
    double last = NAN;
    cr_assert(learner_attempt(learner, START, &last, &earned, 1));
    cr_expect_eq(learner->touched_count, (size_t)(15 + 1 + 3 + 2));
    for (size_t i = 0; i < learner->touched_count; i++) {
        struct learner_entry entry = learner_entry_at(learner, learner->touched[i]);
        if (entry.field <= LEARNER_FRESHNESS)
            cr_expect_eq(entry.which, (size_t)0, "entry %zu", learner->touched[i]);
    }
    learner_free(learner);
}

Test(learner, entries_have_names)
{
    struct learner *learner = small_learner();
    for (size_t i = 0; i < learner->size; i++)
        cr_expect_eq(learner_entry_index(learner, learner_entry_at(learner, i)), i);
    struct learner_entry entry = {LEARNER_VARIANCE, LEARNER_OBJECTIVE, 2};
    size_t index = learner_entry_index(learner, entry);
    cr_expect_eq(index, learner->effects + 1 + 2 + 4 + 2);
    cr_expect_eq(learner->state[index], 0.04);
    entry.which = 3;    /* would run on into the command words */
    cr_expect_eq(learner_entry_index(learner, entry), LEARNER_NONE);
    cr_expect_eq(learner_entry_index(learner, (struct learner_entry){LEARNER_LAST, LEARNER_UNIT, 0}), LEARNER_NONE);
    cr_expect_eq(learner_entry_index(learner, (struct learner_entry){LEARNER_SEEN, LEARNER_COURSE, 1}), LEARNER_NONE);
    cr_expect_eq(learner_entry_index(learner, (struct learner_entry){LEARNER_ATTEMPTS, LEARNER_COURSE, 0}),
                 learner->size - 1);
    learner_free(learner);
}

Test(learner, load_refuses_the_impossible)
{
    struct learner *learner = small_learner();
    const struct { enum learner_field field; enum learner_scope scope; double value; bool taken; } cases[] = {
        {LEARNER_MEAN, LEARNER_COURSE, -3.0, true}, {LEARNER_MEAN, LEARNER_COURSE, NAN, false},
        {LEARNER_MEAN, LEARNER_COURSE, INFINITY, false}, {LEARNER_VARIANCE, LEARNER_TOPIC, 0.0, false},
        {LEARNER_VARIANCE, LEARNER_TOPIC, 0.1, true}, {LEARNER_LAST, LEARNER_TOPIC, NAN, true},
        {LEARNER_LAST, LEARNER_TOPIC, -INFINITY, false}, {LEARNER_FRESHNESS, LEARNER_TOPIC, 1.01, false},
        {LEARNER_STRENGTH, LEARNER_TOPIC, -0.1, false}, {LEARNER_STRENGTH, LEARNER_TOPIC, NAN, false},
        {LEARNER_SEEN, LEARNER_COURSE, NAN, true}, {LEARNER_OVER_OF, LEARNER_COURSE, 0.0, false},
        {LEARNER_ATTEMPTS, LEARNER_COURSE, 12.0, true}, {LEARNER_EVIDENCE, LEARNER_WORD, NAN, false},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        size_t index = learner_entry_index(learner, (struct learner_entry){cases[i].field, cases[i].scope, 0});
        double before = learner->state[index];
        cr_expect_eq(learner_load(learner, index, cases[i].value), cases[i].taken, "case %zu", i);
        if (!cases[i].taken)
            cr_expect_eq(memcmp(&before, &learner->state[index], sizeof before), 0, "case %zu", i);
    }
    cr_expect_not(learner_load(learner, learner->size, 0.0));
    learner_free(learner);
}

Test(learner, refuses_a_course_it_cannot_use)
{
    struct learner_course course = small_course();
    const size_t far_unit[] = {0, 0, 1, 2};
    const double negative[] = {0.4, 0.3, 0.4, -0.1}, endless[] = {0.4, INFINITY, 0.2};
    struct learner_course bad[] = {course, course, course, course, course, course};
    bad[0].topics = 0;
    bad[1].unit = far_unit;
    bad[2].share = negative;
    bad[3].mix = endless;
    bad[4].objectives = 0;
    bad[5].words = SIZE_MAX;
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        cr_expect_null(learner_new(&bad[i], NULL), "case %zu", i);
    struct learner_constants constants = learner_standard_constants;
    constants.forgetting = NAN;
    cr_expect_null(learner_new(&course, &constants));
    constants = learner_standard_constants;
    constants.topic_variance = 0.0;
    cr_expect_null(learner_new(&course, &constants));
    course.words = 0;
    struct learner *wordless = learner_new(&course, NULL);
    cr_expect_not_null(wordless);
    struct learner_mark mark = earned;
    double last = NAN;
    cr_expect_not(learner_attempt(wordless, START, &last, &mark, 1));
    mark.word = LEARNER_NONE;
    cr_expect(learner_attempt(wordless, START, &last, &mark, 1));
    learner_free(wordless);
    learner_free(NULL);
}

Test(learner, the_course_is_copied)
{
    size_t unit[] = {0};
    double share[] = {1.0}, mix[] = {1.0};
    enum learner_objective_kind kind[] = {LEARNER_ANALYSE};
    moment taught[] = {START};
    struct learner_course course = {.units = 1, .topics = 1, .objectives = 1, .unit = unit, .share = share,
                                    .mix = mix, .kind = kind, .taught = taught};
    struct learner *learner = learner_new(&course, NULL);
    double before = learner_exam(learner, START).share;
    share[0] = mix[0] = 0.0;
    taught[0] = START - 1000 * DAY;
    cr_expect_eq(learner_exam(learner, START).share, before);
    learner_free(learner);
}

Test(learner, refused_attempts_change_nothing)
{
    struct learner *learner = small_learner(), *fresh = small_learner();
    struct learner_mark bad[][2] = {{earned, earned}, {earned, earned}, {earned, earned}, {earned, earned},
                                    {earned, earned}, {earned, earned}, {earned, earned}, {earned, earned},
                                    {earned, earned}, {earned, earned}};
    bad[0][1].topic = 4;
    bad[1][1].objective = 3;
    bad[2][1].word = 3;
    bad[3][1].difficulty = NAN;
    bad[4][1].got = INFINITY;
    bad[5][1].maximum = 0.0;
    bad[6][1].maximum = -1.0;
    bad[7][1].moderated = INFINITY;
    bad[8][1].maximum = NAN;
    bad[9][1].topic = LEARNER_NONE;
    double last = NAN, endless = INFINITY;
    learner_forget_touched(learner);
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        cr_expect_not(learner_attempt(learner, START, &last, bad[i], 2), "case %zu", i);
    cr_expect_not(learner_attempt(learner, NO_MOMENT, &last, &earned, 1));
    cr_expect_not(learner_attempt(learner, START, &endless, &earned, 1));
    cr_expect(isnan(last));
    cr_expect(same_state(learner, fresh));
    cr_expect_eq(learner->touched_count, (size_t)0);
    cr_expect_not(learner_moderated_pair(learner, NAN, 1, 1));
    cr_expect_not(learner_moderated_pair(learner, 1, INFINITY, 1));
    cr_expect_not(learner_moderated_pair(learner, 1, 1, 0));
    cr_expect(same_state(learner, fresh));
    learner_free(learner);
    learner_free(fresh);
}

/* An attempt without marks is an attempt: the day moves, the knowledge does not. */
Test(learner, an_attempt_without_marks)
{
    struct learner *learner = small_learner();
    double last = NAN, mean = learner->mean[0];
    cr_expect(learner_attempt(learner, START, &last, NULL, 0));
    cr_expect_eq(last, (double)START / 86400.0);
    cr_expect_eq(*learner->attempts, 1.0);
    cr_expect_eq(learner->mean[0], mean);
    learner_free(learner);
}

/* Beta priors 4/20 and 0.6/30; pairs worked by hand: claimed in full, teacher a quarter of four marks:
 * on 20 + .75, oa 4 + .75, un 30.25, ua .6. */
Test(learner, moderated_pairs_move_the_bias)
{
    struct learner *learner = small_learner();
    double over, under;
    learner_marking_bias(learner, &over, &under);
    cr_expect_float_eq(over, 0.2, 1e-15);
    cr_expect_float_eq(under, 0.02, 1e-15);
    cr_expect(learner_moderated_pair(learner, 4, 1, 4));
    learner_marking_bias(learner, &over, &under);
    cr_expect_float_eq(over, 4.75 / 20.75, 1e-15);
    cr_expect_float_eq(under, 0.6 / 30.25, 1e-15);
    cr_expect(learner_moderated_pair(learner, 9, -3, 4));    /* held to 4 and 0 */
    learner_marking_bias(learner, &over, &under);
    cr_expect_float_eq(over, 5.75 / 21.75, 1e-15);
    for (int i = 0; i < 500; i++)
        learner_moderated_pair(learner, 1, 0, 1);
    learner_marking_bias(learner, &over, &under);
    cr_expect_eq(over, 0.6);
    for (int i = 0; i < 500; i++)
        learner_moderated_pair(learner, 0, 1, 1);
    learner_marking_bias(learner, &over, &under);
    cr_expect_eq(under, 0.2);
    learner_free(learner);
}

/* A teacher's mark says more about the earned than a self-mark, which may be claimed too easily; a loss the
 * student admits is believed nearly as it stands. Either way the teacher's leaves less doubt. */
Test(learner, a_moderated_mark_tells_more_than_a_self_mark)
{
    for (int got = 0; got <= 1; got++) {
        struct learner *own = small_learner(), *moderated = small_learner();
        struct learner_mark mark = earned;
        double a = NAN, b = NAN;
        mark.got = got;
        learner_attempt(own, START, &a, &mark, 1);
        mark.moderated = got;
        mark.got = 1 - got;     /* must not be read */
        learner_attempt(moderated, START, &b, &mark, 1);
        if (got)
            cr_expect_gt(moderated->mean[0], own->mean[0] + 0.02);
        else
            cr_expect_float_eq(moderated->mean[0], own->mean[0], 0.01);
        cr_expect_lt(moderated->variance[0], own->variance[0]);
        learner_free(own);
        learner_free(moderated);
    }
}

/* p is held to .995: a mark as good as certain still moves the mean a little, and only a little. */
Test(learner, the_probability_is_held_away_from_certainty)
{
    struct learner *learner = small_learner();
    struct learner_mark mark = earned;
    mark.difficulty = -1e6;
    mark.moderated = 1.0;
    double last = NAN, before = learner->mean[0];
    cr_expect(learner_attempt(learner, START, &last, &mark, 1));
    double v = 0.4 + 0.15 + 0.2 + 0.04 + 0.1, information = 0.995 * 0.005;
    cr_expect_float_eq(learner->mean[0] - before, 0.4 * 0.005 / (1.0 + information * v), 1e-12);
    mark.difficulty = 1e6;      /* and as good as impossible: held to .005 */
    before = learner->mean[0];
    v = learner->variance[0] + learner->variance[1] + learner->variance[3] + learner->variance[7] + learner->variance[10];
    double step = learner->variance[0] * 0.995 / (1.0 + information * v);
    cr_expect(learner_attempt(learner, START, &last, &mark, 1));
    cr_expect_float_eq(learner->mean[0] - before, step, 1e-12);
    mark.difficulty = 1e300;
    mark.got = mark.moderated = 1e300;
    mark.maximum = DBL_MIN;
    cr_expect(learner_attempt(learner, START, &last, &mark, 1));
    for (size_t i = 0; i < learner->effects; i++)
        cr_expect(isfinite(learner->mean[i]) && learner->variance[i] > 0.0);
    learner_free(learner);
}

/* A clock that goes back: gap 0, and the days kept only move forward. */
Test(learner, time_never_runs_backwards)
{
    struct learner *learner = small_learner();
    double last = NAN;
    learner_attempt(learner, START, &last, &earned, 1);
    double day = last, now = learner_topic(learner, 0, START).logit;
    cr_expect_eq(learner_topic(learner, 0, START - 100 * DAY).logit, now);
    learner_attempt(learner, START - 30 * DAY, &last, &earned, 1);
    cr_expect_eq(last, day);
    cr_expect_eq(learner->last[0], day);
    cr_expect_eq(learner->grown[0], day);
    cr_expect_eq(*learner->seen, day);
    learner_free(learner);
}

Test(learner, gaps_are_held_to_ten_years)
{
    struct learner *learner = small_learner();
    double last = NAN;
    learner_attempt(learner, START, &last, &earned, 1);
    cr_expect_eq(learner_topic(learner, 0, START + 3650 * DAY).logit, learner_topic(learner, 0, START + 36500 * DAY).logit);
    cr_expect_gt(learner_topic(learner, 0, START + 3649 * DAY).logit, learner_topic(learner, 0, START + 3650 * DAY).logit);
    learner_free(learner);
}

static void expect_sound(const struct learner *learner, moment when, uint64_t seed, size_t step)
{
    for (size_t i = 0; i < learner->effects; i++)
        cr_expect(isfinite(learner->mean[i]) && learner->variance[i] >= 1e-6, "seed %lu step %zu effect %zu",
                  (unsigned long)seed, step, i);
    for (size_t k = 0; k < 4; k++) {
        struct learner_estimate e = learner_topic(learner, k, when);
        cr_expect(0.0 < e.low80 && e.low80 < e.share && e.share < e.high80 && e.high80 < 1.0,
                  "seed %lu step %zu topic %zu", (unsigned long)seed, step, k);
        cr_expect(learner->freshness[k] >= 0.0 && learner->freshness[k] <= 1.0 && learner->strength[k] >= 0.0);
    }
    const struct learner_estimate parts[] = {
        learner_unit(learner, 0, when), learner_unit(learner, 1, when), learner_objective(learner, 0, when),
        learner_objective(learner, 2, when), learner_word(learner, 1, when)};
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
        cr_expect(0.0 < parts[i].low80 && parts[i].low80 < parts[i].share && parts[i].share < parts[i].high80
                  && parts[i].high80 < 1.0, "seed %lu step %zu part %zu", (unsigned long)seed, step, i);
    struct learner_total total = learner_exam(learner, when);
    cr_expect(total.share > 0.0 && total.share < 1.0 && total.sd >= 0.045, "seed %lu", (unsigned long)seed);
    cr_expect(total.low80 >= 0.0 && total.low80 < total.share && total.share < total.high80 && total.high80 <= 1.0);
}

Test(learner, stays_sound_on_any_log)
{
    for (size_t s = 0; s < SEEDS; s++) {
        struct random_source source = {seeds[s]};
        struct learner *learner = small_learner();
        moment clock = START;
        double questions[QUESTIONS];
        no_questions(questions);
        for (size_t i = 0; i < LOG; i++) {
            struct logged attempt = random_attempt(&source, &clock);
            apply(learner, &attempt, 0, 1, questions);
            if (random_below(&source, 10) == 0)
                learner_moderated_pair(learner, random_unit(&source), random_unit(&source), 1.0);
            expect_sound(learner, clock + (moment)random_below(&source, 100) * DAY, seeds[s], i);
        }
        learner_free(learner);
    }
}

/* Evidence cannot loosen what is known: without time passing no variance rises. */
Test(learner, evidence_never_widens)
{
    for (size_t s = 0; s < SEEDS; s++) {
        struct random_source source = {seeds[s]};
        struct learner *learner = small_learner();
        moment clock = START, ignored = START;
        double questions[QUESTIONS], before[16];
        no_questions(questions);
        for (size_t i = 0; i < 60; i++) {
            struct logged attempt = random_attempt(&source, &ignored);
            attempt.when = clock;
            memcpy(before, learner->variance, learner->effects * sizeof *before);
            apply(learner, &attempt, 0, 1, questions);
            for (size_t e = 0; e < learner->effects; e++)
                cr_expect_leq(learner->variance[e], before[e], "seed %lu step %zu", (unsigned long)seeds[s], i);
        }
        learner_free(learner);
    }
}

/* Each student can have their own rate of forgetting. */
Test(learner, constants_belong_to_the_learner)
{
    struct learner_course course = small_course();
    struct learner_constants constants = learner_standard_constants;
    constants.forgetting *= 2.0;
    struct learner *quick = learner_new(&course, &constants), *usual = small_learner();
    double a = NAN, b = NAN;
    learner_attempt(quick, START, &a, &earned, 1);
    learner_attempt(usual, START, &b, &earned, 1);
    double lost_quick = learner_topic(quick, 0, START).logit - learner_topic(quick, 0, START + 30 * DAY).logit;
    double lost_usual = learner_topic(usual, 0, START).logit - learner_topic(usual, 0, START + 30 * DAY).logit;
    cr_expect_float_eq(lost_quick, 2.0 * lost_usual, 1e-12);
    learner_free(quick);
    learner_free(usual);
}

/* The objective's kind, not its number, gives the prior. */
Test(learner, priors_follow_the_kind_of_objective)
{
    struct learner_course course = small_course();
    const enum learner_objective_kind turned[] = {LEARNER_ANALYSE, LEARNER_KNOW, LEARNER_APPLY};
    course.kind = turned;
    struct learner *learner = learner_new(&course, NULL);
    cr_expect_eq(learner->mean[learner_objective_effect(&course, 0)], -0.55);
    cr_expect_eq(learner->mean[learner_objective_effect(&course, 1)], 0.25);
    cr_expect_eq(learner->mean[learner_objective_effect(&course, 2)], 0.0);
    learner_free(learner);
}
