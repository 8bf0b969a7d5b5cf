/* The rules of evidence from words, one by one (docs/marking.md, "What the writing shows"). Verdicts are those of a careful
 * marker; from memory. The last answer of each rule is one that it must leave alone. */
#include "trial.h"

#include "answer/evidence.h"

struct rule_case {
    const char *point, *answer, *verdict, *ground;
};

static struct evidence_ask *ask_new(const struct node *points, size_t count, int word, const char *text, struct arena *arena)
{
    struct question *question = arena_get(arena, sizeof *question);
    struct part *part = arena_get(arena, sizeof *part);
    struct run *run = arena_get(arena, sizeof *run);
    struct block *block = arena_get(arena, sizeof *block);
    struct evidence_ask *ask = arena_get(arena, sizeof *ask);
    *run = (struct run){RUN_PLAIN, text};
    *block = (struct block){.kind = BLOCK_PARAGRAPH, .text = {run, 1}};
    *part = (struct part){.id = "a", .word = word, .marks = 3, .ask = {block, 1},
                          .scheme = {.root = {.kind = NODE_ALL, .children = points, .child_count = count}}};
    *question = (struct question){.id = "q", .parts = part, .part_count = 1};
    *ask = (struct evidence_ask){.course = &trial_course, .question = question, .part = part};
    return ask;
}

static void expect_cases(const struct node *points, size_t count, int word, const char *text, const struct rule_case *cases,
                         size_t case_count)
{
    struct arena *arena = arena_new();
    struct evidence_ask *ask = ask_new(points, count, word, text, arena);
    for (size_t i = 0; i < case_count; i++) {
        const struct point_evidence *found = evidence_point(evidence_of(ask, cases[i].answer, arena), cases[i].point);
        cr_assert_not_null(found, "%s", cases[i].point);
        cr_expect(strcmp(evidence_verdict_name(found->verdict), cases[i].verdict) == 0
                  && strcmp(evidence_ground_name(found->ground), cases[i].ground) == 0, "%s: '%s' is %s by %s: %s", cases[i].point,
                  cases[i].answer, evidence_verdict_name(found->verdict), evidence_ground_name(found->ground), found->reason);
    }
    arena_free(arena);
}

#define COUNT(array) (sizeof(array) / sizeof *(array))
#define EXPECT(points, word, text, ...)                                                                         \
    do {                                                                                                        \
        static const struct rule_case cases[] = {__VA_ARGS__};                                                  \
        expect_cases(points, COUNT(points), word, text, cases, COUNT(cases));                                   \
    } while (0)

Test(answer, rule_not_as_much_is_less)
{
    const struct node points[] = {
        POINT("fewer carbonate ions are left", .id = "p", KEYS(WORD("carbonate"), WORD("fewer", "less"))),
    };
    EXPECT(points, EXPLAIN, "Explain why shells get thin.",
           {"p", "there is not as much carbonate left", "earned", "keys"},
           {"p", "there isn't so much carbonate left", "earned", "keys"},
           {"p", "there is just as much carbonate", "cant-tell", "some-words"});
}

Test(answer, rule_a_lack_may_be_said_by_not)
{
    const struct node points[] = {
        POINT("too little oxygen for the gills", .id = "lack", KEYS(WORD("gills", "breathe"))),
        POINT("too little food is left", .id = "left", KEYS(WORD("little"), WORD("left"))),
        POINT("dry ground", .id = "flood", .accepts = {TEXTS("land that does not flood")}, KEYS(WORD("dry", "flood"))),
        POINT("the wind dries the shore", .id = "plain", KEYS(WORD("dries"))),
    };
    EXPECT(points, DESCRIBE, "Describe the shore.",
           {"lack", "it cannot get oxygen to breathe", "earned", "keys"},
           {"lack", "hardly any oxygen for gills", "earned", "keys"},
           {"left", "hardly any food is left", "earned", "keys"},
           {"left", "scarcely any food is left", "earned", "keys"},
           {"flood", "it does not flood", "earned", "keys"},
           {"plain", "the wind does not dry the shore", "not-earned", "negated"});
}

