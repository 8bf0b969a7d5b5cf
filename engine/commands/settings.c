/* ownmark settings: what the program should know about how you work. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/dates.h"
#include "base/json.h"
#include "base/text.h"
#include "commands/settings-bank.h"
#include "commands/settings-taught.h"
#include "commands/shared.h"
#include "commands/table.h"
#include "practice/hours.h"
#include "terminal/terminal.h"

/* Each reads what was typed and writes what is stored; false: not understood. */
typedef bool (*setting_reader)(const char *typed, struct buffer *stored);

static bool read_per_cent(const char *typed, struct buffer *stored)
{
    char *end;
    double value = strtod(typed, &end);
    bool good = end != typed && (text_is_blank(end) || strcmp(end, "%") == 0) && value >= 0 && value <= 100;
    if (good)
        buffer_print(stored, "%g", fabs(value));    /* -0 is 0 */
    return good;
}

static bool read_minutes(const char *typed, struct buffer *stored)
{
    char *end;
    double value = strtod(typed, &end);
    bool good = end != typed && text_is_blank(end) && value >= 1 && value <= 600;
    if (good)
        buffer_print(stored, "%g", value);
    return good;
}

static bool read_date(const char *typed, struct buffer *stored)
{
    day_number day;
    if (!day_parse(typed, &day))
        return false;
    add_day_iso(stored, day);
    return true;
}

static bool read_yes_or_no(const char *typed, struct buffer *stored)
{
    bool yes = text_equal_ignoring_case(typed, "yes"), no = text_equal_ignoring_case(typed, "no");
    buffer_add(stored, yes ? "yes" : "no");
    return yes || no;
}

static bool read_name(const char *typed, struct buffer *stored)
{
    buffer_add(stored, typed);
    for (const char *at = typed; *at; at++)
        if ((unsigned char)*at < ' ' || *at == 127)
            return false;
    return !text_is_blank(typed) && strlen(typed) <= 200;
}

static bool read_day_minutes(const char *typed, struct buffer *stored)
{
    char *end;
    double value = strtod(typed, &end);
    bool good = end != typed && text_is_blank(end) && value >= 0 && value <= HOURS_MINUTES_MOST;
    if (good)
        buffer_print(stored, "%g", fabs(value));
    return good;
}

static bool read_start(const char *typed, struct buffer *stored)
{
    int minute;
    buffer_add(stored, typed);
    return hours_parse_start(typed, &minute);
}

static bool read_days_off(const char *typed, struct buffer *stored)
{
    struct arena *arena = arena_new();
    struct day_range *ranges;
    size_t count;
    bool good = hours_parse_days_off(typed, arena, &ranges, &count);
    if (good)
        hours_add_days_off(stored, ranges, count);
    arena_free(arena);
    return good;
}

enum scope {
    OF_ALL,             /* the same for all banks */
    OF_BANK,            /* kept for one bank: --bank's, else the one used last */
    OF_EITHER           /* for all, or with --bank for that one alone */
};

enum { NO_USUAL = -1 };

static const struct setting {
    const char *name, *meaning, *wanted;
    enum scope scope;
    setting_reader read;
    int usual;              /* minutes that hold while it is not set; NO_USUAL */
} settings[] = {
    {"exam-date", "the day of the examination", "a date, for example 2027-05-18", OF_BANK, read_date, NO_USUAL},
    {"extra-time", "extra time you are allowed: 25 means a quarter more", "a number from 0 to 100, for example 25", OF_ALL, read_per_cent, NO_USUAL},
    {"minutes", "usual length of a sitting", "minutes from 1 to 600", OF_ALL, read_minutes, SITTING_MINUTES_USUAL},
    {"minutes-monday", "minutes for practice on a Monday", "minutes from 0 to 600", OF_EITHER, read_day_minutes, HOURS_SCHOOL_DAY},
    {"minutes-tuesday", "minutes for practice on a Tuesday", "minutes from 0 to 600", OF_EITHER, read_day_minutes, HOURS_SCHOOL_DAY},
    {"minutes-wednesday", "minutes for practice on a Wednesday", "minutes from 0 to 600", OF_EITHER, read_day_minutes, HOURS_SCHOOL_DAY},
    {"minutes-thursday", "minutes for practice on a Thursday", "minutes from 0 to 600", OF_EITHER, read_day_minutes, HOURS_SCHOOL_DAY},
    {"minutes-friday", "minutes for practice on a Friday", "minutes from 0 to 600", OF_EITHER, read_day_minutes, HOURS_SCHOOL_DAY},
    {"minutes-saturday", "minutes for practice on a Saturday", "minutes from 0 to 600", OF_EITHER, read_day_minutes, 0},
    {"minutes-sunday", "minutes for practice on a Sunday", "minutes from 0 to 600", OF_EITHER, read_day_minutes, 0},
    {"start", "when the first sitting of a day starts", "a time from 06:00 to 20:30, for example 16:30", OF_EITHER, read_start, HOURS_START_USUAL},
    {"days-off", "days without practice", "dates or ranges, for example \"2027-04-02..2027-04-06 2027-05-03\"", OF_EITHER, read_days_off, NO_USUAL},
    {SETTING_PLAIN, "as if --plain were always given", "yes or no", OF_ALL, read_yes_or_no, NO_USUAL},
    {"name", "a name for printed pages; none is needed", "a name in letters, not too long", OF_ALL, read_name, NO_USUAL},
};
enum { SETTINGS = sizeof settings / sizeof *settings };

