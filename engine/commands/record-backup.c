/* ownmark record backup: a second copy, made while the record may be in use. */
#include "commands/shared.h"
#include "commands/table.h"

static enum exit_status run(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    struct record *record = open_record_for(arguments, RECORD_READ, &messages);
    if (!record && !messages.count)
        messages_error(&messages, "there is no record yet, so there is nothing to copy");
    bool done = record && record_backup(record, arguments->words[0], argument_given(arguments, "--replace"), &messages);
    record_close(record);
    if (!done)
        return say_and_end(&messages, EXIT_SYSTEM);
    struct page *page = page_new();
    page_paragraph(page, "Copied to %s. It holds what you wrote: keep it as private as the original.", arguments->words[0]);
    return show_and_end(page, EXIT_DONE);
}

static const struct option options[] = {
    {"--replace", NULL, "write over an existing file"},
    {NULL, NULL, NULL},
};

const struct command command_record_backup = {
    .name = "record backup",
    .summary = "copy your record to a file",
    .words = "FILE",
    .words_least = 1,
    .words_most = 1,
    .help = "Makes a complete copy that can be used with --record, or put back in the record's place.",
    .example = "ownmark record backup my-record-2026-05-18.db",
    .options = options,
    .run = run,
};
