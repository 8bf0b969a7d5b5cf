/* Points in words, numbers, and what goes to the award. Verdicts are those of a careful marker; from memory. */
#include "trial.h"

#include "answer/evidence.h"
#include "base/random.h"

static const struct node points[] = {
    POINT("the limpet dries out less", .id = "dry", KEYS(WORD("dry", "dries", "desiccation"))),
    POINT("more time to feed", .id = "feed", KEYS(WORD("feed")), .accepts = {TEXTS("feeds for longer")}),
    POINT("power is energy for each second", .id = "power", KEYS(WORD("energy"), WORD("second", "rate")),
          .ignores = {TEXTS("strength")}, .rejects = {TEXTS("force times time", "energy on its own")}),
    POINT("wave height increases", .id = "height", KEYS(WORD("height"))),
    POINT("the chalk dissolves in acid rain", .id = "own"),
};

static const struct node root = {.kind = NODE_ALL, .children = points, .child_count = 5};

struct asked {
    struct part part;
    struct question question;
    struct evidence_ask ask;
};

static struct asked *asked_new(struct arena *arena, struct node scheme, int word, const char *ask)
{
    struct asked *asked = arena_get(arena, sizeof *asked);
    struct run *run = arena_get(arena, sizeof *run);
    struct block *block = arena_get(arena, sizeof *block);
    *run = (struct run){RUN_PLAIN, ask};
    *block = (struct block){.kind = BLOCK_PARAGRAPH, .text = {run, 1}};
    asked->part = (struct part){.id = "a", .word = word, .marks = 3, .ask = {block, 1}, .scheme = {.root = scheme, .unit_penalty = true}};
    asked->question = (struct question){.id = "q", .parts = &asked->part, .part_count = 1};
    asked->ask = (struct evidence_ask){.course = &trial_course, .question = &asked->question, .part = &asked->part};
    return asked;
}

static void expect_point(const char *id, const char *answer, const char *verdict, const char *ground)
{
    struct arena *arena = arena_new();
    struct asked *asked = asked_new(arena, root, EXPLAIN, "Explain why a limpet lives low down.");
    const struct point_evidence *found = evidence_point(evidence_of(&asked->ask, answer, arena), id);
    cr_assert(found);
    cr_expect(strcmp(evidence_verdict_name(found->verdict), verdict) == 0 && strcmp(evidence_ground_name(found->ground), ground) == 0,
              "%s: '%s' is %s by %s: %s", id, answer, evidence_verdict_name(found->verdict), evidence_ground_name(found->ground),
              found->reason);
    arena_free(arena);
}

