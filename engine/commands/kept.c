#include "commands/kept.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "bank/bank.h"
#include "base/files.h"
#include "base/hash.h"
#include "commands/shared.h"

char *kept_path(const char *bank, const char *question, const char *ending, struct messages *messages)
{
    char *real = realpath(bank, NULL), *folder = NULL, *name;
    struct buffer text = BUFFER_EMPTY;
    char hash[33];
    if (!real) {
        char *around = path_folder_of(bank), *known = realpath(around, NULL);
        const char *slash = strrchr(bank, '/');
        if (known)
            folder = path_join(known, slash ? slash + 1 : bank);
        free(around), free(known);
    }
    struct buffer key = BUFFER_EMPTY;
    buffer_print(&key, "%s%s%s", real ? real : folder ? folder : bank, question ? "\n" : "", question ? question : "");
    hash_content(buffer_text(&key), key.length, hash);
    buffer_free(&key);
    buffer_print(&text, "drafts/%.16s%s", hash, ending);
    name = path_in_data(buffer_text(&text), messages);
    buffer_free(&text);
    free(real), free(folder);
    return name;
}

char *kept_course_path(const char *bank, struct messages *messages)
{
    return kept_path(bank, NULL, ".course", messages);
}

bool kept_course_read(const char *bank, struct buffer *out, struct messages *messages)
{
    char *path = kept_course_path(bank, messages);
    bool there = path && access(path, F_OK) == 0;
    if (path && !there)
        messages_error(messages, "there is no bank '%s' yet: 'ownmark bank write %s' asks for its course; leave it then with .leave, and "
                       "try this again", bank, bank);
    bool read = there && file_read(path, BANK_FILE_LIMIT, out, messages);
    free(path);
    return read;
}

void kept_course_forget(const char *bank)
{
    struct messages messages = MESSAGES_EMPTY;
    char *path = kept_course_path(bank, &messages);
    if (path)
        unlink(path);
    free(path);
    messages_free(&messages);
}

const char *kept_course_split(struct buffer *kept)
{
    char *end = strchr(kept->text ? kept->text : "", '\n');
    if (!end)
        return "";
    *end = '\0';
    return end + 1;
}
