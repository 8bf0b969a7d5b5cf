#include "talk.h"

#include <ftw.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/files.h"
#include "base/memory.h"
#include "report/text.h"

char *talk_read(const char *path)
{
    struct messages messages = MESSAGES_EMPTY;
    struct buffer bytes = BUFFER_EMPTY;
    cr_assert(file_read(path, 1 << 24, &bytes, &messages), "%s cannot be read", path);
    return buffer_take(&bytes);
}

void talk_write(const char *path, const char *bytes)
{
    FILE *file = fopen(path, "wb");
    cr_assert(file != NULL);
    cr_assert_eq(fwrite(bytes, 1, strlen(bytes), file), strlen(bytes));
    cr_assert_eq(fclose(file), 0);
}

void talk_set_up(struct talk *talk, const char *bank)
{
    *talk = (struct talk){.messages = MESSAGES_EMPTY, .said = BUFFER_EMPTY};
    snprintf(talk->folder, sizeof talk->folder, "/tmp/ownmark-talk-XXXXXX");
    cr_assert(mkdtemp(talk->folder) != NULL);
    setenv("XDG_CACHE_HOME", talk->folder, 1);
    snprintf(talk->bank, sizeof talk->bank, "%s/bank.xml", talk->folder);
    snprintf(talk->draft, sizeof talk->draft, "%s/draft.csv", talk->folder);
    char *bytes = bank ? talk_read(bank) : NULL;
    if (bytes)
        talk_write(talk->bank, bytes);
    free(bytes);
}

static int remove_one(const char *path, const struct stat *state, int kind, struct FTW *walk)
{
    (void)state, (void)kind, (void)walk;
    return remove(path);
}

void talk_tear_down(struct talk *talk)
{
    talk_end(talk);
    messages_free(&talk->messages);
    buffer_free(&talk->said);
    nftw(talk->folder, remove_one, 8, FTW_DEPTH | FTW_PHYS);
}

static const char *listen(struct talk *talk)
{
    static const struct text_look look = {.width = 80};
    page_render_text(interview_screen(talk->interview), &look, &talk->said);
    const struct practice_ask *ask = interview_ask(talk->interview);
    if (ask)
        buffer_print(&talk->said, "%s> ", ask->prompt);
    return ask ? ask->prompt : "";
}

bool talk_begin(struct talk *talk, const char *question)
{
    const struct interview_plan plan = {.path = talk->bank, .draft = talk->draft, .question = question};
    talk_end(talk);
    messages_free(&talk->messages);
    talk->messages = MESSAGES_EMPTY;
    talk->interview = interview_begin(&plan, &talk->messages);
    if (talk->interview)
        listen(talk);
    return talk->interview != NULL;
}

void talk_end(struct talk *talk)
{
    interview_free(talk->interview);
    talk->interview = NULL;
}

const char *talk_type(struct talk *talk, const char *lines)
{
    char *copy = memory_copy_text(lines), *line = copy;
    const char *prompt = "";
    while (*line) {
        size_t length = strcspn(line, "\n");
        cr_assert(line[length] == '\n', "each line ends with a newline");
        line[length] = '\0';
        cr_assert(interview_ask(talk->interview) != NULL, "over before '%s' of:\n%s%s", line, lines, buffer_text(&talk->said));
        buffer_print(&talk->said, "%s\n", line);
        cr_assert_eq(interview_enter(talk->interview, line, false, &talk->messages), PRACTICE_ON);
        prompt = listen(talk);
        line += length + 1;
    }
    free(copy);
    return prompt;
}

void talk_expect(struct talk *talk, const char *text)
{
    cr_expect(strstr(buffer_text(&talk->said), text) != NULL, "not said: \"%s\" in\n%s", text, buffer_text(&talk->said));
}

void talk_expect_not(struct talk *talk, const char *text)
{
    cr_expect(strstr(buffer_text(&talk->said), text) == NULL, "said: \"%s\" in\n%s", text, buffer_text(&talk->said));
}

void talk_forget(struct talk *talk)
{
    buffer_clear(&talk->said);
}
