#include <string.h>
#include <criterion/criterion.h>

#include "bank/commandwords.h"
#include "base/buffer.h"
#include "base/text.h"
#include "sample.h"

static const struct objective three[] = {
    {"AO1", "Know", 40, OBJECTIVE_KNOW}, {"AO2", "Apply", 40, OBJECTIVE_APPLY}, {"AO3", "Judge", 20, OBJECTIVE_ANALYSE},
};

static const struct command_word *find(const struct command_word *words, size_t count, const char *word)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(words[i].word, word) == 0)
            return &words[i];
    return NULL;
}

/* The words that the trade uses; which kind each signals: common practice, no source. */
Test(bank, built_in_command_words)
{
    static const struct { const char *word; enum objective_kind kind; } wanted[] = {
        {"state", OBJECTIVE_KNOW}, {"name", OBJECTIVE_KNOW}, {"identify", OBJECTIVE_KNOW}, {"define", OBJECTIVE_KNOW},
        {"give", OBJECTIVE_KNOW}, {"list", OBJECTIVE_KNOW}, {"label", OBJECTIVE_KNOW}, {"complete", OBJECTIVE_KNOW},
        {"describe", OBJECTIVE_KNOW}, {"outline", OBJECTIVE_KNOW}, {"summarise", OBJECTIVE_APPLY},
        {"explain", OBJECTIVE_APPLY}, {"suggest", OBJECTIVE_APPLY}, {"compare", OBJECTIVE_APPLY},
        {"contrast", OBJECTIVE_APPLY}, {"distinguish", OBJECTIVE_APPLY}, {"calculate", OBJECTIVE_APPLY},
        {"determine", OBJECTIVE_APPLY}, {"estimate", OBJECTIVE_APPLY}, {"convert", OBJECTIVE_APPLY},
        {"show that", OBJECTIVE_APPLY}, {"prove", OBJECTIVE_APPLY}, {"plot", OBJECTIVE_APPLY},
        {"sketch", OBJECTIVE_APPLY}, {"draw", OBJECTIVE_APPLY}, {"predict", OBJECTIVE_APPLY}, {"plan", OBJECTIVE_APPLY},
        {"interpret", OBJECTIVE_ANALYSE}, {"deduce", OBJECTIVE_ANALYSE}, {"conclude", OBJECTIVE_ANALYSE},
        {"comment", OBJECTIVE_ANALYSE}, {"analyse", OBJECTIVE_ANALYSE}, {"discuss", OBJECTIVE_ANALYSE},
        {"evaluate", OBJECTIVE_ANALYSE}, {"assess", OBJECTIVE_ANALYSE}, {"justify", OBJECTIVE_ANALYSE},
        {"to what extent", OBJECTIVE_ANALYSE},
    };
    size_t count;
    const struct built_in_word *words = command_words_built_in(&count);
    cr_expect_eq(count, sizeof wanted / sizeof *wanted);
    for (size_t i = 0; i < count; i++) {
        cr_expect(i == 0 || strcmp(words[i - 1].word, words[i].word) < 0, "%s is out of order", words[i].word);
        cr_expect(*words[i].meaning && *words[i].needs && *words[i].trap, "%s", words[i].word);
        bool found = false;
        for (size_t k = 0; k < sizeof wanted / sizeof *wanted && !found; k++)
            found = strcmp(wanted[k].word, words[i].word) == 0 && wanted[k].kind == words[i].kind;
        cr_expect(found, "%s", words[i].word);
    }
}

