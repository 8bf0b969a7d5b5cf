/* The interview, line by line. The questions are our own; what is to be asked and said: interview.h; common practice, no source. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "bank/check.h"
#include "support/same.h"
#include "talk.h"

static struct talk talk;

static void set_up(void)
{
    talk_set_up(&talk, "tests/data/cycle.xml");
}

static void tear_down(void)
{
    talk_tear_down(&talk);
}

#define INTERVIEW(name) Test(interview, name, .init = set_up, .fini = tear_down, .timeout = 120)

/* Up to the ask of a question on topic 1, without givens and stem. */
#define TO_THE_ASK "1\n\n\n\n\n"
#define PLAIN TO_THE_ASK "State one thing that makes a wave higher.\n\n\n\n1\n\nthe wind blows longer\nlonger wind | stronger wind\n" \
              "more wind\nthe tide\n!wind | longer / stronger\n"
#define MODEL "The wind blows longer.\n\n\n"

static const struct question *written(const char *id, struct bank **bank, struct arena *arena)
{
    *bank = bank_open(talk.bank, false, &talk.messages);
    cr_assert(*bank != NULL, "%s", talk.messages.items[0].text);
    int index = bank_find(*bank, id);
    cr_assert(index >= 0, "%s is not there:\n%s", id, buffer_text(&talk.said));
    return bank_question(*bank, (size_t)index, arena, &talk.messages);
}

static void expect_prompt(const char *found, const char *wanted)
{
    cr_assert(strncmp(found, wanted, strlen(wanted)) == 0, "asked '%s', wanted '%s':\n%s", found, wanted, buffer_text(&talk.said));
}

static void expect_bank(const char *bytes, const char *why)
{
    char *now = talk_read(talk.bank);
    cr_expect_str_eq(now, bytes, "%s", why);
    free(now);
}

/* ---- Whole questions -------------------------------------------------------------------------------- */

INTERVIEW(a_plain_question)
{
    struct arena *arena = arena_new();
    struct bank *bank;
    char *before = talk_read(talk.bank);
    cr_assert(talk_begin(&talk, NULL));
    expect_prompt(talk_type(&talk, PLAIN), "model answer");
    expect_prompt(talk_type(&talk, MODEL), "another part?");
    expect_prompt(talk_type(&talk, "\n"), "save");
    talk_expect(&talk, "command word [state]");
    talk_expect(&talk, "objective [AO1]");
    talk_expect(&talk, "seen to earn 1 of 1");
    talk_expect(&talk, "makes a wave higher.  [1 mark]");
    expect_bank(before, "nothing is written before it is saved");
    expect_prompt(talk_type(&talk, "\n"), "another question?");
    const struct question *question = written("waves-01", &bank, arena);
    const struct node *point = &question->parts[0].scheme.root.children[0];
    cr_expect_str_eq(point->accepts.items[0], "longer wind");
    cr_expect_str_eq(point->accepts.items[1], "stronger wind");
    cr_expect_str_eq(point->ignores.items[0], "more wind");
    cr_expect_str_eq(point->rejects.items[0], "the tide");
    char *after = talk_read(talk.bank);
    size_t head = strlen(before) - strlen("</bank>\n");
    cr_expect_eq(strncmp(before, after, head), 0, "what was there is byte for byte the same");
    cr_expect_str_eq(after + strlen(after) - strlen("</bank>\n"), "</bank>\n");
    cr_expect_neq(access(talk.draft, F_OK), 0, "a written draft is gone");
    free(before), free(after);
    bank_close(bank);
    arena_free(arena);
}

