#include "trial.h"

#include "answer/evidence.h"
#include "answer/reading.h"

/* ---- The command word: from memory, what counts as a slip of the pen ------------------------------ */

Test(answer, command_word_read)
{
    static const struct { const char *typed; enum word_verdict verdict; int word; } cases[] = {
        {"explain", WORD_RIGHT, EXPLAIN}, {"  Explain ", WORD_RIGHT, EXPLAIN}, {"EXPLIAN", WORD_RIGHT, EXPLAIN},
        {"explane", WORD_UNKNOWN, -1}, {"expain", WORD_RIGHT, EXPLAIN}, {"compare", WORD_OTHER, COMPARE},
        {"complete", WORD_OTHER, COMPLETE}, {"compere", WORD_OTHER, COMPARE}, {"calculat", WORD_OTHER, CALCULATE},
        {"show  that", WORD_OTHER, SHOW_THAT}, {"to what extend", WORD_OTHER, TO_WHAT_EXTENT},
        {"nane", WORD_OTHER, NAME}, {"nam", WORD_UNKNOWN, -1}, {"compate", WORD_OTHER, COMPARE},
        {"the", WORD_UNKNOWN, -1}, {"analyse", WORD_UNKNOWN, -1}, {"", WORD_BLANK, -1}, {" \t", WORD_BLANK, -1},
    };
    struct part part = {.word = EXPLAIN};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct word_reading reading = reading_command_word(&trial_course, &part, cases[i].typed);
        cr_expect(reading.verdict == cases[i].verdict && reading.word == cases[i].word, "'%s': verdict %d, word %d",
                  cases[i].typed, reading.verdict, reading.word);
    }
}

/* As near to one word as to another is neither. */
Test(answer, command_word_between_two)
{
    static const struct command_word two[] = {{.word = "explain"}, {.word = "explaim"}};
    struct course course = {.words = two, .word_count = 2};
    struct part part = {.word = 0};
    cr_expect_eq(reading_command_word(&course, &part, "explair").verdict, WORD_UNKNOWN);
    cr_expect_eq(reading_command_word(&course, &part, "explaim").verdict, WORD_OTHER);
}

/* ---- The givens ---------------------------------------------------------------------------------- */

static const struct given shared[] = {{.symbol = "H", .name = "wave height", .unit = "m"},
                                      {.symbol = "T", .name = "wave period", .unit = "s"}};
static const struct given own[] = {{.symbol = "n", .name = "number of waves", .unit = ""}};
static const struct bound_value bound[] = {{"g", "9.81", "N/kg", 9.81, false}, {"H", "1.2", "m", 1.2, false},
                                           {"T", "8.0", "s", 8, false}, {"n", "12", "", 12, false}};
static const struct values values = {bound, 4};
static const struct question question = {.givens = shared, .given_count = 2, .stem = BLOCKS("A beach 50 m long. Waves are 1.2 m high and 8.0 s apart.")};
static const struct part part = {.givens = own, .given_count = 1, .ask = BLOCKS("There are 12 waves. Calculate the power.")};

/* One letter a given (found, without unit, wrong unit, overlooked) and the numbers that are none. */
static void expect_givens(const char *typed, const char *verdicts, const char *extra)
{
    static const char letters[] = {[GIVEN_FOUND] = 'f', [GIVEN_WITHOUT_UNIT] = 'u', [GIVEN_WRONG_UNIT] = 'w',
                                   [GIVEN_OVERLOOKED] = 'o'};
    struct arena *arena = arena_new();
    struct givens_reading reading = reading_givens(&question, &part, &values, typed, arena);
    struct buffer extras = BUFFER_EMPTY;
    for (size_t i = 0; i < reading.extra_count; i++)
        buffer_print(&extras, "%s%s", i ? "|" : "", reading.extra[i]);
    cr_assert_eq(reading.count, 3);
    for (size_t i = 0; i < reading.count; i++) {
        cr_expect_eq(letters[reading.items[i].verdict], verdicts[i], "'%s': %s is %c", typed,
                     reading.items[i].given->name, letters[reading.items[i].verdict]);
        cr_expect_eq(reading.items[i].written == NULL, verdicts[i] == 'o');
    }
    cr_expect_str_eq(buffer_text(&extras), extra, "'%s': extra %s", typed, buffer_text(&extras));
    buffer_free(&extras);
    arena_free(arena);
}

