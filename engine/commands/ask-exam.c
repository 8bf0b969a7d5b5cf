#include "commands/ask-exam.h"

#include "base/text.h"
#include "commands/shared.h"
#include "terminal/terminal.h"

#define SETTING_PASSED_OVER "passed-over:" SETTING_EXAM_DATE

static bool was_passed_over(struct record *record, const char *bank)
{
    struct arena *arena = arena_new();
    bool found = record_setting(record, bank, SETTING_PASSED_OVER, arena) != NULL;
    arena_free(arena);
    return found;
}

static bool keep(const struct arguments *arguments, const char *bank, const char *name, day_number day,
                 struct messages *messages)
{
    struct record *record = open_record_for(arguments, RECORD_WRITE, messages);
    bool kept = record && note_day_setting(record, bank, name, day, messages);
    record_close(record);
    return kept;
}

enum reply { OUT, PASSED_OVER, UNDERSTOOD, AGAIN };

static enum reply read_reply(const struct terminal_entry *entry, day_number today, day_number *day)
{
    struct page *page = page_new();
    enum reply reply = AGAIN;
    if (entry->outcome != TERMINAL_ENTERED || text_equal(entry->text, ".leave"))
        reply = OUT;
    else if (text_is_blank(entry->text) || text_equal(entry->text, ".skip"))
        reply = PASSED_OVER;
    else if (!day_parse(entry->text, day))
        page_paragraph(page, "Please write a date like 2027-05-18 or 18 May 2027. Enter goes on without.");
    else if (*day < today)
        page_paragraph(page, "That day is over. Is the year right?");
    else
        reply = UNDERSTOOD;
    show_and_end(page, EXIT_DONE);
    return reply;
}

static enum reply ask(day_number *day)
{
    static const struct terminal_ask question = {.prompt = "When is the exam? For example 2027-05-18 (Enter: not now)"};
    enum reply reply = AGAIN;
    while (reply == AGAIN) {
        struct terminal_entry entry;
        terminal_ask(&question, &entry);
        if (entry.outcome == TERMINAL_HUNG_UP)
            terminal_end_by_signal();
        reply = read_reply(&entry, day_of(moment_now()), day);
        terminal_entry_free(&entry);
    }
    return reply;
}

bool ask_exam(const struct arguments *arguments, struct record *record, const struct bank *bank, enum ask_how how,
              day_number *exam, struct messages *messages)
{
    *exam = NO_DAY;
    if (arguments->json || !terminal_is_interactive() || (how == ASK_ONCE && was_passed_over(record, bank_id(bank))))
        return true;
    enum reply reply = ask(exam);
    if (reply == UNDERSTOOD)
        return keep(arguments, bank_id(bank), SETTING_EXAM_DATE, *exam, messages);
    *exam = NO_DAY;
    struct messages unheeded = MESSAGES_EMPTY;      /* at worst it is asked again */
    if (how == ASK_ONCE && reply == PASSED_OVER)
        keep(arguments, bank_id(bank), SETTING_PASSED_OVER, day_of(moment_now()), &unheeded);
    messages_free(&unheeded);
    return true;
}