INTERVIEW(a_calculation_with_drawn_numbers)
{
    struct arena *arena = arena_new();
    struct bank *bank;
    cr_assert(talk_begin(&talk, NULL));
    expect_prompt(talk_type(&talk, "waves\ncalc-1\nhigh\nH = 1.2 1.5 [m] wave height\nsome words\nT = 6.0 to 9.0 by 0.5 [s] period\n\n"
                                   "A wave of height {X}\n"), "stem");
    talk_expect(&talk, "That cannot stand:\n- a given is written 'H = 1.2 [m] wave height'");
    talk_expect(&talk, "{X}");
    talk_expect_not(&talk, "row 2");
    talk_forget(&talk);
    talk_type(&talk, "A wave of height {H} has a period of {T}.\n\nCalculate its frequency.\n\n\nmaths\n2\n\nuses f = 1/T\n\n\nvalue\n\n"
                     "= 1/Q\n");
    talk_expect(&talk, "the formula '1/Q' uses 'Q'");
    talk_expect_not(&talk, "column");
    talk_type(&talk, "= 1/\n= 1/T\n");
    talk_expect(&talk, "That makes 0.1");       /* 1/6.0 to 1/9.0 */
    expect_prompt(talk_type(&talk, "Hzz\nHz\n1%\n3\nf\n"), "model answer");
    talk_expect(&talk, "'Hzz'");
    expect_prompt(talk_type(&talk, "f = 1/T\nf = {f}\n\nOne over the period.\n\n\n"), "save");
    talk_expect(&talk, "seen to earn 2 of 2");
    talk_type(&talk, "save\nn\n");
    cr_expect_eq(interview_ask(talk.interview), NULL);
    const struct question *question = written("calc-1", &bank, arena);
    cr_expect_eq(question->given_count, 2);
    cr_expect_eq(question->parts[0].scheme.root.children[1].point_kind, POINT_ACCURACY);
    cr_expect_str_eq(question->parts[0].scheme.root.children[1].number->formula, "1/T");
    bank_close(bank);
    arena_free(arena);
}

static void expect_group(const char *style, enum node_kind kind)
{
    struct arena *arena = arena_new();
    struct bank *bank;
    cr_assert(talk_begin(&talk, NULL));
    talk_type(&talk, TO_THE_ASK "Give two kinds of wave.\n\n\n\n2\n");
    talk_type(&talk, style);
    expect_prompt(talk_type(&talk, "swell\n\n\n\n-\n\n"), "point 2");
    talk_expect(&talk, "There are fewer points than marks so far");
    expect_prompt(talk_type(&talk, "wind sea\n\n\n\n-\nripple\n\n\n\n-\n"), "point 4");
    expect_prompt(talk_type(&talk, "\n"), "model answer");
    expect_prompt(talk_type(&talk, "Swell and ripples.\n\n\n\n"), "save");
    talk_type(&talk, "\nn\n");
    const struct question *question = written("waves-01", &bank, arena);
    const struct node *group = &question->parts[0].scheme.root.children[0];
    cr_expect_eq(group->kind, kind);
    cr_expect_eq(group->child_count, 3);
    bank_close(bank);
    arena_free(arena);
}

INTERVIEW(any_two_of_three)
{
    expect_group("any\n", NODE_ANY);
}

INTERVIEW(a_list_of_two)
{
    expect_group("list\n", NODE_LIST);
}

INTERVIEW(levels_of_response)
{
    struct arena *arena = arena_new();
    struct bank *bank;
    cr_assert(talk_begin(&talk, NULL));
    talk_type(&talk, TO_THE_ASK "Evaluate a sea wall.\n\n\n\n6\n");
    expect_prompt(talk_type(&talk, "levels\n"), "level 1-2");
    expect_prompt(talk_type(&talk, "\n"), "level 1-2");
    expect_prompt(talk_type(&talk, "one side\n"), "level 3-4");
    expect_prompt(talk_type(&talk, "both sides\nboth sides and a judgement\n"), "content that may be used");
    expect_prompt(talk_type(&talk, "costs\n\n"), "model answer");
    talk_expect(&talk, "The lowest level comes first");
    talk_expect(&talk, "One thing that a good answer may bring in");
    talk_expect_not(&talk, "One idea that earns a mark");
    talk_type(&talk, "It protects. It costs. On the whole it is worth it.\n\n\n\n\nn\n");
    const struct question *question = written("waves-01", &bank, arena);
    cr_expect_eq(question->marks, 6);
    bank_close(bank);
    arena_free(arena);
}

