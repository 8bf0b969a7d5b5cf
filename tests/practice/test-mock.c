/* A paper sat whole. What must happen is docs/practice.md, "A whole paper", and practice/mock.h: both ours. Times come from
 * readings of the clock put into the record by the tests, or from a paper whose time is over at once. */
#include "sitting.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "base/dates.h"
#include "practice/mock-inner.h"
#include "practice/mock.h"
#include "report/page.h"
#include "report/text.h"

#define OVER_AT_ONCE 1e-9

static void show(struct sitting *sitting)
{
    const struct text_look look = {.width = 80};
    page_render_text(practice_screen(sitting->practice), &look, &sitting->shown);
}

static const char *first_message(const struct sitting *sitting)
{
    return sitting->messages.count ? sitting->messages.items[0].text : "";
}

/* The record and the bank of a sitting that is thrown away. */
static void open_cycle(struct sitting *sitting)
{
    struct messages unheeded = MESSAGES_EMPTY;
    sitting_begin(sitting, "cycle.xml", "one", 0);
    cr_assert(practice_abandon(sitting->bank, sitting->record, record_open_sitting(sitting->record, "cycle"), &unheeded));
    practice_free(sitting->practice);
    sitting->practice = NULL;
    sitting_forget(sitting);
}

/* "one" (1 mark), "sum" (3, numbers drawn), "list" (2): 6 marks. */
static void begin(struct sitting *sitting, double minutes)
{
    open_cycle(sitting);
    struct mock_question questions[3] = {
        {sitting->bank, (size_t)bank_find(sitting->bank, "one"), 0},
        {sitting->bank, (size_t)bank_find(sitting->bank, "sum"), UINT64_MAX},
        {sitting->bank, (size_t)bank_find(sitting->bank, "list"), 0},
    };
    struct mock_plan plan = {.course = "Coastal Science", .paper = "/a paper.ownmark", .minutes = minutes, .banks = &sitting->bank,
                             .bank_count = 1, .questions = questions, .question_count = 3};
    sitting->practice = mock_begin(&plan, sitting->record, &sitting->messages);
    cr_assert(sitting->practice != NULL, "%s", first_message(sitting));
    show(sitting);
}

static void again(struct sitting *sitting)
{
    practice_free(sitting->practice);
    record_close(sitting->record);
    sitting->record = record_open(sitting->path, RECORD_WRITE, &sitting->messages);
    cr_assert(sitting->record != NULL);
    sitting->practice = mock_resume(&sitting->bank, sitting->record, mock_waiting(sitting->record), &sitting->messages);
    cr_assert(sitting->practice != NULL, "%s", first_message(sitting));
    show(sitting);
}

static struct event *events_of(struct sitting *sitting, struct arena *arena, int64_t mock, size_t *count)
{
    struct event *events;
    cr_assert(record_sitting_events(sitting->record, mock, arena, &events, count, &sitting->messages));
    return events;
}

/* The latest event of a kind and detail (NULL: any). */
static struct event latest(struct sitting *sitting, struct arena *arena, enum event_kind kind, const char *detail)
{
    size_t count;
    int64_t waiting = mock_waiting(sitting->record);
    struct event *events = events_of(sitting, arena, waiting ? waiting : mock_latest(sitting->record), &count), found = {0};
    for (size_t i = 0; i < count; i++)
        if (events[i].kind == kind && (!detail || (events[i].detail && strcmp(events[i].detail, detail) == 0)))
            found = events[i];
    return found;
}

/* Puts a reading of the clock into the record, as if that much time had gone by at the place in hand. */
static void let_pass(struct sitting *sitting, double reading)
{
    struct arena *arena = arena_new();
    struct event event = latest(sitting, arena, EVENT_STAGE_ENTERED, NULL);
    event.detail = "away";
    event.number = reading;
    event.at = NO_MOMENT;
    cr_assert(record_append(sitting->record, &event, 1, &sitting->messages), "%s", first_message(sitting));
    arena_free(arena);
    again(sitting);
}

