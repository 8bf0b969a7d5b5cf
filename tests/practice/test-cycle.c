/* The cycle, driven by lines. Expected texts are this program's own; the marks follow from docs/marking.md. */
#include "sitting.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"

Test(practice, one_mark_goes_straight_to_the_answer)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", "one", 0);
    sitting_expect_prompt(&sitting, "answer");
    sitting_expect(&sitting, "State what a fetch is.  [1\u00a0mark]");
    sitting_forget(&sitting);
    TYPE(&sitting, "the distance the wind blows over water");
    sitting_expect_prompt(&sitting, "earned? y n u b");
    sitting_expect(&sitting, "the distance the wind blows over water");
    TYPE(&sitting, "y");
    sitting_expect_prompt(&sitting, "Waves, 1 to 4");
    TYPE(&sitting, "3");
    sitting_expect_prompt(&sitting, "");
    sitting_expect(&sitting, "Award: 1 of 1");
    sitting_expect(&sitting, "Fetch is a distance, not a time.");
    sitting_expect(&sitting, "1 of 1, on 1 question");
    sitting_end(&sitting);
}

Test(practice, more_marks_ask_more_before_the_answer)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", "list", 0);
    sitting_expect_prompt(&sitting, "command word");
    TYPE(&sitting, "name");
    sitting_expect_prompt(&sitting, "marks, 0 to 2");
    TYPE(&sitting, "2");
    sitting_expect_prompt(&sitting, "answer");
    sitting_end(&sitting);

    sitting_begin(&sitting, "cycle.xml", "essay", 0);
    TYPE(&sitting, "evaluate");
    sitting_expect_prompt(&sitting, "wanted");
    TYPE(&sitting, "both sides and a judgement");
    sitting_expect_prompt(&sitting, "point");
    TYPE(&sitting, "for", "against", "");
    sitting_expect_prompt(&sitting, "marks, 0 to 6");
    sitting_end(&sitting);
}

Test(practice, reading_tells_what_was_overlooked)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", "sum", 0);
    TYPE(&sitting, "explain");
    sitting_expect(&sitting, "Overlooked: you named \"explain\"; the question says \"calculate\".");
    sitting_forget(&sitting);
    sitting_expect_prompt(&sitting, "given");
    TYPE(&sitting, "frequency 0.20 Hz", "");
    sitting_expect(&sitting, "wavelength");
    sitting_expect(&sitting, "overlooked");
    sitting_expect(&sitting, "0.20\u00a0Hz: found");
    sitting_end(&sitting);
}

/* Counts have no unit, and none is asked for. */
Test(practice, units_are_asked_for_where_the_givens_have_some)
{
    struct sitting sitting;
    sitting_begin(&sitting, "no-units.xml", "crabs", 0);
    TYPE(&sitting, "calculate");
    sitting_expect(&sitting, "Each value, on one line or several");
    sitting_end(&sitting);
    sitting_begin(&sitting, "cycle.xml", "sum", 0);
    TYPE(&sitting, "calculate");
    sitting_expect(&sitting, "Each value with its unit, on one line or several");
    sitting_end(&sitting);
}

/* A speed has a unit, a ratio has none; the command word is the same. */
Test(practice, a_unit_is_asked_for_only_where_there_is_one)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", "sum", 0);
    TYPE(&sitting, "calculate");
    sitting_expect(&sitting, "The value needs its unit.");
    sitting_end(&sitting);
    sitting_begin(&sitting, "../../banks/small-business.xml", "acc-r-03", 0);
    TYPE(&sitting, "calculate");
    sitting_expect(&sitting, "A full answer to \"calculate\" needs:");
    sitting_expect_not(&sitting, "needs its unit");
    sitting_end(&sitting);
}

Test(practice, an_empty_answer_is_no_response_and_has_to_be_confirmed)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", "one", 0);
    TYPE(&sitting, "");
    sitting_expect(&sitting, "Nothing is written yet.");
    sitting_expect_prompt(&sitting, "answer");
    TYPE(&sitting, "");
    sitting_expect(&sitting, "No response: recorded as blank");
    sitting_expect(&sitting, "Model answer");
    sitting_expect_prompt(&sitting, "rewrite");
    TYPE(&sitting, ".", "");
    sitting_expect(&sitting, "0 of 1, on 1 question");
    sitting_expect(&sitting, "Left blank");
    sitting_end(&sitting);
}

