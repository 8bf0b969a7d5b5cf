#include "trial.h"

#include <ftw.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "bank/check.h"
#include "base/files.h"

static char folder[64];

const char *trial_path(const char *name)
{
    static char paths[4][256];
    static unsigned turn;
    char *path = paths[turn++ % 4];
    snprintf(path, sizeof paths[0], "%s/%s", folder, name);
    return path;
}

void trial_write(const char *name, const char *bytes, size_t length)
{
    FILE *file = fopen(trial_path(name), "wb");
    cr_assert(file && fwrite(bytes, 1, length, file) == length && fclose(file) == 0);
}

void trial_begin(void)
{
    strcpy(folder, "/tmp/ownmark-bank-XXXXXX");
    cr_assert(mkdtemp(folder));
    cr_assert_eq(mkdir(trial_path("figures"), 0700), 0);
    trial_write("figures/profile.svg", "<svg/>", 6);
    setenv("XDG_CACHE_HOME", trial_path("cache"), 1);
}

static int remove_one(const char *path, const struct stat *status, int kind, struct FTW *walk)
{
    (void)status, (void)kind, (void)walk;
    return remove(path);
}

void trial_end(void)
{
    nftw(folder, remove_one, 16, FTW_DEPTH | FTW_PHYS);
}

char *trial_every_element(void)
{
    struct buffer text = BUFFER_EMPTY;
    struct messages messages = MESSAGES_EMPTY;
    cr_assert(file_read(EVERY_ELEMENT, 1 << 20, &text, &messages));
    return buffer_take(&text);
}

char *trial_replaced(const char *text, const char *from, const char *to, size_t *position)
{
    const char *at = strstr(text, from);
    cr_assert(at, "'%s' is not in the bank", from);
    cr_assert(!strstr(at + 1, from), "'%s' stands twice in the bank", from);
    struct buffer out = BUFFER_EMPTY;
    buffer_add_bytes(&out, text, (size_t)(at - text));
    buffer_add(&out, to);
    buffer_add(&out, at + strlen(from));
    if (position)
        *position = (size_t)(at - text);
    return buffer_take(&out);
}

bool trial_check(const char *text, size_t length, struct messages *messages)
{
    trial_write("bank.xml", text, length);
    return bank_check(trial_path("bank.xml"), messages, NULL, NULL).sound;
}

void trial_one(const struct messages *messages, const char *subject, const char *text)
{
    struct buffer all = BUFFER_EMPTY;
    messages_render(messages, 0, &all);
    cr_expect_eq(messages->count, 1, "%zu messages:\n%swant [%s]", messages->count, buffer_text(&all), text);
    if (messages->count) {
        const struct message *message = &messages->items[0];
        cr_expect_str_eq(message->text, text);
        cr_expect(subject ? message->subject && strcmp(message->subject, subject) == 0 : !message->subject,
                  "subject [%s], want [%s]", message->subject ? message->subject : "", subject ? subject : "");
    }
    buffer_free(&all);
}

void trial_place(const char *text, size_t offset, unsigned long *line, unsigned long *column)
{
    *line = *column = 1;
    for (size_t i = 0; i < offset; i++) {
        if (text[i] == '\n')
            ++*line, *column = 1;
        else
            *column += ((unsigned char)text[i] & 0xC0) != 0x80;
    }
}

char *trial_generated(const char *arguments)
{
    char command[128];
    struct buffer text = BUFFER_EMPTY;
    const char *tool = getenv("MAKE_BANK");
    cr_assert(tool, "MAKE_BANK does not name the generator");
    snprintf(command, sizeof command, "%s %s", tool, arguments);
    FILE *pipe = popen(command, "r");
    cr_assert(pipe);
    char chunk[4096];
    for (size_t got; (got = fread(chunk, 1, sizeof chunk, pipe)) > 0;)
        buffer_add_bytes(&text, chunk, got);
    cr_assert_eq(pclose(pipe), 0);
    return buffer_take(&text);
}
