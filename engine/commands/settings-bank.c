#include "commands/settings-bank.h"

#include <string.h>

#include "base/text.h"
#include "commands/shared.h"
#include "practice/choose.h"

static const char *known_as(const struct settings_banks *banks, const char *name)
{
    for (size_t i = 0; i < banks->count; i++)
        if (text_equal(banks->items[i].id, name) || text_equal(banks->items[i].path, name))
            return banks->items[i].id;
    return NULL;
}

/* A bank that was never practised from is named by its file. */
static const char *id_in_file(const char *path, struct arena *arena, struct messages *messages)
{
    struct bank *bank = bank_open(path, true, messages);
    const char *id = bank ? arena_copy_text(arena, bank_id(bank)) : NULL;
    bank_close(bank);
    return id;
}

bool settings_find_banks(const struct arguments *arguments, struct record *record, struct arena *arena,
                         struct settings_banks *banks, struct messages *messages)
{
    const char *name = argument_value(arguments, "--bank");
    *banks = (struct settings_banks){0};
    if (record && !record_banks(record, arena, &banks->items, &banks->count, messages))
        return false;
    if (!name) {
        banks->id = banks->count ? banks->items[0].id : NULL;
        return true;
    }
    banks->id = known_as(banks, name);
    if (!banks->id && !names_bank_file(name))
        messages_error(messages, "no bank '%s' was used yet; give its file, for example --bank my-bank.xml", name);
    else if (!banks->id)
        banks->id = id_in_file(name, arena, messages);
    return banks->id != NULL;
}

const char *settings_bank_file(const struct arguments *arguments, const struct settings_banks *banks)
{
    for (size_t i = 0; i < banks->count; i++)
        if (text_equal(banks->items[i].id, banks->id))
            return banks->items[i].path;
    return banks->id ? argument_value(arguments, "--bank") : NULL;
}

const char *settings_taught(const struct arguments *arguments, const struct settings_banks *banks, const char *name,
                            struct arena *arena, struct messages *messages)
{
    const char *path = settings_bank_file(arguments, banks);
    struct messages unheeded = MESSAGES_EMPTY;
    struct bank *bank = path ? bank_open(path, true, &unheeded) : NULL;
    const char *result = name;
    if (bank) {
        struct wish wish;
        const struct wish_words words = {.topic = name + strlen(SETTING_TAUGHT)};
        bool known = wish_read(bank, &words, &wish, messages);
        const struct topic *topic = known ? &bank_course(bank)->topics[wish.topic] : NULL;
        if (topic && !topic->is_leaf)
            messages_error(messages, "%s has topics of its own; say of each of them when it was taught", topic->name);
        result = topic && topic->is_leaf ? arena_print(arena, SETTING_TAUGHT "%s", topic->id) : NULL;
    }
    bank_close(bank);
    messages_free(&unheeded);
    return result;
}