INTERVIEW(two_parts)
{
    struct arena *arena = arena_new();
    struct bank *bank;
    cr_assert(talk_begin(&talk, NULL));
    talk_type(&talk, PLAIN MODEL);
    expect_prompt(talk_type(&talk, "y\n"), "ask of part (b)");
    expect_prompt(talk_type(&talk, "Explain why.\n\n\n\n1\n\nmore energy\n\n\n\n\nMore energy.\n\n\n"), "another part?");
    expect_prompt(talk_type(&talk, "n\n"), "save");
    talk_type(&talk, "\n.leave\n");
    const struct question *question = written("waves-01", &bank, arena);
    cr_assert_eq(question->part_count, 2);
    cr_expect_str_eq(question->parts[1].id, "b");
    bank_close(bank);
    arena_free(arena);
}

INTERVIEW(practical_work_brings_a_caution)
{
    struct buffer changed = BUFFER_EMPTY;
    char *bytes = talk_read(talk.bank), *topics = strstr(bytes, "    <topic");
    cr_assert(topics != NULL);
    buffer_print(&changed, "%.*s    <skill id=\"practical\" share=\"10\">Practical work</skill>\n%s", (int)(topics - bytes), bytes, topics);
    talk_write(talk.bank, buffer_text(&changed));
    free(bytes);
    buffer_free(&changed);
    cr_assert(talk_begin(&talk, NULL));
    expect_prompt(talk_type(&talk, TO_THE_ASK "Plan a way to measure a wave.\n\n\npractical\n"), "caution [as above]");
    talk_expect(&talk, "Usual: This is a paper exercise.");
    talk_type(&talk, "\n");
    talk_expect_not(&talk, "Please give an answer");
}

/* ---- Back, leave, resume ---------------------------------------------------------------------------- */

INTERVIEW(back_goes_across_points_and_keeps_what_was_typed)
{
    cr_assert(talk_begin(&talk, NULL));
    talk_type(&talk, TO_THE_ASK "State two things.\n\n\n\n2\n\nfirst\n\n\n\n-\n");
    expect_prompt(talk_type(&talk, "second\n"), "accept");
    expect_prompt(talk_type(&talk, ".back\n"), "point 2 of 2");
    expect_prompt(talk_type(&talk, ".back\n"), "key words");
    expect_prompt(talk_type(&talk, ".back\n.back\n.back\n.back\n"), "point 1 of 2");
    cr_expect_str_eq(interview_ask(talk.interview)->prefill ? "prefilled" : "empty", "empty", "a prefill is given once");
    expect_prompt(talk_type(&talk, "first indeed\n\n\n\n-\n"), "point 2 of 2");
    talk_type(&talk, "second\n\n\n\n-\nfirst indeed second\n\n\n\n");
    talk_expect(&talk, "point: first indeed");
    expect_prompt(talk_type(&talk, ".back\n"), "save");
}

INTERVIEW(back_takes_the_last_line_of_a_text)
{
    cr_assert(talk_begin(&talk, NULL));
    expect_prompt(talk_type(&talk, "1\n\n\n\none\ntwo\n.back\nthree\n"), "stem");
    talk_type(&talk, "\nState one thing.\n\n\n\n1\n\na point\n\n\n\n-\nA point.\n\n\n\n");
    talk_expect(&talk, "stem: one\n   three\n");
}

INTERVIEW(nothing_is_before_the_first)
{
    cr_assert(talk_begin(&talk, NULL));
    talk_type(&talk, ".back\n");
    talk_expect(&talk, "There is nothing before this");
    talk_type(&talk, ".leave\n");
    talk_expect(&talk, "Nothing was written");
    cr_expect_neq(access(talk.draft, F_OK), 0);
}