static double allowed(struct sitting *sitting)
{
    return practice_ask(sitting->practice)->allowed;
}

static double used(struct sitting *sitting)
{
    return practice_ask(sitting->practice)->used;
}

/* ---- Sat ----------------------------------------------------------------------------------------- */

Test(mock, nothing_of_a_scheme_is_shown_before_the_paper_is_handed_in)
{
    struct sitting sitting;
    begin(&sitting, 8);
    sitting_expect(&sitting, "Marks:     6");
    sitting_expect(&sitting, "Time:      8 minutes");
    sitting_expect_prompt(&sitting, "Enter starts the clock");
    TYPE(&sitting, "", "");
    sitting_expect_prompt(&sitting, "answer 1");
    TYPE(&sitting, "a distance");
    sitting_expect_prompt(&sitting, "answer 2");
    TYPE(&sitting, "f = 0.2", "?", ".answer", ".question", ".sheet", ".");
    sitting_expect_prompt(&sitting, "answer 3");
    TYPE(&sitting, "limpet", ".", ".hand-in");
    sitting_expect_not(&sitting, "over which the wind");
    sitting_expect_not(&sitting, "multiplies");
    sitting_expect_not(&sitting, "mussel");
    sitting_expect_not(&sitting, "0.135");
    sitting_expect_not(&sitting, "Model answer");
    sitting_expect_not(&sitting, "Award");
    TYPE(&sitting, "y");
    sitting_expect_prompt(&sitting, "marks, 0 to 6");
    sitting_expect_not(&sitting, "over which the wind");
    TYPE(&sitting, "4");
    sitting_expect(&sitting, "distance of open water over which the wind blows");
    sitting_expect_prompt(&sitting, "earned? y n u b");
    sitting_end(&sitting);
}

Test(mock, questions_are_gone_to_by_number_and_in_any_order)
{
    struct sitting sitting;
    begin(&sitting, 8);
    TYPE(&sitting, "", "3");
    sitting_expect_prompt(&sitting, "answer 3");
    TYPE(&sitting, "limpet", ".go 1");
    sitting_expect_prompt(&sitting, "answer 1");
    TYPE(&sitting, ".list");
    sitting_expect_prompt(&sitting, "question, or Enter for the next");
    static const char *const nowhere[] = {"0", "4", "2z", "x", ".go", "-1", "99999999999999999999"};
    for (size_t i = 0; i < sizeof nowhere / sizeof *nowhere; i++) {
        sitting_forget(&sitting);
        TYPE(&sitting, nowhere[i]);
        sitting_expect(&sitting, "Type the number of a question, 1 to 3");
        sitting_expect_prompt(&sitting, "question, or Enter for the next");
    }
    TYPE(&sitting, "");
    sitting_expect_prompt(&sitting, "answer 1");
    TYPE(&sitting, ".list", "2");
    sitting_expect_prompt(&sitting, "answer 2");
    TYPE(&sitting, "8 m/s", ".list", "");
    sitting_expect_prompt(&sitting, "answer 1");
    TYPE(&sitting, "x", ".list", "");
    sitting_expect(&sitting, "Every part has something written");
    sitting_end(&sitting);
}

Test(mock, a_part_is_named_with_its_letter)
{
    struct sitting sitting;
    sitting_begin(&sitting, "look.xml", "stem", 0);
    practice_free(sitting.practice);
    struct mock_question question = {sitting.bank, (size_t)bank_find(sitting.bank, "p"), 0};
    struct mock_plan plan = {.course = "C", .paper = "p", .minutes = 5, .banks = &sitting.bank, .bank_count = 1,
                             .questions = &question, .question_count = 1};
    sitting.practice = mock_begin(&plan, sitting.record, &sitting.messages);
    show(&sitting);
    TYPE(&sitting, "", "1b");
    sitting_expect_prompt(&sitting, "answer 1(b)");
    TYPE(&sitting, ".list", "1 (A)");
    sitting_expect_prompt(&sitting, "answer 1(a)");
    TYPE(&sitting, "100 kJ", ".list");
    sitting_expect(&sitting, "1 of 2 parts");
    TYPE(&sitting, "1");
    sitting_expect_prompt(&sitting, "answer 1(b)");
    sitting_end(&sitting);
}

