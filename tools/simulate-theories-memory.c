/* Theories of memory strength: activation, and stability. */
#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "simulate-theory.h"

#define LESSONS 2               /* a topic is taught in two lessons … */
#define LESSON_GAP 3.0          /* … so many days apart … */
#define LESSON_TRACES 4         /* … of so many exercises, ten minutes apart */
#define TEN_MINUTES (10.0 / 1440.0)

/* ---- Activation: each practice leaves a trace that fades as a power of time, the faster the more active the memory was
 * when it was laid down (Pavlik & Anderson 2005, decay = c e^activation + a, time between sessions counted for less; c, a
 * and the factor from memory). ---- */

#define DECAY_SCALE 0.217
#define DECAY_LEAST 0.177
#define BETWEEN_SESSIONS 0.025
#define SESSION_SECONDS 3600.0
#define ACTIVATION_WEIGHT 1.5   /* log-odds a unit of activation */
#define ACTIVATION_ZERO (-0.4)     /* activation of even chances for an average student and point */

struct trace { double day, decay; };
struct traces { struct trace *items; size_t count, capacity; };

static double counted_seconds(double from, double to)
{
    double seconds = fmax((to - from) * 86400.0, 60.0);
    return fmin(seconds, SESSION_SECONDS) + BETWEEN_SESSIONS * fmax(seconds - SESSION_SECONDS, 0.0);
}

/* e^activation. */
static double odds_of_traces(const struct traces *traces, double speed, double day)
{
    double sum = 0.0;
    for (size_t i = 0; i < traces->count; i++)
        sum += speed * pow(counted_seconds(traces->items[i].day, day), -traces->items[i].decay);
    return sum;
}

static void add_trace(struct traces *traces, double speed, double day)
{
    double decay = DECAY_SCALE * odds_of_traces(traces, speed, day) + DECAY_LEAST;
    if (traces->count == traces->capacity) {
        traces->capacity = traces->capacity ? 2 * traces->capacity : 32;
        traces->items = memory_resize_array(traces->items, traces->capacity, sizeof *traces->items);
    }
    traces->items[traces->count++] = (struct trace){day, decay};
}

static void *activation_begin(const struct memory *memory)
{
    struct traces *topics = memory_get_zeroed(TOPICS, sizeof *topics);
    for (size_t k = 0; k < TOPICS; k++)
        for (int i = 0; i < LESSONS * LESSON_TRACES; i++)
            add_trace(&topics[k], memory->person->speed, memory->world->taught[k] + LESSON_GAP * (i / LESSON_TRACES) +
                                                             TEN_MINUTES * (i % LESSON_TRACES));
    return topics;
}

static void activation_end(void *state)
{
    struct traces *topics = state;
    for (size_t k = 0; k < TOPICS; k++)
        free(topics[k].items);
    free(topics);
}

static double activation_chance(const struct memory *memory, const struct asked *asked, double from, double day)
{
    const struct traces *topics = memory->state;
    (void)from;
    double activation = log(odds_of_traces(&topics[asked->topic], memory->person->speed, day));
    return learner_logistic(memory->person->level[asked->topic] + asked->lean +
                            ACTIVATION_WEIGHT * (activation - ACTIVATION_ZERO));
}

static void activation_practise(struct memory *memory, const struct asked *asked, double day, bool earned)
{
    struct traces *topics = memory->state;
    (void)earned;       /* the mark scheme is read either way */
    add_trace(&topics[asked->topic], memory->person->speed, day);
}

const struct theory theory_activation = {"G1", "activation, decay by spacing", activation_begin, activation_end,
                                         activation_chance, activation_practise};

/* ---- Stability: what is retained falls exponentially; a success renews it and makes it more stable, the more so the more
 * had been forgotten (judgement). ---- */

#define FIRST_STABILITY 15.0    /* days */
#define MOST_STABILITY 200.0
#define SUCCESS_GROWTH 1.2
#define FAILURE_GROWTH 0.3
#define FAILURE_RENEWAL 0.5
#define FORGOTTEN (-1.8)        /* log-odds of an average student and point with nothing retained … */
#define RETAINED 0.8            /* … and with all */

struct retention { double day, retained, stability; };

static double retained_on(const struct retention *topic, double day)
{
    return topic->retained * exp(-fmax(day - topic->day, 0.0) / topic->stability);
}

static void *stability_begin(const struct memory *memory)
{
    struct retention *topics = memory_get_zeroed(TOPICS, sizeof *topics);
    for (size_t k = 0; k < TOPICS; k++)
        topics[k] = (struct retention){memory->world->taught[k], 1.0, FIRST_STABILITY * memory->person->speed};
    return topics;
}

static double stability_chance(const struct memory *memory, const struct asked *asked, double from, double day)
{
    const struct retention *topics = memory->state;
    (void)from;
    double level = FORGOTTEN + (RETAINED - FORGOTTEN) * retained_on(&topics[asked->topic], day);
    return learner_logistic(memory->person->level[asked->topic] + asked->lean + level);
}

static void stability_practise(struct memory *memory, const struct asked *asked, double day, bool earned)
{
    struct retention *topic = &((struct retention *)memory->state)[asked->topic];
    double retained = retained_on(topic, day), growth = earned ? SUCCESS_GROWTH : FAILURE_GROWTH;
    topic->stability = fmin(topic->stability * (1.0 + growth * memory->person->speed * (1.0 - retained)), MOST_STABILITY);
    topic->retained = earned ? 1.0 : retained + FAILURE_RENEWAL * (1.0 - retained);
    topic->day = day;
}

const struct theory theory_stability = {"G2", "stability growing with spaced success", stability_begin, free,
                                        stability_chance, stability_practise};
