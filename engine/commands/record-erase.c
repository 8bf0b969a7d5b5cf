/* ownmark record erase: forget everything. */
#include <stdlib.h>

#include "base/files.h"
#include "base/memory.h"
#include "commands/shared.h"
#include "commands/table.h"

static enum exit_status erase(const char *path, struct messages *messages)
{
    if (!record_erase(path, messages))
        return say_and_end(messages, EXIT_SYSTEM);
    struct page *page = page_new();
    page_paragraph(page, "Erased: %s and the files beside it. Copies you made elsewhere are not touched.", path);
    show_and_end(page, EXIT_DONE);
    return say_and_end(messages, EXIT_DONE);
}

static enum exit_status run(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    char *path = arguments->record ? memory_copy_text(arguments->record) : path_in_data("record.db", &messages);
    if (!path)
        return say_and_end(&messages, EXIT_SYSTEM);
    bool sure = argument_given(arguments, "--yes") ||
                ask_yes_or_no("Erase every answer, mark and setting for good? y n", ANSWERED_NO) == ANSWERED_YES;
    enum exit_status status = EXIT_DONE;
    if (sure) {
        status = erase(path, &messages);
    } else {
        struct page *page = page_new();
        page_paragraph(page, "Nothing was erased.");
        status = show_and_end(page, EXIT_DONE);
    }
    free(path);
    return status;
}

static const struct option options[] = {
    {"--yes", NULL, "do not ask"},
    {NULL, NULL, NULL},
};

const struct command command_record_erase = {
    .name = "record erase",
    .summary = "remove your record for good",
    .help = "Removes the record and the files beside it. This cannot be undone; 'ownmark record backup FILE' first if you "
            "may want it again. Backups made by you or by your system are not reached.",
    .example = "ownmark record erase",
    .options = options,
    .run = run,
};
