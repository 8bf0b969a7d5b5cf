#include "simulate-run.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "base/random.h"

#define MONDAY ((moment)1767571200)         /* any Monday would do */
#define SESSION_HOUR (16.5 / 24.0)
#define EXAM_HOUR (9.0 / 24.0)
#define REPEAT_BOOST 1.2                    /* log-odds of meeting the very question again, fading over … */
#define REPEAT_DAYS 15.0
#define UNDER 0.02                          /* chance that an earned mark is not claimed */

enum draw { EARNED = 300, CLAIMED, MISSED_DAY, SHUFFLE };

moment run_moment(double day)
{
    return MONDAY + (moment)llround(day * 86400.0);
}

double run_minutes(const struct question *question)
{
    return (double)question->count * MINUTES_PER_MARK;
}

static void set_days(struct run *run)
{
    const struct calendar *calendar = run->calendar;
    assert(calendar->days <= DAYS_MOST);
    run->exam = (double)calendar->days + EXAM_HOUR;
    for (size_t day = 0; day < calendar->days; day++) {
        run->planned[day] = day % 7 < 5;
        run->studied[day] = run->planned[day] && draw_unit(run->person->seed, MISSED_DAY, day, 0) >= calendar->missed;
    }
}

static void shuffle(struct run *run)
{
    size_t count = run->world->question_count;
    for (size_t i = 0; i < count; i++)
        run->order[i] = i;
    for (size_t i = count; i > 1; i--) {
        size_t j = (size_t)(draw_unit(run->person->seed, SHUFFLE, i, 0) * (double)i), kept = run->order[j];
        run->order[j] = run->order[i - 1];
        run->order[i - 1] = kept;
    }
}

void run_begin(struct run *run, const struct world *world, const struct person *person, const struct theory *theory,
               const struct calendar *calendar, const struct policy *policy)
{
    struct learner_course course = world_course(world);
    *run = (struct run){.world = world, .person = person, .calendar = calendar, .policy = policy,
                        .previous_topic = LEARNER_NONE, .planned_on = LEARNER_NONE};
    memory_begin(&run->memory, theory, world, person);
    run->learner = learner_new(&course, NULL);
    for (size_t i = 0; i < world->question_count; i++)
        run->last[i] = NAN;
    for (size_t k = 0; k < TOPICS; k++)
        run->topic_last[k] = NAN;
    run->order = memory_get_zeroed(world->question_count, sizeof *run->order);
    shuffle(run);
    set_days(run);
}

void run_end(struct run *run)
{
    memory_end(&run->memory);
    learner_free(run->learner);
    free(run->order);
    free(run->blocks);
}

double run_allotted(const struct run *run)
{
    double minutes = 0.0;
    for (size_t day = 0; day < run->calendar->days; day++)
        minutes += run->studied[day] ? run->calendar->minutes : 0.0;
    return minutes;
}

bool run_minutes_are_fair(const struct run *run)
{
    double allotted = run_allotted(run), longest = POINTS_MOST * MINUTES_PER_MARK;
    return !run->policy->choose || (run->used <= allotted + 1e-6 && run->used > allotted - longest);
}

double run_marks(const struct run *run)
{
    return 100.0 * memory_exam(&run->memory, run->exam);
}

/* ---- A question ---- */

/* What the student ticks, which is all the program sees, and what is really earned and so remembered. */
static double mark_point(struct run *run, size_t number, size_t point)
{
    const struct question *question = &run->world->questions[number];
    double since = run->day - run->last[number];
    double boost = isnan(since) ? 0.0 : REPEAT_BOOST * exp(-since / REPEAT_DAYS);
    struct asked asked = asked_of(run->person, question, point, boost);
    uint64_t which = number * POINTS_MOST + point, seed = run->person->seed;
    bool earned = draw_unit(seed, EARNED, which, run->times[number]) < memory_answer(&run->memory, &asked, run->day);
    double slip = earned ? UNDER : person_over(run->person, run->marks);
    bool wrong = draw_unit(seed, CLAIMED, which, run->times[number]) < slip;
    memory_practise(&run->memory, &asked, run->day, earned);
    return earned != wrong ? 1.0 : 0.0;
}

static void tell_learner(struct run *run, size_t number, const double *got)
{
    const struct question *question = &run->world->questions[number];
    struct learner_mark marks[POINTS_MOST];
    double last = run->last[number];
    for (size_t i = 0; i < question->count; i++)
        marks[i] = (struct learner_mark){question->points[i].topic, question->objective, question->word, question->rating,
                                         got[i], 1.0, NAN};
    bool taken = learner_attempt(run->learner, run_moment(run->day), &last, marks, question->count);
    assert(taken);
    (void)taken;
}

static void keep_account(struct run *run, size_t number, const double *got)
{
    const struct question *question = &run->world->questions[number];
    for (size_t i = 0; i < question->count; i++)
        run->claimed[question->topic] += got[i];
    run->offered[question->topic] += (double)question->count;
    run->marks += (double)question->count;
    run->used += run_minutes(question);
    run->balance -= run_minutes(question);
    run->previous_topic = question->topic;
    run->topic_last[question->topic] = run->last[number] = run->day;
    run->met_today[question->topic] = run->asked[number] = true;
    run->times[number]++;
    run->done++;
    run->done_today++;
}

void run_answer(struct run *run, size_t number)
{
    const struct question *question = &run->world->questions[number];
    double got[POINTS_MOST];
    for (size_t i = 0; i < question->count; i++)
        got[i] = mark_point(run, number, i);
    tell_learner(run, number, got);
    keep_account(run, number, got);
    run->day += run_minutes(question) / 1440.0;
}

/* ---- A day ---- */

static void begin_day(struct run *run)
{
    run->day = (double)run->today + SESSION_HOUR;
    run->balance += run->calendar->minutes;
    run->previous_topic = LEARNER_NONE;
    run->done_today = 0;
    for (size_t i = 0; i < run->world->question_count; i++)
        run->asked[i] = false;
    for (size_t k = 0; k < TOPICS; k++)
        run->met_today[k] = false;
    if (run->policy->day_begins)
        run->policy->day_begins(run);
}

bool run_day(struct run *run)
{
    if (run->today >= run->calendar->days)
        return false;
    if (run->studied[run->today] && run->policy->choose) {
        size_t question;
        begin_day(run);
        while ((question = run->policy->choose(run)) != LEARNER_NONE &&
               run_minutes(&run->world->questions[question]) <= run->balance + 1e-9)
            run_answer(run, question);
    }
    run->today++;
    return true;
}
