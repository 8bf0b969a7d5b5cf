/* ownmark mock: a whole paper under examination conditions, at the terminal or from standard input. */
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "commands/dialogue.h"
#include "commands/shared.h"
#include "paper/opened.h"
#include "practice/mock.h"
#include "terminal/terminal.h"

/* "[PAPER] [BANK…]": banks end in .xml, a paper does not. */
struct files {
    const char *paper;              /* NULL: none was named */
    const char *const *banks;       size_t bank_count;
};

static struct files files_of(const struct arguments *arguments)
{
    size_t length = arguments->word_count ? strlen(arguments->words[0]) : 0;
    bool bank_first = length > 4 && strcmp(arguments->words[0] + length - 4, ".xml") == 0;
    size_t before = length && !bank_first;
    return (struct files){before ? arguments->words[0] : NULL, arguments->words + before, arguments->word_count - before};
}

/* ---- The banks of a mock in the record ------------------------------------------------------------- */

struct banks {
    struct bank **items;
    size_t count;
};

static void close_banks(struct banks *banks)
{
    for (size_t i = 0; i < banks->count; i++)
        bank_close(banks->items[i]);
    free(banks->items);
    *banks = (struct banks){0};
}

static struct bank *open_if(const char *path, const char *id, struct messages *messages)
{
    struct bank *bank = bank_open(path, true, messages);
    if (bank && strcmp(bank_id(bank), id) == 0)
        return bank;
    bank_close(bank);
    return NULL;
}

/* Among those named, else where it was. */
static struct bank *open_one(const struct mock_bank *wanted, const struct files *files, struct messages *messages)
{
    struct bank *bank = NULL;
    struct messages unheeded = MESSAGES_EMPTY;
    for (size_t i = 0; !bank && i < files->bank_count; i++)
        bank = open_if(files->banks[i], wanted->id, &unheeded);
    messages_free(&unheeded);
    if (!bank)
        bank = open_if(wanted->path, wanted->id, messages);
    if (!bank)
        messages_error(messages, "the bank '%s' of the mock is not at '%s' any more; name its file: ownmark mock BANK.xml",
                       wanted->id, wanted->path);
    return bank;
}

static bool open_banks(const struct mock_about *about, const struct files *files, struct banks *banks,
                       struct messages *messages)
{
    *banks = (struct banks){memory_get_zeroed(about->bank_count, sizeof(struct bank *)), 0};
    for (size_t i = 0; i < about->bank_count; i++) {
        struct bank *bank = open_one(&about->banks[i], files, messages);
        if (!bank)
            return false;
        banks->items[banks->count++] = bank;
    }
    return true;
}

/* ---- A mock that waits ------------------------------------------------------------------------------ */

struct waiting {
    int64_t sitting;            /* 0: none */
    struct mock_about about;
};

static bool find_waiting(struct record *record, struct arena *arena, struct waiting *waiting, struct messages *messages)
{
    *waiting = (struct waiting){.sitting = mock_waiting(record)};
    if (!waiting->sitting || mock_read(record, waiting->sitting, arena, &waiting->about, messages))
        return true;
    waiting->about = (struct mock_about){.questions = 1};   /* a plan that says too little: nothing to go on with */
    return !messages->errors;
}

/* Killed while it began, it has not all of its questions: there is nothing to go on with. */
static bool can_go_on(const struct waiting *waiting)
{
    return waiting->sitting && waiting->about.opened == waiting->about.questions;
}

static enum exit_status drive(struct practice *practice, struct messages *messages)
{
    enum exit_status status = practice ? dialogue_run(&dialogue_of_practice, practice, messages) : EXIT_SYSTEM;
    practice_free(practice);
    return status;
}

static enum exit_status go_on(const struct waiting *waiting, const struct files *files, struct record *record,
                              struct messages *messages)
{
    struct banks banks;
    enum exit_status status = EXIT_BAD_USE;
    if (open_banks(&waiting->about, files, &banks, messages))
        status = drive(mock_resume(banks.items, record, waiting->sitting, messages), messages);
    close_banks(&banks);
    return status;
}