/* "p" of look.xml: what is asked stands above each part that is marked, one left blank too, and once only. */
Test(mock, the_marking_shows_what_was_asked)
{
    struct sitting sitting;
    sitting_begin(&sitting, "look.xml", "stem", 0);
    practice_free(sitting.practice);
    struct mock_question question = {sitting.bank, (size_t)bank_find(sitting.bank, "p"), 0};
    struct mock_plan plan = {.course = "C", .paper = "p", .minutes = 5, .banks = &sitting.bank, .bank_count = 1,
                             .questions = &question, .question_count = 1};
    sitting.practice = mock_begin(&plan, sitting.record, &sitting.messages);
    show(&sitting);
    TYPE(&sitting, "", "1b", "12 K", ".", ".hand-in", "y");
    sitting_forget(&sitting);
    TYPE(&sitting, "");
    const char *asked = strstr(buffer_text(&sitting.shown), "Calculate the energy that the turbine gives.");
    cr_assert(asked != NULL, "%s", buffer_text(&sitting.shown));
    cr_expect(strstr(asked + 1, "Calculate the energy") == NULL);
    cr_expect(strstr(asked, "Award for (a): 0 of 2") != NULL);
    sitting_expect_not(&sitting, "Calculate the rise");
    sitting_forget(&sitting);
    TYPE(&sitting, ".skip");
    sitting_expect(&sitting, "Calculate the rise in temperature of the water.");
    sitting_forget(&sitting);
    TYPE(&sitting, "y");
    sitting_expect_not(&sitting, "Calculate the rise");
    sitting_end(&sitting);
}

Test(mock, an_answer_can_be_changed_until_it_is_handed_in)
{
    struct sitting sitting;
    struct arena *arena = arena_new();
    begin(&sitting, 8);
    TYPE(&sitting, "", "1", "a time", ".go 1", "a distance", ".go 1", "");
    TYPE(&sitting, ".go 3", "crab", ".", ".hand-in", "", "3", ".back", "limpet", "mussel", ".hand-in", "n");
    sitting_expect(&sitting, "y hands the paper in");
    TYPE(&sitting, "y");
    cr_expect_str_eq(latest(&sitting, arena, EVENT_TEXT_SAVED, "answer").text, "");
    TYPE(&sitting, "");
    sitting_expect(&sitting, "Your answer:\n      a distance\n");
    TYPE(&sitting, "y", "", ".skip", "");
    sitting_expect_not(&sitting, "crab\n      limpet");
    arena_free(arena);
    sitting_end(&sitting);
}

Test(mock, a_question_is_marked_as_one_to_come_back_to)
{
    struct sitting sitting;
    begin(&sitting, 8);
    TYPE(&sitting, "", "2", ".later");
    again(&sitting);
    sitting_forget(&sitting);
    TYPE(&sitting, "", ".list");
    sitting_expect(&sitting, "  2  Waves      3  nothing yet  later\n");
    TYPE(&sitting, ".hand-in");
    sitting_expect(&sitting, "To come back to: 2");
    sitting_expect(&sitting, "Blank:           1, 2, 3");
    TYPE(&sitting, "", "2", ".later");
    sitting_forget(&sitting);
    TYPE(&sitting, ".list");
    sitting_expect_not(&sitting, "later\n");
    sitting_end(&sitting);
}

/* ---- The clock ----------------------------------------------------------------------------------- */