/* The right answer to "sum" as it was drawn: 0.20 Hz times the wavelength shown. */
static const char *right_speed(const struct sitting *sitting)
{
    static char line[32];
    const char *length = strstr(buffer_text(&sitting->shown), "length ");
    cr_assert_not_null(length);
    snprintf(line, sizeof line, "= %g m/s", 0.2 * strtod(length + strlen("length "), NULL));
    return line;
}

Test(practice, back_changes_a_tick)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", "sum", 0);
    TYPE(&sitting, "calculate", "", "", "2", "v = f L", right_speed(&sitting), ".");
    sitting_expect(&sitting, "Point 1 of 2");
    TYPE(&sitting, "n");
    sitting_forget(&sitting);
    TYPE(&sitting, "b");
    sitting_expect(&sitting, "Point 1 of 2");
    TYPE(&sitting, "y", "y");
    sitting_expect(&sitting, "Award: 3 of 3");
    sitting_expect(&sitting, "You predicted 2 and earned 3.");
    sitting_end(&sitting);
}

Test(practice, a_list_is_judged_item_by_item)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", "list", 0);
    TYPE(&sitting, "name", "2", "limpet, crab, mussel", ".", "1", "w", "2");
    sitting_expect(&sitting, "Award: 1 of 2");
    sitting_expect(&sitting, "cancelled by a wrong extra item");
    sitting_expect_prompt(&sitting, "cause");
    TYPE(&sitting, "");
    sitting_expect_prompt(&sitting, "rewrite");
    sitting_end(&sitting);
}

Test(practice, levels_give_a_proxy_and_the_best_fit_overrides_it)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", "essay", 0);
    TYPE(&sitting, "evaluate", "", "for", "", "4", "It protects but it costs.", ".");
    sitting_expect_prompt(&sitting, "level, 0 to 3");
    TYPE(&sitting, "3", "y");
    sitting_expect(&sitting, "this is level 2");
    TYPE(&sitting, "3");
    sitting_expect(&sitting, "Award: 3 of 6");
    sitting_end(&sitting);
}

Test(practice, stages_can_be_skipped_on_purpose)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", "essay", 0);
    TYPE(&sitting, ".skip");
    sitting_expect_prompt(&sitting, "point");
    TYPE(&sitting, ".skip");
    sitting_expect_prompt(&sitting, "answer");
    TYPE(&sitting, "something", ".", ".skip");
    sitting_expect(&sitting, "No question was marked this time");
    sitting_end(&sitting);
}

Test(practice, help_is_there_at_every_prompt_and_says_what_can_be_done)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", "sum", 0);
    static const char *const way[] = {"calculate", "", "", "1", "v = 99 m/s", ".", "n", "n", "", "", ".skip"};
    for (size_t i = 0; i < sizeof way / sizeof *way && *sitting_prompt(&sitting); i++) {
        const char *before = sitting_prompt(&sitting);
        char prompt[64];
        strncpy(prompt, before, sizeof prompt - 1);
        prompt[sizeof prompt - 1] = '\0';
        sitting_forget(&sitting);
        TYPE(&sitting, "?");
        sitting_expect(&sitting, "Help");
        sitting_expect(&sitting, ".leave");
        sitting_expect_prompt(&sitting, prompt);
        TYPE(&sitting, way[i]);
    }
    sitting_end(&sitting);
}

Test(practice, a_pasted_text_holds_no_instructions)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", "essay", 0);
    TYPE(&sitting, ".skip", ".skip");
    cr_assert_eq(practice_enter(sitting.practice, "first\n.\n?\n.leave", true, &sitting.messages), PRACTICE_ON);
    cr_assert_eq(practice_enter(sitting.practice, ".", true, &sitting.messages), PRACTICE_ON);
    sitting_expect_prompt(&sitting, "answer");
    sitting_forget(&sitting);
    TYPE(&sitting, ".answer");
    sitting_expect(&sitting, ".leave");
    sitting_end(&sitting);
}