/* Left or killed at each line, the question is offered again and is at its end the same. */
static void leave_at(const char *const *lines, size_t count, size_t at, bool killed)
{
    set_up();
    cr_assert(talk_begin(&talk, NULL));
    for (size_t i = 0; i < at; i++)
        talk_type(&talk, lines[i]);
    if (!killed)
        talk_type(&talk, ".leave\n");
    cr_assert(talk_begin(&talk, NULL));
    if (at > 0)
        talk_type(&talk, "y\n");
    for (size_t i = at; i < count; i++)
        talk_type(&talk, lines[i]);
    talk_type(&talk, "\nsave\n");
    struct arena *arena = arena_new();
    struct bank *bank;
    const struct question *question = written("waves-01", &bank, arena);
    cr_expect_eq(question->parts[0].scheme.root.child_count, 2, "left at %zu", at);
    cr_expect_str_eq(question->parts[0].scheme.root.children[0].accepts.items[0], "more", "left at %zu", at);
    cr_expect_eq(question->demand, DEMAND_HIGH);
    bank_close(bank);
    arena_free(arena);
    tear_down();
}

Test(interview, left_or_killed_anywhere_it_goes_on, .timeout = 120)
{
    static const char *const lines[] = {
        "1\n", "waves-01\n", "high\n", "\n", "a stem\n\n", "State two things.\n", "state\n", "AO1\n", "-\n", "2\n", "each\n", "first\n",
        "more\n", "-\n", "not\n", "first\n", "second\n", "-\n", "-\n", "-\n", "second\n", "First, second.\n\n", "a note\n\n",
    };
    enum { LINES = sizeof lines / sizeof *lines };
    for (size_t at = 0; at <= LINES; at++) {
        bool optional_before = at > 0 && (strcmp(lines[at - 1], "\n") == 0 || strcmp(lines[at - 1], "-\n") == 0 ||
                                          strcmp(lines[at - 1], "each\n") == 0);
        bool text_before = at > 0 && strstr(lines[at - 1], "\n\n") != NULL;
        if (optional_before || text_before)
            continue;       /* "nothing" leaves no trace, a text is shown and asked again */
        leave_at(lines, LINES, at, at % 2);
    }
}

INTERVIEW(a_half_written_text_is_shown_again)
{
    cr_assert(talk_begin(&talk, NULL));
    talk_type(&talk, "1\n\n\n\nThe first half\n");
    cr_assert(interview_keep_draft(talk.interview, "and more", &talk.messages));
    talk_forget(&talk);
    cr_assert(talk_begin(&talk, NULL));
    expect_prompt(talk_type(&talk, "\n"), "stem");
    talk_expect(&talk, "The first half");
    talk_expect(&talk, "and more");
    expect_prompt(talk_type(&talk, "\n"), "ask");
    expect_prompt(talk_type(&talk, ".back\n.back\n"), "given");
}

INTERVIEW(a_draft_is_thrown_away_only_when_that_is_meant)
{
    cr_assert(talk_begin(&talk, NULL));
    talk_type(&talk, "1\n.leave\n");
    talk_expect(&talk, "Kept for later");
    cr_assert(talk_begin(&talk, NULL));
    expect_prompt(talk_type(&talk, "n\n"), "throw it away");
    expect_prompt(talk_type(&talk, "\n"), "go on with it");
    cr_expect_eq(access(talk.draft, F_OK), 0);
    expect_prompt(talk_type(&talk, "n\ny\n"), "topic");
    cr_expect_neq(access(talk.draft, F_OK), 0);
}

INTERVIEW(a_draft_that_cannot_be_read_is_named)
{
    talk_write(talk.draft, "what, is\n\"this");
    cr_assert_not(talk_begin(&talk, NULL));
    cr_expect(strstr(talk.messages.items[talk.messages.count - 1].text, talk.draft), "%s",
              talk.messages.items[talk.messages.count - 1].text);
}

