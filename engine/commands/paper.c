/* ownmark paper: whole questions out of banks, chosen to a blueprint, printed with their mark scheme. */
#include <inttypes.h>
#include <math.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/dates.h"
#include "base/files.h"
#include "commands/paper.h"
#include "commands/shared.h"
#include "commands/table.h"
#include "paper/deliver.h"
#include "paper/explain.h"
#include "paper/make.h"
#include "paper/print.h"
#include "terminal/terminal.h"

#define USUAL_SECONDS 20.0

/* ---- Choosing, with somebody watching --------------------------------------------------------------------------- */

static volatile sig_atomic_t interrupted;

static void note_interrupt(int signal)
{
    (void)signal;
    interrupted = 1;
}

static bool tell_progress(void *context, const struct solve_progress *progress)
{
    (void)context;
    if (isatty(STDERR_FILENO) && progress->elapsed >= 0.5) {
        if (progress->found)
            fprintf(stderr, "\rChoosing: %.0f s, %.0f %% from best  ", progress->elapsed, ceil(progress->gap * 100));
        else
            fprintf(stderr, "\rChoosing: %.0f s, none found yet ", progress->elapsed);
    }
    return !interrupted;
}

/* The first Ctrl-C stops the choosing and keeps the best paper so far; a second one ends the program. */
static void solve(struct paper_work *work, enum solve_kind kind, double seconds, struct choice *choice)
{
    const struct solve_options options = {.seconds = seconds, .go_on = tell_progress};
    struct sigaction watch = {.sa_handler = note_interrupt, .sa_flags = (int)SA_RESETHAND}, before;
    sigaction(SIGINT, &watch, &before);
    blueprint_solve(&work->gathered.blueprint, kind, &options, work->arena, choice);
    sigaction(SIGINT, &before, NULL);
    end_progress();
}

static bool keeps_out(const struct paper_work *work)
{
    for (size_t i = 0; i < work->gathered.blueprint.item_count; i++)
        if (work->gathered.blueprint.items[i].kept_out)
            return true;
    return false;
}

/* The nearest paper, and whether enemies or avoided papers stand in the way of a nearer one. */
static void find_nearest(struct paper_work *work)
{
    struct choice trial;
    solve(work, SOLVE_NEAREST, work->seconds / 2, &work->choice);
    work->nearest = true;
    work->with_enemies = work->with_all = work->choice.verdict;
    if (!paper_has_choice(&work->choice) || interrupted)
        return;
    if (work->gathered.blueprint.enemy_count) {
        solve(work, SOLVE_NEAREST_WITH_ENEMIES, work->seconds / 4, &trial);
        if (paper_has_choice(&trial))
            work->with_enemies = work->with_all = trial.verdict;
    }
    if (keeps_out(work)) {
        solve(work, SOLVE_NEAREST_WITH_ALL, work->seconds / 4, &trial);
        if (paper_has_choice(&trial))
            work->with_all = trial.verdict;
    }
}

/* ---- Writing ---------------------------------------------------------------------------------------------------- */

/* The time on the cover of a nearest paper is what it needs, not what was asked for in vain. */
static void set_time(struct paper_work *work)
{
    int needed = (work->choice.verdict.seconds + 59) / 60;
    if (work->nearest && (work->choice.verdict.seconds > work->gathered.blueprint.seconds || !work->wishes.minutes))
        work->gathered.minutes = needed < 1 ? 1 : needed > PAPER_MINUTES_LIMIT ? PAPER_MINUTES_LIMIT : needed;
}

