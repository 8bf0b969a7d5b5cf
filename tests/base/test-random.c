#include "base/random.h"
#include "trial.h"

/* Computed by Java 17, java.util.SplittableRandom(seed).nextLong(), which is the same generator. */
Test(base, random_known_values)
{
    static const struct { uint64_t seed, values[3]; } known[] = {
        {1234567, {UINT64_C(6457827717110365317), UINT64_C(3203168211198807973), UINT64_C(9817491932198370423)}},
        {0, {UINT64_C(16294208416658607535), UINT64_C(7960286522194355700), UINT64_C(487617019471545679)}},
    };
    for (size_t i = 0; i < 2; i++) {
        struct random_source source = {known[i].seed};
        for (int j = 0; j < 3; j++)
            cr_expect(random_next(&source) == known[i].values[j], "seed %lu, value %d", known[i].seed, j);
    }
}

Test(base, random_below_stays_below_and_reaches_everything)
{
    struct random_source source = {trial_seed(3)};
    for (int i = 0; i < 100; i++)
        cr_assert(random_below(&source, 1) == 0);
    int counts[7] = {0};
    for (int i = 0; i < 70000; i++) {
        uint64_t drawn = random_below(&source, 7);
        cr_assert(drawn < 7);
        counts[drawn]++;
    }
    /* Each is 10,000 give or take 5 standard deviations of 93 (binomial). */
    for (int i = 0; i < 7; i++)
        cr_expect(counts[i] > 9537 && counts[i] < 10463, "%d came %d times", i, counts[i]);
}

/* With a bound of 3 * 2^62 the remainder alone would give the lowest third twice as often as it should:
 * 1/2 in place of 1/3. */
Test(base, random_below_is_unbiased_for_a_great_bound)
{
    const uint64_t bound = UINT64_C(3) << 62, third = UINT64_C(1) << 62;
    struct random_source source = {trial_seed(4)};
    int low = 0;
    for (int i = 0; i < 30000; i++) {
        uint64_t drawn = random_below(&source, bound);
        cr_assert(drawn < bound);
        low += drawn < third;
    }
    /* 10,000 give or take 5 standard deviations of 82. */
    cr_expect(low > 9590 && low < 10410, "%d of 30000", low);
}

Test(base, random_unit_lies_in_its_interval)
{
    struct random_source source = {trial_seed(5)};
    double sum = 0, least = 1, greatest = 0;
    for (int i = 0; i < 20000; i++) {
        double drawn = random_unit(&source);
        cr_assert(drawn >= 0 && drawn < 1);
        sum += drawn;
        least = drawn < least ? drawn : least;
        greatest = drawn > greatest ? drawn : greatest;
    }
    /* The mean's standard deviation is 0.0020. */
    cr_expect(sum / 20000 > 0.49 && sum / 20000 < 0.51, "mean %g", sum / 20000);
    cr_expect(least < 0.001 && greatest > 0.999);
}

Test(base, random_fresh_seeds_differ)
{
    cr_expect(random_fresh_seed() != random_fresh_seed());
}
