/* ownmark record check: is the student's own file whole? */
#include "commands/shared.h"
#include "commands/table.h"

static enum exit_status run(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    struct record *record = open_record_for(arguments, RECORD_READ, &messages);
    if (!record && messages.count)
        return say_and_end(&messages, EXIT_SYSTEM);
    struct page *page = page_new();
    if (!record) {
        page_paragraph(page, "There is no record yet: nothing to check.");
        return show_and_end(page, EXIT_DONE);
    }
    bool sound = record_check(record, &messages);
    if (sound)
        page_paragraph(page, "%s is sound: the file is whole, every entry reads back, and what is derived from them agrees.",
                       record_path(record));
    else
        page_paragraph(page, "%s has faults. Keep a copy ('ownmark record backup FILE'); 'ownmark record rebuild' mends what "
                             "is derived from the entries.", record_path(record));
    record_close(record);
    show_and_end(page, EXIT_DONE);
    return say_and_end(&messages, sound ? EXIT_DONE : EXIT_FINDING);
}

const struct command command_record_check = {
    .name = "record check",
    .summary = "check that your record is whole",
    .help = "Reads every entry of your record, checks the file, and works out afresh what is derived from the entries to "
            "compare it with what is stored. Changes nothing.",
    .example = "ownmark record check",
    .run = run,
};