static void print_all(const struct paper_work *work, const struct opened_paper *opened, struct delivery *deliveries)
{
    struct page *blueprint = page_new();
    explain_blueprint(blueprint, &work->gathered, &work->choice.verdict);
    bool names = argument_given(work->arguments, "--name-lines");
    const struct print_look small = {.name_lines = names}, large = {.large = true, .name_lines = names};
    print_question_paper(opened, &small, &deliveries[0].content);
    print_question_paper(opened, &large, &deliveries[1].content);
    print_mark_scheme(opened, &small, blueprint, &deliveries[2].content);
    print_mark_scheme(opened, &large, blueprint, &deliveries[3].content);
    paper_file_text(&opened->paper, &deliveries[PAPER_FILES - 1].content);
    page_free(blueprint);
}

static void name_deliveries(struct delivery *deliveries)
{
    for (int i = 0; i < PAPER_FILES; i++)
        deliveries[i] = (struct delivery){paper_file_names[i], BUFFER_EMPTY};
}

/* The folder must be there before the paper is made: the paths of the banks are seen from it. */
static bool write_paper(struct paper_work *work)
{
    struct delivery deliveries[PAPER_FILES];
    struct opened_paper opened;
    bool was_there = access(work->folder, F_OK) == 0;
    name_deliveries(deliveries);
    set_time(work);
    bool good = directory_make(work->folder, work->messages) &&
                paper_make(&work->gathered, work->choice.chosen, moment_now(), work->folder, work->arena, &opened,
                           work->messages);
    if (good) {
        print_all(work, &opened, deliveries);
        good = deliver(work->folder, deliveries, PAPER_FILES, argument_given(work->arguments, "--replace"), work->messages);
    }
    if (!good && !was_there)
        rmdir(work->folder);
    for (int i = 0; i < PAPER_FILES; i++)
        buffer_free(&deliveries[i].content);
    return good;
}

/* ---- When all is met -------------------------------------------------------------------------------------------- */

static enum exit_status write_and_tell(struct paper_work *work)
{
    if (!write_paper(work))
        return EXIT_SYSTEM;
    struct page *page = page_new();
    if (work->arguments->json)
        paper_show_json(work, true);
    else
        paper_tell_written(page, work);
    return show_and_end(page, EXIT_DONE);
}

/* ---- When it cannot be done -------------------------------------------------------------------------------------- */

static enum exit_status leave_it(const struct paper_work *work)
{
    struct page *page = page_new();
    if (work->arguments->json) {
        paper_show_json(work, false);
    } else {
        page_gap(page);
        page_paragraph(page, "Nothing was written. Ask for something else%s.",
                       paper_has_choice(&work->choice) ? ", or add --nearest to take the nearest paper" : "");
    }
    return show_and_end(page, EXIT_FINDING);
}

static bool take_nearest(const struct paper_work *work)
{
    if (argument_given(work->arguments, "--nearest"))
        return true;
    return !work->arguments->json && terminal_is_interactive() &&
           ask_yes_or_no("Write the nearest paper all the same?", ANSWERED_NO) == ANSWERED_YES;
}

static enum exit_status offer_nearest(struct paper_work *work, enum solve_outcome strict)
{
    struct page *page = page_new();
    if (!interrupted)
        find_nearest(work);
    bool found = paper_has_choice(&work->choice) && work->choice.verdict.marks > 0;
    if (!work->arguments->json) {
        paper_tell_none(page, work, strict, interrupted);
        if (found && work->choice.verdict.meets_all)
            page_paragraph(page, "Looking for the nearest one found a paper that meets them after all.");
        else if (found)
            paper_tell_misses(page, work);
    }
    show_and_end(page, EXIT_DONE);
    if (found && (work->choice.verdict.meets_all || take_nearest(work)))
        return write_and_tell(work);
    return leave_it(work);
}

static enum exit_status choose(struct paper_work *work)
{
    solve(work, SOLVE_STRICT, work->seconds, &work->choice);
    enum solve_outcome outcome = work->choice.outcome;
    if (outcome == SOLVE_FAILED) {
        messages_error(work->messages, "the solver gave up on these demands; ask for fewer marks or fewer questions");
        return EXIT_SYSTEM;
    }
    return paper_has_choice(&work->choice) ? write_and_tell(work) : offer_nearest(work, outcome);
}

