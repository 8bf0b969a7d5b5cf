/* When each topic was or will be taught. The earlier the program knows, the better its first estimates; so all topics can be
 * gone through at once, and each may be passed over. */
#include "commands/settings-taught.h"

#include "base/dates.h"
#include "base/json.h"
#include "base/text.h"
#include "commands/settings-bank.h"
#include "commands/shared.h"
#include "terminal/terminal.h"

struct taught {
    struct record *record;          /* NULL: there is none yet */
    struct bank *bank;
    struct arena *arena;
};

static const char *setting_name(const struct taught *taught, const struct topic *topic)
{
    return arena_print(taught->arena, SETTING_TAUGHT "%s", topic->id);
}

static const char *date_of(const struct taught *taught, const struct topic *topic)
{
    return taught->record ? record_setting(taught->record, bank_id(taught->bank), setting_name(taught, topic), taught->arena) : NULL;
}

/* ---- Listing --------------------------------------------------------------------------------------- */

static void list_as_json(const struct taught *taught)
{
    const struct course *course = bank_course(taught->bank);
    struct buffer out = BUFFER_EMPTY;
    struct json json;
    json_begin(&json, &out);
    json_object(&json, NULL);
    json_text(&json, "bank", bank_id(taught->bank));
    json_object(&json, "taught");
    for (size_t i = 0; i < course->topic_count; i++)
        if (course->topics[i].is_leaf)
            json_text(&json, course->topics[i].id, date_of(taught, &course->topics[i]));
    json_close_object(&json);
    json_close_object(&json);
    buffer_add(&out, "\n");
    terminal_write(buffer_text(&out), out.length);
    buffer_free(&out);
}

static void list_as_page(const struct taught *taught)
{
    const struct course *course = bank_course(taught->bank);
    struct page *page = page_new();
    page_heading(page, 1, "%s: when topics were or will be taught", course->name);
    page_table(page, NULL, "lll", true);
    page_cell(page, "Topic");
    page_cell(page, "taught");
    page_cell(page, "setting");
    for (size_t i = 0; i < course->topic_count; i++) {
        if (!course->topics[i].is_leaf)
            continue;
        const char *date = date_of(taught, &course->topics[i]);
        page_cell(page, "%s", course->topics[i].name);
        page_cell(page, "%s", date ? date : "not known");
        page_cell(page, "%s", setting_name(taught, &course->topics[i]));
    }
    page_paragraph(page, "Change one with, for example: ownmark settings %s 2027-01-15.",
                   setting_name(taught, &course->topics[course->topic_count - 1]));
    show_and_end(page, EXIT_DONE);
}

/* ---- Asking ---------------------------------------------------------------------------------------- */

enum reply { GIVEN, PASSED_OVER, NOT_UNDERSTOOD, OUT };

static enum reply ask_once(const char *prompt, day_number *day)
{
    struct terminal_ask ask = {.prompt = prompt};
    struct terminal_entry entry;
    terminal_ask(&ask, &entry);
    if (entry.outcome == TERMINAL_HUNG_UP)
        terminal_end_by_signal();
    enum reply reply = NOT_UNDERSTOOD;
    if (entry.outcome != TERMINAL_ENTERED || text_equal(entry.text, ".leave"))
        reply = OUT;
    else if (text_is_blank(entry.text))
        reply = PASSED_OVER;
    else if (day_parse(entry.text, day))
        reply = GIVEN;
    terminal_entry_free(&entry);
    return reply;
}

/* OUT, or what became of the topic. */
static enum reply ask_topic(const struct taught *taught, const struct topic *topic, day_number *day)
{
    const char *known = date_of(taught, topic);
    const char *prompt = arena_print(taught->arena, "%s, %s", topic->name, known ? known : "not known");
    enum reply reply = ask_once(prompt, day);
    while (reply == NOT_UNDERSTOOD) {
        struct page *page = page_new();
        page_paragraph(page, "Please write a date like 2027-01-15 or 15 January 2027.");
        show_and_end(page, EXIT_DONE);
        reply = ask_once(prompt, day);
    }
    return reply;
}

static void introduce(const struct course *course)
{
    struct page *page = page_new();
    page_heading(page, 1, "%s: when was each topic taught, or when will it be?", course->name);
    page_paragraph(page, "A date like 2027-01-15; about right is good enough. Enter leaves a topic as it is, .leave stops. Each date "
                         "is saved at once.");
    show_and_end(page, EXIT_DONE);
}

static bool ask_all(const struct taught *taught, struct messages *messages)
{
    const struct course *course = bank_course(taught->bank);
    introduce(course);
    for (size_t i = 0; i < course->topic_count; i++) {
        day_number day;
        const struct topic *topic = &course->topics[i];
        enum reply reply = topic->is_leaf ? ask_topic(taught, topic, &day) : PASSED_OVER;
        if (reply == OUT)
            break;
        if (reply == GIVEN &&
            !note_day_setting(taught->record, bank_id(taught->bank), setting_name(taught, topic), day, messages))
            return false;
    }
    return true;
}

/* ---- Running --------------------------------------------------------------------------------------- */

static enum exit_status run_over(const struct arguments *arguments, struct taught *taught, bool ask, struct messages *messages)
{
    struct settings_banks banks;
    if (!settings_find_banks(arguments, taught->record, taught->arena, &banks, messages))
        return EXIT_BAD_USE;
    taught->bank = open_bank_at(arguments, settings_bank_file(arguments, &banks), taught->record, messages);
    if (!taught->bank)
        return EXIT_BAD_USE;
    bool done = true;
    if (ask)
        done = ask_all(taught, messages);
    else if (arguments->json)
        list_as_json(taught);
    else
        list_as_page(taught);
    bank_close(taught->bank);
    return done ? EXIT_DONE : EXIT_SYSTEM;
}

enum exit_status settings_taught_topics(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    struct taught taught = {.arena = arena_new()};
    bool ask = terminal_is_interactive() && !arguments->json;
    taught.record = open_record_for(arguments, ask ? RECORD_WRITE : RECORD_READ, &messages);
    enum exit_status status = messages.errors ? EXIT_SYSTEM : run_over(arguments, &taught, ask, &messages);
    record_close(taught.record);
    arena_free(taught.arena);
    return say_and_end(&messages, status);
}
