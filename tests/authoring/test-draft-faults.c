/* A half-written question outlives a full disk and a kill, and comes back as it was typed. Common practice, no source. */
#include <criterion/criterion.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "authoring/draft.h"
#include "authoring/interview.h"
#include "base/files.h"
#include "report/text.h"
#include "support/disk.h"

static char folder[] = "/tmp/ownmark-draft-faults-XXXXXX";
static char path[80], bank[80];
static struct draft draft, loaded;
static struct messages messages;

static void set_up(void)
{
    struct buffer text = BUFFER_EMPTY;
    cr_assert(mkdtemp(folder) != NULL);
    snprintf(path, sizeof path, "%s/draft.csv", folder);
    snprintf(bank, sizeof bank, "%s/bank.xml", folder);
    cr_assert(file_read("tests/data/cycle.xml", 1 << 20, &text, &messages));
    cr_assert(file_write(bank, buffer_text(&text), text.length, 0600, false, &messages));
    buffer_free(&text);
    draft_add_row(&draft);
    draft_set(&draft, 0, SHEET_QUESTION, "my-01");
}

static void tear_down(void)
{
    char *command;
    disk_fail(0, 0);
    draft_free(&draft), draft_free(&loaded);
    messages_free(&messages);
    cr_assert_geq(asprintf(&command, "rm -r %s", folder), 0);
    cr_expect_eq(system(command), 0);
    free(command);
}

static const char *stem_on_disk(void)
{
    draft_free(&loaded);
    cr_assert(draft_load(&loaded, path, &messages), "%s", messages.count ? messages.items[0].text : "");
    return loaded.count ? draft_get(&loaded, 0, SHEET_STEM) : "";
}

/* What is typed comes back, whatever it begins with; so do rows that share what stands before them. */
Test(authoring, a_draft_is_read_back_as_it_was_typed, .init = set_up, .fini = tear_down)
{
    static const char *const stems[] = {"\u201cWaves\u201d are tall.", "\u201cWaves\u201d", "\"so\" they say, often", "=1+1", "'tis",
                                        "one\ntwo", "a | b", "\u201eflood"};
    draft_add_row(&draft);
    draft_set(&draft, 1, SHEET_POINT, "\u201clast\u201d word");
    for (size_t i = 0; i < sizeof stems / sizeof *stems; i++) {
        draft_set(&draft, 0, SHEET_STEM, stems[i]);
        cr_assert(draft_save(&draft, path, &messages));
        cr_expect_str_eq(stem_on_disk(), stems[i]);
        cr_assert_eq(loaded.count, 2);
        cr_expect_str_eq(draft_get(&loaded, 1, SHEET_POINT), "\u201clast\u201d word");
        cr_expect_str_eq(draft_get(&loaded, 1, SHEET_QUESTION), "my-01");
    }
}

Test(authoring, a_draft_that_cannot_be_saved_stays_as_it_was, .init = set_up, .fini = tear_down)
{
    bool done = false;
    draft_set(&draft, 0, SHEET_STEM, "before");
    cr_assert(draft_save(&draft, path, &messages));
    for (long at = 1; !done; at++) {
        struct messages found = MESSAGES_EMPTY;
        draft_set(&draft, 0, SHEET_STEM, "after");
        disk_fail(at, ENOSPC);
        bool saved = draft_save(&draft, path, &found);
        done = !disk_failed();
        disk_fail(0, 0);
        bool synced_late = found.errors && strncmp(found.items[0].text, "wrote ", 6) == 0;
        cr_expect_eq(saved, done, "call %ld", at);
        cr_expect_eq(found.errors, !saved, "call %ld", at);
        cr_expect_str_eq(stem_on_disk(), saved || synced_late ? "after" : "before", "call %ld", at);
        draft_set(&draft, 0, SHEET_STEM, "before");
        cr_assert(draft_save(&draft, path, &messages));
        messages_free(&found);
        cr_assert_lt(at, 100);
    }
}