Test(answer, rule_a_plain_not_loses_the_point)
{
    const struct node points[] = {
        POINT("the limewater turns cloudy", .id = "cloudy", KEYS(WORD("cloudy", "milky"))),
        POINT("the water stays below the wall", .id = "wall", KEYS(WORD("below"), WORD("wall"))),
        POINT("water evaporates but the salt stays", .id = "salt", KEYS(WORD("evaporates"), WORD("salt"))),
    };
    EXPECT(points, DESCRIBE, "Describe what happens.",
           {"cloudy", "It doesn't go cloudy", "not-earned", "negated"},
           {"cloudy", "it never gets milky", "not-earned", "negated"},
           {"cloudy", "it fails to go cloudy", "not-earned", "negated"},
           {"cloudy", "it failed to go cloudy", "not-earned", "negated"},
           {"cloudy", "it no longer goes cloudy", "not-earned", "negated"},
           {"salt", "without salt", "cant-tell", "negated"},
           {"salt", "a lack of salt", "cant-tell", "negated"},
           {"salt", "a shortage of salt", "cant-tell", "negated"},
           {"wall", "it isn't higher than the wall", "cant-tell", "negated"},
           {"salt", "salt does not evaporate", "cant-tell", "negated"},
           {"cloudy", "the limewater does not just go cloudy, it goes white", "earned", "keys"});
}

Test(answer, rule_sides_of_a_comparison)
{
    const struct node points[] = {
        POINT("rock lasts three times as long as timber", .id = "as", KEYS(WORD("longer", "lasts"))),
        POINT("rock is dearer than timber", .id = "accept", .accepts = {TEXTS("timber is the cheaper and quicker one")},
              KEYS(WORD("rock", "timber"), WORD("dearer", "cheaper"))),
        POINT("the land warms faster than the sea", .id = "than", KEYS(WORD("land"), WORD("faster"))),
    };
    EXPECT(points, COMPARE, "Compare the two.",
           {"as", "timber lasts longer than rock", "not-earned", "far-apart"},
           {"than", "the sea warms faster than the land", "not-earned", "far-apart"},
           {"accept", "timber is cheaper", "earned", "keys"},
           {"as", "rock lasts longer than timber", "earned", "keys"},
           {"than", "the land warms faster than the sea", "earned", "keys"});
}

Test(answer, rule_what_is_set_against_what)
{
    const struct node points[] = {
        POINT("a random error changes each time, while a systematic error is the same", .id = "p",
              KEYS(WORD("random"), WORD("systematic"), WORD("same", "constant"))),
    };
    EXPECT(points, COMPARE, "Compare two errors.",
           {"p", "a random error is the same but a systematic error changes", "not-earned", "far-apart"},
           {"p", "a random error changes but a systematic error is the same", "earned", "keys"});
}

Test(answer, rule_numbers_in_their_order)
{
    const struct node points[] = {POINT("it falls from 8.11 to 8.05", .id = "p", KEYS(WORD("8.05"), WORD("8.11")))};
    EXPECT(points, DESCRIBE, "Describe the change of the acidity.",
           {"p", "it falls from 8.05 to 8.11", "not-earned", "far-apart"},
           {"p", "it falls from 8.11 to 8.05", "earned", "keys"});
}

Test(answer, rule_more_of_what_and_much_of_what)
{
    const struct node points[] = {
        POINT("less oxygen in the water", .id = "less", KEYS(WORD("less"), WORD("water"))),
        POINT("many people live there", .id = "many", KEYS(WORD("people"))),
    };
    EXPECT(points, EXPLAIN, "Explain it.",
           {"less", "less food in the water", "not-earned", "far-apart"},
           {"less", "less oxygen in the water", "earned", "keys"},
           {"many", "few people live there", "cant-tell", "far-apart"},
           {"many", "lots of people live there", "earned", "keys"});
}

Test(answer, rule_both_ways_and_what_the_text_negates)
{
    const struct node points[] = {
        POINT("the pH falls as the gas rises", .id = "both", KEYS(WORD("rises", "falls"))),
        POINT("a pattern does not show the cause", .id = "not", KEYS(WORD("cause"))),
    };
    EXPECT(points, EXPLAIN, "Explain the table.",
           {"both", "the pH rises as the gas rises", "cant-tell", "far-apart"},
           {"both", "the pH falls as the gas rises", "earned", "keys"},
           {"not", "the pattern shows that it is the cause", "cant-tell", "far-apart"},
           {"not", "a pattern is not the cause", "earned", "keys"});
}