/* ---- Running ---------------------------------------------------------------------------------------------------- */

static char *folder_of(const struct arguments *arguments, const struct paper_wishes *wishes)
{
    const char *given = argument_value(arguments, "--output");
    struct buffer name = BUFFER_EMPTY;
    if (given)
        buffer_add(&name, given);
    else
        buffer_print(&name, "paper-%" PRIu64, wishes->seed);
    return buffer_take(&name);
}

static enum exit_status run_with_banks(struct paper_work *work)
{
    struct bank *banks[PAPER_BANK_LIMIT] = {NULL};
    size_t count = work->arguments->word_count;
    enum exit_status status = EXIT_BAD_USE;
    bool good = true;
    for (size_t i = 0; i < count && good; i++)
        good = (banks[i] = bank_open(work->arguments->words[i], true, work->messages)) != NULL;
    if (good && gather(banks, count, &work->wishes, work->arena, &work->gathered, work->messages))
        status = choose(work);
    for (size_t i = 0; i < count; i++)
        bank_close(banks[i]);
    return status;
}

static enum exit_status run(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    struct delivery deliveries[PAPER_FILES];
    struct paper_work work = {.arguments = arguments, .arena = arena_new(), .messages = &messages, .seconds = USUAL_SECONDS};
    enum exit_status status = EXIT_BAD_USE;
    name_deliveries(deliveries);
    if (argument_given(arguments, "--output") && !*argument_value(arguments, "--output"))
        messages_error(&messages, "-o wants the name of a folder, for example -o mock-1");
    else if (argument_number(arguments, "--seconds", 0.1, 86400, &work.seconds) &&
        paper_read_wishes(arguments, work.arena, &work.wishes, &messages)) {
        work.folder = folder_of(arguments, &work.wishes);
        if (deliver_may(work.folder, deliveries, PAPER_FILES, argument_given(arguments, "--replace"), &messages))
            status = run_with_banks(&work);
    }
    free(work.folder);
    arena_free(work.arena);
    return say_and_end(&messages, status);
}

static const struct option options[] = {
    {"--marks", "N", "marks of the whole paper, exactly"},
    {"--minutes", "M", "the time allowed; without it by the course's pace"},
    {"--topic", "TOPIC", "only these topics (ids, with commas; may be repeated)"},
    {"--demand", "DEMAND", "only low, standard or high; or shares: low=30,standard=50,high=20"},
    {"--avoid", "PAPER", "no question of this paper.ownmark (may be repeated)"},
    {"--seed", "S", "the same seed and bank give the same paper; without it a new one"},
    {"--output", "DIR", "folder to write into (also -o); without it paper-SEED"},
    {"--replace", NULL, "write over the files of an earlier paper there"},
    {"--nearest", NULL, "when the demands cannot all be met, take the nearest paper"},
    {"--name-lines", NULL, "lines for a name and a date on the cover"},
    {"--seconds", "T", "how long to look for the best paper; 20 if left out"},
    {NULL, NULL, NULL},
};

const struct command command_paper = {
    .name = "paper",
    .summary = "a practice paper and its mark scheme, to a blueprint",
    .words = "BANK…",
    .words_least = 1,
    .words_most = PAPER_BANK_LIMIT,
    .help = "Chooses whole questions so that the marks add up exactly, objectives, skills and topics have their shares of the "
            "course within a few marks, the time fits, and questions that give each other away do not meet. Demand "
            "rises through the paper. When that cannot be done it says which demand is in the way and by how much. Writes the "
            "question paper and the mark scheme as pages for A4 and for large print. Ctrl-C keeps the best paper so far. "
            "docs/paper-format.md tells more.",
    .example = "ownmark paper banks/coastal-science.xml --marks 60 -o mock-1",
    .prints_results = true,
    .options = options,
    .run = run,
};