Test(mock, the_clock_has_the_extra_time_as_it_was_at_the_start)
{
    struct sitting sitting;
    open_cycle(&sitting);
    struct event setting = event_blank(EVENT_SETTING);
    setting.item = "extra-time";
    setting.text = "25";
    cr_assert(record_append(sitting.record, &setting, 1, &sitting.messages));
    struct mock_question question = {sitting.bank, (size_t)bank_find(sitting.bank, "one"), 0};
    struct mock_plan plan = {.course = "C", .paper = "p", .minutes = 8, .banks = &sitting.bank, .bank_count = 1,
                             .questions = &question, .question_count = 1};
    sitting.practice = mock_begin(&plan, sitting.record, &sitting.messages);
    show(&sitting);
    sitting_expect(&sitting, "10 minutes, your extra time included");
    cr_expect_float_eq(allowed(&sitting), 600, 1e-9);
    setting.text = "50";
    setting.at = NO_MOMENT;
    cr_assert(record_append(sitting.record, &setting, 1, &sitting.messages));
    again(&sitting);
    cr_expect_float_eq(allowed(&sitting), 600, 1e-9);
    sitting_end(&sitting);
}

Test(mock, the_clock_stands_before_the_start_in_a_break_and_while_the_program_is_closed)
{
    struct sitting sitting;
    begin(&sitting, 8);
    cr_expect(!practice_ask(sitting.practice)->clock && used(&sitting) == 0);
    TYPE(&sitting, "");
    cr_expect(practice_ask(sitting.practice)->clock);
    TYPE(&sitting, "2", ".rest");
    cr_expect(!practice_ask(sitting.practice)->clock);
    cr_expect(practice_ask(sitting.practice)->out_of_sight);
    double at_rest = used(&sitting);
    cr_expect(at_rest > 0 && used(&sitting) == at_rest);
    sitting_expect_prompt(&sitting, "Enter ends the break");
    TYPE(&sitting, "x");
    sitting_expect(&sitting, "Enter starts it");
    cr_expect(used(&sitting) == at_rest);
    TYPE(&sitting, "");
    sitting_expect_prompt(&sitting, "answer 2");
    let_pass(&sitting, 100);
    cr_expect(!practice_ask(sitting.practice)->clock);
    cr_expect_float_eq(used(&sitting), 100, 1e-9);
    sitting_expect(&sitting, "The clock stands at 1 minute 40 seconds of 8 minutes");
    TYPE(&sitting, "");
    sitting_expect_prompt(&sitting, "answer 2");
    cr_expect(used(&sitting) >= 100 && used(&sitting) < 101);
    sitting_end(&sitting);
}

/* A break that is left lasts until then, not until the program is started again. */
Test(mock, a_rest_break_is_counted)
{
    struct sitting sitting;
    begin(&sitting, 8);
    moment_set_now(1779120000);
    TYPE(&sitting, "", "2", ".rest");
    moment_set_now(1779120300);
    TYPE(&sitting, "", ".rest");
    moment_set_now(1779120360);
    TYPE(&sitting, ".leave");
    moment_set_now(1779200000);
    again(&sitting);
    sitting_expect_prompt(&sitting, "Enter starts the clock");
    TYPE(&sitting, "", ".hand-in", "y", "");
    while (practice_ask(sitting.practice))
        TYPE(&sitting, strncmp(sitting_prompt(&sitting), "Enter for", 9) == 0 ? "" : ".skip");
    sitting_expect(&sitting, "Rest breaks: 2, 6 minutes in all");
    sitting_end(&sitting);
}

Test(mock, leaving_at_any_prompt_comes_back_to_the_same_place_and_time)
{
    struct sitting sitting;
    begin(&sitting, 8);
    TYPE(&sitting, "", "2", "first line");
    double before = used(&sitting);
    TYPE(&sitting, ".leave");
    sitting_expect(&sitting, "the clock stands. ownmark mock goes on");
    cr_assert(practice_ask(sitting.practice) == NULL && practice_was_left(sitting.practice));
    again(&sitting);
    cr_expect(used(&sitting) >= before && used(&sitting) < before + 1);
    sitting_forget(&sitting);
    TYPE(&sitting, "");
    sitting_expect_prompt(&sitting, "answer 2");
    sitting_expect(&sitting, "So far you wrote:\n      first line");
    TYPE(&sitting, ".list", ".leave");
    again(&sitting);
    TYPE(&sitting, "");
    sitting_expect_prompt(&sitting, "question, or Enter for the next");
    sitting_end(&sitting);
}

