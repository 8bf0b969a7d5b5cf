#include "commands/help.h"

#include <stdlib.h>
#include <string.h>

#include "base/dates.h"
#include "base/text.h"
#include "commands/shared.h"
#include "practice/mock.h"
#include "terminal/terminal.h"

static void show_options(struct page *page, const struct option *options, const struct command *command)
{
    for (size_t i = 0; options && options[i].name; i++) {
        struct buffer label = BUFFER_EMPTY;
        if (strcmp(options[i].name, "--json") == 0 && !command->prints_results)
            continue;
        buffer_print(&label, "%s%s%s", options[i].name, options[i].value ? " " : "", options[i].value ? options[i].value : "");
        page_fact(page, buffer_text(&label), "%s", options[i].help);
        buffer_free(&label);
    }
}

void help_show_command(const struct command *command)
{
    struct page *page = page_new();
    page_heading(page, 1, "ownmark %s", command->name);
    page_paragraph(page, "%s.", command->summary);
    page_paragraph(page, "Usage: ownmark %s%s%s%s", command->name, command->words ? " " : "",
                   command->words ? command->words : "", " [options]");
    page_paragraph(page, "%s", command->help);
    page_heading(page, 3, "Options");
    show_options(page, command->options, command);
    show_options(page, help_common_options(), command);
    page_heading(page, 3, "Example");
    page_verbatim(page, 1, command->example);
    show_and_end(page, EXIT_DONE);
}

void help_show_commands(const char *group)
{
    struct page *page = page_new();
    if (group)
        page_heading(page, 1, "ownmark %s", group);
    else
        page_heading(page, 1, "ownmark: practice for written examinations");
    for (size_t i = 0; commands[i]; i++)
        if (!group || (text_starts_with(commands[i]->name, group) && commands[i]->name[strlen(group)] == ' '))
            page_fact(page, commands[i]->name, "%s", commands[i]->summary);
    page_paragraph(page, "ownmark COMMAND --help tells more about one of them. Everything stays on this machine.");
    show_and_end(page, EXIT_DONE);
}

static void say_first_time(struct page *page)
{
    page_paragraph(page, "Answer questions the way they will be marked: read, plan, answer, check.");
    page_fact(page, "Start", "ownmark practise");
    page_fact(page, "With a bank", "ownmark practise my-bank.xml");
    page_fact(page, "Write a bank", "ownmark bank write my-bank.xml");
    page_fact(page, "All commands", "ownmark --help");
}

static void say_known(struct page *page, struct record *record, const struct known_bank *bank)
{
    struct buffer day = BUFFER_EMPTY;
    add_day_relative(&day, day_of(bank->last), day_of(moment_now()));
    if (mock_waiting(record))
        page_fact(page, "Go on", "ownmark mock (a paper waits where you left it; its clock stands)");
    else if (record_open_sitting(record, bank->id))
        page_fact(page, "Go on", "ownmark practise (a sitting of %s waits where you left it)", buffer_text(&day));
    else
        page_fact(page, "Practise", "ownmark practise (last time: %s)", buffer_text(&day));
    page_fact(page, "Look", "ownmark standing");
    page_fact(page, "All commands", "ownmark --help");
    buffer_free(&day);
}

enum exit_status help_say_what_next(void)
{
    struct messages messages = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    struct known_bank *banks = NULL;
    size_t count = 0;
    struct page *page = page_new();
    struct record *record = record_open(NULL, RECORD_READ, &messages);
    bool read = record && record_banks(record, arena, &banks, &count, &messages);
    page_heading(page, 1, "ownmark: what next?");
    if (read && count)
        say_known(page, record, &banks[0]);
    else
        say_first_time(page);
    enum exit_status status = messages.errors ? EXIT_SYSTEM : EXIT_DONE;
    record_close(record);
    arena_free(arena);
    show_and_end(page, status);
    return say_and_end(&messages, status);
}
