#include "sitting.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "report/text.h"

static void show(struct sitting *sitting)
{
    const struct text_look look = {.width = 80};
    page_render_text(practice_screen(sitting->practice), &look, &sitting->shown);
}

static void complain(struct sitting *sitting)
{
    struct buffer text = BUFFER_EMPTY;
    messages_render(&sitting->messages, 0, &text);
    cr_assert(0, "the sitting failed: %s", buffer_text(&text));
}

static void open_both(struct sitting *sitting, const char *bank)
{
    sitting->bank = bank_open(bank, false, &sitting->messages);
    sitting->record = sitting->bank ? record_open(sitting->path, RECORD_WRITE, &sitting->messages) : NULL;
    if (!sitting->record)
        complain(sitting);
}

void sitting_begin(struct sitting *sitting, const char *bank, const char *question, double minutes)
{
    struct practice_plan plan = {.wish = WISH_ANYTHING, .minutes = minutes};
    char path[128];
    memset(sitting, 0, sizeof *sitting);
    snprintf(sitting->folder, sizeof sitting->folder, "/tmp/ownmark-sitting-XXXXXX");
    cr_assert(mkdtemp(sitting->folder) != NULL);
    snprintf(sitting->path, sizeof sitting->path, "%s/record.db", sitting->folder);
    snprintf(path, sizeof path, "%s%s", bank[0] == '/' ? "" : "tests/data/", bank);
    open_both(sitting, path);
    plan.words.question = question;
    cr_assert(wish_read(sitting->bank, &plan.words, &plan.wish, &sitting->messages));
    plan.questions = question ? 1 : 0;
    sitting->practice = practice_begin(sitting->bank, sitting->record, &plan, &sitting->messages);
    if (!sitting->practice)
        complain(sitting);
    show(sitting);
}

void sitting_again(struct sitting *sitting)
{
    char path[128];
    snprintf(path, sizeof path, "%s", bank_path(sitting->bank));
    practice_free(sitting->practice);
    record_close(sitting->record);
    bank_close(sitting->bank);
    open_both(sitting, path);
    int64_t open = record_open_sitting(sitting->record, bank_id(sitting->bank));
    cr_assert(open > 0, "no open sitting to go on with");
    sitting->practice = practice_resume(sitting->bank, sitting->record, open, &sitting->messages);
    if (!sitting->practice)
        complain(sitting);
    show(sitting);
}

void sitting_type(struct sitting *sitting, const char *const *lines, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        cr_assert(practice_ask(sitting->practice) != NULL, "over before \"%s\" could be typed", lines[i]);
        if (practice_enter(sitting->practice, lines[i], false, &sitting->messages) == PRACTICE_FAILED)
            complain(sitting);
        show(sitting);
    }
}

const char *sitting_prompt(struct sitting *sitting)
{
    const struct practice_ask *ask = practice_ask(sitting->practice);
    return ask ? ask->prompt : "";
}

void sitting_expect_prompt(struct sitting *sitting, const char *prompt)
{
    cr_assert_str_eq(sitting_prompt(sitting), prompt);
}

void sitting_expect(struct sitting *sitting, const char *text)
{
    cr_assert(strstr(buffer_text(&sitting->shown), text) != NULL, "not shown: \"%s\" in\n%s", text,
              buffer_text(&sitting->shown));
}

void sitting_expect_not(struct sitting *sitting, const char *text)
{
    cr_assert(strstr(buffer_text(&sitting->shown), text) == NULL, "shown, but should not be: \"%s\" in\n%s", text,
              buffer_text(&sitting->shown));
}

void sitting_forget(struct sitting *sitting)
{
    buffer_clear(&sitting->shown);
}

void sitting_end(struct sitting *sitting)
{
    static const char *const files[] = {"record.db", "record.db-wal", "record.db-shm", "record.db.lock"};
    practice_free(sitting->practice);
    record_close(sitting->record);
    bank_close(sitting->bank);
    messages_free(&sitting->messages);
    buffer_free(&sitting->shown);
    for (size_t i = 0; i < sizeof files / sizeof *files; i++) {
        char path[128];
        snprintf(path, sizeof path, "%s/%s", sitting->folder, files[i]);
        unlink(path);
    }
    rmdir(sitting->folder);
}
