/* The ways of choosing: the program's own, by its own library, and those it is held against. */
#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "learner/next.h"
#include "simulate-run.h"

#define EQUAL_INTERVAL 10.0     /* days */
enum { BLOCK_MINUTES = 4 };     /* as the program's timetable */

/* ---- The program's ---- */

static void offer_topic(const struct run *run, struct learner_next *next, size_t topic)
{
    for (size_t i = run->world->first[topic]; i < run->world->first[topic + 1]; i++)
        if (!run->asked[i]) {
            double last = run->last[i];
            learner_next_offer(next, &(struct learner_open){i, topic, isnan(last) ? NO_MOMENT : run_moment(last),
                                                            isnan(last) ? last : (double)run_moment(last) / 86400.0});
        }
}

/* As practise does, with --topic when one is given. */
static size_t choose_by_gain(const struct run *run, size_t only)
{
    const struct learner_setting setting = {run_moment(run->day), run_moment(run->exam), run->previous_topic,
                                            MINUTES_PER_MARK};
    struct learner_next *next = learner_next_begin(run->learner);
    for (size_t k = 0; k < TOPICS; k++)
        if (only == LEARNER_NONE || only == k)
            offer_topic(run, next, k);
    struct learner_choice choice = learner_next_choose(next, &setting);
    learner_next_free(next);
    return choice.found ? choice.id : LEARNER_NONE;
}

static size_t gain_now(struct run *run)
{
    return choose_by_gain(run, LEARNER_NONE);
}

static size_t days_ahead(const struct run *run, moment *moments, size_t *slots, size_t *days)
{
    size_t count = 0;
    for (size_t day = run->today; day < run->calendar->days; day++) {
        if (!run->planned[day])
            continue;
        moments[count] = run_moment((double)day + (run->day - (double)run->today));
        slots[count] = (size_t)lround(run->calendar->minutes / BLOCK_MINUTES);
        days[count++] = day;
    }
    return count;
}

static double kept_so_far(const struct run *run)
{
    size_t kept = 0, planned = 0;
    for (size_t day = 0; day < run->today; day++) {
        kept += run->studied[day];
        planned += run->planned[day];
    }
    return learner_timetable_kept(kept, planned);
}

static void make_timetable(struct run *run)
{
    moment moments[DAYS_MOST];
    size_t slots[DAYS_MOST], likely[DAYS_MOST], days[DAYS_MOST], room = 0, count = days_ahead(run, moments, slots, days);
    learner_timetable_likely(kept_so_far(run), slots, count, likely);
    for (size_t i = 0; i < count; i++)
        room += slots[i];
    free(run->blocks);
    run->blocks = memory_get_zeroed(room + 1, sizeof *run->blocks);
    run->block_count = learner_timetable_spread(run->learner, moments, slots, likely, count, run_moment(run->exam),
                                         LEARNER_BLOCK_MARKS, run->blocks);
    learner_timetable_order(run->learner, run_moment(run->day), run->blocks, run->block_count);
    for (size_t i = 0; i < run->block_count; i++)
        run->blocks[i].day = days[run->blocks[i].day];
    run->planned_on = run->today;
}

static bool missed_since(const struct run *run, size_t day)
{
    for (; day < run->today; day++)
        if (run->planned[day] && !run->studied[day])
            return true;
    return false;
}

/* Made anew in each week, and after a missed day. */
static void open_timetable(struct run *run)
{
    if (run->planned_on == LEARNER_NONE || run->planned_on / 7 != run->today / 7 || missed_since(run, run->planned_on))
        make_timetable(run);
    run->next_block = 0;
    while (run->next_block < run->block_count && run->blocks[run->next_block].day < run->today)
        run->next_block++;
}

/* A question for each of the day's blocks; what minutes are left go to where they gain most. */
static size_t by_timetable(struct run *run)
{
    size_t block = run->next_block + run->done_today;
    bool planned = block < run->block_count && run->blocks[block].day == run->today;
    size_t question = planned ? choose_by_gain(run, run->blocks[block].topic) : LEARNER_NONE;
    return question == LEARNER_NONE ? gain_now(run) : question;
}