/* The course lost a topic while the draft waited: the draft can still be mended and written. */
INTERVIEW(a_draft_that_became_unsound_can_be_mended)
{
    cr_assert(talk_begin(&talk, NULL));
    talk_type(&talk, PLAIN ".leave\n");
    char *draft = talk_read(talk.draft), *topic = strstr(draft, ",waves,");
    cr_assert(topic != NULL);
    memcpy(topic, ",wxyzs,", 7);
    talk_write(talk.draft, draft);
    free(draft);
    cr_assert(talk_begin(&talk, NULL));
    expect_prompt(talk_type(&talk, "y\n" MODEL "\n"), "save");
    talk_expect(&talk, "Not sound yet");
    talk_expect(&talk, "wxyzs");
    expect_prompt(talk_type(&talk, "save\n"), "save");
    talk_expect(&talk, "It cannot be written");
    expect_prompt(talk_type(&talk, "1\nwaves\n"), "save");
    expect_prompt(talk_type(&talk, "save\n"), "another question?");
}

/* ---- Refused ---------------------------------------------------------------------------------------- */

INTERVIEW(refusals_say_what_is_wanted)
{
    cr_assert(talk_begin(&talk, NULL));
    expect_prompt(talk_type(&talk, "\n9\nnowhere\n"), "topic");
    talk_expect(&talk, "Please give an answer");
    talk_expect(&talk, "There is no such topic");
    expect_prompt(talk_type(&talk, "1\none\n"), "id");
    talk_expect(&talk, "The bank has a question of that id");
    expect_prompt(talk_type(&talk, "my 01\n"), "id");
    expect_prompt(talk_type(&talk, "my-01\nhardest\n"), "demand");
    talk_expect(&talk, "Please type low, standard or high");
    expect_prompt(talk_type(&talk, "\n\n\nTell me.\nexplane\n"), "command word");
    talk_expect(&talk, "did you mean 'explain'?");
    expect_prompt(talk_type(&talk, "explain\nAO9\n"), "objective");
    talk_expect(&talk, "the course has AO1, AO2, AO3");
    expect_prompt(talk_type(&talk, "\nswimming\n"), "skills");
    expect_prompt(talk_type(&talk, "-\nmany\n41\n0\n"), "marks");
    talk_expect(&talk, "a whole number of marks from 1 to 40");
    expect_prompt(talk_type(&talk, "1\nsome\n"), "marking");
    expect_prompt(talk_type(&talk, "\n.undo\n"), "point");
    talk_expect(&talk, "There is no instruction '.undo' here");
    expect_prompt(talk_type(&talk, "\n-\n"), "point");
    talk_expect(&talk, "Please write the point");
}

/* Found by random lines: the words of a level went into a draft that could not be read back. */
INTERVIEW(what_is_no_text_does_not_get_into_a_draft)
{
    cr_assert(talk_begin(&talk, NULL));
    talk_type(&talk, TO_THE_ASK "Evaluate a sea wall.\n\n\n\n6\nlevels\n");
    expect_prompt(talk_type(&talk, "one\xff side\none \x1b[31mside\n"), "level 1-2");
    talk_expect(&talk, "That holds characters that are no text");
    talk_type(&talk, "one side\n");
    cr_assert(talk_begin(&talk, NULL));
    expect_prompt(talk_type(&talk, "\n"), "level 3-4");
}

INTERVIEW(help_is_there_at_every_prompt)
{
    cr_assert(talk_begin(&talk, NULL));
    talk_forget(&talk);
    expect_prompt(talk_type(&talk, "?\n"), "topic");
    talk_expect(&talk, "its number in the list");
    talk_type(&talk, PLAIN MODEL "\n");
    talk_forget(&talk);
    expect_prompt(talk_type(&talk, "?\nwhat\n"), "save");
    talk_expect(&talk, "A number changes that line");
    talk_expect(&talk, "Please type save");
}

/* ---- The review ------------------------------------------------------------------------------------- */