Test(practice, an_edited_answer_replaces_what_was_written)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", "one", 0);
    cr_assert_eq(practice_enter(sitting.practice, ".edit", false, &sitting.messages), PRACTICE_EDIT);
    cr_assert_str_eq(practice_edit_text(sitting.practice), "");
    cr_assert_eq(practice_edited(sitting.practice, "from the editor", &sitting.messages), PRACTICE_ON);
    cr_assert_str_eq(practice_edit_text(sitting.practice), "from the editor");
    sitting_end(&sitting);
}

/* ---- Leaving and coming back ----------------------------------------------------------------------- */

/* Every line of a sitting is followed by a restart: nothing may be lost, nothing asked twice. */
static void restart_after_every_line(const char *question, const char *const *lines, size_t count, const char *award)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", question, 0);
    for (size_t i = 0; i < count; i++) {
        char before[64], after[64];
        snprintf(before, sizeof before, "%s", sitting_prompt(&sitting));
        sitting_again(&sitting);
        snprintf(after, sizeof after, "%s", sitting_prompt(&sitting));
        cr_assert_str_eq(before, after, "after %zu lines of %s", i, question);
        sitting_type(&sitting, &lines[i], 1);
    }
    sitting_expect(&sitting, award);
    sitting_end(&sitting);
}

Test(practice, a_restart_at_any_line_goes_on_at_the_same_place)
{
    static const char *const sum[] = {"calculate", "0.2 Hz", "", "speed", "3", "v = f L", "= 123 m/s", ".", "y", "n", "10", "", "again", ".", "lost"};
    static const char *const list[] = {"name", "1", "limpet, crab", ".", "1", "w", "1", "", "mussel", ".", ""};
    static const char *const essay[] = {"evaluate", "both", "for", "against", "", "5", "text", ".", "2", "n", "", "9", "", "better", ".", "4"};
    static const char *const one[] = {"a time", "n", "1", "", "distance", ".", ".skip"};
    restart_after_every_line("sum", sum, sizeof sum / sizeof *sum, "1 of 3, on 1 question");
    restart_after_every_line("list", list, sizeof list / sizeof *list, "1 of 2, on 1 question");
    restart_after_every_line("essay", essay, sizeof essay / sizeof *essay, "3 of 6, on 1 question");
    restart_after_every_line("one", one, sizeof one / sizeof *one, "0 of 1, on 1 question");
}

/* What was lost of what, before it is asked why. */
Test(practice, a_restart_at_a_cause_shows_the_award_again)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", "one", 0);
    TYPE(&sitting, "a time", "n");
    sitting_expect_prompt(&sitting, "cause");
    sitting_forget(&sitting);
    sitting_again(&sitting);
    sitting_expect(&sitting, "a time");
    sitting_expect(&sitting, "Award: 0 of 1");
    sitting_expect_prompt(&sitting, "cause");
    TYPE(&sitting, "1");
    sitting_forget(&sitting);
    sitting_again(&sitting);
    sitting_expect(&sitting, "Award: 0 of 1");
    sitting_expect(&sitting, "Put it right");
    sitting_end(&sitting);
}

/* Only once where the award comes about on going on. */
Test(practice, a_restart_before_the_award_shows_it_once)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", "one", 0);
    TYPE(&sitting, "a time");
    sitting_again(&sitting);
    sitting_forget(&sitting);
    TYPE(&sitting, "n");
    const char *award = strstr(buffer_text(&sitting.shown), "Award: 0 of 1");
    cr_assert_not_null(award);
    cr_expect_null(strstr(award + 1, "Award: 0 of 1"));
    sitting_end(&sitting);
}

Test(practice, a_draft_handed_over_comes_back_as_the_line_to_go_on_with)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", "essay", 0);
    TYPE(&sitting, ".skip", ".skip", "first line");
    cr_assert(practice_keep_draft(sitting.practice, "half a", &sitting.messages));
    sitting_again(&sitting);
    cr_assert_str_eq(practice_ask(sitting.practice)->prefill, "half a");
    sitting_expect(&sitting, "first line");
    TYPE(&sitting, "half a line");
    cr_assert_null(practice_ask(sitting.practice)->prefill);
    sitting_end(&sitting);
}