Test(mock, a_half_typed_line_comes_back_when_the_clock_starts_again)
{
    struct sitting sitting;
    begin(&sitting, 8);
    TYPE(&sitting, "", "2");
    cr_assert(practice_keep_draft(sitting.practice, "speed is", &sitting.messages));
    again(&sitting);
    cr_expect(practice_ask(sitting.practice)->prefill == NULL);
    TYPE(&sitting, "");
    cr_assert(practice_ask(sitting.practice)->prefill != NULL);
    cr_expect_str_eq(practice_ask(sitting.practice)->prefill, "speed is");
    TYPE(&sitting, "speed is 8");
    cr_expect(practice_ask(sitting.practice)->prefill == NULL);
    sitting_end(&sitting);
}

/* 100 s at the list, then 60 s in question 2, then 20 s at the list again. */
Test(mock, time_belongs_to_the_part_that_was_in_hand)
{
    struct sitting sitting;
    struct arena *arena = arena_new();
    begin(&sitting, 8);
    TYPE(&sitting, "");
    let_pass(&sitting, 100);
    TYPE(&sitting, "", "2", "v = 8");
    let_pass(&sitting, 160);
    TYPE(&sitting, "", ".list");
    let_pass(&sitting, 180);
    TYPE(&sitting, "", ".hand-in", "y");
    size_t count, seen = 0;
    struct event *events = events_of(&sitting, arena, mock_waiting(sitting.record), &count);
    static const double seconds[] = {0, 60, 0};
    for (size_t i = 0; i < count; i++)
        if (events[i].kind == EVENT_ANSWER_FINISHED) {
            cr_expect_float_eq(events[i].number, seconds[seen], 1, "part %zu: %g", seen, events[i].number);
            cr_expect_str_eq(events[i].detail, seen == 1 ? "response" : "no-response");
            seen++;
        }
    cr_expect_eq(seen, 3);
    cr_expect_float_eq(latest(&sitting, arena, EVENT_STAGE_ENTERED, "check").number, 180, 1);
    arena_free(arena);
    sitting_end(&sitting);
}

/* ---- Time is over -------------------------------------------------------------------------------- */

Test(mock, what_is_written_after_time_stands_below_a_line)
{
    struct sitting sitting;
    struct arena *arena = arena_new();
    begin(&sitting, 8);
    TYPE(&sitting, "", "2", "in time");
    let_pass(&sitting, 479);
    TYPE(&sitting, "");
    sitting_expect_not(&sitting, "Time is over");
    cr_expect(practice_ask(sitting.practice)->notice != NULL);
    let_pass(&sitting, 481);
    TYPE(&sitting, "", "too late");
    sitting_expect(&sitting, "Time is over: In the examination you would put your pen down");
    cr_expect(practice_ask(sitting.practice)->notice == NULL);
    cr_expect_float_eq(latest(&sitting, arena, EVENT_STAGE_ENTERED, "time-over").number, 481, 1);
    sitting_forget(&sitting);
    TYPE(&sitting, ".answer");
    sitting_expect(&sitting, "      in time\n\n--- time was over; written after it: ---\n      too late\n");
    again(&sitting);
    sitting_forget(&sitting);
    TYPE(&sitting, "", "more", ".answer");
    sitting_expect_not(&sitting, "Time is over");
    sitting_expect(&sitting, "      in time\n\n--- time was over; written after it: ---\n      too late\n      more\n");
    arena_free(arena);
    sitting_end(&sitting);
}

