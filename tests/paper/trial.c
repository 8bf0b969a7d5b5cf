#include "trial.h"

#include <ftw.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/files.h"

static char folder[64];

void trial_begin(void)
{
    strcpy(folder, "/tmp/ownmark-paper-XXXXXX");
    cr_assert(mkdtemp(folder));
    setenv("XDG_CACHE_HOME", folder, 1);
}

static int remove_one(const char *path, const struct stat *status, int kind, struct FTW *place)
{
    (void)status, (void)kind, (void)place;
    return remove(path);
}

void trial_end(void)
{
    nftw(folder, remove_one, 8, FTW_DEPTH | FTW_PHYS);
}

const char *trial_path(const char *name)
{
    static char paths[4][256];
    static size_t next;
    char *path = paths[next++ % 4];
    snprintf(path, sizeof paths[0], "%s/%s", folder, name);
    return path;
}

void trial_write(const char *name, const char *text)
{
    struct messages messages = MESSAGES_EMPTY;
    cr_assert(file_write(trial_path(name), text, strlen(text), 0600, true, &messages));
}

char *trial_read(const char *name)
{
    struct messages messages = MESSAGES_EMPTY;
    struct buffer bytes = BUFFER_EMPTY;
    cr_assert(file_read(trial_path(name), (size_t)64 * 1024 * 1024, &bytes, &messages), "%s", name);
    return buffer_take(&bytes);
}

static void add_part(struct buffer *out, char letter, const char *part)
{
    int objective = part[0] - '0', marks = part[2] - '0';
    buffer_print(out, "<part id=\"%c\" objective=\"AO%d\" command=\"state\" marks=\"%d\"%s><ask><p>State %d.</p></ask><scheme>",
                 letter, objective, marks, part[3] == 'm' ? " skills=\"maths\"" : "", marks);
    for (int i = 0; i < marks; i++)
        buffer_print(out, "<point>point %d</point>", i + 1);
    buffer_add(out, "</scheme></part>\n");
}

static void add_question(struct buffer *out, const struct trial_question *question, const char *more)
{
    buffer_print(out, "<question id=\"%s\" topic=\"%s\" demand=\"%s\"", question->id, question->topic,
                 question->demand ? question->demand : "standard");
    if (question->enemies)
        buffer_print(out, " enemies=\"%s\"", question->enemies);
    buffer_print(out, ">%s\n", more);
    char letter = 'a';
    for (const char *part = question->parts; part; part = strchr(part, ' ') ? strchr(part, ' ') + 1 : NULL)
        add_part(out, letter++, part);
    buffer_add(out, "</question>\n");
}

void trial_bank(const char *name, const char *id, const struct trial_question *questions, size_t count, const char *more)
{
    struct buffer out = BUFFER_EMPTY;
    buffer_print(&out, "<bank xmlns=\"urn:ownmark:bank:1\" id=\"%s\" language=\"cy\">\n"
                       "<course name=\"Trials &amp; errors\" paper-marks=\"60\" paper-minutes=\"60\">\n"
                       "<objective id=\"AO1\" share=\"40\" kind=\"know\">Know</objective>\n"
                       "<objective id=\"AO2\" share=\"40\" kind=\"apply\">Apply</objective>\n"
                       "<objective id=\"AO3\" share=\"20\" kind=\"analyse\">Analyse</objective>\n"
                       "<skill id=\"maths\" share=\"20\">Mathematics</skill>\n"
                       "<topic id=\"a\" name=\"Topic A\" share=\"50\"/><topic id=\"b\" name=\"Topic B\" share=\"50\"/>\n"
                       "</course>\n", id);
    for (size_t i = 0; i < count; i++)
        add_question(&out, &questions[i], more);
    buffer_add(&out, "</bank>\n");
    trial_write(name, buffer_text(&out));
    buffer_free(&out);
}

struct bank *trial_open(const char *path)
{
    struct messages messages = MESSAGES_EMPTY;
    struct bank *bank = bank_open(path, false, &messages);
    cr_assert(bank, "%s: %s", path, messages.count ? messages.items[0].text : "no reason given");
    messages_free(&messages);
    return bank;
}