Test(answer, points_in_words)
{
    static const struct { const char *id, *answer, *verdict, *ground; } cases[] = {
        {"dry", "The limpet dries out less.", "earned", "keys"},
        {"dry", "less desiccation", "earned", "keys"},
        {"dry", "less desication", "earned", "keys"},
        {"dry", "It dries.", "cant-tell", "no-direction"},
        {"dry", "It dries more", "cant-tell", "opposite"},
        {"dry", "more desiccation", "not-earned", "opposite"},
        {"dry", "It does not dry out", "earned", "keys"},
        {"dry", "dry dry dry less wet", "earned", "keys"},
        {"feed", "it feeds for longer", "earned", "accept"},
        {"feed", "it has more time in which it can feed", "earned", "keys"},
        {"feed", "It never feeds for longer", "not-earned", "negated"},
        {"power", "energy per second", "earned", "keys"},
        {"power", "energy", "not-earned", "rejected"},
        {"power", "the rate of transfer of energy", "earned", "keys"},
        {"power", "it is the strength", "not-earned", "ignored"},
        {"power", "energy per second, that is force times time", "not-earned", "rejected"},
        {"power", "energy per second, not force times time", "earned", "keys"},
        {"height", "the height increases", "earned", "keys"},
        {"height", "the hieght increases", "earned", "keys"},
        {"height", "the weight increases", "cant-tell", "no-words"},
        {"height", "the height decreases", "not-earned", "opposite"},
        {"height", "the wave height goes up", "earned", "keys"},
        {"height", "the height decreases as the fetch shrinks", "cant-tell", "opposite"},
        {"height", "the height increases. The height decreases.", "not-earned", "contradicted"},
        {"height", "It is not true that on any open beach the wave height increases", "cant-tell", "negated"},
        {"height", "It is wrong that the wave height increases", "cant-tell", "negated"},
        {"height", "It is true that the wave height increases", "earned", "keys"},
        {"own", "acid rain dissolves chalk", "earned", "own-words"},
        {"own", "no acid rain dissolves chalk", "cant-tell", "some-words"},
        {"own", "nobody can say", "cant-tell", "no-words"},
        {"dry", "", "cant-tell", "blank"},
        {"dry", " ?! ", "cant-tell", "blank"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        expect_point(cases[i].id, cases[i].answer, cases[i].verdict, cases[i].ground);
}

/* What kills a point goes to the award, and only when it is plain. */
Test(answer, rejects_and_contradictions_for_the_award)
{
    struct arena *arena = arena_new();
    struct asked *asked = asked_new(arena, root, EXPLAIN, "Explain why.");
    struct point_input inputs[5] = {{.tick = TICK_YES, .crossed_out = true}};
    evidence_numbers(evidence_of(&asked->ask, "force times time; height increases, height decreases", arena), inputs, 5);
    cr_expect(inputs[2].rejected && strcmp(inputs[2].rejected_words, "force times time") == 0);
    cr_expect(inputs[3].contradicted && !inputs[3].rejected);
    cr_expect(inputs[0].tick == TICK_YES && inputs[0].crossed_out && !inputs[0].rejected && !inputs[0].contradicted);
    arena_free(arena);
}

Test(answer, mussels_rise_because_fewer_are_eaten)
{
    const struct node mussels[] = {POINT("the number of mussels rises", .id = "more", KEYS(WORD("rises", "more")),
                                                .rejects = {TEXTS("mussels decrease")})};
    struct arena *arena = arena_new();
    struct asked *asked = asked_new(arena, (struct node){.kind = NODE_ALL, .children = mussels, .child_count = 1}, STATE,
                                    "State what happens.");
    const struct evidence *evidence = evidence_of(&asked->ask, "The number of mussels rises because fewer are eaten.", arena);
    cr_expect_eq(evidence->points[0].verdict, LOOKS_EARNED);
    cr_expect_not(evidence->points[0].rejected);
    evidence = evidence_of(&asked->ask, "mussels decrease", arena);
    cr_expect(evidence->points[0].rejected);
    arena_free(arena);
}

/* ---- Numbers ------------------------------------------------------------------------------------- */

/* Area 2 m × 3 m = 6 m², pressure 30 N / 6 m² = 5 Pa: worked out by hand. */
static const struct bound_value bound[] = {{"a", "2", "m", 2, false}, {"b", "3", "m", 3, false}, {"F", "30", "N", 30, false},
                                           {"A", "6.00", "m^2", 6, true}, {"p", "5.00", "Pa", 5, true}};
static const struct values values = {bound, 5};
static const struct node area[] = {POINT("multiplies the sides", .id = "m", .point_kind = POINT_METHOD, .rejects = {TEXTS("multiplies by 3.5")}),
                                   POINT("area", .id = "area", .point_kind = POINT_ACCURACY,
                                         .number = KEY(.symbol = "A", .formula = "a*b", .unit = "m^2"))};
static const struct node pressure[] = {POINT("pressure", .id = "pressure",
                                             .number = KEY(.symbol = "p", .formula = "F/A", .unit = "Pa", .figures = 2))};
static const struct part both[] = {
    {.id = "a", .word = CALCULATE, .marks = 2, .ask = BLOCKS("Calculate the area."),
     .scheme = {.root = {.kind = NODE_ALL, .children = area, .child_count = 2}, .unit_penalty = true}},
    {.id = "b", .word = CALCULATE, .marks = 1, .ask = BLOCKS("Calculate the pressure."),
     .scheme = {.root = {.kind = NODE_ALL, .children = pressure, .child_count = 1}, .unit_penalty = true}},
};
static const struct question two_parts = {.id = "q", .parts = both, .part_count = 2};

static const struct evidence *evidence_on(size_t part, const char *answer, const char *before, struct arena *arena)
{
    struct evidence_ask *ask = arena_get(arena, sizeof *ask);
    *ask = (struct evidence_ask){&trial_course, &two_parts, &both[part], &values, NULL, NULL, 0};
    if (before)
        ask->own = answer_own_values(&trial_course, &two_parts, &values, (const char *const[]){before, NULL}, 1,
                                     &ask->own_count, arena);
    return evidence_of(ask, answer, arena);
}

Test(answer, points_with_numbers)
{
    static const struct {
        size_t part;
        const char *before, *answer, *ground;
        enum evidence_verdict verdict;
        enum value_shown value;
        enum unit_shown unit;
        enum working_shown working;
    } cases[] = {
        {0, NULL, "2 × 3 = 6.0 m^2", "number-right", LOOKS_EARNED, VALUE_RIGHT, UNIT_FITS, WORKING_SEEN},
        {0, NULL, "6.0 m2", "number-right", LOOKS_EARNED, VALUE_RIGHT, UNIT_FITS, WORKING_NONE},
        {0, NULL, "60000 cm^2", "number-right", LOOKS_EARNED, VALUE_RIGHT, UNIT_FITS, WORKING_NONE},
        {0, NULL, "6.0", "number-right", CANT_TELL, VALUE_RIGHT, UNIT_LEFT_OUT, WORKING_NONE},
        {0, NULL, "in m^2: 6.0", "number-right", LOOKS_EARNED, VALUE_RIGHT, UNIT_UNCLEAR, WORKING_NONE},
        {0, NULL, "6.0 m", "number-right", CANT_TELL, VALUE_RIGHT, UNIT_WRONG, WORKING_NONE},
        {0, NULL, "2 + 3 = 5.0 m^2", "number-wrong", LOOKS_NOT_EARNED, VALUE_WRONG, UNIT_FITS, WORKING_SEEN},
        {0, NULL, "6.0 m^2, no, 7.0 m^2", "number-unclear", CANT_TELL, VALUE_NOT_LOOKED_AT, UNIT_NOT_LOOKED_AT, WORKING_NOT_LOOKED_AT},
        {0, NULL, "6.0 m^2 for 20 limpets", "number-right", LOOKS_EARNED, VALUE_RIGHT, UNIT_FITS, WORKING_SEEN},
        {0, NULL, "the sides are 2 m and 3 m", "number-none", LOOKS_NOT_EARNED, VALUE_NOT_LOOKED_AT, UNIT_NOT_LOOKED_AT, WORKING_NOT_LOOKED_AT},
        {0, NULL, "six square metres", "number-none", CANT_TELL, VALUE_NOT_LOOKED_AT, UNIT_NOT_LOOKED_AT, WORKING_NOT_LOOKED_AT},
        {1, NULL, "30/6 = 5.0 Pa", "number-right", LOOKS_EARNED, VALUE_RIGHT, UNIT_FITS, WORKING_SEEN},
        {1, "A = 5.0 m^2", "6.0 Pa", "number-follows", LOOKS_EARNED, VALUE_FOLLOWS, UNIT_FITS, WORKING_NONE},
        {1, NULL, "6.0 Pa", "number-wrong", LOOKS_NOT_EARNED, VALUE_WRONG, UNIT_FITS, WORKING_NONE},
        {1, NULL, "5.00 Pa", "number-right", CANT_TELL, VALUE_RIGHT, UNIT_FITS, WORKING_NONE},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct arena *arena = arena_new();
        const struct evidence *evidence = evidence_on(cases[i].part, cases[i].answer, cases[i].before, arena);
        const struct point_evidence *point = &evidence->points[evidence->point_count - 1];
        const struct number_evidence *number = point->number;
        cr_expect(point->verdict == cases[i].verdict && strcmp(evidence_ground_name(point->ground), cases[i].ground) == 0,
                  "'%s': %s by %s, %s", cases[i].answer, evidence_verdict_name(point->verdict),
                  evidence_ground_name(point->ground), point->reason);
        cr_expect(number->value == cases[i].value && number->unit_shown == cases[i].unit && number->working == cases[i].working,
                  "'%s': value %d, unit %d, working %d", cases[i].answer, number->value, number->unit_shown, number->working);
        struct point_input inputs[2] = {{.tick = TICK_UNDECIDED}};
        evidence_numbers(evidence, inputs, evidence->point_count);
        cr_expect_eq(inputs[evidence->point_count - 1].value, cases[i].value);
        arena_free(arena);
    }
}

/* A unit told in words is not held to be another one. */
Test(answer, unit_worded_out)
{
    const struct node salinity = POINT("salinity", .id = "s", .number = KEY(.value = "35", .unit = "g/kg", .tolerance = 1));
    static const struct { const char *answer; enum unit_shown unit; } cases[] = {
        {"35 g of salt in each kilogram", UNIT_UNCLEAR}, {"35 g/kg", UNIT_FITS}, {"35 g", UNIT_WRONG}, {"35", UNIT_LEFT_OUT},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct arena *arena = arena_new();
        struct asked *asked = asked_new(arena, salinity, STATE, "State the salinity.");
        const struct evidence *evidence = evidence_of(&asked->ask, cases[i].answer, arena);
        cr_expect_eq(evidence->points[0].number->unit_shown, cases[i].unit, "'%s': %d", cases[i].answer,
                     evidence->points[0].number->unit_shown);
        arena_free(arena);
    }
}

/* Common practice, no source. */
Test(answer, a_ratio_to_one)
{
    static const struct { const char *answer; enum value_shown value; } cases[] = {
        {"2.16", VALUE_RIGHT}, {"2.16:1", VALUE_RIGHT}, {"2.16 : 1", VALUE_RIGHT}, {"27 000 / 12 500 = 2.16 : 1", VALUE_RIGHT},
        {"2.20 : 1", VALUE_WRONG}, {"1 : 2.16", VALUE_RIGHT},
    };
    const struct node ratio = POINT("ratio", .id = "r", .number = KEY(.value = "2.16"));
    struct arena *arena = arena_new();
    struct asked *asked = asked_new(arena, ratio, STATE, "State the ratio.");
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        cr_expect_eq(evidence_of(&asked->ask, cases[i].answer, arena)->points[0].number->value, cases[i].value, "%s", cases[i].answer);
    arena_free(arena);
}

/* Common practice, no source. */
Test(answer, money_in_every_usual_writing)
{
    static const struct { const char *answer; enum value_shown value; enum unit_shown unit; } cases[] = {
        {"\u00a3950", VALUE_RIGHT, UNIT_FITS}, {"\u00a3 950", VALUE_RIGHT, UNIT_FITS}, {"950 \u00a3", VALUE_RIGHT, UNIT_FITS},
        {"950 pounds", VALUE_RIGHT, UNIT_FITS}, {"\u00a3950.00", VALUE_RIGHT, UNIT_FITS}, {"GBP 950", VALUE_RIGHT, UNIT_UNCLEAR},
        {"\u00a3\u00a0950", VALUE_RIGHT, UNIT_FITS}, {"95000p", VALUE_RIGHT, UNIT_FITS}, {"95000 pence", VALUE_RIGHT, UNIT_FITS},
        {"950", VALUE_RIGHT, UNIT_LEFT_OUT}, {"$950", VALUE_RIGHT, UNIT_UNCLEAR}, {"\u00a3960", VALUE_WRONG, UNIT_FITS},
    }, owed[] = {
        {"\u2212\u00a3950", VALUE_RIGHT, UNIT_FITS}, {"-\u00a3950", VALUE_RIGHT, UNIT_FITS}, {"\u00a3-950", VALUE_RIGHT, UNIT_FITS},
        {"-950 pounds", VALUE_RIGHT, UNIT_FITS}, {"\u00a3950", VALUE_WRONG, UNIT_FITS}, {"(\u00a3950)", VALUE_RIGHT, UNIT_FITS},
        {"\u00a3(950)", VALUE_RIGHT, UNIT_UNCLEAR}, {"(950)", VALUE_RIGHT, UNIT_LEFT_OUT},
    };
    const struct node profit = POINT("profit", .id = "p", .number = KEY(.value = "950", .unit = "\u00a3"));
    const struct node loss = POINT("loss", .id = "l", .number = KEY(.value = "-950", .unit = "\u00a3"));
    struct arena *arena = arena_new();
    struct asked *gain = asked_new(arena, profit, STATE, "State the profit."), *minus = asked_new(arena, loss, STATE, "State it.");
    for (size_t i = 0; i < sizeof cases / sizeof *cases + sizeof owed / sizeof *owed; i++) {
        bool positive = i < sizeof cases / sizeof *cases;
        const struct evidence_ask *ask = positive ? &gain->ask : &minus->ask;
        size_t at = positive ? i : i - sizeof cases / sizeof *cases;
        const char *answer = positive ? cases[at].answer : owed[at].answer;
        const struct number_evidence *number = evidence_of(ask, answer, arena)->points[0].number;
        cr_expect_eq(number->value, positive ? cases[at].value : owed[at].value, "'%s': value %d", answer, number->value);
        cr_expect_eq(number->unit_shown, positive ? cases[at].unit : owed[at].unit, "'%s': unit %d", answer, number->unit_shown);
    }
    arena_free(arena);
}

Test(answer, right_number_shows_its_method)
{
    struct arena *arena = arena_new();
    cr_expect_eq(evidence_on(0, "6.0 m^2", NULL, arena)->points[0].verdict, LOOKS_EARNED);
    cr_expect_neq(evidence_on(0, "7.0 m^2", NULL, arena)->points[0].verdict, LOOKS_EARNED);
    cr_expect_neq(evidence_on(0, "2 × 3.5 = 7, so 6.0 m^2", NULL, arena)->points[0].verdict, LOOKS_EARNED);
    arena_free(arena);
}

Test(answer, own_values_in_the_unit_of_the_key)
{
    static const struct { const char *answer; size_t count; double value; } cases[] = {
        {"7.0 m^2", 1, 7}, {"70000 cm^2", 1, 7}, {"7.0", 1, 7}, {"A = 7.0 m^2 and 9", 1, 7}, {"7.0 s", 0, 0}, {"none", 0, 0}, {"", 0, 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct arena *arena = arena_new();
        size_t count;
        const struct own_value *own = answer_own_values(&trial_course, &two_parts, &values,
                                                        (const char *const[]){cases[i].answer, NULL}, 1, &count, arena);
        cr_expect_eq(count, cases[i].count, "'%s': %zu", cases[i].answer, count);
        if (count == 1)
            cr_expect(strcmp(own[0].symbol, "A") == 0 && fabs(own[0].value - cases[i].value) < 1e-9, "'%s': %g", cases[i].answer,
                      own[0].value);
        arena_free(arena);
    }
}

/* ---- Any text ------------------------------------------------------------------------------------ */

static void check_quotes(const struct quote *quotes, size_t count, const char *answer, uint64_t seed)
{
    for (size_t i = 0; i < count; i++) {
        size_t end = quotes[i].start + quotes[i].length;
        cr_assert(end <= strlen(answer), "seed %lu: '%s'", (unsigned long)seed, answer);
        cr_assert(((unsigned char)answer[quotes[i].start] & 0xc0) != 0x80 && ((unsigned char)answer[end] & 0xc0) != 0x80,
                  "seed %lu: '%s'", (unsigned long)seed, answer);
        cr_assert(i == 0 || quotes[i - 1].start <= quotes[i].start);
    }
}

static void check_all(const struct evidence *evidence, const char *answer, uint64_t seed)
{
    for (size_t i = 0; i < evidence->point_count; i++) {
        const struct point_evidence *point = &evidence->points[i];
        cr_assert(point->reason && point->point);
        cr_assert(!point->rejected || point->verdict == LOOKS_NOT_EARNED);
        cr_assert(!point->contradicted || point->verdict == LOOKS_NOT_EARNED);
        check_quotes(point->quotes, point->quote_count, answer, seed);
    }
    for (size_t i = 0; i < evidence->need_count; i++)
        check_quotes(evidence->needs[i].quotes, evidence->needs[i].quote_count, answer, seed);
    for (size_t i = 0; i < evidence->vague_count; i++)
        check_quotes(&evidence->vague[i].at, 1, answer, seed);
    check_quotes(&evidence->stem, 1, answer, seed);
    cr_assert(evidence->stem_words <= evidence->word_count);
}

Test(answer, evidence_of_any_text_property)
{
    static const char *const pieces[] = {"limpet ", "dry ", "less ", "more ", "not ", "energy ", "per second ", "height ", "increases ",
                                         "decreases. ", "6.0 m^2 ", "= ", "because ", "\n", "é", "’", "\u00a0", "5 Pa", "3 ", "force times time ",
                                         "it ", "changes ", ", ", "海 ", "\xff", "10⁹ ", "than ", "or ", "no shortage of "};
    uint64_t seed = trial_seed(731);
    struct random_source source = {seed};
    struct arena *arena = arena_new();
    for (int round = 0; round < 400; round++) {
        struct buffer text = BUFFER_EMPTY;
        for (uint64_t left = random_below(&source, 25); left > 0; left--)
            buffer_add(&text, pieces[random_below(&source, sizeof pieces / sizeof *pieces)]);
        const char *answer = buffer_text(&text);
        struct asked *asked = asked_new(arena, root, (int)random_below(&source, 10), "Compare limpets with mussels and waves.");
        const struct evidence *one = evidence_of(&asked->ask, answer, arena), *again = evidence_of(&asked->ask, answer, arena);
        check_all(one, answer, seed);
        check_all(evidence_on(random_below(&source, 2), answer, "A = 5", arena), answer, seed);
        for (size_t i = 0; i < one->point_count; i++) {
            cr_assert(one->points[i].verdict == again->points[i].verdict && strcmp(one->points[i].reason, again->points[i].reason) == 0);
            cr_assert(!one->blank || one->points[i].ground == GROUND_BLANK);
        }
        buffer_free(&text);
        arena_reset(arena);
    }
    arena_free(arena);
}