Test(authoring, a_draft_outlives_a_kill, .init = set_up, .fini = tear_down)
{
    int status = -1;
    draft_set(&draft, 0, SHEET_STEM, "before");
    cr_assert(draft_save(&draft, path, &messages));
    draft_set(&draft, 0, SHEET_STEM, "after");
    for (long at = 1; status != 0; at++) {
        pid_t child = fork();
        cr_assert_geq(child, 0);
        if (child == 0) {
            disk_fail(at, 0);
            _exit(draft_save(&draft, path, &messages) ? 0 : 9);
        }
        cr_assert_eq(waitpid(child, &status, 0), child);
        cr_expect(status == 0 || WIFSIGNALED(status), "call %ld", at);
        const char *stem = stem_on_disk();
        cr_expect(strcmp(stem, "before") == 0 || strcmp(stem, "after") == 0, "call %ld: %s", at, stem);
        cr_assert_lt(at, 100);
    }
    cr_expect_str_eq(stem_on_disk(), "after");
}

/* ---- The last step: into the bank ------------------------------------------------------------------- */

static const struct interview_plan plan = {.path = bank, .draft = path};

static struct buffer shown;

static const char *enter(struct interview *interview, const char *line)
{
    const struct text_look look = {.width = 80};
    struct messages found = MESSAGES_EMPTY;
    cr_expect_eq(interview_enter(interview, line, false, &found), PRACTICE_ON);
    buffer_clear(&shown);
    page_render_text(interview_screen(interview), &look, &shown);
    messages_free(&found);
    return buffer_text(&shown);
}

static bool bank_has(const char *words)
{
    struct buffer text = BUFFER_EMPTY;
    cr_assert(file_read(bank, 1 << 20, &text, &messages));
    bool has = strstr(buffer_text(&text), words) != NULL;
    buffer_free(&text);
    return has;
}

static void write_whole_question(void)
{
    static const struct { enum sheet_column column; const char *text; } cells[] = {
        {SHEET_TOPIC, "waves"}, {SHEET_DEMAND, "low"}, {SHEET_ASK, "Name a wave."}, {SHEET_COMMAND, "name"}, {SHEET_OBJECTIVE, "AO1"},
        {SHEET_MARKS, "1"}, {SHEET_POINT, "swell"}, {SHEET_KEY, "swell"}, {SHEET_MODEL, "Swell."}, {SHEET_NOTE, "A swell is a wave."}};
    for (size_t i = 0; i < sizeof cells / sizeof *cells; i++)
        draft_set(&draft, 0, cells[i].column, cells[i].text);
    cr_assert(draft_save(&draft, path, &messages));
}

/* The question stays in the review and in the draft until the disk takes it. */
Test(authoring, a_question_that_the_disk_refuses_can_be_saved_again, .init = set_up, .fini = tear_down)
{
    write_whole_question();
    struct interview *interview = interview_begin(&plan, &messages);
    cr_assert(interview != NULL, "%s", messages.count ? messages.items[0].text : "");
    enter(interview, "y");
    for (int i = 0; i < 5 && !strstr(interview_ask(interview)->prompt, "save"); i++)
        enter(interview, "");
    cr_assert(strstr(interview_ask(interview)->prompt, "save"), "%s", interview_ask(interview)->prompt);
    disk_fail(1, ENOSPC);
    const char *page = enter(interview, "save");
    cr_expect(disk_failed());
    disk_fail(0, 0);
    cr_expect(strstr(page, "It cannot be written") && strstr(page, "No space left"), "%s", page);
    cr_expect_not(bank_has("my-01"));
    cr_expect_eq(access(path, F_OK), 0, "the draft waits");
    cr_expect(strstr(enter(interview, "save"), "Written to"));
    cr_expect(bank_has("id=\"my-01\""));
    cr_expect_neq(access(path, F_OK), 0, "the draft is done with");
    interview_free(interview);
    buffer_free(&shown);
}