Test(practice, a_sitting_keeps_its_drawn_numbers_over_a_restart)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", "sum", 0);
    char *first = strstr(buffer_text(&sitting.shown), "length ");
    cr_assert_not_null(first);
    char length[16];
    snprintf(length, sizeof length, "%.9s", first);
    sitting_forget(&sitting);
    sitting_again(&sitting);
    sitting_expect(&sitting, length);
    sitting_end(&sitting);
}

Test(practice, an_edited_bank_does_not_change_a_question_in_hand)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", "one", 0);
    struct arena *arena = arena_new();
    struct event *events;
    size_t count;
    int64_t open = record_open_sitting(sitting.record, "cycle");
    cr_assert(record_sitting_events(sitting.record, open, arena, &events, &count, &sitting.messages));
    const char *text = NULL;
    for (size_t i = 0; i < count; i++)
        if (events[i].kind == EVENT_QUESTION_OPENED)
            text = record_content(sitting.record, events[i].content, arena);
    cr_assert_not_null(text);
    cr_assert_not_null(strstr(text, "State what a fetch is."));
    arena_free(arena);
    sitting_end(&sitting);
}

Test(practice, given_up_sittings_are_closed_and_marked_questions_count)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", NULL, 0);
    int64_t open = record_open_sitting(sitting.record, "cycle");
    cr_assert(practice_abandon(sitting.bank, sitting.record, open, &sitting.messages));
    cr_assert_eq(record_open_sitting(sitting.record, "cycle"), 0);
    sitting_end(&sitting);
}

Test(practice, the_record_rebuilds_to_the_same)
{
    struct sitting sitting;
    long changed = -1;
    sitting_begin(&sitting, "cycle.xml", "list", 0);
    TYPE(&sitting, "name", "2", "limpet, crab", ".", "1", "w", "", ".");
    cr_assert(record_check(sitting.record, &sitting.messages));
    cr_assert(record_rebuild(sitting.record, &changed, NULL, NULL, &sitting.messages));
    cr_assert_eq(changed, 0);
    sitting_end(&sitting);
}

Test(practice, a_wish_for_nothing_is_refused_with_what_to_do)
{
    struct sitting sitting;
    struct practice_plan plan = {.wish = WISH_ANYTHING};
    sitting_begin(&sitting, "cycle.xml", "one", 0);
    plan.wish.topic = 0;
    plan.wish.objective = 2;
    cr_assert_null(practice_begin(sitting.bank, sitting.record, &plan, &sitting.messages));
    cr_assert_not_null(strstr(sitting.messages.items[0].text, "ask for one thing less"));
    sitting_end(&sitting);
}

/* ---- The second look ------------------------------------------------------------------------------- */

Test(practice, a_tick_the_writing_does_not_bear_out_is_asked_about_once)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", "sum", 0);
    TYPE(&sitting, ".skip", ".skip", "v = f L = 123 m/s", ".", "y", "y");
    sitting_expect(&sitting, "Second look");
    sitting_expect(&sitting, "You said:    earned");
    sitting_expect_prompt(&sitting, "earned after all? y n");
    TYPE(&sitting, "n");
    sitting_expect(&sitting, "Award: 1 of 3");
    sitting_expect_prompt(&sitting, "cause");
    sitting_end(&sitting);
}

Test(practice, the_students_word_stands_and_both_ticks_are_kept)
{
    struct sitting sitting;
    struct arena *arena = arena_new();
    struct event *events;
    size_t count;
    bool first = false, evidence = false, look = false, first_award = false, final_award = false;
    sitting_begin(&sitting, "cycle.xml", "sum", 0);
    TYPE(&sitting, ".skip", ".skip", "v = f L = 123 m/s", ".", "y", "y");
    int64_t open = record_open_sitting(sitting.record, "cycle");
    TYPE(&sitting, "y");
    sitting_expect(&sitting, "Award: 3 of 3");
    cr_assert(record_sitting_events(sitting.record, open, arena, &events, &count, &sitting.messages));
    for (size_t i = 0; i < count; i++) {
        first = first || (events[i].kind == EVENT_POINT_TICKED && events[i].pass == PASS_FIRST);
        evidence = evidence || (events[i].kind == EVENT_EVIDENCE_SHOWN && text_equal(events[i].detail, "not-earned"));
        look = look || (events[i].kind == EVENT_SECOND_LOOK && text_equal(events[i].detail, "kept"));
        first_award = first_award || (events[i].kind == EVENT_AWARDED && events[i].pass == PASS_FIRST);
        final_award = final_award || (events[i].kind == EVENT_AWARDED && events[i].pass == PASS_FINAL);
    }
    cr_assert(first && evidence && look && first_award && final_award);
    arena_free(arena);
    sitting_end(&sitting);
}