INTERVIEW(any_line_can_be_changed)
{
    struct arena *arena = arena_new();
    struct bank *bank;
    cr_assert(talk_begin(&talk, NULL));
    talk_type(&talk, PLAIN MODEL "\n");
    expect_prompt(talk_type(&talk, "3\nlow\n"), "save");
    expect_prompt(talk_type(&talk, "5\nA stem\nof two lines\n\n"), "save");
    expect_prompt(talk_type(&talk, "6\n\n"), "save");                   /* Enter keeps */
    expect_prompt(talk_type(&talk, "13\n-\n"), "save");
    expect_prompt(talk_type(&talk, "17\n.back\n"), "save");             /* as it was */
    expect_prompt(talk_type(&talk, "2\none\nmine\n"), "save");
    expect_prompt(talk_type(&talk, "99\n"), "save");
    talk_type(&talk, "save\n");
    const struct question *question = written("mine", &bank, arena);
    const struct node *point = &question->parts[0].scheme.root.children[0];
    cr_expect_eq(question->demand, DEMAND_LOW);
    cr_expect_eq(question->stem.count, 2);
    cr_expect_eq(point->accepts.count, 0);
    cr_expect_eq(question->parts[0].model.count, 1);
    bank_close(bank);
    arena_free(arena);
}

INTERVIEW(points_and_parts_come_and_go)
{
    cr_assert(talk_begin(&talk, NULL));
    talk_type(&talk, PLAIN MODEL "\n");
    expect_prompt(talk_type(&talk, "point\n"), "save");
    talk_expect(&talk, "There is a point for each mark");
    expect_prompt(talk_type(&talk, "drop 12\n"), "save");
    talk_expect(&talk, "A part needs a point");
    expect_prompt(talk_type(&talk, "drop 6\n"), "save");
    talk_expect(&talk, "A question needs a part");
    expect_prompt(talk_type(&talk, "drop 3\n"), "save");
    talk_expect(&talk, "Please name the line of a point");
    expect_prompt(talk_type(&talk, "10\n2\n"), "point 2 of 2");
    expect_prompt(talk_type(&talk, "a second\n\n\n\n-\n"), "save");
    expect_prompt(talk_type(&talk, "drop 12\n"), "point 2 of 2");       /* the first goes, the second moves up */
    expect_prompt(talk_type(&talk, "a third\n\n\n\n-\n"), "save");
    talk_forget(&talk);
    talk_type(&talk, "show\n");
    talk_expect_not(&talk, "the wind blows longer  [");
    talk_expect(&talk, "point: a second");
    expect_prompt(talk_type(&talk, "11\nany\n"), "point 3");
    expect_prompt(talk_type(&talk, "\n"), "save");
    expect_prompt(talk_type(&talk, "11\nlevels\n\n"), "save");
    talk_expect(&talk, "Points and levels cannot be turned into each other");
    expect_prompt(talk_type(&talk, "part\n"), "ask of part (b)");
    expect_prompt(talk_type(&talk, "Name one.\n\n\n\n1\n\na fourth\n\n\n\n-\n\n\n\n"), "save");
    talk_forget(&talk);
    expect_prompt(talk_type(&talk, "drop 6\n"), "save");                /* part a goes: b keeps topic, id and stem */
    talk_expect(&talk, "Name one.");
    talk_expect_not(&talk, "makes a wave higher");
    talk_type(&talk, "save\n");
    talk_expect(&talk, "Written to");
}

INTERVIEW(what_was_refused_is_there_to_be_mended)
{
    cr_assert(talk_begin(&talk, NULL));
    talk_type(&talk, "1\n\n\n");
    cr_assert_eq(interview_enter(talk.interview, "H is 1.2 m", false, &talk.messages), PRACTICE_ON);
    cr_assert_str_eq(interview_ask(talk.interview)->prefill, "H is 1.2 m");
    cr_expect_eq(interview_ask(talk.interview)->prefill, NULL, "once");
    talk_type(&talk, "H = 1.2 m height\n");
    talk_expect(&talk, "It has no unit then");
    talk_type(&talk, ".back\nH = 1.2 [m] height\n\n");
    cr_assert_eq(interview_enter(talk.interview, "It is {X}.", false, &talk.messages), PRACTICE_ON);
    cr_expect_str_eq(interview_ask(talk.interview)->prefill, "It is {X}.");
    talk_type(&talk, "\n");
    cr_expect_eq(interview_ask(talk.interview)->prefill, NULL);
}