/* The lines at the start that are as they were when time was called stay in time; a line changed since does not. */
Test(mock, an_answer_changed_after_time_keeps_what_was_not_changed)
{
    struct sitting sitting;
    begin(&sitting, 8);
    TYPE(&sitting, "", "2", "one", "two");
    let_pass(&sitting, 481);
    TYPE(&sitting, "", ".back", "two and more");
    sitting_forget(&sitting);
    TYPE(&sitting, ".answer");
    sitting_expect(&sitting, "      one\n\n--- time was over; written after it: ---\n      two and more\n");
    cr_assert_eq(practice_edited(sitting.practice, "one and a half", &sitting.messages), PRACTICE_ON);
    show(&sitting);
    sitting_expect(&sitting, "now reads:\n\n--- time was over; written after it: ---\n      one and a half\n");
    sitting_end(&sitting);
}

/* The clock stands where the record says the paper was handed in, as it will after a resume. */
Test(mock, handed_in_the_clock_stands_at_the_moment_kept)
{
    struct sitting sitting;
    struct arena *arena = arena_new();
    begin(&sitting, 8);
    TYPE(&sitting, "", "1", "a distance of open water", ".hand-in", "y");
    double stands = sitting.practice->mock->used;      /* no prompt tells it any more */
    cr_expect_float_eq(stands, latest(&sitting, arena, EVENT_STAGE_ENTERED, NULL).number, 1e-9);
    again(&sitting);
    cr_expect_float_eq(sitting.practice->mock->used, stands, 1e-9);
    arena_free(arena);
    sitting_end(&sitting);
}

Test(mock, the_result_tells_marks_in_time_from_those_after)
{
    struct sitting sitting;
    struct buffer json = BUFFER_EMPTY;
    begin(&sitting, OVER_AT_ONCE);
    TYPE(&sitting, "", "1", "a distance of open water", ".hand-in", "y", "1", "y", "", ".skip", "", ".skip");
    cr_assert(practice_ask(sitting.practice) == NULL, "%s", sitting_prompt(&sitting));
    sitting_expect(&sitting, "In time:   0 at least; 1 more in 1 part also written in after time was over");
    cr_assert(mock_json(&sitting.bank, sitting.record, mock_latest(sitting.record), &json, &sitting.messages));
    cr_expect(strstr(buffer_text(&json), "\"earned\":1,\"of\":6") != NULL, "%s", buffer_text(&json));
    cr_expect(strstr(buffer_text(&json), "\"earned_in_time_at_least\":0,") != NULL);
    cr_expect(strstr(buffer_text(&json), "\"missed\":[{\"number\":2,\"question\":\"sum\",\"part\":null,"
                                         "\"point\":\"multiplies frequency") != NULL, "%s", buffer_text(&json));
    buffer_free(&json);
    sitting_end(&sitting);
}

/* ---- Marked -------------------------------------------------------------------------------------- */

Test(mock, killed_at_every_prompt_of_the_marking_it_ends_the_same)
{
    struct sitting sitting;
    begin(&sitting, 8);
    static const char *const lines[] = {"", "1", "a distance", ".go 3", "limpet", ".", ".hand-in", "y", "5", "y", "", "2", ".skip",
                                        "", "1", "n", "y", "4", ".", "1", ".skip", ".skip"};
    for (size_t i = 0; i < sizeof lines / sizeof *lines && practice_ask(sitting.practice); i++) {
        if (strcmp(sitting_prompt(&sitting), "hand in? y, or Enter to go on writing") != 0 &&
            strcmp(sitting_prompt(&sitting), "Enter starts the clock") != 0 &&
            strncmp(sitting_prompt(&sitting), "Enter for the next question", 27) != 0) {
            again(&sitting);
            if (strcmp(sitting_prompt(&sitting), "Enter starts the clock") == 0)
                TYPE(&sitting, "");
        }
        TYPE(&sitting, lines[i]);
    }
    while (practice_ask(sitting.practice))
        TYPE(&sitting, ".skip");
    sitting_expect(&sitting, "Coastal Science: the result");
    cr_expect_eq(mock_waiting(sitting.record), 0);
    cr_expect(mock_latest(sitting.record) > 0);
    cr_expect(record_check(sitting.record, &sitting.messages), "%s", first_message(&sitting));
    sitting_end(&sitting);
}

