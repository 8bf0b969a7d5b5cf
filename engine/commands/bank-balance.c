/* ownmark bank balance: are the marks shared out as the course wants? */
#include "authoring/balance.h"
#include "commands/shared.h"
#include "commands/table.h"
#include "terminal/terminal.h"

/* One bank into the page or the JSON. False with messages: it cannot be used. */
static bool look_at(const char *path, struct page *page, struct json *json, bool *off, struct messages *messages)
{
    struct bank *bank = bank_open(path, true, messages);
    if (!bank)
        return false;
    struct arena *arena = arena_new();
    const struct balance *balance = balance_of(bank, arena);
    *off = *off || balance->off > 0;
    if (json) {
        json_object(json, NULL);
        json_text(json, "file", path);
        balance_json(json, balance);
        json_close_object(json);
    } else {
        balance_show(page, path, balance);
    }
    arena_free(arena);
    bank_close(bank);
    return true;
}

static enum exit_status run(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    struct page *page = page_new();
    struct buffer out = BUFFER_EMPTY;
    struct json json;
    bool off = false, usable = true;
    json_begin(&json, &out);
    json_array(&json, NULL);
    for (size_t i = 0; i < arguments->word_count; i++)
        usable = look_at(arguments->words[i], page, arguments->json ? &json : NULL, &off, &messages) && usable;
    json_close_array(&json);
    buffer_add(&out, "\n");
    if (usable && arguments->json)
        terminal_write(buffer_text(&out), out.length);
    else if (usable)
        terminal_show(page);
    page_free(page);
    buffer_free(&out);
    return say_and_end(&messages, !usable ? EXIT_BAD_USE : off ? EXIT_FINDING : EXIT_DONE);
}

const struct command command_bank_balance = {
    .name = "bank balance",
    .summary = "marks by objective, skill, topic, demand and command word",
    .words = "FILE…",
    .words_least = 1,
    .words_most = COMMAND_WORDS,
    .help = "Shows how a bank's marks are shared out beside the shares that its course wants, and which questions would mend "
            "what is off. Ends with 1 when a share is off by more than 3 points or 2 marks, whichever is more.",
    .example = "ownmark bank balance banks/coastal-science.xml",
    .prints_results = true,
    .run = run,
};
