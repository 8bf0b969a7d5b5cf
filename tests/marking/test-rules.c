/* The marking rules by number, each with its worked example. The rules' sources are named in docs/marking.md;
 * where an example is not a source's own it is worked by hand from the rule ("worked by hand"). */
#include "trial.h"

#include "marking/compare.h"

/* Rule 1. Whole marks, once only, never below 0, at most the maximum (published marking principles of an international board,
 * 2025, as given in docs/marking.md); the example worked by hand. */
Test(marking, rule_01_point)
{
    struct trial *trial = trial_new(ALL(CHILDREN(POINT(.id = "p1"), POINT(.id = "p2"), POINT(.id = "p3"), POINT(.id = "p4"))), 3);
    trial_tick(trial, "nynn");
    check_marks(trial_award(trial), 1);
    trial_tick(trial, "yyyy");
    check_marks(trial_award(trial), 3);
    trial_tick(trial, "nnnn");
    check_marks(trial_award(trial), 0);
    trial_tick(trial, "yu.n");
    const struct award *award = trial_award(trial);
    check_marks(award, 1);
    cr_expect(award->undecided);
    check_line(award, "p2", 0, REASON_UNSURE);
    check_line(award, "p3", 0, REASON_UNDECIDED);
    check_text(trial_line(award, "p2")->text, "not sure counts as not earned until you decide");
    trial_end(trial);
}

/* Rule 2. Any one accepted wording does; a rejected one kills the point. "air, oxygen" 1; "oxygen, carbon
 * dioxide" 0: worked by hand. */
Test(marking, rule_02_alternatives)
{
    struct trial *trial = trial_new(ALL(CHILDREN(POINT(.id = "gas"))), 1);
    trial_tick(trial, "y");
    check_marks(trial_award(trial), 1);
    trial->points[0].rejected = true;
    trial->points[0].rejected_words = "carbon dioxide";
    const struct award *award = trial_award(trial);
    check_marks(award, 0);
    check_line(award, "gas", 0, REASON_REJECTED);
    check_text(trial_line(award, "gas")->text, "not given: the scheme rejects 'carbon dioxide', even beside a right answer");
    trial_end(trial);
}

/* Rule 3. Any two, four hits: 2. Worked by hand. */
Test(marking, rule_03_any_of)
{
    struct trial *trial = trial_new(ALL(CHILDREN(ANY(2, .id = "any", CHILDREN(POINT(.id = "p1"), POINT(.id = "p2"),
                                    POINT(.id = "p3"), POINT(.id = "p4"))), POINT(.id = "other"))), 3);
    trial_tick(trial, "yyyyn");
    const struct award *award = trial_award(trial);
    check_marks(award, 2);
    cr_expect_eq(award->line_count, 3);
    trial_tick(trial, "nnynn");
    award = trial_award(trial);
    check_marks(award, 1);
    check_line(award, "p3", 1, REASON_EARNED);
    check_line(award, "any", 0, REASON_TOO_FEW);
    check_text(trial_line(award, "any")->text, "not given: 2 asked for, 1 found");
    cr_expect_eq(trial_line(award, "any")->point, AWARD_NO_POINT);
    trial_end(trial);
}

/* Rule 4. M1 A1 B1 with a wrong method and a lucky value: 0 + 0 + 1; C1 A1 with only the right value: 2. Method,
 * accuracy, independent and implied marks as defined in a published board scheme; examples worked by hand. */
Test(marking, rule_04_dependency)
{
    struct trial *trial = trial_new(ALL(CHILDREN(METHOD(.id = "m"), ACCURACY(.id = "a"), INDEPENDENT(.id = "b"))), 3);
    trial_tick(trial, "nyy");
    trial->points[1].working = WORKING_SEEN;
    const struct award *award = trial_award(trial);
    check_marks(award, 1);
    check_line(award, "m", 0, REASON_NOT_SHOWN);
    check_line(award, "a", 0, REASON_NEEDS);
    check_line(award, "b", 1, REASON_EARNED);
    check_text(trial_line(award, "a")->text, "not given: needs the method mark first");
    check_text(trial_line(award, "a")->rests_on, "m");
    cr_assert_null(trial_line(award, "b")->rests_on);
    trial_tick(trial, "nyy");
    check_marks(trial_award(trial), 1);
    trial_tick(trial, "yyn");
    check_line(trial_award(trial), "m", 1, REASON_METHOD_SEEN);
    check_marks(trial_award(trial), 2);
    trial_end(trial);

    trial = trial_new(ALL(CHILDREN(IMPLIED(.id = "c"), ACCURACY(.id = "a"))), 2);
    trial_tick(trial, "ny");
    award = trial_award(trial);
    check_marks(award, 2);
    check_line(award, "c", 1, REASON_IMPLIED);
    trial_tick(trial, "yn");
    check_marks(trial_award(trial), 1);
    trial_tick(trial, "nn");
    check_marks(trial_award(trial), 0);
    trial_end(trial);
}