Test(practice, a_right_answer_not_ticked_is_asked_about_and_a_changed_tick_counts)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", "sum", 0);
    TYPE(&sitting, ".skip", ".skip", "v = f L", right_speed(&sitting), ".", "y", "n");
    sitting_expect(&sitting, "You said:    not earned");
    TYPE(&sitting, "y");
    sitting_expect(&sitting, "Award: 3 of 3");
    sitting_end(&sitting);
}

Test(practice, evidence_stays_hidden_until_every_tick_is_made)
{
    struct sitting sitting;
    sitting_begin(&sitting, "cycle.xml", "sum", 0);
    TYPE(&sitting, ".skip", ".skip", "v = f L = 123 m/s", ".", "y");
    sitting_expect_not(&sitting, "Second look");
    sitting_expect_not(&sitting, "not the number wanted");
    sitting_end(&sitting);
}

Test(practice, a_missing_unit_loses_the_final_mark)
{
    struct sitting sitting;
    char line[48];
    sitting_begin(&sitting, "cycle.xml", "sum", 0);
    snprintf(line, sizeof line, "v = f L %s", right_speed(&sitting));
    *strstr(line, " m/s") = '\0';
    TYPE(&sitting, ".skip", ".skip", line, ".", "y", "y");
    sitting_expect(&sitting, "Award: 2 of 3");
    sitting_expect(&sitting, "unit");
    sitting_expect(&sitting, "11 unit or significant figures");
    sitting_end(&sitting);
}

/* Rule 2 of docs/marking.md: the reason is what kills the point, not that it is missing. */
Test(practice, the_reason_names_what_kills_a_point)
{
    struct sitting sitting;
    sitting_begin(&sitting, "kills.xml", "mass", 0);
    TYPE(&sitting, "The mass rises and then the mass falls.", "y");
    sitting_expect_prompt(&sitting, "earned after all? y n");
    TYPE(&sitting, "n");
    sitting_expect(&sitting, "Award: 0 of 1");
    sitting_expect(&sitting, "0 of 1 the mass rises: not given: the scheme rejects");
    sitting_end(&sitting);
    sitting_begin(&sitting, "kills.xml", "mass", 0);
    TYPE(&sitting, "The mass rises and then the mass falls.", "y", "y");
    sitting_expect(&sitting, "Award: 1 of 1");
    sitting_end(&sitting);
}

/* Rule 10 of docs/marking.md: a unit that could not be read loses nothing; it is asked about. */
Test(practice, a_misspelt_unit_is_asked_about)
{
    static const struct { const char *answer; bool asked; const char *award; } cases[] = {
        {"P t = 4200 jouls", true, "Award: 1 of 1"}, {"P t = 4200 j", true, "Award: 1 of 1"},
        {"P t = 4200 each", false, "Award: 0 of 1"}, {"P t = 4200 kiljoules", false, "Award: 0 of 1"},
        {"P t = 4200 watts", false, "Award: 0 of 1"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct sitting sitting;
        sitting_begin(&sitting, "kills.xml", "energy", 0);
        TYPE(&sitting, cases[i].answer, "y");
        if (cases[i].asked) {
            sitting_expect(&sitting, "is not clear. Did you mean J?");
            TYPE(&sitting, "y");
        } else {
            sitting_expect_not(&sitting, "is not clear");
        }
        sitting_expect(&sitting, cases[i].award);
        sitting_end(&sitting);
    }
}