static const struct setting *find_setting(const char *name, struct messages *messages)
{
    /* One a topic: its name is what was typed. */
    static struct setting taught = {NULL, "when the topic was or will be taught", "a date, for example 2027-01-15", OF_BANK,
                                    read_date, NO_USUAL};
    const char *names[SETTINGS];
    if (text_starts_with(name, SETTING_TAUGHT) && name[strlen(SETTING_TAUGHT)]) {
        taught.name = name;
        return &taught;
    }
    for (size_t i = 0; i < SETTINGS; i++) {
        names[i] = settings[i].name;
        if (strcmp(settings[i].name, name) == 0)
            return &settings[i];
    }
    const char *nearest = text_nearest(name, names, SETTINGS);
    if (nearest)
        messages_error(messages, "no setting '%s': did you mean '%s'?", name, nearest);
    else
        messages_error(messages, "no setting '%s'; 'ownmark settings' lists them all", name);
    return NULL;
}

/* ---- Showing --------------------------------------------------------------------------------------- */

static void show_as_json(struct record *record, const struct settings_banks *banks, struct arena *arena)
{
    struct buffer out = BUFFER_EMPTY;
    struct json json;
    json_begin(&json, &out);
    json_object(&json, NULL);
    json_text(&json, "bank", banks->id);
    for (size_t i = 0; i < SETTINGS; i++)
        json_text(&json, settings[i].name, record ? record_setting(record, banks->id, settings[i].name, arena) : NULL);
    json_close_object(&json);
    buffer_add(&out, "\n");
    terminal_write(buffer_text(&out), out.length);
    buffer_free(&out);
}

static void add_usual(struct buffer *out, const struct setting *setting)
{
    buffer_add(out, "not set");
    if (setting->read == read_start)
        buffer_print(out, ", so %02d:%02d", setting->usual / 60, setting->usual % 60);
    else if (setting->usual != NO_USUAL)
        buffer_print(out, ", so %d", setting->usual);
}

static void show_setting(struct page *page, struct record *record, const struct setting *setting, const char *bank,
                         struct arena *arena)
{
    const char *value = record ? record_setting(record, bank, setting->name, arena) : NULL;
    bool of_bank = setting->scope != OF_ALL && bank;
    struct buffer unset = BUFFER_EMPTY;
    add_usual(&unset, setting);
    page_fact(page, setting->name, "%s (%s%s%s)", value ? value : buffer_text(&unset), setting->meaning, of_bank ? ", " : "",
              of_bank ? bank : "");
    buffer_free(&unset);
}

/* Does the bank have a line of its own? */
static bool is_told(struct record *record, const struct setting *setting, const char *bank, struct arena *arena)
{
    if (setting->scope != OF_EITHER || !record || !bank)
        return setting->scope == OF_BANK;
    return !text_equal(record_setting(record, bank, setting->name, arena), record_setting(record, NULL, setting->name, arena));
}

/* What belongs to a bank is told for each bank in use, that of the bank meant first; what may, for each that differs. */
static void show_as_page(struct record *record, const struct settings_banks *banks, struct arena *arena)
{
    struct page *page = page_new();
    page_heading(page, 1, "Settings");
    for (size_t i = 0; i < SETTINGS; i++) {
        if (settings[i].scope != OF_BANK)
            show_setting(page, record, &settings[i], NULL, arena);
        if (is_told(record, &settings[i], banks->id, arena))
            show_setting(page, record, &settings[i], banks->id, arena);
        for (size_t j = 0; j < banks->count; j++)
            if (!text_equal(banks->items[j].id, banks->id) && is_told(record, &settings[i], banks->items[j].id, arena))
                show_setting(page, record, &settings[i], banks->items[j].id, arena);
    }
    page_paragraph(page, "Change one with 'ownmark settings extra-time 25', for example. Take one away with --clear. "
                         "--bank names another bank than the one used last.");
    show_and_end(page, EXIT_DONE);
}

static enum exit_status show(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    struct record *record = open_record_for(arguments, RECORD_READ, &messages);
    struct settings_banks banks;
    bool opened = !messages.errors, found = opened && settings_find_banks(arguments, record, arena, &banks, &messages);
    if (found && arguments->json)
        show_as_json(record, &banks, arena);
    else if (found)
        show_as_page(record, &banks, arena);
    record_close(record);
    arena_free(arena);
    return say_and_end(&messages, found ? EXIT_DONE : opened && argument_given(arguments, "--bank") ? EXIT_BAD_USE : EXIT_SYSTEM);
}

