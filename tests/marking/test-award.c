/* Awards beyond the worked examples. Values are worked by hand from the rules in docs/marking.md. */
#include "trial.h"

Test(marking, needs_in_an_earlier_part)
{
    struct trial *first = trial_new(ALL(CHILDREN(POINT(.id = "a.1"))), 1);
    struct trial *second = trial_new(ALL(CHILDREN(POINT(.id = "b.1", NEEDS("a.1")))), 1);
    trial_tick(second, "y");
    const struct award *award = trial_award(second);
    check_marks(award, 0);
    check_text(trial_line(award, "b.1")->text, "not given: needs the mark it builds on first");
    check_text(trial_line(award, "b.1")->rests_on, "a.1");
    trial_tick(first, "y");
    trial_award(first);
    second->state = first->state;
    check_marks(trial_award_on(second), 1);
    trial_end(second);
    trial_end(first);
}

Test(marking, needs_are_followed_all_the_way_down)
{
    struct trial *trial = trial_new(ALL(CHILDREN(POINT(.id = "p1"), POINT(.id = "p2", NEEDS("p1")),
                                    POINT(.id = "p3", NEEDS("p2", "p1")))), 3);
    trial_tick(trial, "nyy");
    check_marks(trial_award(trial), 0);
    trial_tick(trial, "yyy");
    check_marks(trial_award(trial), 3);
    trial->points[0].rejected = true;
    check_marks(trial_award(trial), 0);
    trial_end(trial);
}

/* No checked bank has a circle; it must not hang, and earns nothing. */
Test(marking, needs_in_a_circle)
{
    struct trial *trial = trial_new(ALL(CHILDREN(POINT(.id = "p1", NEEDS("p2")), POINT(.id = "p2", NEEDS("p1")),
                                    POINT(.id = "p3", NEEDS("p3")))), 3);
    trial_tick(trial, "yyy");
    check_marks(trial_award(trial), 0);
    trial_end(trial);
}

Test(marking, an_answer_implies_no_independent_mark)
{
    struct trial *trial = trial_new(ALL(CHILDREN(INDEPENDENT(.id = "b"), METHOD(.id = "m"), ACCURACY(.id = "a", NEEDS("m")))), 3);
    trial_tick(trial, "nny");
    trial->points[2].working = WORKING_NONE;
    const struct award *award = trial_award(trial);
    check_marks(award, 2);
    check_line(award, "b", 0, REASON_NOT_SHOWN);
    check_text(trial_line(award, "m")->text, "earned: the right answer shows the method");
    check_text(trial_line(award, "m")->rests_on, "a");
    trial_end(trial);
    trial = trial_new(ALL(CHILDREN(INDEPENDENT(.id = "b"), ACCURACY(.id = "a", NEEDS("b")))), 2);
    trial_tick(trial, "ny");
    trial->points[1].working = WORKING_NONE;
    check_line(trial_award(trial), "a", 0, REASON_NEEDS);
    trial_end(trial);
}

Test(marking, a_rejected_method_is_not_implied)
{
    struct trial *trial = trial_new(ALL(CHILDREN(METHOD(.id = "m"), ACCURACY(.id = "a"))), 2);
    trial_tick(trial, "ny");
    trial->points[1].working = WORKING_NONE;
    check_marks(trial_award(trial), 2);
    trial->points[0].rejected = true;
    check_marks(trial_award(trial), 0);
    trial_end(trial);
}

Test(marking, accuracy_without_any_method_stands_alone)
{
    struct trial *trial = trial_new(ALL(CHILDREN(ACCURACY(.id = "a"))), 1);
    trial_tick(trial, "y");
    check_marks(trial_award(trial), 1);
    trial_end(trial);
}

Test(marking, several_implied_marks_of_one_answer)
{
    struct trial *trial = trial_new(ALL(CHILDREN(IMPLIED(.id = "c1"), IMPLIED(.id = "c2"), ACCURACY(.id = "a"))), 3);
    trial_tick(trial, "nny");
    trial->points[2].working = WORKING_SEEN;
    check_marks(trial_award(trial), 3);
    trial_tick(trial, "nyn");
    check_marks(trial_award(trial), 1);
    trial_end(trial);
}

Test(marking, a_tick_stands_against_the_arithmetic)
{
    struct trial *trial = trial_new(ALL(CHILDREN(POINT(.id = "p", .number = KEY(.value = "42")))), 1);
    trial_tick(trial, "y");
    trial->points[0].value = VALUE_WRONG;
    check_line(trial_award(trial), "p", 1, REASON_ON_YOUR_WORD);
    trial_tick(trial, "n");
    trial->points[0].value = VALUE_RIGHT;
    check_line(trial_award(trial), "p", 0, REASON_NOT_SHOWN);
    trial_end(trial);
}

