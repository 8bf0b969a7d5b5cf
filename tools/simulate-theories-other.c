/* All-or-none facets, and traces on many scales of time. */
#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "simulate-theory.h"

const struct theory *const theories[THEORIES] = {&theory_activation, &theory_stability, &theory_facets, &theory_traces};

enum draw { LEARNT = 200, LIFETIME, FORM };

/* ---- Facets: each of a topic's four is known or not. Practice of an unknown one may teach it; a known one is unlearnt at
 * random, at the same rate always, so that spacing as such is worth nothing here (judgement). ---- */

#define KNOWN_WHEN_TAUGHT 0.8   /* log-odds that a facet is known after its lessons, for an average student */
#define DAYS_KNOWN 90.0         /* mean time until it is unlearnt */
#define LEARNT_FROM_MISS 0.3    /* chance, times speed */
#define LEARNT_FROM_LUCK 0.15
#define KNOWN_LEVEL 2.2         /* log-odds of the mark: the rest are slips … */
#define UNKNOWN_LEVEL (-2.0)    /* … and guesses */
#define LEAN_WEIGHT 0.6         /* of difficulty, objective and word: they make slips and guesses likelier */

struct facet { double until; unsigned tried; };

static double lifetime(const struct memory *memory, size_t number, unsigned time)
{
    return -DAYS_KNOWN * log(1.0 - draw_unit(memory->person->seed, LIFETIME, number, time));
}

static void *facets_begin(const struct memory *memory)
{
    struct facet *facets = memory_get_zeroed(TOPICS * FACETS, sizeof *facets);
    for (size_t i = 0; i < TOPICS * FACETS; i++) {
        double known = learner_logistic(memory->person->level[i / FACETS] + KNOWN_WHEN_TAUGHT);
        bool learnt = draw_unit(memory->person->seed, LEARNT, i, 0) < known;
        facets[i].until = learnt ? memory->world->taught[i / FACETS] + lifetime(memory, i, 0) : -INFINITY;
    }
    return facets;
}

static double facets_chance(const struct memory *memory, const struct asked *asked, double from, double day)
{
    const struct facet *facet = &((const struct facet *)memory->state)[asked->topic * FACETS + asked->facet];
    double known = facet->until > from ? exp(-(day - from) / DAYS_KNOWN) : 0.0;
    double lean = LEAN_WEIGHT * asked->lean;
    return known * learner_logistic(KNOWN_LEVEL + lean) + (1.0 - known) * learner_logistic(UNKNOWN_LEVEL + lean);
}

static void facets_practise(struct memory *memory, const struct asked *asked, double day, bool earned)
{
    size_t number = asked->topic * FACETS + asked->facet;
    struct facet *facet = &((struct facet *)memory->state)[number];
    if (facet->until > day)
        return;
    double chance = memory->person->speed * (earned ? LEARNT_FROM_LUCK : LEARNT_FROM_MISS);
    facet->tried++;
    if (draw_unit(memory->person->seed, LEARNT, number, facet->tried) < chance)
        facet->until = day + lifetime(memory, number, facet->tried);
}

const struct theory theory_facets = {"G3", "all-or-none facets, slips, guesses", facets_begin, free, facets_chance,
                                     facets_practise};

/* ---- Traces that fade over half a day to 128 days. Practice adds to each in proportion to what is still missing from their
 * sum, so that a second go at once adds little; a part goes to the other topics of the unit. The day's form and lapses come
 * on top (judgement). Kept aside: nothing in the program may be tuned on it. ---- */

enum { SCALES = 9 };
#define SHORTEST_SCALE 0.5      /* days; each is twice the one before */
#define STEP 0.6                /* to the fastest trace … */
#define STEP_FALL 0.8           /* … and so much of that to each slower one */
#define UNEARNED_STEP 0.7
#define TRANSFER 0.1
#define TRACE_WEIGHT 5.0        /* log-odds of all traces full */
#define TRACE_ZERO 1.8
#define FORM_SPREAD 0.3
#define LAPSES 0.03

struct scales { double day, level[SCALES]; };

static double trace_fall(int scale, double days)
{
    return exp(-fmax(days, 0.0) / ldexp(SHORTEST_SCALE, scale));
}

static double trace_sum(const struct scales *topic, double day)
{
    double sum = 0.0;
    for (int j = 0; j < SCALES; j++)
        sum += topic->level[j] * trace_fall(j, day - topic->day) / SCALES;
    return sum;
}

static void add_to_traces(struct scales *topic, double day, double part)
{
    double missing = fmax(1.0 - trace_sum(topic, day), 0.0), step = STEP * part;
    for (int j = 0; j < SCALES; j++, step *= STEP_FALL)
        topic->level[j] = topic->level[j] * trace_fall(j, day - topic->day) + step * missing;
    topic->day = day;
}

static void *traces_begin(const struct memory *memory)
{
    struct scales *topics = memory_get_zeroed(TOPICS, sizeof *topics);
    for (size_t k = 0; k < TOPICS; k++)
        for (int i = 0; i < 8; i++) {
            double day = memory->world->taught[k] + 3.0 * (i / 4) + (i % 4) * 10.0 / 1440.0;
            if (i == 0)
                topics[k].day = day;
            add_to_traces(&topics[k], day, memory->person->speed);
        }
    return topics;
}

static double traces_chance(const struct memory *memory, const struct asked *asked, double from, double day)
{
    const struct scales *topics = memory->state;
    (void)from;
    double form = FORM_SPREAD * draw_normal(memory->person->seed, FORM, (uint64_t)floor(day), 0);
    double level = TRACE_WEIGHT * trace_sum(&topics[asked->topic], day) - TRACE_ZERO;
    return (1.0 - LAPSES) * learner_logistic(memory->person->level[asked->topic] + asked->lean + level + form);
}

static void traces_practise(struct memory *memory, const struct asked *asked, double day, bool earned)
{
    struct scales *topics = memory->state;
    double part = memory->person->speed * (earned ? 1.0 : UNEARNED_STEP);
    add_to_traces(&topics[asked->topic], day, part);
    for (size_t k = 0; k < TOPICS; k++)
        if (k != asked->topic && memory->world->unit[k] == memory->world->unit[asked->topic])
            add_to_traces(&topics[k], day, TRANSFER * part);
}

const struct theory theory_traces = {"G4", "traces on many scales of time", traces_begin, free, traces_chance, traces_practise};
