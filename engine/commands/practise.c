/* ownmark practise: the cycle, at the terminal or from standard input. */
#include <stdlib.h>
#include <string.h>

#include "base/dates.h"
#include "base/text.h"
#include "commands/dialogue.h"
#include "commands/shared.h"
#include "practice/hours.h"
#include "practice/mock.h"
#include "practice/practice.h"
#include "terminal/terminal.h"

/* ---- Getting there -------------------------------------------------------------------------------- */

static double usual_minutes(const struct bank *bank, struct record *record)
{
    struct arena *arena = arena_new();
    const char *setting = record_setting(record, bank_id(bank), "minutes", arena);
    double minutes = setting ? strtod(setting, NULL) : 0;
    arena_free(arena);
    return minutes > 0 ? minutes : SITTING_MINUTES_USUAL;
}

/* minutes stays 0 unless the arguments tell. */
static bool read_plan(const struct arguments *arguments, const struct bank *bank, struct practice_plan *plan,
                      struct messages *messages)
{
    long questions = 0;
    *plan = (struct practice_plan){.wish = WISH_ANYTHING};
    plan->words = (struct wish_words){
        argument_value(arguments, "--topic"), argument_value(arguments, "--objective"),
        argument_value(arguments, "--command-word"), argument_value(arguments, "--skill"),
        argument_value(arguments, "--question"),
    };
    if (!argument_whole(arguments, "--questions", 1, 1000, &questions) ||
        !argument_number(arguments, "--minutes", 1, 600, &plan->minutes))
        return false;
    plan->missed = argument_given(arguments, "--missed");
    plan->why = argument_given(arguments, "--why");
    plan->questions = plan->words.question ? 1 : (int)questions;
    return wish_read(bank, &plan->words, &plan->wish, messages);
}

/* Practising the questions of a paper in the middle of it would show their answers. */
static bool no_mock_waits(const struct bank *bank, struct record *record, struct messages *messages)
{
    struct arena *arena = arena_new();
    struct mock_about about;
    int64_t waiting = mock_waiting(record);
    bool found = false;
    if (waiting && mock_read(record, waiting, arena, &about, messages))
        for (size_t i = 0; i < about.bank_count; i++)
            found = found || strcmp(about.banks[i].id, bank_id(bank)) == 0;
    arena_free(arena);
    if (found)
        messages_error(messages, "a mock with questions of this bank is not finished: 'ownmark mock' goes on with it, "
                                 "'ownmark mock --give-up' closes it");
    return !messages->errors;
}

/* An unfinished sitting is offered first; declined, it is closed and what was marked in it stays. NULL without a
 * message: no answer was given, so nothing is to be done. */
static struct practice *go_on_or_begin(struct bank *bank, struct record *record, const struct practice_plan *plan,
                                       struct messages *messages)
{
    int64_t open = record_open_sitting(record, bank_id(bank));
    enum answer answer = open ? ask_yes_or_no("An unfinished sitting waits. Go on with it? (Enter: yes, n: start afresh)",
                                              ANSWERED_YES)
                              : ANSWERED_NO;
    if (answer == ANSWERED_YES)
        return practice_resume(bank, record, open, messages);
    if (answer == NOT_ANSWERED || (open && !practice_abandon(bank, record, open, messages)))
        return NULL;
    return practice_begin(bank, record, plan, messages);
}

static enum exit_status practise_with(struct bank *bank, struct record *record, struct practice_plan *plan,
                                      struct messages *messages)
{
    if (plan->minutes <= 0)
        plan->minutes = usual_minutes(bank, record);
    if (!no_mock_waits(bank, record, messages))
        return EXIT_BAD_USE;
    struct practice *practice = go_on_or_begin(bank, record, plan, messages);
    enum exit_status status = practice ? dialogue_run(&dialogue_of_practice, practice, messages) : messages->errors ? EXIT_BAD_USE : EXIT_DONE;
    practice_free(practice);
    return status;
}

/* Whatever can be refused is refused before the record is touched. */
static enum exit_status run(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    struct practice_plan plan;
    bool readable;
    struct bank *bank = open_bank_first(arguments, arguments->word_count ? arguments->words[0] : NULL, &readable, &messages);
    if (!bank || !read_plan(arguments, bank, &plan, &messages)) {
        bank_close(bank);
        return say_and_end(&messages, readable ? EXIT_BAD_USE : EXIT_SYSTEM);
    }
    struct record *record = open_record_for(arguments, RECORD_WRITE, &messages);
    enum exit_status status = record ? practise_with(bank, record, &plan, &messages) : EXIT_SYSTEM;
    record_close(record);
    bank_close(bank);
    return say_and_end(&messages, status);
}

static const struct option options[] = {
    {"--topic", "TOPIC", "only this topic, by id or name"},
    {"--objective", "AO2", "only questions with a part on this objective"},
    {"--command-word", "WORD", "only questions with this command word"},
    {"--skill", "SKILL", "only questions with this skill"},
    {"--question", "ID", "just this question"},
    {"--missed", NULL, "only questions with a missed point that is due today"},
    {"--minutes", "M", "length of the sitting (30)"},
    {"--questions", "N", "stop after so many questions"},
    {"--why", NULL, "show the five best choices with their figures each time"},
    {NULL, NULL, NULL},
};

const struct command command_practise = {
    .name = "practise",
    .summary = "answer questions and mark them: read, plan, answer, check",
    .words = "[BANK]",
    .words_most = 1,
    .help = "Asks questions from a bank, chosen for the topics where you would lose most marks. You read the question, "
            "plan, answer against the clock, and mark your answer point by point. Every step is saved as you make it: "
            "leave at any prompt with .leave (or close the window) and the next practise goes on at that place. "
            "BANK is an XML file; without it, the bank you used last.",
    .example = "ownmark practise --topic \"Wave energy\" --minutes 20",
    .options = options,
    .run = run,
};
