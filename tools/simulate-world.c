#include "simulate-world.h"

#include <math.h>

#include "base/random.h"

#define TAUGHT_DAYS 150.0       /* the course was taught evenly over so many days before practice starts */
#define USUAL_QUESTIONS 400.0
#define RATED_STEP 0.7          /* as standing_difficulty: a step of demand */
#define RATED_MIDDLE 0.6745     /* half of the questions are rated as of middling demand */
#define RATING_CORRELATION 0.75
#define MAIN_TOPIC 0.8          /* of the points; the others are on any topic of the unit */
#define OVER_HALF_MARKS 300.0

enum what { SHARE, WORD_DIFFICULTY, OBJECTIVE, WORD, DIFFICULTY, RATING, POINTS, POINT_TOPIC, POINT_DIFFICULTY, FACET,
            ABILITY, UNIT_LEVEL, TOPIC_LEVEL, OWN_OBJECTIVE, OWN_WORD, SPEED, OVER };

double draw_unit(uint64_t seed, uint64_t what, uint64_t which, uint64_t time)
{
    const uint64_t keys[] = {what, which, time};
    struct random_source source = {seed};
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
        source.state = random_next(&source) ^ (keys[i] + 1) * UINT64_C(0x9e3779b97f4a7c15);
    return random_unit(&source);
}

/* Box and Muller. */
double draw_normal(uint64_t seed, uint64_t what, uint64_t which, uint64_t time)
{
    double u = draw_unit(seed, what, which, 2 * time), v = draw_unit(seed, what, which, 2 * time + 1);
    return sqrt(-2.0 * log(1.0 - u)) * cos(2.0 * acos(-1.0) * v);
}

static size_t draw_by(const double *share, size_t count, double unit)
{
    size_t i = 0;
    for (; i + 1 < count && unit >= share[i]; i++)
        unit -= share[i];
    return i;
}

size_t draw_topic(const struct world *world, double unit)
{
    return draw_by(world->share, TOPICS, unit);
}

size_t draw_objective(const struct world *world, double unit)
{
    return draw_by(world->mix, OBJECTIVES, unit);
}

/* ---- The course and its bank ---- */

static void make_course(struct world *world, uint64_t seed)
{
    static const double mix[OBJECTIVES] = {0.4, 0.4, 0.2};
    double sum = 0.0;
    for (size_t k = 0; k < TOPICS; k++) {
        world->unit[k] = k * UNITS / TOPICS;
        world->taught[k] = -TAUGHT_DAYS + TAUGHT_DAYS * ((double)k + 0.5) / TOPICS;
        world->share[k] = exp(0.5 * draw_normal(seed, SHARE, k, 0));
        sum += world->share[k];
    }
    for (size_t k = 0; k < TOPICS; k++)
        world->share[k] /= sum;
    for (size_t a = 0; a < OBJECTIVES; a++)
        world->mix[a] = mix[a];
    for (size_t w = 0; w < WORDS; w++)
        world->word_difficulty[w] = 0.2 * draw_normal(seed, WORD_DIFFICULTY, w, 0);
}

static size_t other_topic(const struct world *world, size_t topic, double unit)
{
    size_t a_unit = TOPICS / UNITS;
    return world->unit[topic] * a_unit + (size_t)(unit * (double)a_unit);
}

static double rating_of(double difficulty, double noise)
{
    double seen = RATING_CORRELATION * difficulty + sqrt(1.0 - RATING_CORRELATION * RATING_CORRELATION) * noise;
    return seen < -RATED_MIDDLE ? -RATED_STEP : seen > RATED_MIDDLE ? RATED_STEP : 0.0;
}

/* One to four points, 2.4 on average. */
static size_t points_of(double unit)
{
    static const double by_count[POINTS_MOST] = {0.25, 0.3, 0.25, 0.2};
    return 1 + draw_by(by_count, POINTS_MOST, unit);
}

static void make_question(struct world *world, uint64_t seed, size_t number, size_t topic)
{
    struct question *question = &world->questions[number];
    double difficulty = draw_normal(seed, DIFFICULTY, number, 0);
    question->topic = topic;
    question->objective = draw_objective(world, draw_unit(seed, OBJECTIVE, number, 0));
    question->word = (size_t)(draw_unit(seed, WORD, number, 0) * WORDS);
    question->rating = rating_of(difficulty, draw_normal(seed, RATING, number, 0));
    question->count = points_of(draw_unit(seed, POINTS, number, 0));
    for (size_t i = 0; i < question->count; i++) {
        struct point *point = &question->points[i];
        double where = draw_unit(seed, POINT_TOPIC, number, i);
        point->topic = i == 0 || where < MAIN_TOPIC ? topic
                                                    : other_topic(world, topic, (where - MAIN_TOPIC) / (1.0 - MAIN_TOPIC));
        point->facet = (size_t)(draw_unit(seed, FACET, number, i) * FACETS);
        point->difficulty = QUESTION_SPREAD * difficulty + POINT_SPREAD * draw_normal(seed, POINT_DIFFICULTY, number, i);
    }
}

/* As the shipped banks, it keeps to the course's shares. */
void world_make(struct world *world, uint64_t seed)
{
    make_course(world, seed);
    world->question_count = 0;
    for (size_t k = 0; k < TOPICS; k++) {
        size_t wanted = (size_t)fmax(3.0, round(USUAL_QUESTIONS * world->share[k]));
        world->first[k] = world->question_count;
        for (size_t i = 0; i < wanted && world->question_count < QUESTIONS_MOST; i++)
            make_question(world, seed, world->question_count++, k);
    }
    world->first[TOPICS] = world->question_count;
}

struct learner_course world_course(const struct world *world)
{
    static const enum learner_objective_kind kinds[OBJECTIVES] = {LEARNER_KNOW, LEARNER_APPLY, LEARNER_ANALYSE};
    return (struct learner_course){UNITS, TOPICS, OBJECTIVES, WORDS, world->unit, world->share, world->mix, kinds, NULL};
}

/* ---- The student ---- */

void person_make(struct person *person, const struct world *world, uint64_t seed)
{
    static const double kinds[OBJECTIVES] = {0.3, 0.0, -0.6};
    double ability = 0.8 * draw_normal(seed, ABILITY, 0, 0);
    person->seed = seed;
    for (size_t k = 0; k < TOPICS; k++)
        person->level[k] = ability + 0.5 * draw_normal(seed, UNIT_LEVEL, world->unit[k], 0) +
                           0.5 * draw_normal(seed, TOPIC_LEVEL, k, 0);
    for (size_t a = 0; a < OBJECTIVES; a++)
        person->objective[a] = kinds[a] + 0.2 * draw_normal(seed, OWN_OBJECTIVE, a, 0);
    for (size_t w = 0; w < WORDS; w++)
        person->word[w] = 0.3 * draw_normal(seed, OWN_WORD, w, 0) - world->word_difficulty[w];
    person->speed = exp(0.3 * draw_normal(seed, SPEED, 0, 0));
    person->over = 0.12 + 0.28 * draw_unit(seed, OVER, 0, 0);
}

double person_over(const struct person *person, double marks)
{
    return person->over * (0.5 + 0.5 * exp(-marks / OVER_HALF_MARKS));
}