Test(bank, course_changes_and_adds_words)
{
    static const struct written_word written[] = {
        {.word = " Calculate", .objective = "AO1", .trap = "Own trap."},
        {.word = "Work\n  out", .objective = "AO2", .meaning = "Find.", .needs = "Working."},
    };
    struct arena *arena = arena_new();
    struct messages messages = MESSAGES_EMPTY;
    const struct command_word *words;
    size_t count, built_in;
    const struct built_in_word *base = command_words_built_in(&built_in);
    cr_assert(command_words_of_course(arena, three, 3, written, 2, "b.xml", &words, &count, &messages));
    cr_expect_eq(count, built_in + 1);
    cr_expect_str_eq(words[0].word, "calculate");
    cr_expect_eq(words[0].objective, 0);
    cr_expect_str_eq(words[0].trap, "Own trap.");
    cr_expect_not(words[0].generic);
    for (size_t i = 0; i < built_in; i++)
        if (strcmp(base[i].word, "calculate") == 0)
            cr_expect_str_eq(words[0].meaning, base[i].meaning, "what is left out comes from the built-in word");
    cr_expect_str_eq(words[1].word, "work out");
    cr_expect_null(words[1].trap);
    const struct command_word *evaluate = find(words, count, "evaluate");
    cr_assert(evaluate);
    cr_expect(evaluate->generic);
    cr_expect_eq(evaluate->objective, 2);
    cr_expect_eq(find(words, count, "state")->objective, 0);
    messages_free(&messages);
    arena_free(arena);
}

Test(bank, words_go_to_the_nearest_objective)
{
    static const struct objective two[] = {{"K", "Know", 50, OBJECTIVE_KNOW}, {"J", "Judge", 50, OBJECTIVE_ANALYSE}};
    struct arena *arena = arena_new();
    struct messages messages = MESSAGES_EMPTY;
    const struct command_word *words;
    size_t count;
    cr_assert(command_words_of_course(arena, two, 2, NULL, 0, NULL, &words, &count, &messages));
    cr_expect_eq(find(words, count, "explain")->objective, 0, "of two equally near the simpler");
    cr_expect_eq(find(words, count, "evaluate")->objective, 1);
    cr_assert(command_words_of_course(arena, two, 1, NULL, 0, NULL, &words, &count, &messages));
    cr_expect_eq(find(words, count, "evaluate")->objective, 0);
    static const struct objective turned[] = {{"J", "Judge", 50, OBJECTIVE_ANALYSE}, {"K", "Know", 50, OBJECTIVE_KNOW}};
    cr_assert(command_words_of_course(arena, turned, 2, NULL, 0, NULL, &words, &count, &messages));
    cr_expect_eq(find(words, count, "explain")->objective, 1);
    cr_assert(command_words_of_course(arena, two, 0, NULL, 0, NULL, &words, &count, &messages));
    cr_expect_eq(find(words, count, "evaluate")->objective, -1, "a course without objectives has other faults");
    arena_free(arena);
}

Test(bank, words_refused)
{
    static const struct written_word written[] = {
        {.word = "calculate", .objective = "A02", .line = 7, .column = 3},
        {.word = "CALCULATE", .line = 8, .column = 3},
        {.word = "ponder", .line = 9, .column = 3},
    };
    struct arena *arena = arena_new();
    struct messages messages = MESSAGES_EMPTY;
    const struct command_word *words;
    size_t count;
    cr_expect_not(command_words_of_course(arena, three, 3, written, 3, "b.xml", &words, &count, &messages));
    struct buffer text = BUFFER_EMPTY;
    messages_render(&messages, 0, &text);
    const char *const wanted[] = {
        "b.xml:7:3: course: command word 'calculate' names the objective 'A02'", "did you mean 'AO2'?",
        "b.xml:8:3: course: command word 'CALCULATE' stands twice", "'ponder' is not in the built-in set and names",
        "no <meaning>", "no <needs>",
    };
    for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++)
        cr_expect(strstr(buffer_text(&text), wanted[i]), "[%s] is not in\n%s", wanted[i], buffer_text(&text));
    cr_expect_eq(messages.errors, 5);
    cr_expect_eq(words[0].objective, -1);
    buffer_free(&text);
    messages_free(&messages);
    arena_free(arena);
}
