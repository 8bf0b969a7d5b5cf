/* What a day of a timetable may hold, and days that have room left. */
#include "learner/plan-inner.h"

#include <stdlib.h>

#include "base/memory.h"

enum { MOST_BLOCKS = 4 };

static bool is_taught(const struct learner *learner, size_t topic, moment day)
{
    moment taught = learner->course.taught[topic];
    return taught == LEARNER_UNKNOWN || taught <= day;
}

size_t learner_timetable_most(const struct learner *learner, moment day, size_t slots)
{
    size_t taught = 0;
    for (size_t k = 0; k < learner->course.topics; k++)
        taught += is_taught(learner, k, day);
    size_t half = (slots + 1) / 2, most = half < MOST_BLOCKS ? half : MOST_BLOCKS;
    size_t needed = taught > 0 ? (slots + taught - 1) / taught : slots;
    return most > needed ? most : needed;
}

struct filling {
    const struct learner *learner;
    size_t *so_far;     /* [topics]: blocks up to the day in hand */
    size_t *today;      /* [topics] */
};

/* LEARNER_NONE: no topic may come on that day any more. */
static size_t whose_turn(const struct filling *filling, moment day, size_t most)
{
    const struct learner_course *course = &filling->learner->course;
    size_t best = LEARNER_NONE;
    double least = 0.0;
    for (size_t k = 0; k < course->topics; k++) {
        double turns = (double)(filling->so_far[k] + 1) / course->share[k];
        bool may = course->share[k] > 0.0 && filling->today[k] < most && is_taught(filling->learner, k, day);
        if (may && (best == LEARNER_NONE || turns < least)) {
            best = k;
            least = turns;
        }
    }
    return best;
}

/* Counts what is placed on the day; returns the room that is left. */
static size_t take_day(struct filling *filling, size_t day, size_t slots, const struct learner_block *blocks, size_t count)
{
    for (size_t k = 0; k < filling->learner->course.topics; k++)
        filling->today[k] = 0;
    for (size_t i = 0; i < count; i++)
        if (blocks[i].day == day) {
            filling->today[blocks[i].topic]++;
            filling->so_far[blocks[i].topic]++;
            slots--;
        }
    return slots;
}

size_t plan_fill(const struct learner *learner, const moment *days, const size_t *slots, size_t day_count,
                 struct learner_block *blocks, size_t count)
{
    size_t topics = learner->course.topics, placed = count;
    struct filling filling = {learner, memory_get_zeroed(topics, sizeof(size_t)), memory_get_zeroed(topics, sizeof(size_t))};
    for (size_t d = 0; d < day_count; d++) {
        size_t most = learner_timetable_most(learner, days[d], slots[d]), topic = 0;
        for (size_t room = take_day(&filling, d, slots[d], blocks, placed); room > 0 && topic != LEARNER_NONE; room--) {
            topic = whose_turn(&filling, days[d], most);
            if (topic == LEARNER_NONE)
                continue;
            blocks[count++] = (struct learner_block){d, topic};
            filling.so_far[topic]++;
            filling.today[topic]++;
        }
    }
    free(filling.so_far);
    free(filling.today);
    return count;
}