/* Conversions are the SI's: 1.2 m = 120 cm, 8.0 s = 8000 ms. */
Test(answer, givens_found_by_value_and_unit)
{
    expect_givens("height 1.2 m, period 8.0 s, 12 waves", "fff", "");
    expect_givens("12, 8 s and 120 cm", "fff", "");
    expect_givens("1.2", "uoo", "");
    expect_givens("1.2 s", "woo", "");
    expect_givens("1.2 km", "woo", "");
    expect_givens("8000 ms\n1.20m", "ffo", "");
    expect_givens("", "ooo", "");
    expect_givens("none at all", "ooo", "");
    expect_givens("height 1.5 m", "ooo", "1.5 m");
    expect_givens("g = 9.81 N/kg, 50 m of beach, 7 s", "ooo", "7 s");
    /* The one with the unit is taken, whichever comes first. */
    expect_givens("1.2 then 1.2 m", "foo", "");
    expect_givens("12 m", "oof", "");
}

Test(answer, givens_quote_what_was_written)
{
    struct arena *arena = arena_new();
    struct givens_reading reading = reading_givens(&question, &part, &values, "the height (120 cm)", arena);
    cr_expect_str_eq(reading.items[0].written, "120 cm");
    arena_free(arena);
}

/* T is drawn so that n*T can be shown: naming it would give the answer away. */
Test(answer, a_given_that_the_question_does_not_show_is_not_asked_for)
{
    const struct part asks[] = {{.ask = BLOCKS("Calculate the period."), .givens = own, .given_count = 1},
                                {.ask = BLOCKS("The period is 8.0 s. Calculate the frequency.")}};
    const struct question hidden = {.givens = shared, .given_count = 2, .stem = BLOCKS("12 waves 1.2 m high pass in 96 s."),
                                    .parts = asks, .part_count = 2};
    struct arena *arena = arena_new();
    struct givens_reading reading = reading_givens(&hidden, &asks[0], &values, "96 s, 12, 7", arena);
    cr_assert_eq(reading.count, 2);
    cr_expect_str_eq(reading.items[0].given->symbol, "H");
    cr_expect_str_eq(reading.items[1].given->symbol, "n");
    cr_expect(reading.extra_count == 1 && strcmp(reading.extra[0], "7") == 0);
    cr_expect_eq(reading_givens(&hidden, &asks[1], &values, "", arena).count, 2);
    arena_free(arena);
}

/* Each part is asked for what it works with; what only an earlier one needed is no longer asked for. What a "show that" shows
 * is no given. */
Test(answer, each_part_has_its_own_givens)
{
    static const struct number_key power = {.formula = "H*T", .symbol = "P", .unit = "W", .places = -1};
    static const struct number_key energy = {.formula = "P*n", .unit = "J", .places = -1};
    const struct node first = POINT("value", .number = &power), second = POINT("value", .number = &energy);
    const struct given outcome = {.symbol = "n", .name = "number to be shown", .unit = "", .formula = "H*T"};
    struct part asks[] = {{.ask = BLOCKS("Calculate the power of waves 1.2 m high and 8.0 s apart."),
                           .scheme.root = {.kind = NODE_ALL, .children = &first, .child_count = 1}},
                          {.ask = BLOCKS("Calculate the energy of 12 waves."), .givens = own, .given_count = 1,
                           .scheme.root = {.kind = NODE_ALL, .children = &second, .child_count = 1}}};
    const struct question two = {.givens = shared, .given_count = 2, .parts = asks, .part_count = 2};
    struct arena *arena = arena_new();
    cr_expect_eq(reading_givens(&two, &asks[0], &values, "", arena).count, 2);
    struct givens_reading reading = reading_givens(&two, &asks[1], &values, "1.2 m", arena);
    cr_assert_eq(reading.count, 1);
    cr_expect_str_eq(reading.items[0].given->symbol, "n");
    cr_expect_eq(reading.extra_count, 0);
    asks[1].givens = &outcome;
    cr_expect_eq(reading_givens(&two, &asks[1], &values, "", arena).count, 1);
    asks[1].scheme.working_required = true;
    cr_expect_eq(reading_givens(&two, &asks[1], &values, "", arena).count, 0);
    arena_free(arena);
}

/* ---- What is wanted ------------------------------------------------------------------------------ */

static void expect_wanted(const struct part *asked, const char *typed, const char *touched, const char *overlooked,
                          bool unit_named)
{
    struct arena *arena = arena_new();
    struct wanted_reading reading = reading_wanted(&trial_course, asked, &values, typed, arena);
    struct buffer line = BUFFER_EMPTY;
    for (size_t i = 0; i < reading.touched_count; i++)
        buffer_print(&line, "%s%s", i ? " " : "", reading.touched[i]);
    cr_expect_str_eq(buffer_text(&line), touched, "'%s' touches %s", typed, buffer_text(&line));
    buffer_clear(&line);
    for (size_t i = 0; i < reading.overlooked_count; i++)
        buffer_print(&line, "%s%s", i ? " " : "", reading.overlooked[i]);
    cr_expect_str_eq(buffer_text(&line), overlooked, "'%s' overlooks %s", typed, buffer_text(&line));
    cr_expect_eq(reading.unit_named, unit_named, "'%s'", typed);
    buffer_free(&line);
    arena_free(arena);
}

