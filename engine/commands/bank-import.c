/* ownmark bank import: questions from a table. */
#include <unistd.h>

#include "authoring/sheet.h"
#include "base/text.h"
#include "commands/kept.h"
#include "commands/shared.h"
#include "commands/table.h"
#include "terminal/terminal.h"

/* The course of a bank that is there, or that was described to 'bank write'. NULL with messages. */
static const struct course *course_of(const char *path, struct arena *arena, struct messages *messages)
{
    const struct course *course = NULL;
    struct buffer text = BUFFER_EMPTY;
    struct bank *bank = access(path, F_OK) == 0 ? bank_open(path, true, messages) : NULL;
    const char *xml = "";
    if (bank)
        bank_course_text(bank, &text), xml = buffer_text(&text);
    else if (!messages->errors && kept_course_read(path, &text, messages))
        xml = kept_course_split(&text);
    if (*xml && !bank_from_text(xml, NULL, arena, &course, NULL, messages))
        course = NULL;
    bank_close(bank);
    buffer_free(&text);
    return course;
}

static enum exit_status print_template(const char *bank)
{
    struct messages messages = MESSAGES_EMPTY;
    struct buffer out = BUFFER_EMPTY;
    struct arena *arena = arena_new();
    const struct course *course = bank ? course_of(bank, arena, &messages) : NULL;
    if (course || !bank) {
        sheet_template(&out, course);
        terminal_write(buffer_text(&out), out.length);
    }
    buffer_free(&out);
    arena_free(arena);
    return say_and_end(&messages, course || !bank ? EXIT_DONE : EXIT_BAD_USE);
}

static void tell(const char *bank, const struct sheet_result *result, bool dry)
{
    struct page *page = page_new();
    page_paragraph(page, "%s: %s%s, %zu replaced.%s", bank,
                   text_count((long)result->added, "question", "questions"), dry ? " would be added" : " added", result->replaced,
                   dry ? " Nothing was written." : "");
    if (!dry)
        page_paragraph(page, "Next: 'ownmark bank check %s' says what in them is weak.", bank);
    show_and_end(page, EXIT_DONE);
}

/* Into a bank that is not there yet: its course was described to 'bank write' before. */
static bool import_new(const struct arguments *arguments, bool dry, struct sheet_result *result, struct messages *messages)
{
    const char *bank = arguments->words[1];
    struct buffer course = BUFFER_EMPTY;
    bool imported = false;
    if (kept_course_read(bank, &course, messages)) {
        const char *text = kept_course_split(&course);
        imported = sheet_import_new(arguments->words[0], bank, buffer_text(&course), text, dry, result, messages);
        if (imported && !dry)
            kept_course_forget(bank);
    }
    buffer_free(&course);
    return imported;
}

static enum exit_status run(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    struct sheet_result result;
    bool dry = argument_given(arguments, "--dry-run");
    if (argument_given(arguments, "--template"))
        return print_template(arguments->word_count ? arguments->words[0] : NULL);
    if (arguments->word_count < 2) {
        messages_error(&messages, "'ownmark bank import' wants a table and a bank: ownmark bank import questions.csv my-bank.xml; "
                       "--template prints a table to start from");
        return say_and_end(&messages, EXIT_BAD_USE);
    }
    bool imported = access(arguments->words[1], F_OK) == 0
                        ? sheet_import(arguments->words[0], arguments->words[1], argument_given(arguments, "--replace"), dry, &result,
                                       &messages)
                        : import_new(arguments, dry, &result, &messages);
    if (imported)
        tell(arguments->words[1], &result, dry);
    else
        messages_error(&messages, "nothing was written to %s", arguments->words[1]);
    return say_and_end(&messages, imported ? EXIT_DONE : messages.unwritten ? EXIT_SYSTEM : EXIT_BAD_USE);
}

static const struct option options[] = {
    {"--template", NULL, "print a table to start from; with BANK.xml alone, one that fits its course"},
    {"--replace", NULL, "a question whose id the bank has takes that one's place"},
    {"--dry-run", NULL, "only say what would be done"},
    {NULL, NULL, NULL},
};

const struct command command_bank_import = {
    .name = "bank import",
    .summary = "add questions from a table (CSV), one row a marking point",
    .words = "FILE.csv BANK.xml",
    .words_most = 2,
    .help = "Reads a table as any spreadsheet saves it (CSV, UTF-8) and adds its questions to the bank, after all others; the rest "
            "of the file stays byte for byte as it is. Every faulty row is told with row and column, and then nothing is "
            "written. A bank that does not exist yet needs its course, which 'ownmark bank write' asks for. docs/authoring.md "
            "explains the columns; 'ownmark bank show BANK.xml --csv' writes such a table.",
    .example = "ownmark bank import questions.csv my-bank.xml",
    .options = options,
    .run = run,
};