static struct node two_routes(void)
{
    static const struct node formula[] = {{.kind = NODE_POINT, .id = "f1", .marks = 1}, {.kind = NODE_POINT, .id = "f2", .marks = 1}};
    static const struct node power[] = {{.kind = NODE_POINT, .id = "w1", .marks = 1}, {.kind = NODE_POINT, .id = "w2", .marks = 1}};
    static const struct node ways[] = {
        {.kind = NODE_ALL, .id = "by-formula", .name = "by formula", .children = formula, .child_count = 2},
        {.kind = NODE_ALL, .id = "by-power", .name = "by power", .children = power, .child_count = 2}};
    return (struct node){.kind = NODE_ROUTES, .id = "ways", .children = ways, .child_count = 2};
}

Test(marking, the_best_route_counts)
{
    struct trial *trial = trial_new(ALL(CHILDREN(two_routes())), 2);
    trial_tick(trial, "ynyy");
    const struct award *award = trial_award(trial);
    check_marks(award, 2);
    check_line(award, "ways", 0, REASON_ROUTE_COUNTS);
    check_text(trial_line(award, "ways")->text, "route 'by power' counts: it gives more marks");
    trial_tick(trial, "ynny");
    check_text(trial_line(trial_award(trial), "ways")->text, "route 'by formula' counts: no other gives more marks");
    trial_tick(trial, "nnun");
    award = trial_award(trial);
    check_marks(award, 0);
    check_line(award, "w1", 0, REASON_UNSURE);
    trial_end(trial);
}

Test(marking, a_short_route_fills_up_to_the_maximum)
{
    struct trial *trial = trial_new(ALL(CHILDREN(ROUTES(.id = "ways", CHILDREN(
        ALL(.id = "r1", CHILDREN(POINT(.id = "p1"))),
        ALL(.id = "r2", CHILDREN(POINT(.id = "p2"), POINT(.id = "p3"))))))), 2);
    trial_tick(trial, "ynn");
    const struct award *award = trial_award(trial);
    check_marks(award, 1);
    cr_expect_eq(award->lines[award->line_count - 1].reason, REASON_ROUTE_SHORT);
    check_text(award->lines[award->line_count - 1].text, "not given: this way of answering reaches 1 of 2");
    trial_end(trial);
}

/* An answer behind alternative ways rests on whichever was taken. */
Test(marking, accuracy_behind_routes)
{
    struct trial *trial = trial_new(ALL(CHILDREN(ROUTES(.id = "ways", CHILDREN(
        ALL(.id = "r1", CHILDREN(METHOD(.id = "m1"))), ALL(.id = "r2", CHILDREN(METHOD(.id = "m2"))))),
        ACCURACY(.id = "a"))), 2);
    trial_tick(trial, "yny");
    check_marks(trial_award(trial), 2);
    trial_tick(trial, "nyy");
    check_marks(trial_award(trial), 2);
    trial_tick(trial, "nny");
    check_marks(trial_award(trial), 0);
    trial->points[2].working = WORKING_NONE;
    check_marks(trial_award(trial), 2);
    trial_end(trial);
}

/* The answer n shows a and, below it, both ways; ticking a too must not take the better way's marks back. */
Test(marking, what_an_answer_implies_does_not_shrink)
{
    struct trial *trial = trial_new(ALL(CHILDREN(ROUTES(.id = "ways", CHILDREN(
        ALL(.id = "r1", CHILDREN(METHOD(.id = "m1"))),
        ALL(.id = "r2", CHILDREN((struct node){.kind = NODE_POINT, .id = "m2", .marks = 2, .point_kind = POINT_METHOD})))),
        ACCURACY(.id = "a"), ACCURACY(.id = "n", NEEDS("a")))), 4);
    trial_tick(trial, "ynny");
    trial->points[3].working = WORKING_NONE;
    check_marks(trial_award(trial), 4);
    trial->points[2].tick = TICK_YES;
    check_marks(trial_award(trial), 4);
    trial_end(trial);
}

