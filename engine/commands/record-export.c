/* ownmark record export: everything the student entered, as JSON. */
#include <string.h>

#include "base/files.h"
#include "commands/shared.h"
#include "commands/table.h"
#include "terminal/terminal.h"

static bool deliver(const struct arguments *arguments, const struct buffer *out, struct messages *messages)
{
    const char *path = argument_value(arguments, "--output");
    if (!path)
        return terminal_write(buffer_text(out), out->length);
    return file_write(path, buffer_text(out), out->length, 0600, argument_given(arguments, "--replace"), messages);
}

static enum exit_status run(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    struct buffer out = BUFFER_EMPTY;
    struct record *record = open_record_for(arguments, RECORD_READ, &messages);
    if (!record && !messages.count)
        messages_error(&messages, "there is no record yet, so there is nothing to export");
    bool done = record && record_export(record, &out, &messages) && deliver(arguments, &out, &messages);
    record_close(record);
    buffer_free(&out);
    return say_and_end(&messages, done ? EXIT_DONE : EXIT_SYSTEM);
}

static const struct option options[] = {
    {"--output", "FILE", "write to FILE (also -o) instead of standard output; readable only by you"},
    {"--replace", NULL, "write over an existing file"},
    {NULL, NULL, NULL},
};

const struct command command_record_export = {
    .name = "record export",
    .summary = "all your entries as JSON",
    .help = "Everything you entered and everything derived from it, for you to read or take elsewhere. Your answers are in "
            "it: keep it private.",
    .example = "ownmark record export -o my-entries.json",
    .options = options,
    .run = run,
};
