/* ownmark bank show: a bank's questions for its author. */
#include <stdlib.h>

#include "authoring/display.h"
#include "authoring/sheet.h"
#include "base/memory.h"
#include "base/text.h"
#include "commands/shared.h"
#include "commands/table.h"
#include "report/html.h"
#include "terminal/terminal.h"

enum { PROJECTOR_POINTS = 28 };

/* The question named, or -1 with a message that names the nearest. */
static int find_question(const struct bank *bank, const char *id, struct messages *messages)
{
    int index = bank_find(bank, id);
    if (index >= 0)
        return index;
    size_t count = bank_question_count(bank);
    const char **ids = memory_get_zeroed(count + 1, sizeof *ids);
    for (size_t i = 0; i < count; i++)
        ids[i] = bank_summary(bank, i)->id;
    const char *nearest = text_nearest(id, ids, count);
    messages_error(messages, "no question '%s' in %s; %s%s%s", id, bank_path(bank), nearest ? "did you mean '" : "",
                   nearest ? nearest : "'ownmark bank show FILE' lists them", nearest ? "'?" : "");
    free(ids);
    return -1;
}

/* Named questions, or with --html and no name all of them, or the list. */
static bool fill_page(struct page *page, struct bank *bank, const struct arguments *arguments, const struct display *display,
                      struct messages *messages)
{
    size_t named = arguments->word_count - 1;
    if (!named && !argument_given(arguments, "--html")) {
        display_list(page, bank);
        return true;
    }
    for (size_t i = 0; i < (named ? named : bank_question_count(bank)); i++) {
        int index = named ? find_question(bank, arguments->words[i + 1], messages) : (int)i;
        if (index < 0 || !display_question(page, bank, (size_t)index, display, messages))
            return false;
    }
    return true;
}

static void write_html(const struct page *page)
{
    struct buffer out = BUFFER_EMPTY;
    const struct html_look look = {.points = PROJECTOR_POINTS};
    page_render_html(page, &look, &out);
    terminal_write(buffer_text(&out), out.length);
    buffer_free(&out);
}

/* The questions named, or all, as a table. */
static bool write_table(struct bank *bank, const struct arguments *arguments, struct messages *messages)
{
    struct buffer out = BUFFER_EMPTY;
    size_t indices[COMMAND_WORDS], named = arguments->word_count - 1;
    bool found = true;
    for (size_t i = 0; found && i < named; i++) {
        int index = find_question(bank, arguments->words[i + 1], messages);
        indices[i] = (size_t)index;
        found = index >= 0;
    }
    found = found && sheet_write(bank, indices, named, &out, messages);
    if (found)
        terminal_write(buffer_text(&out), out.length);
    buffer_free(&out);
    return found;
}

static enum exit_status run(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    long seed = 1, variants = 5;
    if (!argument_whole(arguments, "--seed", 0, 1000000000, &seed) ||
        !argument_whole(arguments, "--variants", 0, 100, &variants))
        return EXIT_BAD_USE;
    const struct display display = {(uint64_t)seed, (size_t)variants, !argument_given(arguments, "--ask-only")};
    struct bank *bank = bank_open(arguments->words[0], true, &messages);
    if (bank && argument_given(arguments, "--csv")) {
        bool written = write_table(bank, arguments, &messages);
        bank_close(bank);
        return say_and_end(&messages, written ? EXIT_DONE : EXIT_BAD_USE);
    }
    struct page *page = page_new();
    bool shown = bank && fill_page(page, bank, arguments, &display, &messages);
    if (shown && argument_given(arguments, "--html"))
        write_html(page);
    else if (shown)
        terminal_show(page);
    page_free(page);
    bank_close(bank);
    return say_and_end(&messages, shown ? EXIT_DONE : EXIT_BAD_USE);
}

static const struct option options[] = {
    {"--ask-only", NULL, "only what the student sees, without the marking"},
    {"--seed", "N", "the numbers of this drawing (1)"},
    {"--variants", "N", "a table of so many drawings (5)"},
    {"--csv", NULL, "as a table that 'bank import' reads, on standard output"},
    {"--html", NULL, "as a page for a projector, on standard output"},
    {NULL, NULL, NULL},
};

const struct command command_bank_show = {
    .name = "bank show",
    .summary = "a question as a student meets it, and its marking",
    .words = "FILE [ID…]",
    .words_least = 1,
    .words_most = COMMAND_WORDS,
    .help = "Without an ID it lists the bank's questions. With one or more it shows each as a student meets it, then its scheme "
            "as a marker reads it with the key words that the second look uses, the model answers, and numbers as they may be "
            "drawn.",
    .example = "ownmark bank show banks/coastal-science.xml wav-e-03",
    .options = options,
    .run = run,
};
