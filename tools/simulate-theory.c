#include "simulate-theory.h"

#include <math.h>

enum paper_draw { PAPER_TOPIC = 100, PAPER_OBJECTIVE, PAPER_WORD, PAPER_DIFFICULTY, PAPER_POINT, PAPER_FACET, PAPER_LENGTH,
                  PAPER_MARK };

void memory_begin(struct memory *memory, const struct theory *theory, const struct world *world, const struct person *person)
{
    *memory = (struct memory){.theory = theory, .world = world, .person = person};
    memory->state = theory->begin(memory);
}

void memory_end(struct memory *memory)
{
    memory->theory->end(memory->state);
    memory->state = NULL;
}

struct asked asked_of(const struct person *person, const struct question *question, size_t point, double boost)
{
    const struct point *p = &question->points[point];
    return (struct asked){p->topic, p->facet,
                          person->objective[question->objective] + person->word[question->word] - p->difficulty + boost};
}

double memory_answer(const struct memory *memory, const struct asked *asked, double day)
{
    return memory->theory->chance(memory, asked, day, day);
}

double memory_chance(const struct memory *memory, const struct asked *asked, double day)
{
    return memory->theory->chance(memory, asked, memory->practised, day);
}

void memory_practise(struct memory *memory, const struct asked *asked, double day, bool earned)
{
    memory->theory->practise(memory, asked, day, earned);
    memory->practised = day;
}

/* Difficulties of all papers: five points of Gauss and Hermite for a normal distribution (from memory). */
static double over_difficulties(const struct memory *memory, struct asked asked, double day)
{
    static const double at[] = {0.0, 1.3556261799742659, -1.3556261799742659, 2.8569700138728056, -2.8569700138728056};
    static const double weight[] = {0.53333333333333333, 0.22207592200561265, 0.22207592200561265, 0.011257411327720689,
                                    0.011257411327720689};
    double spread = sqrt(QUESTION_SPREAD * QUESTION_SPREAD + POINT_SPREAD * POINT_SPREAD), lean = asked.lean, sum = 0.0;
    for (size_t i = 0; i < sizeof at / sizeof *at; i++) {
        asked.lean = lean - spread * at[i];
        sum += weight[i] * memory_chance(memory, &asked, day);
    }
    return sum;
}

static double exam_topic(const struct memory *memory, size_t topic, double day)
{
    const struct person *person = memory->person;
    double sum = 0.0;
    for (size_t a = 0; a < OBJECTIVES; a++)
        for (size_t w = 0; w < WORDS; w++) {
            struct asked asked = {topic, (a + w) % FACETS, person->objective[a] + person->word[w]};
            sum += memory->world->mix[a] / WORDS * over_difficulties(memory, asked, day);
        }
    return sum;
}

double memory_exam(const struct memory *memory, double day)
{
    double sum = 0.0;
    for (size_t k = 0; k < TOPICS; k++)
        sum += memory->world->share[k] * exam_topic(memory, k, day);
    return sum;
}

/* ---- One paper ---- */

static struct asked paper_point(const struct memory *memory, uint64_t seed, uint64_t question, uint64_t point)
{
    const struct world *world = memory->world;
    const struct person *person = memory->person;
    size_t objective = draw_objective(world, draw_unit(seed, PAPER_OBJECTIVE, question, 0));
    size_t word = (size_t)(draw_unit(seed, PAPER_WORD, question, 0) * WORDS);
    double difficulty = QUESTION_SPREAD * draw_normal(seed, PAPER_DIFFICULTY, question, 0) +
                        POINT_SPREAD * draw_normal(seed, PAPER_POINT, question, point);
    return (struct asked){draw_topic(world, draw_unit(seed, PAPER_TOPIC, question, 0)),
                          (size_t)(draw_unit(seed, PAPER_FACET, question, point) * FACETS),
                          person->objective[objective] + person->word[word] - difficulty};
}

int memory_paper(const struct memory *memory, int marks, double day, uint64_t seed)
{
    int earned = 0, set = 0;
    for (uint64_t question = 0; set < marks; question++) {
        int length = 1 + (int)(draw_unit(seed, PAPER_LENGTH, question, 0) * POINTS_MOST);
        for (int i = 0; i < length && set < marks; i++, set++) {
            struct asked asked = paper_point(memory, seed, question, (uint64_t)i);
            earned += draw_unit(seed, PAPER_MARK, question, (uint64_t)i) < memory_chance(memory, &asked, day);
        }
    }
    return earned;
}
