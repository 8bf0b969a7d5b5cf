/* ownmark bank tidy: one layout for all banks. */
#include "bank/change.h"
#include "bank/tidy.h"
#include "base/files.h"
#include "base/text.h"
#include "bank/bank.h"
#include "commands/shared.h"
#include "commands/table.h"

static enum exit_status say(const char *path, const char *what, enum exit_status status)
{
    struct page *page = page_new();
    page_paragraph(page, "%s %s", path, what);
    return show_and_end(page, status);
}

static enum exit_status write_tidied(const char *path, const struct buffer *tidied, bool only_check, struct messages *messages)
{
    struct buffer now = BUFFER_EMPTY;
    bool read = file_read(path, BANK_FILE_LIMIT, &now, messages);
    bool same = read && now.length == tidied->length && text_equal(buffer_text(&now), buffer_text(tidied));
    buffer_free(&now);
    if (!read)
        return EXIT_BAD_USE;
    if (same)
        return say(path, "is tidy already.", EXIT_DONE);
    if (only_check)
        return say(path, "is not tidy; 'ownmark bank tidy' without --check lays it out.", EXIT_FINDING);
    if (bank_put(path, buffer_text(tidied), tidied->length, messages))
        return say(path, "is laid out afresh. What it says is the same; comments were kept.", EXIT_DONE);
    return messages->unwritten ? EXIT_SYSTEM : EXIT_BAD_USE;
}

static enum exit_status run(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    struct buffer tidied = BUFFER_EMPTY;
    const char *path = arguments->words[0];
    enum exit_status status = bank_tidy(path, &tidied, &messages)
                                  ? write_tidied(path, &tidied, argument_given(arguments, "--check"), &messages)
                                  : EXIT_BAD_USE;
    buffer_free(&tidied);
    return say_and_end(&messages, status);
}

static const struct option options[] = {
    {"--check", NULL, "change nothing; end with 1 when the file is not tidy"},
    {NULL, NULL, NULL},
};

const struct command command_bank_tidy = {
    .name = "bank tidy",
    .summary = "lay a bank out in the one canonical way",
    .words = "FILE",
    .words_least = 1,
    .words_most = 1,
    .help = "Writes the bank again with two spaces a level, lines of at most 120 columns where white space allows and attributes "
            "in the order of docs/bank-format.md. Comments are kept, what the bank says stays the same, and a second run "
            "changes nothing. A bank with faults is left alone.",
    .example = "ownmark bank tidy my-bank.xml",
    .options = options,
    .run = run,
};