Test(answer, rule_plain_and_special_directions)
{
    const struct node points[] = {POINT("the land warms faster", .id = "p", KEYS(WORD("land"), WORD("faster", "more"))),
                                         POINT("the level rises", .id = "q", KEYS(WORD("rises")))};
    EXPECT(points, EXPLAIN, "Explain it.",
           {"p", "air over the land goes up", "cant-tell", "some-words"},
           {"p", "the land warms faster", "earned", "keys"},
           {"q", "the level goes up", "earned", "keys"},
           {"q", "the level increases", "earned", "keys"});
}

Test(answer, rule_phrases_stand_together)
{
    const struct node points[] = {POINT("bobs up and down", .id = "p", KEYS(WORD("up and down"))),
                                         POINT("it is denser", .id = "q", KEYS(WORD("more dense")))};
    EXPECT(points, EXPLAIN, "Explain it.",
           {"p", "it bobs up and down", "earned", "keys"},
           {"p", "it sinks down under it and pops up", "cant-tell", "some-words"},
           {"q", "it is more dense", "earned", "keys"},
           {"q", "dense things push more", "not-earned", "no-words"});
}

Test(answer, rule_the_question_handed_back)
{
    const struct node points[] = {POINT("the carbonate in their shells dissolves", .id = "p", KEYS(WORD("shells", "carbonate"))),
                                         POINT("mussels of Y", .id = "q", KEYS(WORD("Y")))};
    EXPECT(points, EXPLAIN, "Explain why mussels of Y grow thinner shells.",
           {"p", "Mussels of Y grow thinner shells because their shells are thinner", "not-earned", "from-the-ask"},
           {"p", "Mussels do not grow thinner shells", "cant-tell", "negated"},
           {"q", "Y", "earned", "keys"});
}

Test(answer, rule_absent_only_when_nothing_is_left_over)
{
    const struct node points[] = {
        POINT("waves get steeper", .id = "steep", KEYS(WORD("steeper"))),
        POINT("the bed slows the lower part by friction", .id = "slow", KEYS(WORD("friction", "slows"))),
        POINT("a fall by 31", .id = "figure", KEYS(WORD("31"))),
    };
    EXPECT(points, EXPLAIN, "Explain why waves break.",
           {"steep", "the bed slows the lower part by friction", "not-earned", "no-words"},
           {"steep", "it is on account of a kind of tripping over themselves", "cant-tell", "no-words"},
           {"figure", "waves break by friction", "not-earned", "no-words"},
           {"slow", "waves break", "not-earned", "no-words"});
    const struct node both[] = {POINT("high water is higher and low water is lower", .id = "p", KEYS(WORD("higher"), WORD("lower")))};
    EXPECT(both, EXPLAIN, "Explain why the range of the tide is large.",
           {"p", "high water of the tide is higher", "not-earned", "some-words"},
           {"p", "higher high water", "cant-tell", "some-words"});
}

Test(answer, rule_words_of_a_rejected_sentence_earn_nothing_else)
{
    const struct node points[] = {
        POINT("the water is shallow there", .id = "shallow", KEYS(WORD("shallow"))),
        POINT("waves are slower in shallow water", .id = "slower", KEYS(WORD("slower")), .rejects = {TEXTS("waves are faster in shallow water")}),
    };
    EXPECT(points, EXPLAIN, "Explain why crests bend.",
           {"slower", "waves are faster in shallow water", "not-earned", "rejected"},
           {"shallow", "waves are faster in shallow water", "cant-tell", "some-words"},
           {"shallow", "the water is shallow there", "earned", "keys"});
}

Test(answer, rule_figures_have_to_be_there)
{
    const struct node points[] = {POINT("less oxygen, 6.8 and not 9.0", .id = "p", KEYS(WORD("oxygen"), WORD("6.8", "9.0")))};
    EXPECT(points, DESCRIBE, "Describe the table.",
           {"p", "hot sticky afternoons surely squeeze every bubble of oxygen away", "not-earned", "some-words"},
           {"p", "5 hot sticky afternoons surely squeeze every bubble of oxygen away", "cant-tell", "some-words"});
}

Test(answer, rule_not_when)
{
    const struct node points[] = {POINT("profit is counted when the sale is made, not when the cash arrives", .id = "p",
                                        KEYS(WORD("profit"), WORD("counted"), WORD("cash")))};
    EXPECT(points, EXPLAIN, "Explain it.",
           {"p", "profit is counted when the cash arrives", "cant-tell", "far-apart"},
           {"p", "profit is counted at the sale and not when the cash arrives", "earned", "keys"});
}

