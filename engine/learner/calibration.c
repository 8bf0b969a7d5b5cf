#include "learner/calibration.h"

#include <math.h>

#define STEADY_WITHIN 0.2

static double judged(const struct calibration_script *script, enum calibration_which which)
{
    return which == CALIBRATION_PREDICTED ? script->predicted : script->first;
}

bool calibration_add(struct calibration *calibration, enum calibration_which which,
                     const struct calibration_script *script)
{
    double miss = judged(script, which) - script->final;
    if (!isfinite(miss) || !isfinite(script->maximum) || script->maximum <= 0.0)
        return false;
    calibration->scripts += 1.0;
    calibration->signed_sum += miss;
    calibration->absolute_sum += fabs(miss);
    calibration->maximum_sum += script->maximum;
    return true;
}

static double ratio(double sum, double count)
{
    return count > 0.0 ? sum / count : NAN;
}

double calibration_bias(const struct calibration *calibration)
{
    return ratio(calibration->signed_sum, calibration->scripts);
}

double calibration_bias_in_ten(const struct calibration *calibration)
{
    return ratio(10.0 * calibration->signed_sum, calibration->maximum_sum);
}

double calibration_miss(const struct calibration *calibration)
{
    return ratio(calibration->absolute_sum, calibration->scripts);
}

double calibration_miss_in_ten(const struct calibration *calibration)
{
    return ratio(10.0 * calibration->absolute_sum, calibration->maximum_sum);
}

/* The figure of `wanted` usable scripts, the first ones or the latest. */
static double miss_of_third(const struct calibration_script *scripts, size_t count, enum calibration_which which,
                            size_t wanted, bool latest)
{
    struct calibration third = CALIBRATION_EMPTY;
    for (size_t i = 0; i < count && third.scripts < (double)wanted; i++)
        calibration_add(&third, which, &scripts[latest ? count - 1 - i : i]);
    return calibration_miss_in_ten(&third);
}

enum calibration_trend calibration_trend_of(const struct calibration_script *scripts, size_t count,
                                            enum calibration_which which, double *early, double *late)
{
    struct calibration all = CALIBRATION_EMPTY;
    size_t usable = 0;
    for (size_t i = 0; i < count; i++)
        usable += calibration_add(&all, which, &scripts[i]) ? 1 : 0;
    *early = *late = NAN;
    if (usable < CALIBRATION_TREND_SCRIPTS)
        return CALIBRATION_TOO_FEW;
    *early = miss_of_third(scripts, count, which, usable / 3, false);
    *late = miss_of_third(scripts, count, which, usable / 3, true);
    if (*late < *early * (1.0 - STEADY_WITHIN))
        return CALIBRATION_SHRINKING;
    return *late > *early * (1.0 + STEADY_WITHIN) ? CALIBRATION_GROWING : CALIBRATION_STEADY;
}
