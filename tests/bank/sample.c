#include "sample.h"

#include <stdlib.h>

struct node sample_point(const char *id, int marks)
{
    return (struct node){.kind = NODE_POINT, .id = id, .marks = marks, .follow = true, .line = 30, .column = 9};
}

struct node sample_group(enum node_kind kind, int take, const struct node *children, size_t count)
{
    return (struct node){.kind = kind, .take = take, .children = children, .child_count = count, .line = 20,
                         .column = 7};
}

uint64_t sample_seed(uint64_t usual)
{
    const char *wanted = getenv("OWNMARK_SEED");
    return wanted ? strtoull(wanted, NULL, 0) : usual;
}

static void make_course(struct sample *s)
{
    s->objectives[0] = (struct objective){"AO1", "Know", 40, OBJECTIVE_KNOW};
    s->objectives[1] = (struct objective){"AO2", "Apply", 40, OBJECTIVE_APPLY};
    s->objectives[2] = (struct objective){"AO3", "Analyse", 20, OBJECTIVE_ANALYSE};
    s->skills[0] = (struct skill){"maths", "Mathematics", 20};
    s->skills[1] = (struct skill){"practical", "Practical work", 15};
    s->topics[TOPIC_WAVES] = (struct topic){.id = "waves", .name = "Waves", .parent = -1, .share = 50};
    s->topics[TOPIC_ENERGY] = (struct topic){.id = "waves.energy", .name = "Energy", .share = 30, .is_leaf = true};
    s->topics[TOPIC_TIDES] = (struct topic){.id = "waves.tides", .name = "Tides", .share = 20, .is_leaf = true};
    s->topics[TOPIC_SHORE] = (struct topic){.id = "shore", .name = "Shore", .parent = -1, .share = 50,
                                            .is_leaf = true};
    s->words[0] = (struct command_word){"calculate", 1, "Work out.", "Working.", NULL, false};
    s->words[1] = (struct command_word){"explain", 1, "Say why.", "Reasons.", NULL, true};
    s->constants[0] = (struct constant){"g", "9.81", "N/kg", "field strength"};
    s->constants[1] = (struct constant){"c", "3.00e8", "m/s", "speed of light"};
    s->course = (struct course){
        .name = "Coastal Science", .paper_marks = 60, .paper_minutes = 72, .minutes_per_mark = 1.2,
        .objectives = s->objectives, .objective_count = 3, .skills = s->skills, .skill_count = 2,
        .topics = s->topics, .topic_count = 4, .words = s->words, .word_count = 2,
        .constants = s->constants, .constant_count = 2,
    };
}

static void make_givens(struct sample *s)
{
    static const char *const heights[] = {"1.2", "1.5", "2.0"}, *const twelve[] = {"12"}, *const density[] = {"1030"};
    s->givens[0] = (struct given){.symbol = "H", .name = "height", .unit = "m", .form = GIVEN_CHOICE,
                                  .choices = heights, .choice_count = 3};
    s->givens[1] = (struct given){.symbol = "T", .name = "period", .unit = "s", .form = GIVEN_RANGE,
                                  .low = "6.0", .high = "9.0", .step = "0.5"};
    s->givens[2] = (struct given){.symbol = "n", .name = "waves", .unit = "", .form = GIVEN_FIXED,
                                  .choices = twelve, .choice_count = 1};
    s->givens[3] = (struct given){.symbol = "t", .name = "time", .unit = "s", .form = GIVEN_COMPUTED,
                                  .formula = "n*T", .places = 0};
    s->part_givens[0] = (struct given){.symbol = "rho", .name = "density", .unit = "kg m-3", .form = GIVEN_FIXED,
                                       .choices = density, .choice_count = 1};
}

static void make_schemes(struct sample *s)
{
    s->power = (struct number_key){.symbol = "P", .formula = "rho*g^2*H^2*T/(32*pi)", .unit = "W/m",
                                   .tolerance = 0.02, .tolerance_relative = true, .figures = 2, .places = -1};
    s->energy = (struct number_key){.symbol = "E", .formula = "P*50*60", .unit = "J", .tolerance = 0.02,
                                    .tolerance_relative = true, .places = -1};
    s->a[0] = sample_point("sub", 1);
    s->a[0].point_kind = POINT_METHOD;
    s->a[1] = sample_point("value", 1);
    s->a[1].point_kind = POINT_ACCURACY;
    s->a[1].number = &s->power;
    s->a[2] = sample_point("a.3", 1);
    s->b[0] = sample_point("b.1", 1);
    s->b[0].point_kind = POINT_METHOD;
    s->b[1] = sample_point("b.2", 1);
    s->b[1].point_kind = POINT_ACCURACY;
    s->b[1].number = &s->energy;
}

void sample_make(struct sample *s)
{
    *s = (struct sample){0};
    make_course(s);
    make_givens(s);
    make_schemes(s);
    s->skill_indices[0] = SKILL_MATHS;
    s->ask_runs[0] = (struct run){RUN_PLAIN, "The waves are this high: "};
    s->ask_runs[1] = (struct run){RUN_VALUE, "H"};
    s->ask_blocks[0] = (struct block){.kind = BLOCK_PARAGRAPH, .text = {s->ask_runs, 2}};
    s->stem_blocks[0] = s->ask_blocks[0];
    s->parts[0] = (struct part){.id = "a", .objective = 1, .word = WORD_CALCULATE, .marks = 3,
                                .skills = s->skill_indices, .skill_count = 1, .ask = {s->ask_blocks, 1},
                                .givens = s->part_givens, .given_count = 1, .line = 10, .column = 5};
    s->parts[0].scheme.root = sample_group(NODE_ALL, 0, s->a, 3);
    s->parts[1] = (struct part){.id = "b", .objective = 1, .word = WORD_CALCULATE, .marks = 2,
                                .ask = {s->ask_blocks, 1}, .line = 40, .column = 5};
    s->parts[1].scheme.root = sample_group(NODE_ALL, 0, s->b, 2);
    s->question = (struct question){.id = "w01", .topic = TOPIC_ENERGY, .marks = 5, .minutes = 6,
                                    .stem = {s->stem_blocks, 1}, .givens = s->givens, .given_count = 4,
                                    .parts = s->parts, .part_count = 2, .varied = true, .line = 3, .column = 3};
}
