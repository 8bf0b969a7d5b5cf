/* ownmark bank check: is a bank right, and what in it is weak? */
#include "authoring/warnings.h"
#include "base/dates.h"
#include "base/json.h"
#include "base/text.h"
#include "base/watch.h"
#include "bank/check.h"
#include "commands/shared.h"
#include "commands/table.h"
#include "terminal/terminal.h"

struct finding {
    struct bank_check check;
    struct messages messages;   /* faults, or warnings of a sound bank */
};

/* Weakness can only be looked for in a bank that is sound. */
static void find(const char *path, bool faults_only, struct finding *finding)
{
    char checking[] = "Checking", looking[] = "Looking for weak questions";
    *finding = (struct finding){.messages = MESSAGES_EMPTY};
    finding->check = bank_check(path, &finding->messages, show_progress, checking);
    if (finding->check.sound && !faults_only) {
        struct bank *bank = bank_open(path, true, &finding->messages);
        finding->check.sound = bank && warnings_of_bank(bank, &finding->messages, show_progress, looking);
        bank_close(bank);
    }
    end_progress();
}

static enum exit_status status_of(const struct finding *finding, bool strict)
{
    if (!finding->check.sound)
        return EXIT_BAD_USE;
    return strict && finding->messages.count ? EXIT_FINDING : EXIT_DONE;
}

/* ---- Said ----------------------------------------------------------------------------------------- */

static void say(const char *path, const struct finding *finding)
{
    struct buffer warnings = BUFFER_EMPTY;
    messages_print_wrapped(&finding->messages, terminal_error_width());
    if (!finding->check.sound)
        return;
    if (finding->messages.count)
        buffer_print(&warnings, " Worth a look: %s.", text_count((long)finding->messages.count, "warning", "warnings"));
    struct page *page = page_new();
    page_paragraph(page, "%s is sound: %s, %s, %ld marks.%s", path, finding->check.course,
                   text_count((long)finding->check.questions, "question", "questions"), finding->check.marks,
                   buffer_text(&warnings));
    show_and_end(page, EXIT_DONE);
    buffer_free(&warnings);
}

static void write_finding(struct json *json, const struct message *message)
{
    json_object(json, NULL);
    json_text(json, "severity", message->severity == SEVERITY_ERROR ? "error" : "warning");
    json_text(json, "file", message->place.file);
    json_whole(json, "line", (int64_t)message->place.line);
    json_whole(json, "column", (int64_t)message->place.column);
    json_text(json, "subject", message->subject);
    json_text(json, "message", message->text);
    json_close_object(json);
}

static void write_json(const char *path, const struct finding *finding)
{
    struct buffer out = BUFFER_EMPTY;
    struct json json;
    json_begin(&json, &out);
    json_object(&json, NULL);
    json_text(&json, "file", path);
    json_truth(&json, "sound", finding->check.sound);
    if (finding->check.sound) {
        json_text(&json, "course", finding->check.course);
        json_whole(&json, "questions", (int64_t)finding->check.questions);
        json_whole(&json, "marks", finding->check.marks);
    }
    json_array(&json, "findings");
    for (size_t i = 0; i < finding->messages.count; i++)
        write_finding(&json, &finding->messages.items[i]);
    json_close_array(&json);
    json_close_object(&json);
    buffer_add(&out, "\n");
    terminal_write(buffer_text(&out), out.length);
    buffer_free(&out);
}

static enum exit_status check_once(const struct arguments *arguments)
{
    struct finding finding;
    find(arguments->words[0], argument_given(arguments, "--faults-only"), &finding);
    if (arguments->json)
        write_json(arguments->words[0], &finding);
    else
        say(arguments->words[0], &finding);
    enum exit_status status = status_of(&finding, argument_given(arguments, "--strict"));
    messages_free(&finding.messages);
    return status;
}

/* ---- Again whenever it is saved ------------------------------------------------------------------- */

static void say_when(void)
{
    struct buffer time = BUFFER_EMPTY;
    add_time_of_day(&time, moment_now());
    struct page *page = page_new();
    page_paragraph(page, "Checked at %s. Waiting for the next save; Ctrl-C ends.", buffer_text(&time));
    page_gap(page);
    show_and_end(page, EXIT_DONE);
    buffer_free(&time);
}

static enum exit_status keep_checking(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    struct watch *watch = watch_new(arguments->words[0], &messages);
    enum exit_status status = EXIT_DONE;
    do {
        status = watch ? check_once(arguments) : EXIT_SYSTEM;
        if (watch && !arguments->json)
            say_when();
    } while (watch && !terminal_output_failed() && watch_wait(watch));
    watch_free(watch);
    return say_and_end(&messages, status);
}

static enum exit_status run(const struct arguments *arguments)
{
    return argument_given(arguments, "--watch") ? keep_checking(arguments) : check_once(arguments);
}

static const struct option options[] = {
    {"--strict", NULL, "end with 1 when there is a warning"},
    {"--faults-only", NULL, "no warnings: only what makes the bank unusable"},
    {"--watch", NULL, "check again each time the file is saved, until Ctrl-C"},
    {NULL, NULL, NULL},
};

const struct command command_bank_check = {
    .name = "bank check",
    .summary = "check a bank: faults with their remedy, and what is weak",
    .words = "FILE",
    .words_least = 1,
    .words_most = 1,
    .help = "Reads the whole bank and tells every fault with its line and column, the question it is in, what was found "
            "and what was wanted. A sound bank is then looked through for weak questions: an ask without its command word, "
            "points that share key words, wordings both accepted and rejected, a model answer that does not earn its marks, "
            "and more; docs/bank-format.md lists them. Warnings are for a person to judge. Nothing is changed.",
    .example = "ownmark bank check banks/coastal-science.xml",
    .prints_results = true,
    .options = options,
    .run = run,
};