INTERVIEW(of_a_pasted_text_what_can_stand_is_taken)
{
    cr_assert(talk_begin(&talk, NULL));
    talk_type(&talk, "1\n\n\n\n");
    cr_assert(interview_ask(talk.interview)->several_lines);
    cr_assert_eq(interview_enter(talk.interview, "One.\n\n  Two {X}.\n.leave\n", true, &talk.messages), PRACTICE_ON);
    expect_prompt(talk_type(&talk, "Four.\n\n.back\n"), "stem");
    talk_expect(&talk, "      One.\n      .leave\n      Four.\n");
    talk_expect(&talk, "Left out: Two {X}.");
}

INTERVIEW(an_editor_gives_whole_texts)
{
    cr_assert(talk_begin(&talk, NULL));
    talk_type(&talk, "1\n\n\nH = 1.2 [m] height\n\none\n");
    cr_assert_eq(interview_enter(talk.interview, ".edit", false, &talk.messages), PRACTICE_EDIT);
    cr_expect_str_eq(interview_edit_text(talk.interview), "one");
    cr_assert_eq(interview_edited(talk.interview, "one\n\n  two {H}\nthree", &talk.messages), PRACTICE_ON);
    expect_prompt(interview_ask(talk.interview)->prompt, "ask");
    cr_assert_eq(interview_enter(talk.interview, ".edit", false, &talk.messages), PRACTICE_EDIT);
    cr_assert_eq(interview_edited(talk.interview, "State\none thing.", &talk.messages), PRACTICE_ON);
    expect_prompt(talk_type(&talk, ".back\n.back\n"), "stem");
    talk_expect(&talk, "two {H}");
    expect_prompt(talk_type(&talk, ".back\n"), "given");
    cr_assert_eq(interview_enter(talk.interview, ".edit", false, &talk.messages), PRACTICE_EDIT);
    cr_expect_str_eq(interview_edit_text(talk.interview), "H = 1.2 [m] height");
    cr_assert_eq(interview_edited(talk.interview, "nonsense", &talk.messages), PRACTICE_ON);
    expect_prompt(interview_ask(talk.interview)->prompt, "given");
}

/* ---- Changing what is there ------------------------------------------------------------------------- */

INTERVIEW(a_question_changed_leaves_the_rest_byte_for_byte)
{
    char *before = talk_read(talk.bank), *after;
    cr_assert(talk_begin(&talk, "sum"));
    expect_prompt(talk_type(&talk, "3\nhigh\n"), "save");
    talk_type(&talk, "save\n");
    cr_expect_eq(interview_ask(talk.interview), NULL);
    after = talk_read(talk.bank);
    size_t start = (size_t)(strstr(before, "<question id=\"sum\"") - before);
    cr_expect_eq(strncmp(before, after, start), 0);
    cr_expect_str_eq(strstr(before, "<question id=\"list\""), strstr(after, "<question id=\"list\""));
    cr_expect(strstr(after, "<question id=\"sum\" topic=\"waves\" demand=\"high\">"), "%s", after + start);
    free(before), free(after);
}

INTERVIEW(a_question_may_get_another_id_and_is_told_what_hangs_on_it)
{
    struct arena *arena = arena_new();
    struct bank *bank;
    cr_assert(talk_begin(&talk, "sum"));
    talk_type(&talk, "2\nsum\n");
    talk_expect_not(&talk, "hangs on its id");
    talk_type(&talk, "2\none\nsum-2\n");
    talk_expect(&talk, "The bank has a question of that id");
    talk_expect(&talk, "hangs on its id");
    talk_type(&talk, "save\n");
    cr_expect_eq(written("sum-2", &bank, arena)->marks, 3);
    cr_expect_eq(bank_find(bank, "sum"), -1);
    bank_close(bank);
    arena_free(arena);
}

INTERVIEW(a_question_saved_unchanged_leaves_the_file_alone)
{
    char *before = talk_read(talk.bank);
    cr_assert(talk_begin(&talk, "sum"));
    talk_type(&talk, "3\nhigh\n3\nstandard\nsave\n");
    talk_expect(&talk, "Nothing was changed");
    expect_bank(before, "unchanged");
    free(before);
}