static struct bound_value pressure_values[] = {
    {"force", "30", "N", 30, false}, {"area", "6", "m^2", 6, true}, {"pressure", "5", "Pa", 5, true},
};

/* Rule 5. Area 6 written as 5 (0 of 1); pressure 30/5 = 6 (2 of 2); total 2 of 3. Common practice, the example
 * worked by hand. */
Test(marking, rule_05_carried_forward)
{
    const struct values values = {pressure_values, 3};
    struct node root = ALL(CHILDREN(
        POINT(.id = "area", .number = KEY(.symbol = "area", .value = "6", .unit = "m^2")),
        METHOD(.id = "m"),
        ACCURACY(.id = "a", .number = KEY(.symbol = "pressure", .formula = "force / area", .unit = "Pa"))));
    struct trial *trial = trial_new(root, 3);
    struct follow follow = marking_follow(&values, &root.children[2], &(struct own_value){"area", 5}, 1, trial->arena);
    cr_expect_eq(follow.reason, FOLLOW_APPLIES);
    cr_expect_float_eq(follow.expected, 6, 1e-12);
    struct number given;
    cr_assert(number_read("6", &given, NULL));
    cr_expect_not(compare_number(&given, "Pa", root.children[2].number, follow.scheme_value).value_right);
    cr_expect(compare_number(&given, "Pa", root.children[2].number, follow.expected).value_right);
    trial_tick(trial, "nyy");
    trial->points[0].value = VALUE_WRONG;
    trial->points[2].value = VALUE_FOLLOWS;
    trial->points[2].working = WORKING_SEEN;
    const struct award *award = trial_award(trial);
    check_marks(award, 2);
    check_line(award, "a", 1, REASON_FOLLOWED);
    trial_end(trial);
}

static const struct award *award_list(struct trial *trial, const char *node, const struct list_item *items, size_t count)
{
    struct list_input *list = arena_get(trial->arena, sizeof *list);
    *list = (struct list_input){.node = node, .known = true, .items = items, .item_count = count};
    trial->input.lists = list;
    trial->input.list_count = 1;
    return trial_award(trial);
}

#define COPPER {ITEM_RIGHT, 0, "copper"}
#define IRON {ITEM_RIGHT, 1, "iron"}
#define WOOD {ITEM_WRONG, -1, "wood"}
#define GLASS {ITEM_WRONG, -1, "glass"}
#define SHINY {ITEM_NEUTRAL, -1, "shiny"}
#define AWARD_LIST(trial, ...) award_list(trial, "metals", (const struct list_item[]){__VA_ARGS__}, \
                                   sizeof((const struct list_item[]){__VA_ARGS__}) / sizeof(struct list_item))

/* Rule 6, extras cancel. Two metals: "copper, wood" 1; "copper, iron, wood" 1; with "glass" too 0; a neutral
 * "shiny" is free. The rule from a published board scheme (2023), the examples worked by hand. */