Test(mock, the_result_tells_marks_pace_and_prediction)
{
    struct sitting sitting;
    struct page *page = page_new();
    struct buffer result = BUFFER_EMPTY;
    const struct text_look look = {.width = 80};
    begin(&sitting, 8);
    TYPE(&sitting, "", "1", "a distance", ".go 3", "limpet, mussel", ".", ".hand-in", "y", "5");
    TYPE(&sitting, "y", "", ".skip", "", "1", "2");
    cr_assert(practice_ask(sitting.practice) == NULL, "%s", sitting_prompt(&sitting));
    sitting_expect(&sitting, "Marks:     3 of 6\n");
    sitting_expect(&sitting, "Predicted: 5, earned 3: you hoped for more\n");
    sitting_expect(&sitting, "AO1       3   3\n");
    sitting_expect(&sitting, "AO2       0   3\n");
    sitting_expect(&sitting, "  1       1   1  0:00       1:20    0:00\n");
    sitting_expect(&sitting, "- question 2: value with unit");
    sitting_expect(&sitting, "These are practice figures");
    cr_assert(mock_show(&sitting.bank, sitting.record, mock_latest(sitting.record), page, &sitting.messages));
    page_render_text(page, &look, &result);
    const char *shown = strstr(buffer_text(&sitting.shown), "Coastal Science: the result");
    cr_assert(shown != NULL);
    cr_expect_str_eq(buffer_text(&result), shown);
    buffer_free(&result);
    page_free(page);
    sitting_end(&sitting);
}

Test(mock, where_time_was_lost_is_named)
{
    struct sitting sitting;
    begin(&sitting, 8);
    TYPE(&sitting, "", "1");
    let_pass(&sitting, 300);        /* the share of question 1 is 480 s / 6 = 80 s */
    TYPE(&sitting, "", "a distance", ".hand-in", "y", "", "y", ".skip");
    while (practice_ask(sitting.practice))
        TYPE(&sitting, strncmp(sitting_prompt(&sitting), "Enter for", 9) == 0 ? "" : ".skip");
    sitting_expect(&sitting, "Question 1 took 5 minutes for 1 mark: 3 minutes 40 seconds more than its\n  share.");
    sitting_expect(&sitting, "5 marks stood in parts left blank. When a question's share is used up, mark it\n  with .later");
    sitting_expect(&sitting, "  1       1   1  5:00       1:20    5:00\n");
    sitting_expect_not(&sitting, "Predicted");
    sitting_end(&sitting);
}

/* The learner, the history and the missed points know what was marked; the others were seen. */
Test(mock, it_counts_like_any_sitting)
{
    struct sitting sitting;
    struct arena *arena = arena_new();
    struct question_history *history;
    struct missed_point *missed;
    size_t count;
    begin(&sitting, 8);
    TYPE(&sitting, "", "1", "a time", ".hand-in", "y", "", "n", "1", ".skip", "", ".skip", "", ".skip");
    cr_assert(practice_ask(sitting.practice) == NULL, "%s", sitting_prompt(&sitting));
    cr_assert(record_question_history(sitting.record, "cycle", arena, &history, &count, &sitting.messages));
    cr_assert_eq(count, 3);
    for (size_t i = 0; i < count; i++)
        cr_expect(history[i].times == 1, "%s", history[i].question);
    cr_assert(record_missed(sitting.record, "cycle", arena, &missed, &count, &sitting.messages));
    cr_expect_eq(count, 5);         /* one; the method and the value of sum; two of the list */
    long changed;
    cr_expect(record_check(sitting.record, &sitting.messages));
    cr_assert(record_rebuild(sitting.record, &changed, NULL, NULL, &sitting.messages));
    cr_expect_eq(changed, 0);
    arena_free(arena);
    sitting_end(&sitting);
}

/* ---- Given up ------------------------------------------------------------------------------------ */