Test(answer, wanted_by_stem)
{
    struct part explain = {.word = EXPLAIN, .ask = BLOCKS("Explain why limpets on the upper shore are exposed for longer.")};
    expect_wanted(&explain, "why a limpet is exposed", "limpets exposed", "upper shore longer", true);
    expect_wanted(&explain, "limpit exposing the shore, long", "limpets shore exposed", "upper longer", true);
    expect_wanted(&explain, "", "", "limpets upper shore exposed longer", true);
    expect_wanted(&explain, "LIMPETS LIMPETS", "limpets", "upper shore exposed longer", true);
}

/* A table in the ask is what to work with. */
Test(answer, wanted_is_what_the_sentences_say)
{
    const struct rich cell = RICH("Old moulds");
    const struct table_row row = {&cell, 1, false};
    const struct block blocks[] = {{.kind = BLOCK_TABLE, .text = RICH("Cracked bars"), .rows = &row, .row_count = 1},
                                   {.kind = BLOCK_PARAGRAPH, .text = RICH("Explain the result.")}};
    const struct part part_with_table = {.word = EXPLAIN, .ask = {blocks, 2}};
    expect_wanted(&part_with_table, "bars", "", "result", true);
}

Test(answer, wanted_unit)
{
    static const struct number_key watts = {.unit = "W/m", .places = -1}, printed = {.unit = "W/m", .unit_printed = true};
    struct node points[] = {POINT("value", .number = &watts)};
    struct part power = {.word = CALCULATE, .ask = BLOCKS("Calculate the power."),
                         .scheme.root = {.kind = NODE_ALL, .children = points, .child_count = 1}};
    expect_wanted(&power, "the power in W/m", "power", "", true);
    expect_wanted(&power, "power in kilowatts per metre", "power", "", true);
    expect_wanted(&power, "power (kW m-1)", "power", "", true);
    expect_wanted(&power, "the power", "power", "", false);
    expect_wanted(&power, "power in W", "power", "", false);
    points[0].number = &printed;
    expect_wanted(&power, "the power", "power", "", true);
}

/* ---- "Show that" --------------------------------------------------------------------------------- */

/* H × T = 9.6, shown as "about 10". Common practice: the working is what earns, and the value that was shown does not. */
Test(answer, what_is_to_be_shown_is_no_given_and_a_bare_number_no_working)
{
    static const struct number_key key = {.formula = "H*T", .symbol = "A", .unit = "m", .places = 1, .tolerance = 0.05,
                                          .tolerance_relative = true};
    static const struct given about = {.symbol = "n", .name = "value to be shown", .unit = "", .formula = "H*T"};
    static const struct bound_value shown[] = {{"H", "1.2", "m", 1.2, false}, {"T", "8.0", "s", 8, false}, {"n", "10", "", 10, false}};
    static const struct values drawn = {shown, 3};
    struct node points[] = {POINT("multiplies height by period", .id = "m", .point_kind = POINT_METHOD, KEYS(WORD("multiplies"))),
                            POINT("value", .id = "a", .point_kind = POINT_ACCURACY, .number = &key)};
    struct part show = {.id = "a", .word = SHOW_THAT, .marks = 2, .ask = BLOCKS("Show that it is about 10."), .givens = &about,
                        .given_count = 1, .scheme = {.root = {.kind = NODE_ALL, .children = points, .child_count = 2},
                                                     .working_required = true}};
    struct question asked = {.id = "q", .givens = shared, .given_count = 2, .parts = &show, .part_count = 1};
    struct evidence_ask ask = {&trial_course, &asked, &show, &drawn, NULL, NULL, 0};
    static const struct { const char *answer; enum evidence_verdict method, value; bool figures_wrong; } cases[] = {
        {"1.2 x 8.0 = 9.6", CANT_TELL, LOOKS_EARNED, false},
        {"1.2 x 8.0 = 10", CANT_TELL, CANT_TELL, true},
        {"it is about 10", LOOKS_NOT_EARNED, CANT_TELL, true},
        {"9.6", LOOKS_NOT_EARNED, CANT_TELL, false},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct arena *arena = arena_new();
        const struct evidence *evidence = evidence_of(&ask, cases[i].answer, arena);
        cr_expect(evidence->points[0].verdict == cases[i].method, "'%s': method %s", cases[i].answer,
                  evidence_verdict_name(evidence->points[0].verdict));
        cr_expect_eq(evidence->points[1].verdict, cases[i].value, "'%s': value %s", cases[i].answer,
                     evidence_verdict_name(evidence->points[1].verdict));
        cr_assert(evidence->points[1].number->found, "'%s'", cases[i].answer);
        cr_expect_eq(evidence->points[1].number->figures_wrong, cases[i].figures_wrong, "'%s'", cases[i].answer);
        arena_free(arena);
    }
}