Test(marking, a_maximum_inside_the_scheme)
{
    struct trial *trial = trial_new(ALL(CHILDREN(
        ALL(.id = "causes", .marks = 2, CHILDREN(POINT(.id = "p1"), POINT(.id = "p2"), POINT(.id = "p3"))),
        (struct node){.kind = NODE_POINT, .id = "big", .marks = 2})), 4);
    trial_tick(trial, "yyyn");
    check_marks(trial_award(trial), 2);
    trial_tick(trial, "nnyy");
    const struct award *award = trial_award(trial);
    check_marks(award, 3);
    check_line(award, "p3", 1, REASON_EARNED);
    check_line(award, "p1", 0, REASON_NOT_SHOWN);
    trial_end(trial);
}

/* The unit belongs to the end of a calculation; a number on the way is not asked for one. */
Test(marking, the_unit_of_a_number_on_the_way_is_not_asked_for)
{
    struct trial *trial = trial_new(ALL(CHILDREN(POINT(.id = "speed", .number = KEY(.value = "3", .unit = "m/s")),
                                    POINT(.id = "force", .number = KEY(.value = "6", .unit = "N")))), 2);
    trial_tick(trial, "yy");
    trial->points[0].unit = UNIT_LEFT_OUT;
    check_marks(trial_award(trial), 2);
    trial->points[1].unit = UNIT_LEFT_OUT;
    const struct award *award = trial_award(trial);
    check_marks(award, 1);
    check_line(award, "force", 0, REASON_UNIT_MISSING);
    trial_end(trial);
}

/* Unit and figures of one number that has one mark: it cannot be lost twice. */
Test(marking, one_mark_is_lost_once)
{
    struct trial *trial = trial_new(ALL(CHILDREN(POINT(.id = "p1"), POINT(.id = "n",
                                    .number = KEY(.value = "6", .unit = "N", .figures = 2)))), 2);
    trial_tick(trial, "yy");
    trial->points[1].unit = UNIT_WRONG;
    trial->points[1].figures_wrong = true;
    const struct award *award = trial_award(trial);
    check_marks(award, 1);
    check_line(award, "n", 0, REASON_UNIT_WRONG);
    trial_end(trial);
}

/* Figures are penalised once a question even when several numbers miss them. */
Test(marking, figures_once_a_question)
{
    struct trial *trial = trial_new(ALL(CHILDREN(POINT(.id = "n1", .number = KEY(.value = "6", .figures = 2)),
                                    POINT(.id = "n2", .number = &(const struct number_key){.value = "7", .places = 1}))), 2);
    trial_tick(trial, "yy");
    trial->points[0].figures_wrong = trial->points[1].figures_wrong = true;
    const struct award *award = trial_award(trial);
    check_marks(award, 1);
    check_text(trial_line(award, "n1")->text, "1 mark lost: 2 significant figures are asked for");
    check_line(award, "n2", 1, REASON_EARNED);
    trial->points[0].figures_wrong = false;
    check_text(trial_line(trial_award(trial), "n2")->text, "1 mark lost: 1 decimal place is asked for");
    trial_end(trial);
}

/* Of several points any of which will do, the one that lacks its unit is passed by. */
Test(marking, a_penalty_is_passed_by_where_it_can_be)
{
    struct trial *trial = trial_new(ALL(CHILDREN(ANY(1, .id = "any", CHILDREN(
        POINT(.id = "n", .number = KEY(.value = "6", .unit = "N")), POINT(.id = "p"))))), 1);
    trial_tick(trial, "yy");
    trial->points[0].unit = UNIT_LEFT_OUT;
    const struct award *award = trial_award(trial);
    check_marks(award, 1);
    check_line(award, "p", 1, REASON_EARNED);
    cr_expect(award->unit_lost == 0 && !trial->state.unit_used);
    trial_end(trial);
}

static int list_by_ticks(enum list_rule rule, const char *ticks, size_t wrong)
{
    struct trial *trial = trial_new(ALL(CHILDREN(LIST(2, rule, .id = "list", CHILDREN(POINT(.id = "p1"), POINT(.id = "p2"),
                                    POINT(.id = "p3"))))), 2);
    struct list_input list = {.node = "list", .wrong = wrong};
    trial->input.lists = &list;
    trial->input.list_count = 1;
    trial_tick(trial, ticks);
    int marks = trial_award(trial)->marks;
    trial_end(trial);
    return marks;
}