Test(marking, rule_06_list_cancel)
{
    struct trial *trial = trial_new(ALL(CHILDREN(LIST(2, LIST_CANCEL, .id = "metals", CHILDREN(POINT(.id = "cu"),
                                    POINT(.id = "fe"), POINT(.id = "zn"))))), 2);
    check_marks(AWARD_LIST(trial, COPPER, IRON), 2);
    check_marks(AWARD_LIST(trial, COPPER, WOOD), 1);
    const struct award *award = AWARD_LIST(trial, COPPER, IRON, WOOD);
    check_marks(award, 1);
    check_line(award, "fe", 0, REASON_LIST_CANCELLED);
    check_text(trial_line(award, "fe")->text, "cancelled by a wrong extra item: 'wood'");
    check_marks(AWARD_LIST(trial, COPPER, IRON, WOOD, GLASS), 0);
    check_marks(AWARD_LIST(trial, COPPER, SHINY, IRON), 2);
    check_marks(AWARD_LIST(trial, COPPER, SHINY, WOOD), 1);
    check_marks(AWARD_LIST(trial, COPPER, IRON, {ITEM_RIGHT, 2, "zinc"}, WOOD), 1);   /* strict reading */
    check_marks(AWARD_LIST(trial, COPPER, COPPER), 1);
    check_marks(AWARD_LIST(trial, COPPER, COPPER, WOOD), 1);                          /* a repeat is no extra */
    trial_end(trial);
}

/* Rule 6, only the first n count: "wood, copper, iron" 1. Published board scheme; the example worked by hand. */
Test(marking, rule_06_list_first)
{
    struct trial *trial = trial_new(ALL(CHILDREN(LIST(2, LIST_FIRST, .id = "metals", CHILDREN(POINT(.id = "cu"),
                                    POINT(.id = "fe"))))), 2);
    const struct award *award = AWARD_LIST(trial, WOOD, COPPER, IRON);
    check_marks(award, 1);
    check_line(award, "cu", 1, REASON_EARNED);
    check_line(award, "metals", 0, REASON_LIST_WRONG);
    check_text(trial_line(award, "metals")->text, "not given: 'wood' is wrong");
    check_marks(AWARD_LIST(trial, COPPER, IRON, WOOD), 2);
    check_marks(AWARD_LIST(trial, COPPER, SHINY, IRON), 2);
    check_marks(AWARD_LIST(trial, WOOD, GLASS, COPPER), 0);
    trial_end(trial);
}

/* Rule 7. Bands 1-2, 3-4, 5-6; strands 2, 3, 2: 4 marks. "No judgement: level 2 at most". The proxy is this
 * program's own, the examples worked by hand. */
static struct node judged_levels(void)
{
    static const struct level levels[] = {{1, 1, 2, "some"}, {2, 3, 4, "more"}, {3, 5, 6, "most"}};
    static const struct strand strands[] = {{"knowledge", NULL}, {"use", NULL}, {"judgement", NULL}};
    static const struct level_cap caps[] = {{"no judgement", 2}};
    return (struct node){.kind = NODE_LEVELS, .id = "levels", .levels = levels, .level_count = 3, .strands = strands,
                         .strand_count = 3, .caps = caps, .cap_count = 1};
}

Test(marking, rule_07_levels)
{
    struct node node = judged_levels();
    static const struct { int ratings[3]; int level, marks; } cases[] = {
        {{2, 3, 2}, 2, 4}, {{2, 2, 2}, 2, 3}, {{2, 1, 2}, 2, 3}, {{1, 2, 3}, 2, 3}, {{3, 3, 3}, 3, 5}, {{3, 2, 3}, 3, 5},
        {{1, 1, 1}, 1, 1}, {{1, 1, 3}, 1, 2}, {{0, 1, 1}, 1, 1}, {{0, 0, 0}, 0, 0}, {{0, 0, 2}, 0, 0}, {{2, 1, 3}, 2, 3},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct award_levels result = marking_level(&node, cases[i].ratings, 3, NULL, 0);
        cr_expect(result.rated && result.level == cases[i].level && result.proxy == cases[i].marks,
                  "%d %d %d: level %d, %d marks", cases[i].ratings[0], cases[i].ratings[1], cases[i].ratings[2],
                  result.level, result.proxy);
    }
    struct award_levels capped = marking_level(&node, (const int[]){3, 3, 3}, 3, (const bool[]){true}, 1);
    cr_expect(capped.level == 2 && capped.cap == 0 && capped.proxy == 4);
}

