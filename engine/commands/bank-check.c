/* ownmark bank check: is a bank right? */
#include "base/text.h"
#include "bank/check.h"
#include "commands/shared.h"
#include "commands/table.h"
#include "terminal/terminal.h"

static enum exit_status run(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    char what[] = "Checking";
    struct bank_check check = bank_check(arguments->words[0], &messages, show_progress, what);
    end_progress();
    if (!check.sound)
        return say_and_end(&messages, EXIT_BAD_USE);
    struct page *page = page_new();
    page_paragraph(page, "%s is sound: %s, %s, %ld marks.", arguments->words[0], check.course,
                   text_count((long)check.questions, "question", "questions"), check.marks);
    show_and_end(page, EXIT_DONE);
    return say_and_end(&messages, EXIT_DONE);
}

const struct command command_bank_check = {
    .name = "bank check",
    .summary = "check a bank: form, totals, names, units, figures, formulae",
    .words = "FILE",
    .words_least = 1,
    .words_most = 1,
    .help = "Reads the whole bank and tells every fault with its line and column, the question it is in, what was found "
            "and what was wanted. Nothing is changed. docs/bank-format.md describes the format.",
    .example = "ownmark bank check banks/coastal-science.xml",
    .run = run,
};
