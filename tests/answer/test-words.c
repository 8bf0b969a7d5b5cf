#include "trial.h"

#include "base/random.h"
#include "base/text.h"

/* ---- Tokens -------------------------------------------------------------------------------------- */

/* What a word is and where clauses and sentences end: our own rules, from memory of English. */
Test(answer, words_clauses_and_sentences)
{
    static const struct { const char *text, *words; } cases[] = {
        {"", ""}, {" .,; ", ""},
        {"Limpets don’t move.", "limpets don't move"},
        {"sea-level rises 3.5 m, or 1,030 mm", "sea level rises 3.5 m | or 1,030 mm"},
        {"It rises. It falls; it stops\nthen", "it rises / it falls / it stops / then"},
        {"it rises because air warms, so there", "it rises | because air warms | so there"},
        {"e.g. 3 m (about)", "e g / 3 m | about"},
        {"CO₂ H²", "co₂ h²"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct arena *arena = arena_new();
        struct words words = words_of(cases[i].text, arena);
        struct buffer line = BUFFER_EMPTY;
        for (size_t k = 0; k < words.count; k++) {
            const struct word *word = &words.items[k], *before = k ? word - 1 : word;
            buffer_print(&line, "%s%s%s", !k ? "" : word->sentence != before->sentence ? " /" : word->clause != before->clause
                         ? " |" : "", k ? " " : "", word->folded);
        }
        cr_expect_str_eq(buffer_text(&line), cases[i].words, "'%s': %s", cases[i].text, buffer_text(&line));
        buffer_free(&line);
        arena_free(arena);
    }
}

/* Positions are inside any text, in order, and between characters; seeds are printed on failure. */
Test(answer, words_positions_property)
{
    static const char *const pieces[] = {"a", "Sea", " ", "’", "'", "-", ".", ",", "3", "²", "é", "e\u0301", "\n", "\xff", "\xe2\x80",
                                         "海", "🌊", ";", "not ", "because "};
    uint64_t seed = trial_seed(20261125);
    struct random_source source = {seed};
    struct arena *arena = arena_new();
    for (int round = 0; round < 2000; round++) {
        struct buffer text = BUFFER_EMPTY;
        for (uint64_t left = random_below(&source, 30); left > 0; left--)
            buffer_add(&text, pieces[random_below(&source, sizeof pieces / sizeof *pieces)]);
        struct words words = words_of(buffer_text(&text), arena);
        size_t end = 0;
        for (size_t i = 0; i < words.count; i++) {
            struct quote at = words.items[i].at;
            cr_assert(at.length > 0 && at.start >= end && at.start + at.length <= text.length, "seed %lu: '%s'",
                      (unsigned long)seed, buffer_text(&text));
            cr_assert(((unsigned char)buffer_text(&text)[at.start] & 0xc0) != 0x80);
            cr_assert(words.items[i].sentence < words.sentences);
            end = at.start + at.length;
        }
        buffer_free(&text);
        arena_reset(arena);
    }
    arena_free(arena);
}

/* ---- When two words are one ---------------------------------------------------------------------- */

static enum word_match compare(const char *typed, const char *wanted, const char *terms)
{
    struct arena *arena = arena_new();
    struct vocabulary *vocabulary = vocabulary_new(arena);
    vocabulary_add_text(vocabulary, terms);
    vocabulary_add_text(vocabulary, wanted);
    struct words one = words_of(typed, arena), other = words_of(wanted, arena);
    cr_assert(one.count == 1 && other.count == 1, "'%s', '%s'", typed, wanted);
    enum word_match match = word_compare(&one.items[0], &other.items[0], vocabulary);
    arena_free(arena);
    return match;
}

/* Pairs that a person reads as one word or as two; common practice, no source. */
Test(answer, words_that_are_one)
{
    static const char *const one[][2] = {
        {"limpet", "Limpets"}, {"evaporates", "evaporation"}, {"rose", "rises"}, {"bacterium", "bacteria"}, {"dries", "dry"},
        {"oxidised", "oxidize"}, {"sulphur", "sulfur"}, {"organs", "organ"}, {"lost", "lose"}, {"fell", "falling"},
    };
    static const char *const slips[][2] = {
        {"desication", "desiccation"}, {"limpits", "limpet"}, {"evaperates", "evaporation"}, {"temprature", "temperature"},
        {"refration", "refraction"}, {"salintiy", "salinity"},
    };
    static const char *const two[][2] = {
        {"alkane", "alkene"}, {"absorb", "adsorb"}, {"weight", "height"}, {"organ", "organic"}, {"nitrate", "nitrite"},
        {"universe", "university"}, {"electron", "electronic"}, {"reflection", "refraction"}, {"mussel", "muscle"},
        {"wade", "wave"}, {"tode", "tide"}, {"30", "300"}, {"3.0", "30"}, {"affect", "effect"}, {"erosion", "explosion"},
    };
    static const char *const senses[][2] = {{"shut", "closed"}, {"quicker", "quickly"}, {"mums", "parents"}};
    static const char *const heard[][2] = {
        {"fotosynthesis", "photosynthesis"}, {"presher", "pressure"}, {"fead", "feed"}, {"enuf", "enough"}, {"warter", "water"},
    };
    for (size_t i = 0; i < sizeof senses / sizeof *senses; i++) {
        cr_expect_eq(compare(senses[i][0], senses[i][1], ""), WORD_MATCH_SENSE, "%s, %s", senses[i][0], senses[i][1]);
        cr_expect_eq(compare(senses[i][1], senses[i][0], "") == WORD_MATCH_SENSE, i == 1, "%s, %s", senses[i][1], senses[i][0]);
    }
    for (size_t i = 0; i < sizeof heard / sizeof *heard; i++)
        cr_expect_eq(compare(heard[i][0], heard[i][1], ""), WORD_MATCH_SLIP, "%s, %s", heard[i][0], heard[i][1]);
    for (size_t i = 0; i < sizeof one / sizeof *one; i++)
        cr_expect_eq(compare(one[i][0], one[i][1], ""), WORD_MATCH_STEM, "%s, %s", one[i][0], one[i][1]);
    for (size_t i = 0; i < sizeof slips / sizeof *slips; i++)
        cr_expect_eq(compare(slips[i][0], slips[i][1], ""), WORD_MATCH_SLIP, "%s, %s", slips[i][0], slips[i][1]);
    for (size_t i = 0; i < sizeof two / sizeof *two; i++) {
        cr_expect_eq(compare(two[i][0], two[i][1], ""), WORD_MATCH_NONE, "%s, %s", two[i][0], two[i][1]);
        cr_expect_eq(compare(two[i][1], two[i][0], ""), WORD_MATCH_NONE, "%s, %s", two[i][1], two[i][0]);
    }
}

/* A term of the course is no slip in another, and what is as near to two terms is neither. */
Test(answer, slips_stay_out_of_the_vocabulary)
{
    cr_expect_eq(compare("barnacel", "barnacle", "shore"), WORD_MATCH_SLIP);
    cr_expect_eq(compare("barnacel", "barnacle", "the barnacel family"), WORD_MATCH_NONE);
    cr_expect_eq(compare("zonatoin", "zonation", "shore"), WORD_MATCH_SLIP);
    cr_expect_eq(compare("plankten", "plankton", "planktin"), WORD_MATCH_NONE);
    cr_expect_eq(compare("rane", "rain", "run"), WORD_MATCH_SLIP, "rain sounds nearer");
    cr_expect_eq(compare("steil", "steel", "steal"), WORD_MATCH_NONE, "both sound alike");
    cr_expect_eq(compare("rane", "rain", "the river Rane"), WORD_MATCH_NONE);
    struct arena *arena = arena_new();
    struct words words = words_of("desication desiccation", arena);
    cr_expect_eq(word_compare(&words.items[0], &words.items[1], NULL), WORD_MATCH_NONE, "only by stem without a vocabulary");
    arena_free(arena);
}

Test(answer, a_strange_word_is_read_as_a_term)
{
    struct arena *arena = arena_new();
    struct vocabulary *vocabulary = vocabulary_new(arena);
    vocabulary_add_text(vocabulary, "photosynthesis plankton closed 17");
    struct words words = words_of("fotosynthesis plankten shut closing 17 18 gherkin weather", arena);
    static const char *const meant[] = {"photosynthesis", "plankton", "closed", "closed", "17", NULL, NULL, NULL};
    for (size_t i = 0; i < words.count; i++) {
        const struct word *word = word_meant(&words.items[i], vocabulary);
        cr_expect((!word && !meant[i]) || (word && meant[i] && strcmp(word->folded, meant[i]) == 0), "%s is read as %s",
                  words.items[i].folded, word ? word->folded : "nothing");
    }
    arena_free(arena);
}

Test(answer, vocabulary_grows)
{
    struct arena *arena = arena_new();
    struct vocabulary *vocabulary = vocabulary_new(arena);
    struct buffer text = BUFFER_EMPTY;
    for (int i = 0; i < 3000; i++) {
        buffer_clear(&text);
        buffer_print(&text, "%d", i);
        vocabulary_add_text(vocabulary, buffer_text(&text));
    }
    vocabulary_add_text(vocabulary, "17 17 2999");
    struct words words = words_of("0 1234 2999 3000", arena);
    cr_expect_eq(vocabulary_count(vocabulary), 3000);
    for (size_t i = 0; i < 3; i++)
        cr_expect(vocabulary_holds(vocabulary, &words.items[i]));
    cr_expect_not(vocabulary_holds(vocabulary, &words.items[3]));
    buffer_free(&text);
    arena_free(arena);
}

Test(answer, words_that_turn_a_meaning)
{
    struct arena *arena = arena_new();
    struct words words = words_of("more fell wave doesn't without rarely because whereas", arena);
    const struct word *items = words.items;
    cr_expect_eq(word_direction(&items[0]), DIRECTION_UP);
    cr_expect_eq(word_direction(&items[1]), DIRECTION_DOWN);
    cr_expect_eq(word_direction(&items[2]), DIRECTION_NONE);
    cr_expect(word_negates(&items[3]) && word_negates(&items[4]) && word_negates(&items[5]));
    cr_expect_not(word_negates(&items[2]));
    cr_expect(word_links(&items[6]) && !word_links(&items[7]));
    cr_expect(word_compares(&items[7]) && word_compares(&items[0]) && !word_compares(&items[2]));
    arena_free(arena);
}

/* ---- Plain text ---------------------------------------------------------------------------------- */

Test(answer, plain_text_of_blocks)
{
    const struct run runs[] = {{RUN_PLAIN, "P is "}, {RUN_VALUE, "P"}, {RUN_PLAIN, ", CO"}, {RUN_SUBSCRIPT, "2"},
                                      {RUN_PLAIN, ", 10"}, {RUN_SUPERSCRIPT, "−9"}, {RUN_VALUE, "Q"}};
    const struct rich text = {runs, 7}, cell = RICH("cell");
    const struct table_row row = {&cell, 1, false};
    const struct block items[] = {{.kind = BLOCK_PARAGRAPH, .text = {runs, 7}},
                                         {.kind = BLOCK_TABLE, .text = RICH("caption"), .rows = &row, .row_count = 1},
                                         {.kind = BLOCK_FIGURE, .alternative = "seen"}};
    static const struct bound_value bound = {"P", "23", "kW/m", 23, true};
    struct buffer out = BUFFER_EMPTY;
    plain_add_rich(&out, &text, &(struct values){&bound, 1});
    cr_expect_str_eq(buffer_text(&out), "P is 23\u00a0kW/m, CO2, 10⁻⁹Q");
    buffer_clear(&out);
    plain_add_blocks(&out, &(struct blocks){items, 3}, NULL);
    cr_expect_str_eq(buffer_text(&out), "P is P, CO2, 10⁻⁹Q\ncaption\ncell\n\nseen\n");
    buffer_free(&out);
}
