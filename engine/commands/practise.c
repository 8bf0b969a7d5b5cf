/* ownmark practise: the cycle, at the terminal or from standard input. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/dates.h"
#include "base/text.h"
#include "commands/shared.h"
#include "practice/practice.h"
#include "terminal/terminal.h"

static void add_clock(void *context, struct buffer *out)
{
    const struct practice_ask *ask = practice_ask(context);
    if (!ask)
        return;
    long used = (long)ask->used, allowed = lround(ask->allowed);
    buffer_print(out, "%ld:%02ld of %ld:%02ld", used / 60, used % 60, allowed / 60, allowed % 60);
}

static void show_screen(struct practice *practice)
{
    const struct practice_ask *ask = practice_ask(practice);
    if (ask && ask->out_of_sight)
        terminal_move_out_of_sight();
    terminal_show(practice_screen(practice));
}

static enum practice_result edit(struct practice *practice, struct messages *messages)
{
    struct buffer text = BUFFER_EMPTY;
    enum practice_result result = PRACTICE_ON;
    enum terminal_edit_result edited = terminal_edit(practice_edit_text(practice), &text, messages);
    if (edited == TERMINAL_EDITED || edited == TERMINAL_EDIT_HUNG_UP)
        result = practice_edited(practice, buffer_text(&text), messages);
    buffer_free(&text);
    if (edited == TERMINAL_EDIT_HUNG_UP)
        terminal_end_by_signal();
    if (edited == TERMINAL_NOT_EDITED) {
        messages_print(messages);
        messages_free(messages);
    }
    return result;
}

/* One prompt. */
static enum practice_result ask_once(struct practice *practice, struct messages *messages)
{
    const struct practice_ask *wanted = practice_ask(practice);
    struct terminal_ask ask = {
        .prompt = wanted->prompt,
        .several_lines = wanted->several_lines,
        .completions = wanted->completions,
        .completion_count = wanted->completion_count,
        .prefill = wanted->prefill,
        .clock = wanted->clock ? add_clock : NULL,
        .clock_context = practice,
    };
    struct terminal_entry entry;
    enum practice_result result = PRACTICE_ON;
    terminal_ask(&ask, &entry);
    switch (entry.outcome) {
    case TERMINAL_ENTERED:
        result = practice_enter(practice, entry.text, entry.pasted, messages);
        break;
    case TERMINAL_ENDED:
    case TERMINAL_INTERRUPTED:
        practice_leave(practice);
        break;
    case TERMINAL_HUNG_UP:
        practice_keep_draft(practice, entry.text, messages);
        terminal_end_by_signal();
    }
    terminal_entry_free(&entry);
    return result == PRACTICE_EDIT ? edit(practice, messages) : result;
}

static enum exit_status run_cycle(struct practice *practice, struct messages *messages)
{
    for (;;) {
        show_screen(practice);
        if (!practice_ask(practice))
            return EXIT_DONE;
        if (terminal_output_failed() || ask_once(practice, messages) == PRACTICE_FAILED)
            return EXIT_SYSTEM;
    }
}

/* ---- Getting there -------------------------------------------------------------------------------- */

static double usual_minutes(const struct bank *bank, struct record *record)
{
    struct arena *arena = arena_new();
    const char *setting = record_setting(record, bank_id(bank), "minutes", arena);
    double minutes = setting ? strtod(setting, NULL) : 0;
    arena_free(arena);
    return minutes > 0 ? minutes : 30;
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
    struct practice *practice = go_on_or_begin(bank, record, plan, messages);
    enum exit_status status = practice ? run_cycle(practice, messages) : messages->errors ? EXIT_BAD_USE : EXIT_DONE;
    practice_free(practice);
    return status;
}

/* The bank of the sitting: a record that is there is asked which one was used last, but none is made for it. */
static struct bank *open_bank_first(const struct arguments *arguments, struct messages *messages, bool *readable)
{
    struct record *record = arguments->word_count ? NULL : open_record_for(arguments, RECORD_READ, messages);
    *readable = record || !messages->errors;
    struct bank *bank = *readable ? open_bank_for(arguments, record, messages) : NULL;
    record_close(record);
    return bank;
}

/* Whatever can be refused is refused before the record is touched. */
static enum exit_status run(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    struct practice_plan plan;
    bool readable;
    struct bank *bank = open_bank_first(arguments, &messages, &readable);
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