/* The human choice is stored beside the proxy and counts; a cap holds both. */
Test(marking, rule_07_override)
{
    struct trial *trial = trial_new(ALL(CHILDREN(judged_levels())), 6);
    struct levels_input levels = {.node = "levels", .ratings = (const int[]){2, 3, 2}, .rating_count = 3, .override = OVERRIDE_NONE};
    trial->input.levels = &levels;
    trial->input.level_count = 1;
    check_marks(trial_award(trial), 4);
    levels.override = 5;
    const struct award *award = trial_award(trial);
    check_marks(award, 5);
    cr_expect(award->level_count == 1 && award->levels[0].proxy == 4 && award->levels[0].override == 5);
    check_line(award, "levels", 5, REASON_OVERRIDE);
    levels.caps = (const bool[]){true};
    levels.cap_count = 1;
    award = trial_award(trial);
    check_marks(award, 4);
    cr_expect_eq(award->levels[0].override, 5);
    levels.override = OVERRIDE_NONE;
    levels.ratings = (const int[]){2, RATING_NONE, 2};
    award = trial_award(trial);
    check_marks(award, 0);
    cr_expect(award->undecided);
    trial_end(trial);
}

/* Rule 8. A separate pot of 4 / 2-3 / 1 / 0; content 0: quality 0. Bands as in a published board scheme, the
 * rest common practice; worked by hand. */
Test(marking, rule_08_quality)
{
    static const struct band bands[] = {{4, "high"}, {3, "fair"}, {2, "fair"}, {1, "basic"}};
    struct node quality = {.kind = NODE_QUALITY, .id = "spag", .bands = bands, .band_count = 4};
    struct trial *trial = trial_new(ALL(CHILDREN(POINT(.id = "p1"), POINT(.id = "p2"), quality)), 6);
    struct quality_input said = {"spag", 1};
    trial->input.quality = &said;
    trial->input.quality_count = 1;
    trial_tick(trial, "yn");
    const struct award *award = trial_award(trial);
    check_marks(award, 4);
    check_line(award, "spag", 3, REASON_BAND);
    trial_tick(trial, "nn");
    award = trial_award(trial);
    check_marks(award, 0);
    check_line(award, "spag", 0, REASON_NO_CONTENT);
    said.band = BAND_NONE;
    trial_tick(trial, "yy");
    check_marks(trial_award(trial), 2);
    trial_end(trial);
}

/* A calculation of 3 marks: formula, substitution, answer in newtons. */
static struct node calculation(const struct number_key *key)
{
    static struct node children[3];
    children[0] = METHOD(.id = "m1");
    children[1] = METHOD(.id = "m2");
    children[2] = ACCURACY(.id = "a", .number = key);
    return ALL(.children = children, .child_count = 3);
}

/* Rule 10. 3 marks, value right, no unit: 2. Once a question; not in "show that", not where it is printed.
 * Published physics scheme (2010) as given in docs/marking.md; worked by hand. */
Test(marking, rule_10_unit)
{
    struct number_key key = {.value = "42", .unit = "N", .places = -1};
    struct trial *trial = trial_new(calculation(&key), 3);
    trial_tick(trial, "yyy");
    trial->points[2].unit = UNIT_LEFT_OUT;
    const struct award *award = trial_award(trial);
    check_marks(award, 2);
    check_line(award, "a", 0, REASON_UNIT_MISSING);
    check_text(trial_line(award, "a")->text, "1 mark lost: the unit is missing");
    cr_expect(award->unit_lost == 1 && trial->state.unit_used);
    check_marks(trial_award_on(trial), 3);
    trial->points[2].unit = UNIT_WRONG;
    check_marks(trial_award(trial), 2);
    trial->points[2].unit = UNIT_UNCLEAR;
    check_marks(trial_award(trial), 3);
    trial->points[2].unit = UNIT_LEFT_OUT;
    key.unit_printed = true;
    check_marks(trial_award(trial), 3);
    key.unit_printed = false;
    trial->part.scheme.working_required = true;
    check_marks(trial_award(trial), 3);
    trial->part.scheme.working_required = false;
    trial->part.scheme.unit_penalty = false;
    check_marks(trial_award(trial), 3);
    trial_end(trial);
}

/* Rule 11. Key 1.385: "1.4" has the value; where 3 figures are asked for it loses that mark, once a question. Common
 * practice; worked by hand. */
