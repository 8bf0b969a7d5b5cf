#include "commands/shared.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/files.h"
#include "base/memory.h"
#include "base/text.h"
#include "terminal/terminal.h"

enum exit_status say_and_end(struct messages *messages, enum exit_status status)
{
    messages_print_wrapped(messages, terminal_error_width());
    messages_free(messages);
    return status;
}

enum exit_status show_and_end(struct page *page, enum exit_status status)
{
    terminal_show(page);
    page_free(page);
    return status;
}

struct record *open_record_for(const struct arguments *arguments, enum record_access access,
                               struct messages *messages)
{
    return record_open(arguments->record, access, messages);
}

/* The shipped bank, found from where the program itself stands, so that it may be installed anywhere: bin/ownmark has
 * it in share, build/ownmark beside build. */
static char *shipped_bank(void)
{
    static const char *const places[] = {"../share/ownmark/banks/coastal-science.xml", "../banks/coastal-science.xml"};
    char program[4096];
    ssize_t length = readlink("/proc/self/exe", program, sizeof program - 1);
    if (length <= 0)
        return NULL;
    program[length] = '\0';
    char *folder = path_folder_of(program), *found = NULL;
    for (size_t i = 0; i < sizeof places / sizeof *places && !found; i++) {
        char *path = path_join(folder, places[i]);
        found = realpath(path, NULL);
        free(path);
    }
    free(folder);
    return found;
}

static char *last_bank(struct record *record, struct messages *messages)
{
    struct arena *arena = arena_new();
    struct known_bank *banks;
    size_t count = 0;
    char *path = NULL;
    if (record && record_banks(record, arena, &banks, &count, messages) && count && banks[0].path)
        path = memory_copy_text(banks[0].path);
    arena_free(arena);
    return path;
}

static char *bank_wanted(const struct arguments *arguments, const char *word, struct record *record, struct messages *messages)
{
    if (word)
        return memory_copy_text(word);
    char *path = last_bank(record, messages);
    if (!path)
        path = shipped_bank();
    if (!path && !messages->count)
        messages_error(messages, "no bank to practise from: name one, for example 'ownmark %s%s my-bank.xml'",
                       arguments->command->name, arguments->command->words_most > 1 ? " TOPIC" : "");
    return path;
}

struct bank *open_bank_at(const struct arguments *arguments, const char *word, struct record *record, struct messages *messages)
{
    char *path = bank_wanted(arguments, word, record, messages);
    struct bank *bank = path ? bank_open(path, true, messages) : NULL;
    free(path);
    return bank;
}

struct bank *open_bank_for(const struct arguments *arguments, struct record *record, struct messages *messages)
{
    return open_bank_at(arguments, arguments->word_count ? arguments->words[0] : NULL, record, messages);
}

struct bank *open_bank_first(const struct arguments *arguments, const char *word, bool *readable, struct messages *messages)
{
    struct record *record = word ? NULL : open_record_for(arguments, RECORD_READ, messages);
    *readable = record || !messages->errors;
    struct bank *bank = *readable ? open_bank_at(arguments, word, record, messages) : NULL;
    record_close(record);
    return bank;
}

bool names_bank_file(const char *word)
{
    size_t length = strlen(word);
    return strchr(word, '/') || (length > 4 && strcmp(word + length - 4, ".xml") == 0);
}

struct topic_words topic_words_of(const struct arguments *arguments)
{
    if (arguments->word_count == 1 && names_bank_file(arguments->words[0]))
        return (struct topic_words){NULL, arguments->words[0]};
    return (struct topic_words){arguments->word_count > 0 ? arguments->words[0] : NULL,
                                arguments->word_count > 1 ? arguments->words[1] : NULL};
}

enum exit_status read_record_and_bank(const struct arguments *arguments, record_reader *read, void *context)
{
    struct messages messages = MESSAGES_EMPTY;
    struct record *record = open_record_for(arguments, RECORD_READ, &messages);
    if (!record && messages.count)
        return say_and_end(&messages, EXIT_SYSTEM);
    struct bank *bank = open_bank_for(arguments, record, &messages);
    enum exit_status status = bank ? read(arguments, record, bank, context, &messages) : EXIT_BAD_USE;
    bank_close(bank);
    record_close(record);
    return say_and_end(&messages, status);
}

static enum answer answer_of(const char *line, enum answer otherwise)
{
    if (text_is_blank(line))
        return otherwise;
    if (text_equal_ignoring_case(line, "y") || text_equal_ignoring_case(line, "yes"))
        return ANSWERED_YES;
    if (text_equal_ignoring_case(line, "n") || text_equal_ignoring_case(line, "no"))
        return ANSWERED_NO;
    return NOT_ANSWERED;
}

static void explain_yes_or_no(enum answer otherwise)
{
    struct page *page = page_new();
    page_paragraph(page, "Please type y for yes or n for no. %s", otherwise == ANSWERED_YES
                   ? "Enter alone means yes; Ctrl-D stops here and changes nothing."
                   : "Enter alone means no.");
    show_and_end(page, EXIT_DONE);
}

enum answer ask_yes_or_no(const char *question, enum answer otherwise)
{
    enum answer answer = NOT_ANSWERED;
    bool again = true;
    while (again) {
        struct terminal_ask ask = {.prompt = question};
        struct terminal_entry entry;
        terminal_flush_input();
        terminal_ask(&ask, &entry);
        if (entry.outcome == TERMINAL_HUNG_UP)
            terminal_end_by_signal();
        if (entry.outcome == TERMINAL_ENTERED)
            answer = answer_of(entry.text, otherwise);
        again = entry.outcome == TERMINAL_ENTERED && answer == NOT_ANSWERED &&
                !text_equal_ignoring_case(entry.text, ".leave");
        terminal_entry_free(&entry);
        if (again)
            explain_yes_or_no(otherwise);
    }
    return answer;
}

void json_day(struct json *json, const char *name, day_number day)
{
    struct buffer text = BUFFER_EMPTY;
    if (day != NO_DAY)
        add_day_iso(&text, day);
    json_text(json, name, day == NO_DAY ? NULL : buffer_text(&text));
    buffer_free(&text);
}

void json_moment(struct json *json, const char *name, moment when)
{
    struct buffer text = BUFFER_EMPTY;
    if (when != NO_MOMENT)
        add_iso(&text, when);
    json_text(json, name, when == NO_MOMENT ? NULL : buffer_text(&text));
    buffer_free(&text);
}

bool note_day_setting(struct record *record, const char *bank, const char *name, day_number day, struct messages *messages)
{
    struct event event = event_blank(EVENT_SETTING);
    struct buffer value = BUFFER_EMPTY;
    add_day_iso(&value, day);
    event.bank = bank;
    event.item = name;
    event.text = buffer_text(&value);
    bool noted = record_append(record, &event, 1, messages);
    buffer_free(&value);
    return noted;
}

void show_progress(size_t done, size_t total, void *what)
{
    if (isatty(STDERR_FILENO) && total)
        fprintf(stderr, "\r%s: %zu %% ", (const char *)what, done * 100 / total);
}

void end_progress(void)
{
    if (isatty(STDERR_FILENO))
        fputs("\r                                        \r", stderr);
}
