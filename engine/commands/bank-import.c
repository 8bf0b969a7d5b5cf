/* ownmark bank import: questions from a table. */
#include "authoring/sheet.h"
#include "base/text.h"
#include "commands/shared.h"
#include "commands/table.h"
#include "terminal/terminal.h"

static enum exit_status print_template(void)
{
    struct buffer out = BUFFER_EMPTY;
    sheet_template(&out);
    terminal_write(buffer_text(&out), out.length);
    buffer_free(&out);
    return EXIT_DONE;
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

static enum exit_status run(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    struct sheet_result result;
    bool dry = argument_given(arguments, "--dry-run");
    if (argument_given(arguments, "--template"))
        return print_template();
    if (arguments->word_count < 2) {
        messages_error(&messages, "'ownmark bank import' wants a table and a bank: ownmark bank import questions.csv my-bank.xml; "
                       "--template prints a table to start from");
        return say_and_end(&messages, EXIT_BAD_USE);
    }
    bool imported = sheet_import(arguments->words[0], arguments->words[1], argument_given(arguments, "--replace"), dry, &result,
                                 &messages);
    if (imported)
        tell(arguments->words[1], &result, dry);
    else
        messages_error(&messages, "nothing was written to %s", arguments->words[1]);
    return say_and_end(&messages, imported ? EXIT_DONE : messages.unwritten ? EXIT_SYSTEM : EXIT_BAD_USE);
}

static const struct option options[] = {
    {"--template", NULL, "print a table to start from, on standard output"},
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
            "written. docs/authoring.md explains the columns; 'ownmark bank show BANK.xml --csv' writes such a table.",
    .example = "ownmark bank import questions.csv my-bank.xml",
    .options = options,
    .run = run,
};
