/* ownmark record rebuild: derive everything afresh from the log. */
#include "base/text.h"
#include "commands/shared.h"
#include "commands/table.h"

static enum exit_status say_there_is_none(void)
{
    struct page *page = page_new();
    page_paragraph(page, "There is no record yet: nothing to rebuild.");
    return show_and_end(page, EXIT_DONE);
}

/* Opening for writing would make a record where there is none: reading is tried first. */
static enum exit_status run(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    struct record *record = open_record_for(arguments, RECORD_READ, &messages);
    if (!record && !messages.errors)
        return say_there_is_none();
    record_close(record);
    if (record)
        record = open_record_for(arguments, RECORD_WRITE, &messages);
    if (!record)
        return say_and_end(&messages, EXIT_SYSTEM);
    long changed = 0;
    char what[] = "Rebuilding";
    bool done = record_rebuild(record, &changed, show_progress, what, &messages);
    end_progress();
    record_close(record);
    if (!done)
        return say_and_end(&messages, EXIT_SYSTEM);
    struct page *page = page_new();
    if (changed)
        page_paragraph(page, "Everything derived was worked out afresh from your entries; %s.",
                       text_count(changed, "row changed", "rows changed"));
    else
        page_paragraph(page, "Everything derived was worked out afresh from your entries; nothing changed.");
    show_and_end(page, EXIT_DONE);
    return say_and_end(&messages, EXIT_DONE);
}

const struct command command_record_rebuild = {
    .name = "record rebuild",
    .summary = "work out standing and missed points afresh from your entries",
    .help = "Your entries are never changed. What is derived from them (standing, missed points, totals) is emptied and "
            "worked out again; the result is the same unless the file was damaged.",
    .example = "ownmark record rebuild",
    .run = run,
};