Test(marking, rule_11_figures)
{
    struct number given;
    struct number_key key = {.value = "1.385", .unit = "m", .figures = 3, .places = -1};
    cr_assert(number_read("1.4", &given, NULL));
    struct number_verdict verdict = compare_number(&given, "m", &key, 1.385);
    cr_expect(verdict.value_right && verdict.figures_asked && !verdict.figures_right);
    struct trial *trial = trial_new(calculation(&key), 3);
    trial_tick(trial, "yyy");
    trial->points[2].figures_wrong = true;
    const struct award *award = trial_award(trial);
    check_marks(award, 2);
    check_text(trial_line(award, "a")->text, "1 mark lost: 3 significant figures are asked for");
    cr_expect(award->figures_lost == 1);
    check_marks(trial_award_on(trial), 3);
    key.figures = 0;
    check_marks(trial_award(trial), 3);
    trial_end(trial);
}

/* Rule 12. A right answer without working has full marks, unless working is demanded: then 0; a wrong answer without working
 * 0. Published mathematics scheme (2014) and common practice; worked by hand. */
Test(marking, rule_12_without_working)
{
    struct trial *trial = trial_new(calculation(KEY(.value = "42", .unit = "N")), 3);
    trial_tick(trial, "nny");
    trial->points[2].value = VALUE_RIGHT;
    trial->points[2].unit = UNIT_FITS;
    trial->points[2].working = WORKING_NONE;
    const struct award *award = trial_award(trial);
    check_marks(award, 3);
    check_line(award, "m1", 1, REASON_ANSWER_SHOWS_METHOD);
    check_line(award, "m2", 1, REASON_ANSWER_SHOWS_METHOD);
    trial->points[2].working = WORKING_SEEN;
    check_marks(trial_award(trial), 0);
    trial->points[2].working = WORKING_NONE;
    trial->part.scheme.working_required = true;
    award = trial_award(trial);
    check_marks(award, 0);
    check_line(award, "a", 0, REASON_UNSUPPORTED);
    trial->part.scheme.working_required = false;
    trial->points[2].value = VALUE_WRONG;
    check_marks(trial_award(trial), 0);
    trial->points[2].value = VALUE_FOLLOWS;
    check_marks(trial_award(trial), 0);
    trial_end(trial);
}

/* Rule 13. Crossed out: marked unless replaced (two published schemes), or never (a third); an attribute. */
Test(marking, rule_13_crossed_out)
{
    struct trial *trial = trial_new(ALL(CHILDREN(POINT(.id = "p"))), 1);
    trial_tick(trial, "y");
    trial->points[0].crossed_out = true;
    check_marks(trial_award(trial), 1);
    trial->points[0].replaced = true;
    check_marks(trial_award(trial), 0);
    check_line(trial_award(trial), "p", 0, REASON_CROSSED_OUT);
    trial->points[0].replaced = false;
    trial->part.scheme.crossed_out = CROSSED_OUT_IGNORED;
    check_marks(trial_award(trial), 0);
    trial_end(trial);
}

/* Rule 14. "Mass rises … mass falls": 0 for that point, the others stand. Published scheme; worked by hand. */
Test(marking, rule_14_contradiction)
{
    struct trial *trial = trial_new(ALL(CHILDREN(POINT(.id = "mass"), POINT(.id = "time"))), 2);
    trial_tick(trial, "yy");
    trial->points[0].contradicted = true;
    const struct award *award = trial_award(trial);
    check_marks(award, 1);
    check_line(award, "mass", 0, REASON_CONTRADICTED);
    trial_end(trial);
}

/* Rule 15. Blank and zero both total 0; only blank is "no response". Published mathematics scheme (2014). */
Test(marking, rule_15_no_response)
{
    struct trial *trial = trial_new(ALL(CHILDREN(POINT(.id = "p"), judged_levels())), 7);
    trial_tick(trial, "n");
    cr_expect_not(trial_award(trial)->no_response);
    trial_tick(trial, "y");
    trial->input.no_response = true;
    const struct award *award = trial_award(trial);
    check_marks(award, 0);
    cr_expect(award->no_response && !award->undecided);
    check_line(award, "p", 0, REASON_NO_RESPONSE);
    check_line(award, "levels", 0, REASON_NO_RESPONSE);
    trial_end(trial);
}