/* Without its banks too: else a bank that was thrown away would keep its mock open for ever. */
static bool give_up(const struct waiting *waiting, const struct files *files, struct record *record, struct messages *messages)
{
    struct banks banks = {0};
    struct messages unheeded = MESSAGES_EMPTY;
    bool opened = can_go_on(waiting) && open_banks(&waiting->about, files, &banks, &unheeded);
    messages_free(&unheeded);
    bool done = opened ? mock_abandon(banks.items, record, waiting->sitting, messages)
                       : mock_drop(record, waiting->sitting, messages);
    close_banks(&banks);
    return done;
}

/* ---- A new one -------------------------------------------------------------------------------------- */

static bool no_sitting_waits(const struct opened_paper *opened, struct record *record, struct messages *messages)
{
    for (size_t i = 0; i < opened->paper.bank_count; i++)
        if (record_open_sitting(record, bank_id(opened->banks[i])))
            messages_error(messages, "a sitting with '%s' is not finished: 'ownmark practise %s' goes on with it or closes it, then "
                                     "come back", bank_id(opened->banks[i]), bank_path(opened->banks[i]));
    return !messages->errors;
}

static enum exit_status begin(const char *path, const struct opened_paper *opened, struct record *record,
                              struct messages *messages)
{
    size_t count = opened->paper.question_count;
    struct mock_question *questions = memory_get_zeroed(count, sizeof *questions);
    char *whole = realpath(path, NULL);
    for (size_t i = 0; i < count; i++)
        questions[i] = (struct mock_question){opened->questions[i].bank, (size_t)opened->questions[i].index,
                                              opened->paper.questions[i].seed};
    struct mock_plan plan = {
        .course = opened->paper.course, .paper = whole && !strchr(whole, '\n') ? whole : "", .minutes = opened->paper.minutes,
        .banks = opened->banks, .bank_count = opened->paper.bank_count, .questions = questions, .question_count = count,
    };
    enum exit_status status = drive(mock_begin(&plan, record, messages), messages);
    free(whole);
    free(questions);
    return status;
}

static enum exit_status sit(const struct files *files, const struct opened_paper *opened, struct record *record,
                            struct messages *messages)
{
    struct arena *arena = arena_new();
    struct waiting waiting;
    enum exit_status status = EXIT_SYSTEM;
    enum answer answer = ANSWERED_NO;
    if (!find_waiting(record, arena, &waiting, messages)) {
        arena_free(arena);
        return EXIT_SYSTEM;
    }
    if (can_go_on(&waiting))
        answer = !opened ? ANSWERED_YES
                         : ask_yes_or_no("An unfinished mock waits. Go on with it? (Enter: yes, n: give it up, start this one)",
                                         ANSWERED_YES);
    if (answer == NOT_ANSWERED)
        status = EXIT_DONE;
    else if (answer == ANSWERED_YES)
        status = go_on(&waiting, files, record, messages);
    else if (!waiting.sitting || give_up(&waiting, files, record, messages))
        status = !opened || !no_sitting_waits(opened, record, messages) ? EXIT_BAD_USE
                                                                         : begin(files->paper, opened, record, messages);
    if (!opened && answer == ANSWERED_NO && !messages->errors)
        messages_error(messages, "no mock waits to be gone on with; name the file of a paper: ownmark mock PAPER");
    arena_free(arena);
    return status;
}

/* ---- What else can be wanted ------------------------------------------------------------------------ */

static enum exit_status give_up_waiting(const struct files *files, struct record *record, struct messages *messages)
{
    struct arena *arena = arena_new();
    struct waiting waiting;
    enum exit_status status = EXIT_SYSTEM;
    bool read = find_waiting(record, arena, &waiting, messages);
    if (read && !waiting.sitting) {
        messages_error(messages, "no mock waits: there is nothing to give up");
        status = EXIT_BAD_USE;
    } else if (read && give_up(&waiting, files, record, messages)) {
        struct page *page = page_new();
        page_paragraph(page, "The mock is closed. What was fully marked in it counts; the rest is as if it had not been sat.");
        status = show_and_end(page, EXIT_DONE);
    }
    arena_free(arena);
    return status;
}