/* Only counts are known: under "first" the wrong items are taken as written first. */
Test(marking, lists_by_counts)
{
    cr_expect_eq(list_by_ticks(LIST_CANCEL, "yyy", 0), 2);
    cr_expect_eq(list_by_ticks(LIST_CANCEL, "ynn", 1), 1);
    cr_expect_eq(list_by_ticks(LIST_CANCEL, "yyn", 1), 1);
    cr_expect_eq(list_by_ticks(LIST_CANCEL, "yyn", 2), 0);
    cr_expect_eq(list_by_ticks(LIST_FIRST, "ynn", 1), 1);
    cr_expect_eq(list_by_ticks(LIST_FIRST, "yyn", 1), 1);
    cr_expect_eq(list_by_ticks(LIST_FIRST, "yyn", 2), 0);
    cr_expect_eq(list_by_ticks(LIST_FIRST, "yyy", 0), 2);
}

/* Judged items count, not ticks; a right item under no point listed counts; a killed point makes its item wrong. */
Test(marking, lists_by_items)
{
    struct trial *trial = trial_new(ALL(CHILDREN(POINT(.id = "before"), LIST(2, LIST_CANCEL, .id = "list", CHILDREN(POINT(.id = "p1"),
                                    POINT(.id = "p2"))))), 3);
    struct list_item items[] = {{ITEM_RIGHT, 1, "one"}, {ITEM_RIGHT, -1, "other"}, {ITEM_RIGHT, 2, "two"}};
    struct list_input list = {.node = "list", .known = true, .items = items, .item_count = 2};
    trial->input.lists = &list;
    trial->input.list_count = 1;
    trial_tick(trial, "nnn");
    check_marks(trial_award(trial), 2);
    list.item_count = 3;
    trial->points[2].rejected = true;
    check_marks(trial_award(trial), 1);
    list.item_count = 0;
    trial_tick(trial, "nyy");
    check_marks(trial_award(trial), 0);
    trial_end(trial);
}

Test(marking, late_items_are_noted)
{
    struct trial *trial = trial_new(ALL(CHILDREN(LIST(1, LIST_FIRST, .id = "list", CHILDREN(POINT(.id = "p1"))))), 1);
    struct list_item items[] = {{ITEM_WRONG, -1, "wood"}, {ITEM_RIGHT, 0, "iron"}};
    struct list_input list = {.node = "list", .known = true, .items = items, .item_count = 2};
    trial->input.lists = &list;
    trial->input.list_count = 1;
    const struct award *award = trial_award(trial);
    check_marks(award, 0);
    cr_assert_eq(award->line_count, 2);
    cr_expect(award->lines[1].reason == REASON_LIST_LATE && award->lines[1].maximum == 0);
    check_text(award->lines[1].text, "right, but written after the items that count: 'iron'");
    trial_end(trial);
}

Test(marking, nothing_said_at_all)
{
    struct trial *trial = trial_new(ALL(CHILDREN(POINT(.id = "p"))), 1);
    trial->input = (struct part_input){0};
    const struct award *award = trial_award(trial);
    check_marks(award, 0);
    cr_expect(award->undecided && !award->no_response);
    trial_end(trial);
}

Test(marking, the_maximum_is_what_can_be_reached)
{
    struct trial *trial = trial_new(ALL(CHILDREN(POINT(.id = "p"))), 5);
    cr_expect_eq(trial_award(trial)->maximum, 1);
    trial_end(trial);
}

Test(marking, levels_without_strands_and_odd_ratings)
{
    static const struct level levels[] = {{1, 1, 3, "some"}, {2, 4, 6, "more"}};
    static const struct strand strands[] = {{"one", NULL}, {"two", NULL}};
    struct node node = {.kind = NODE_LEVELS, .id = "l", .levels = levels, .level_count = 2};
    cr_expect_eq(marking_level(&node, (const int[]){2}, 1, NULL, 0).proxy, 5);
    cr_expect_eq(marking_level(&node, (const int[]){9}, 1, NULL, 0).proxy, 5);
    cr_expect_not(marking_level(&node, NULL, 0, NULL, 0).rated);
    node.strands = strands;
    node.strand_count = 2;
    cr_expect_not(marking_level(&node, (const int[]){2}, 1, NULL, 0).rated);
    struct award_levels tied = marking_level(&node, (const int[]){2, 1}, 2, NULL, 0);
    cr_expect(tied.level == 1 && tied.proxy == 3, "the lower of two, one above it: its top mark");
}

Test(marking, every_reason_has_a_name)
{
    for (int i = 0; i < AWARD_REASONS; i++) {
        cr_assert(award_reason_name((enum award_reason)i) != NULL);
        for (int k = 0; k < i; k++)
            cr_expect_str_neq(award_reason_name((enum award_reason)i), award_reason_name((enum award_reason)k));
    }
    cr_expect(award_reason_is_given(REASON_IMPLIED) && !award_reason_is_given(REASON_NEEDS));
}