Test(answer, rule_key_words_that_stand_nearest)
{
    const struct node points[] = {POINT("less carbonate is left", .id = "p", KEYS(WORD("carbonate"), WORD("less")))};
    EXPECT(points, EXPLAIN, "Explain it.",
           {"p", "Carbonate makes shells, so there is less carbonate left", "earned", "keys"},
           {"p", "Carbonate makes shells, so there is less of them left", "cant-tell", "far-apart"});
}

Test(answer, rule_operands_in_their_order)
{
    const struct node points[] = {POINT("births minus deaths", .id = "p", KEYS(WORD("births"), WORD("deaths")))};
    EXPECT(points, EXPLAIN, "Explain natural increase.",
           {"p", "it is deaths minus births", "not-earned", "far-apart"},
           {"p", "deaths take away births", "not-earned", "far-apart"},
           {"p", "you subtract deaths from births", "earned", "keys"},
           {"p", "births minus deaths", "earned", "keys"});
}

Test(answer, rule_a_word_written_apart)
{
    const struct node points[] = {POINT("limestone", .id = "p", KEYS(WORD("limestone"))), POINT("into", .id = "short", KEYS(WORD("into")))};
    EXPECT(points, NAME, "Name a rock.",
           {"p", "lime stone", "earned", "keys"},
           {"p", "lime and stone", "cant-tell", "no-words"},
           {"short", "in to", "cant-tell", "no-words"});
}

Test(answer, rule_this_and_not_that)
{
    const struct node points[] = {POINT("hertz", .id = "p", KEYS(WORD("hertz")))};
    EXPECT(points, NAME, "Name the unit.",
           {"p", "hertz not metres", "earned", "keys"},
           {"p", "hertz is not", "cant-tell", "far-apart"});
}

Test(answer, rule_special_directions_are_compared_with_their_like)
{
    const struct node points[] = {POINT("cooler air comes in from the sea", .id = "p", KEYS(WORD("comes", "blows", "flows")))};
    EXPECT(points, EXPLAIN, "Explain the breeze.",
           {"p", "the air rises and then cold air from the sea blows in", "earned", "keys"},
           {"p", "hotter air comes in from the sea", "not-earned", "opposite"});
}

Test(answer, rule_one_key_word_needs_more_of_the_point)
{
    const struct node points[] = {POINT("timber is cheaper to build", .id = "p", KEYS(WORD("cheaper")))};
    EXPECT(points, COMPARE, "Compare the two.",
           {"p", "rock is cheaper in the long run", "cant-tell", "some-words"},
           {"p", "timber is the cheaper one", "earned", "keys"});
}

Test(answer, rule_what_is_ignored_is_all_there_is)
{
    const struct node points[] = {POINT("so that there is no bias", .id = "p", KEYS(WORD("bias")), .ignores = {TEXTS("to be fair")})};
    EXPECT(points, EXPLAIN, "Explain why it is random.",
           {"p", "to be fair", "not-earned", "ignored"},
           {"p", "a fair picture of the whole lot and of every corner", "cant-tell", "ignored"});
}

Test(answer, rule_points_with_labels)
{
    const struct node points[] = {
        POINT("spit: sand that grows out from the land", .id = "spit", KEYS(WORD("sand"), WORD("grows", "out"))),
        POINT("bar: sand across the mouth of a bay", .id = "bar", KEYS(WORD("sand"), WORD("across", "mouth"))),
        POINT("good: the sand stays there", .id = "good", KEYS(WORD("sand"), WORD("stays"))),
    };
    EXPECT(points, DESCRIBE, "Describe a spit and a bar.",
           {"spit", "A bar is sand that grows out from the land", "not-earned", "far-apart"},
           {"spit", "A bar is a ridge. A spit is sand that grows out from the land", "earned", "keys"},
           {"bar", "A spit is a ridge but a bar is sand across a bay", "earned", "keys"},
           {"good", "a bar is sand that stays there", "earned", "keys"});
}

Test(answer, rule_names_need_no_direction)
{
    const struct node points[] = {POINT("rain falling on the sea", .id = "p", KEYS(WORD("rain")))};
    EXPECT(points, NAME, "Name a process that makes it fresher.", {"p", "rain", "earned", "keys"});
    EXPECT(points, EXPLAIN, "Explain what makes it fresher.", {"p", "rain on it", "cant-tell", "no-direction"});
}