static enum exit_status show_latest(const struct mock_about *about, const struct files *files, struct record *record, bool json,
                                    struct messages *messages)
{
    struct banks banks;
    struct buffer out = BUFFER_EMPTY;
    struct page *page = page_new();
    enum exit_status status = EXIT_BAD_USE;
    int64_t sitting = mock_latest(record);
    if (open_banks(about, files, &banks, messages)) {
        bool shown = json ? mock_json(banks.items, record, sitting, &out, messages)
                          : mock_show(banks.items, record, sitting, page, messages);
        status = shown ? EXIT_DONE : EXIT_SYSTEM;
        if (shown && json)
            terminal_write(buffer_text(&out), out.length);
        else if (shown)
            terminal_show(page);
    }
    close_banks(&banks);
    page_free(page);
    buffer_free(&out);
    return status;
}

static enum exit_status show_result(const struct files *files, struct record *record, bool json, struct messages *messages)
{
    struct arena *arena = arena_new();
    struct mock_about about;
    int64_t sitting = record ? mock_latest(record) : 0;
    enum exit_status status = messages->errors ? EXIT_SYSTEM : EXIT_BAD_USE;
    if (sitting && mock_read(record, sitting, arena, &about, messages))
        status = show_latest(&about, files, record, json, messages);
    else if (!messages->errors)
        messages_error(messages, "no mock was marked to its end yet; ownmark mock PAPER sits one");
    arena_free(arena);
    return status;
}

/* ---- Running ---------------------------------------------------------------------------------------- */

static enum exit_status write_record(const struct arguments *arguments, const struct files *files, struct messages *messages)
{
    struct opened_paper *opened = NULL;
    if (files->paper && !(opened = opened_paper_read(files->paper, files->banks, files->bank_count, messages)))
        return EXIT_BAD_USE;
    struct record *record = open_record_for(arguments, RECORD_WRITE, messages);
    enum exit_status status = !record ? EXIT_SYSTEM
                              : argument_given(arguments, "--give-up") ? give_up_waiting(files, record, messages)
                                                                       : sit(files, opened, record, messages);
    record_close(record);
    opened_paper_free(opened);
    return status;
}

static enum exit_status run(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    struct files files = files_of(arguments);
    bool result = arguments->json || argument_given(arguments, "--result"), ends = argument_given(arguments, "--give-up");
    enum exit_status status = EXIT_BAD_USE;
    if (files.paper && (result || ends))
        messages_error(&messages, "%s is about a mock in the record; it goes without a PAPER",
                       ends ? "--give-up" : arguments->json ? "--json" : "--result");
    else if (result && ends)
        messages_error(&messages, "--give-up closes the mock that waits, --result shows the one before: one of the two");
    else if (result) {
        struct record *record = open_record_for(arguments, RECORD_READ, &messages);
        status = show_result(&files, record, arguments->json, &messages);
        record_close(record);
    } else {
        status = write_record(arguments, &files, &messages);
    }
    return say_and_end(&messages, status);
}

static const struct option options[] = {
    {"--result", NULL, "show the result of the latest mock again (with --json: as JSON)"},
    {"--give-up", NULL, "close the mock that waits; it is not gone on with"},
    {NULL, NULL, NULL},
};

const struct command command_mock = {
    .name = "mock",
    .summary = "a whole paper under exam conditions, marked at the end",
    .words = "[PAPER] [BANK...]",
    .words_most = 1 + PAPER_BANK_LIMIT,
    .help = "Asks all questions of a paper: one clock with your extra time, in any order, no marking before you hand it in. Then you "
            "mark it in one go and see marks by objective, where the time went and what to do next. Rest breaks, and the time while "
            "the program is closed, stop the clock. PAPER is the file paper.ownmark that 'ownmark paper' writes; without it, "
            "goes on with the mock that was left. BANK: where a bank is now, if it is not where the paper says (a name in .xml).",
    .example = "ownmark mock paper/paper.ownmark",
    .prints_results = true,
    .options = options,
    .run = run,
};