/* ---- Changing -------------------------------------------------------------------------------------- */

static bool is_past(const struct setting *setting, const char *value)
{
    day_number day;
    return value && strcmp(setting->name, SETTING_EXAM_DATE) == 0 && day_parse(value, &day) && day < day_of(moment_now());
}

/* Whose it is and under which name, from a look at the record, so that what is refused writes nothing. NULL with a message;
 * *status says whether the record or what was typed is at fault. */
static const char *find_item(const struct arguments *arguments, const struct setting *setting, const char *value,
                             struct arena *arena, struct settings_banks *banks, enum exit_status *status,
                             struct messages *messages)
{
    *banks = (struct settings_banks){0};
    if (setting->scope != OF_BANK && !(setting->scope == OF_EITHER && argument_given(arguments, "--bank")))
        return setting->name;
    struct record *record = open_record_for(arguments, RECORD_READ, messages);
    *status = messages->errors ? EXIT_SYSTEM : EXIT_BAD_USE;
    bool found = !messages->errors && settings_find_banks(arguments, record, arena, banks, messages);
    const char *item = found ? setting->name : NULL;
    if (found && value && text_starts_with(setting->name, SETTING_TAUGHT))
        item = settings_taught(arguments, banks, setting->name, arena, messages);
    record_close(record);
    return item;
}

static enum exit_status keep(const struct arguments *arguments, const struct setting *setting, const char *value)
{
    struct messages messages = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    struct event event = event_blank(EVENT_SETTING);
    struct settings_banks banks;
    enum exit_status refused = EXIT_BAD_USE;
    event.item = find_item(arguments, setting, value, arena, &banks, &refused, &messages);
    struct record *record = event.item ? open_record_for(arguments, RECORD_WRITE, &messages) : NULL;
    event.text = value;
    event.bank = banks.id;
    bool done = record && record_append(record, &event, 1, &messages);
    record_close(record);
    if (done) {
        struct page *page = page_new();
        bool several = banks.count > 1 || argument_given(arguments, "--bank");
        page_paragraph(page, "%s%s%s: %s.%s", event.item, several ? " of " : "", several ? banks.id : "",
                       value ? value : "not set any more", is_past(setting, value) ? " That day is over: is the year right?" : "");
        show_and_end(page, EXIT_DONE);
    }
    arena_free(arena);
    return say_and_end(&messages, done ? EXIT_DONE : event.item ? EXIT_SYSTEM : refused);
}

static enum exit_status change(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    struct buffer stored = BUFFER_EMPTY;
    const struct setting *setting = find_setting(arguments->words[0], &messages);
    bool clear = argument_given(arguments, "--clear");
    if (setting && setting->scope == OF_ALL && argument_given(arguments, "--bank"))
        messages_error(&messages, "%s is the same for all banks; leave --bank out", setting->name);
    else if (setting && clear && arguments->word_count > 1)
        messages_error(&messages, "'ownmark settings %s' wants either a value or --clear, not both", setting->name);
    else if (setting && !clear && arguments->word_count < 2)
        messages_error(&messages, "'ownmark settings %s' wants %s, or --clear", setting->name, setting->wanted);
    else if (setting && !clear && !setting->read(arguments->words[1], &stored))
        messages_error(&messages, "%s '%s' is not understood; it wants %s", setting->name, arguments->words[1],
                       setting->wanted);
    enum exit_status status = messages.errors ? EXIT_BAD_USE : keep(arguments, setting, clear ? NULL : buffer_text(&stored));
    buffer_free(&stored);
    return say_and_end(&messages, status);
}

static enum exit_status run(const struct arguments *arguments)
{
    if (arguments->word_count == 1 && strcmp(arguments->words[0], "taught") == 0 && !argument_given(arguments, "--clear"))
        return settings_taught_topics(arguments);
    if (arguments->word_count || !argument_given(arguments, "--clear"))
        return arguments->word_count ? change(arguments) : show(arguments);
    struct messages messages = MESSAGES_EMPTY;
    messages_error(&messages, "--clear wants the name of a setting, for example 'ownmark settings extra-time --clear'");
    return say_and_end(&messages, EXIT_BAD_USE);
}

static const struct option options[] = {
    {"--bank", "BANK", "for this bank, by id or file, instead of the one used last"},
    {"--clear", NULL, "take the setting away"},
    {NULL, NULL, NULL},
};

const struct command command_settings = {
    .name = "settings",
    .summary = "exam date, extra time, minutes, plain output, name",
    .words = "[NAME [VALUE]]",
    .words_most = 2,
    .help = "Without words, shows what is set. With a name and a value, sets it. The day of the exam and the days on which topics "
            "are taught belong to a bank: the one used last, or --bank. Minutes of the weekdays, start and days off are for all banks, "
            "or with --bank for that one. 'ownmark settings taught' goes through the topics. Extra time is kept as a number only, "
            "never with a reason. A name is not needed for anything.",
    .example = "ownmark settings extra-time 25",
    .prints_results = true,
    .options = options,
    .run = run,
};