/* ---- The others. Within a topic they too take the question not met yet, else the one left longest. ---- */

static size_t longest_left(const struct run *run, size_t topic)
{
    size_t best = run->world->first[topic];
    for (size_t i = best + 1; i < run->world->first[topic + 1]; i++) {
        if (isnan(run->last[best]))
            break;
        if (isnan(run->last[i]) || run->last[i] < run->last[best])
            best = i;
    }
    return best;
}

static size_t in_random_order(struct run *run)
{
    return run->order[run->done % run->world->question_count];
}

/* Lowest first, by a figure for each topic. */
static size_t lowest_topic(const struct run *run, double (*figure)(const struct run *run, size_t topic), bool once_a_day)
{
    size_t best = LEARNER_NONE;
    double least = INFINITY;
    for (size_t k = 0; k < TOPICS; k++) {
        double value = figure(run, k);
        if (value < least && !(once_a_day && run->met_today[k])) {
            least = value;
            best = k;
        }
    }
    return longest_left(run, best);
}

/* A topic without marks comes first. */
static double own_mean(const struct run *run, size_t topic)
{
    return run->offered[topic] > 0.0 ? run->claimed[topic] / run->offered[topic] : -1.0;
}

static size_t weakest_first(struct run *run)
{
    return lowest_topic(run, own_mean, false);
}

static size_t weakest_once_a_day(struct run *run)
{
    return lowest_topic(run, own_mean, true);
}

/* Most overdue first; topics never met in the order of the course before all others. */
static double minus_overdue(const struct run *run, size_t topic)
{
    double last = run->topic_last[topic];
    return isnan(last) ? -1e9 : -(run->day - last - EQUAL_INTERVAL);
}

static size_t equal_spacing(struct run *run)
{
    return lowest_topic(run, minus_overdue, true);
}

/* The interval is in proportion to 1 / share. */
static double minus_overdue_by_share(const struct run *run, size_t topic)
{
    double last = run->topic_last[topic];
    return -run->world->share[topic] * (isnan(last) ? 1e9 : run->day - last);
}

static size_t spacing_by_share(struct run *run)
{
    return lowest_topic(run, minus_overdue_by_share, true);
}

/* One pass through the whole course from the start to two months before the exam, one to two weeks, one to two days, one
 * after that; in each pass every topic gets one visit of equal minutes. The student knows beforehand which days will be
 * missed, so that each pass is complete. */
static size_t staged(struct run *run)
{
    static const double starts[] = {1e9, 60.0, 14.0, 2.0, 0.0};
    double left = (double)run->calendar->days - (double)run->today, all = 0.0, gone = run->calendar->minutes - run->balance;
    size_t stage = 0;
    while (left <= starts[stage + 1])
        stage++;
    for (size_t day = 0; day < run->calendar->days; day++) {
        double ahead = (double)run->calendar->days - (double)day;
        bool inside = ahead <= starts[stage] && ahead > starts[stage + 1] && run->studied[day];
        all += inside ? run->calendar->minutes : 0.0;
        gone += inside && day < run->today ? run->calendar->minutes : 0.0;
    }
    double topic = floor(TOPICS * fmax(gone, 0.0) / all);
    return longest_left(run, (size_t)fmin(topic, TOPICS - 1));
}

/* By turns, for students who now and then follow the program. */
static size_t mixed(struct run *run)
{
    return run->today % 2 ? gain_now(run) : in_random_order(run);
}

const struct policy policies[POLICIES] = {
    {"no practice", false, NULL, NULL},
    {"our choice, gain now", true, NULL, gain_now},
    {"our timetable, weekly", true, open_timetable, by_timetable},
    {"random order", false, NULL, in_random_order},
    {"weakest first", false, NULL, weakest_first},
    {"weakest, once a day", false, NULL, weakest_once_a_day},
    {"equal spacing", false, NULL, equal_spacing},
    {"spacing by share", false, NULL, spacing_by_share},
    {"staged habit", false, NULL, staged},
};

const struct policy policy_mixed = {"mixed", false, NULL, mixed};
