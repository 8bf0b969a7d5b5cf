/* How well a student judges their own marks: predicted, first ticked, final.
 *
 * Two comparisons are kept apart: the prediction (made after planning) and the first ticks, each against
 * the final mark, which is the teacher's where there was moderation. A miss is theirs minus the final one:
 * above 0 means too hopeful. */
#ifndef OWNMARK_LEARNER_CALIBRATION_H
#define OWNMARK_LEARNER_CALIBRATION_H

#include <stdbool.h>
#include <stddef.h>

#define CALIBRATION_TREND_SCRIPTS 6     /* fewer scripts show no trend */

struct calibration_script {
    double predicted;       /* marks; NaN when not predicted */
    double first;           /* marks by the first ticks; NaN when there were none */
    double final;           /* marks as they stand */
    double maximum;         /* marks on offer, > 0 */
};

enum calibration_which { CALIBRATION_PREDICTED, CALIBRATION_FIRST };

/* Running sums for one comparison: adding a script costs the same however many came before. Start with
 * CALIBRATION_EMPTY. Plain doubles, so that they can be stored. */
struct calibration {
    double scripts;         /* that had both marks */
    double signed_sum;      /* marks */
    double absolute_sum;    /* marks */
    double maximum_sum;     /* marks on offer */
};
#define CALIBRATION_EMPTY ((struct calibration){0.0, 0.0, 0.0, 0.0})

/* False, and nothing changed, when the mark or the final mark is missing or not finite or the maximum is not
 * a number above 0. */
bool calibration_add(struct calibration *calibration, enum calibration_which which,
                     const struct calibration_script *script);

/* NaN while no script was added. */
double calibration_bias(const struct calibration *calibration);          /* mean signed miss, marks a script */
double calibration_bias_in_ten(const struct calibration *calibration);   /* sum signed / sum of maxima x 10 */
double calibration_miss(const struct calibration *calibration);          /* mean absolute miss, marks a script */
double calibration_miss_in_ten(const struct calibration *calibration);   /* sum absolute / sum of maxima x 10 */

/* Whether the misses shrink: the absolute miss in ten of the latest third of the scripts against the first
 * third (thirds rounded down, only scripts calibration_add would take). A change of at most a fifth of the
 * first figure is steady (judgement, no source). Oldest first; this one reads all scripts, O(count). */
enum calibration_trend { CALIBRATION_TOO_FEW, CALIBRATION_SHRINKING, CALIBRATION_STEADY, CALIBRATION_GROWING };
enum calibration_trend calibration_trend_of(const struct calibration_script *scripts, size_t count,
                                            enum calibration_which which, double *early, double *late);

#endif