INTERVIEW(a_change_left_half_way_is_offered_again)
{
    cr_assert(talk_begin(&talk, "sum"));
    talk_type(&talk, ".leave\n");
    talk_expect(&talk, "Nothing was written");
    cr_assert(talk_begin(&talk, "sum"));
    talk_type(&talk, "3\nhigh\n");
    cr_assert(talk_begin(&talk, "sum"));
    expect_prompt(talk_type(&talk, "y\n"), "save");
    talk_expect(&talk, "demand: high");
    cr_assert(talk_begin(&talk, "sum"));
    talk_forget(&talk);
    expect_prompt(talk_type(&talk, "n\ny\n"), "save");
    talk_expect(&talk, "demand: standard");
}

INTERVIEW(a_question_changed_by_another_meanwhile_is_not_written_over_unsaid)
{
    char *bytes, *word;
    cr_assert(talk_begin(&talk, "sum"));
    talk_type(&talk, "3\nhigh\n");
    bytes = talk_read(talk.bank);
    word = strstr(bytes, ">frequency<");
    cr_assert(word != NULL);
    memcpy(word, ">FREQUENCY<", 11);
    talk_write(talk.bank, bytes);
    expect_prompt(talk_type(&talk, "save\n"), "save");
    talk_expect(&talk, "was changed in");
    expect_bank(bytes, "nothing is written yet");
    talk_type(&talk, "save\n");
    talk_expect(&talk, "Written to");
    free(bytes);
}

/* Another question was changed in an editor, and a comment written: neither is lost. */
INTERVIEW(what_an_editor_wrote_meanwhile_stays)
{
    char *bytes, *word;
    struct buffer changed = BUFFER_EMPTY;
    cr_assert(talk_begin(&talk, NULL));
    talk_type(&talk, PLAIN MODEL "\n");
    bytes = talk_read(talk.bank);
    word = strstr(bytes, "<question id=\"list\"");
    buffer_print(&changed, "%.*s<!-- mine -->%s", (int)(word - bytes), bytes, word);
    talk_write(talk.bank, buffer_text(&changed));
    free(bytes);
    talk_type(&talk, "save\n");
    talk_expect(&talk, "Written to");
    bytes = talk_read(talk.bank);
    cr_expect_eq(strncmp(bytes, buffer_text(&changed), changed.length - 8), 0);
    free(bytes);
    buffer_free(&changed);
}

INTERVIEW(what_cannot_be_changed_by_interview_is_said)
{
    cr_assert_not(talk_begin(&talk, "nowhere"));
    cr_expect(strstr(talk.messages.items[0].text, "there is no question 'nowhere'"));
    snprintf(talk.bank, sizeof talk.bank, "tests/data/every-element.xml");
    cr_assert_not(talk_begin(&talk, "w01"));
    cr_expect(strstr(talk.messages.items[0].text, "cannot be changed by interview"), "%s", talk.messages.items[0].text);
}

INTERVIEW(a_bank_that_cannot_be_written_keeps_the_question)
{
    char *before = talk_read(talk.bank);
    cr_assert(talk_begin(&talk, NULL));
    talk_type(&talk, PLAIN MODEL "\n");
    cr_assert_eq(chmod(talk.bank, 0444), 0);
    expect_prompt(talk_type(&talk, "save\n"), "save");
    talk_expect(&talk, "It cannot be written");
    expect_bank(before, "read-only");
    cr_expect_eq(access(talk.draft, F_OK), 0);
    cr_assert_eq(chmod(talk.bank, 0644), 0);
    unlink(talk.bank);
    expect_prompt(talk_type(&talk, "save\n"), "save");
    talk_write(talk.bank, "<bank");
    expect_prompt(talk_type(&talk, "save\n"), "save");
    expect_bank("<bank", "broken meanwhile");
    talk_write(talk.bank, before);
    expect_prompt(talk_type(&talk, "save\n"), "another question?");
    free(before);
}
