#include "learner/next.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "learner/effects.h"

#define REST_PART 0.5           /* of the days left */
#define REST_LEAST 1.0          /* days */
#define FORESEEN ((moment)LEARNER_NEXT_FORESEEN * 86400)

struct learner_next {
    const struct learner *learner;
    struct learner_open *of_topic;      /* [topics]; id LEARNER_NONE: none */
};

struct learner_next *learner_next_begin(const struct learner *learner)
{
    struct learner_next *next = memory_get_zeroed(1, sizeof *next);
    next->learner = learner;
    next->of_topic = memory_get_zeroed(learner->course.topics, sizeof *next->of_topic);
    learner_next_forget(next);
    return next;
}

void learner_next_free(struct learner_next *next)
{
    if (!next)
        return;
    free(next->of_topic);
    free(next);
}

void learner_next_forget(struct learner_next *next)
{
    for (size_t i = 0; i < next->learner->course.topics; i++)
        next->of_topic[i].id = LEARNER_NONE;
}

void learner_next_offer(struct learner_next *next, const struct learner_open *open)
{
    assert(open->topic < next->learner->course.topics && open->id != LEARNER_NONE);
    struct learner_open *kept = &next->of_topic[open->topic];
    if (kept->id == LEARNER_NONE || open->met < kept->met)
        *kept = *open;
}

double learner_next_rest(double rested, double left)
{
    return isnan(rested) ? 1.0 : 1.0 - exp(-fmax(rested, 0.0) / fmax(REST_PART * left, REST_LEAST));
}

struct learner_choice learner_next_choose(const struct learner_next *next, const struct learner_setting *setting)
{
    moment exam = setting->exam - setting->now > FORESEEN ? setting->now + FORESEEN : setting->exam;
    struct learner_chooser *chooser = learner_choose_begin(next->learner, setting->now, exam, setting->previous_topic);
    double now = effect_days(setting->now), left = effect_days(setting->exam) - now;
    for (size_t topic = 0; topic < next->learner->course.topics; topic++) {
        const struct learner_open *open = &next->of_topic[topic];
        size_t topics[LEARNER_NEXT_MARKS];
        if (open->id == LEARNER_NONE)
            continue;
        for (size_t i = 0; i < LEARNER_NEXT_MARKS; i++)
            topics[i] = topic;
        const struct learner_candidate candidate = {open->id, LEARNER_NEXT_MARKS * setting->minutes_per_mark, topics,
                                                    LEARNER_NEXT_MARKS, open->attempted};
        learner_choose_offer_weighted(chooser, &candidate, learner_next_rest(now - next->learner->last[topic], left));
    }
    struct learner_choice choice = learner_choose_result(chooser);
    learner_choose_free(chooser);
    return choice;
}

size_t learner_next_any(const struct learner_next *next)
{
    for (size_t topic = 0; topic < next->learner->course.topics; topic++)
        if (next->of_topic[topic].id != LEARNER_NONE)
            return next->of_topic[topic].id;
    return LEARNER_NONE;
}
