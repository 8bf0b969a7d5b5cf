/* Expected values: worked by hand. */
#include <criterion/criterion.h>
#include <math.h>
#include "learner/calibration.h"

Test(learner, bias_and_miss)
{
    struct calibration c = CALIBRATION_EMPTY;
    cr_expect(isnan(calibration_bias(&c)) && isnan(calibration_miss_in_ten(&c)));
    const struct calibration_script scripts[] = {{5, 4, 3, 6}, {2, 4, 4, 4}, {NAN, 7, 8, 10}};
    for (int i = 0; i < 3; i++)
        cr_expect_eq(calibration_add(&c, CALIBRATION_PREDICTED, &scripts[i]), i < 2);
    cr_expect_eq(c.scripts, 2.0);
    cr_expect_eq(calibration_bias(&c), 0.0);            /* +2 and -2 */
    cr_expect_eq(calibration_miss(&c), 2.0);
    cr_expect_eq(calibration_miss_in_ten(&c), 4.0);     /* 4 of 10 marks */
    c = CALIBRATION_EMPTY;
    for (int i = 0; i < 3; i++)
        cr_expect(calibration_add(&c, CALIBRATION_FIRST, &scripts[i]));
    cr_expect_eq(calibration_bias(&c), 0.0);            /* +1, 0, -1 */
    cr_expect_float_eq(calibration_miss(&c), 2.0 / 3.0, 1e-15);
    cr_expect_eq(calibration_miss_in_ten(&c), 1.0);     /* 2 of 20 */
    cr_expect(calibration_add(&c, CALIBRATION_FIRST, &(struct calibration_script){NAN, 12, 8, 20}));
    cr_expect_eq(calibration_bias(&c), 1.0);
    cr_expect_eq(calibration_bias_in_ten(&c), 1.0);     /* +4 of 40 */
}

Test(learner, calibration_refuses_what_it_cannot_count)
{
    struct calibration c = CALIBRATION_EMPTY;
    const struct calibration_script bad[] = {{1, 1, NAN, 2}, {1, 1, 1, 0}, {1, 1, 1, -2}, {1, 1, 1, NAN},
                                             {INFINITY, INFINITY, 1, 2}, {1, 1, 1, INFINITY}};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        cr_expect_not(calibration_add(&c, CALIBRATION_FIRST, &bad[i]), "case %zu", i);
        cr_expect_not(calibration_add(&c, CALIBRATION_PREDICTED, &bad[i]), "case %zu", i);
    }
    cr_expect_eq(c.scripts, 0.0);
}

static void fill(struct calibration_script *scripts, size_t count, const double *misses)
{
    for (size_t i = 0; i < count; i++)
        scripts[i] = (struct calibration_script){5.0 + misses[i], NAN, 5.0, 10.0};
}

Test(learner, trend_compares_the_outer_thirds)
{
    struct calibration_script s[9];
    double early, late;
    fill(s, 9, (const double[]){3, -3, 3, 9, 9, 9, 1, -1, 1});
    cr_expect_eq(calibration_trend_of(s, 5, CALIBRATION_PREDICTED, &early, &late), CALIBRATION_TOO_FEW);
    cr_expect(isnan(early) && isnan(late));
    cr_expect_eq(calibration_trend_of(s, 9, CALIBRATION_PREDICTED, &early, &late), CALIBRATION_SHRINKING);
    cr_expect_eq(early, 3.0);
    cr_expect_eq(late, 1.0);
    cr_expect_eq(calibration_trend_of(s, 6, CALIBRATION_PREDICTED, &early, &late), CALIBRATION_GROWING);
    cr_expect_eq(late, 9.0);
    fill(s, 6, (const double[]){5, 5, 0, 0, 4, 4});     /* a fifth less: still steady */
    cr_expect_eq(calibration_trend_of(s, 6, CALIBRATION_PREDICTED, &early, &late), CALIBRATION_STEADY);
    fill(s, 6, (const double[]){0, 0, 0, 0, 0, 0});
    cr_expect_eq(calibration_trend_of(s, 6, CALIBRATION_PREDICTED, &early, &late), CALIBRATION_STEADY);
    cr_expect_eq(calibration_trend_of(s, 6, CALIBRATION_FIRST, &early, &late), CALIBRATION_TOO_FEW);
    s[2].predicted = NAN;                               /* five usable scripts */
    cr_expect_eq(calibration_trend_of(s, 6, CALIBRATION_PREDICTED, &early, &late), CALIBRATION_TOO_FEW);
    cr_expect_eq(calibration_trend_of(NULL, 0, CALIBRATION_PREDICTED, &early, &late), CALIBRATION_TOO_FEW);
}