Test(mock, killed_between_the_last_mark_and_the_end_it_ends_when_gone_on_with)
{
    struct sitting sitting;
    struct arena *arena = arena_new();
    size_t count;
    begin(&sitting, 8);
    TYPE(&sitting, "", ".hand-in", "y", "");
    int64_t mock = mock_waiting(sitting.record);
    struct event *events = events_of(&sitting, arena, mock, &count);
    for (size_t i = 0; i < count; i++)
        if (events[i].kind == EVENT_QUESTION_OPENED) {
            struct event left = event_blank(EVENT_QUESTION_LEFT);
            left.sitting = mock;
            left.script = events[i].sequence;
            cr_assert(record_append(sitting.record, &left, 1, &sitting.messages));
        }
    again(&sitting);
    cr_expect(practice_ask(sitting.practice) == NULL && !practice_was_left(sitting.practice));
    sitting_expect(&sitting, "Not marked: 3 questions, out of 6 marks");
    cr_expect_eq(mock_latest(sitting.record), mock);
    arena_free(arena);
    sitting_end(&sitting);
}

Test(mock, given_up_it_keeps_what_was_marked_and_leaves_the_rest)
{
    struct sitting sitting;
    struct arena *arena = arena_new();
    struct question_history *history;
    size_t count, marked = 0;
    begin(&sitting, 8);
    TYPE(&sitting, "", "1", "a distance", ".hand-in", "y", "", "y");
    practice_free(sitting.practice);
    sitting.practice = NULL;
    cr_assert(mock_abandon(&sitting.bank, sitting.record, mock_waiting(sitting.record), &sitting.messages));
    cr_expect(mock_waiting(sitting.record) == 0 && mock_latest(sitting.record) == 0);
    cr_assert(record_question_history(sitting.record, "cycle", arena, &history, &count, &sitting.messages));
    for (size_t i = 0; i < count; i++)
        marked += (size_t)history[i].times;
    for (size_t i = 0; i < count; i++)
        cr_expect(history[i].last != NO_MOMENT, "'%s' was seen", history[i].question);
    cr_expect(count == 3 && marked == 1);
    arena_free(arena);
    sitting_end(&sitting);
}

Test(mock, a_mock_can_be_dropped_without_its_bank)
{
    struct sitting sitting;
    begin(&sitting, 8);
    practice_free(sitting.practice);
    sitting.practice = NULL;
    cr_assert(mock_drop(sitting.record, mock_waiting(sitting.record), &sitting.messages));
    cr_expect_eq(mock_waiting(sitting.record), 0);
    cr_expect(record_check(sitting.record, &sitting.messages));
    sitting_end(&sitting);
}

Test(mock, other_sittings_are_no_mocks)
{
    struct sitting sitting;
    struct arena *arena = arena_new();
    struct mock_about about;
    sitting_begin(&sitting, "cycle.xml", "one", 0);
    cr_expect_eq(mock_waiting(sitting.record), 0);
    cr_expect(!mock_read(sitting.record, record_open_sitting(sitting.record, "cycle"), arena, &about, &sitting.messages));
    cr_expect_eq(sitting.messages.count, 0);
    arena_free(arena);
    sitting_end(&sitting);
}

/* A seed that a double does not hold draws the same numbers after a resume. */
Test(mock, a_large_seed_is_kept_exactly)
{
    struct sitting sitting;
    begin(&sitting, 8);
    TYPE(&sitting, "", "2");
    const char *drawn = strstr(buffer_text(&sitting.shown), "A wave of length ");
    cr_assert(drawn != NULL);
    char line[24];
    snprintf(line, sizeof line, "%.21s", drawn);
    again(&sitting);
    sitting_forget(&sitting);
    TYPE(&sitting, "");
    sitting_expect(&sitting, line);
    struct arena *arena = arena_new();
    size_t count, large = 0;
    struct event *events = events_of(&sitting, arena, mock_waiting(sitting.record), &count);
    for (size_t i = 0; i < count; i++)
        large += events[i].kind == EVENT_QUESTION_OPENED && events[i].text && strcmp(events[i].text, "18446744073709551615") == 0;
    cr_expect_eq(large, 1);
    arena_free(arena);
    sitting_end(&sitting);
}
