/* A disk that is full or broken, a process that is killed: the bank's file is whole, as it was before or as it was to be, and
 * the message says which and what to do. Common practice, no source. */
#include <criterion/criterion.h>
#include <dirent.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "support/disk.h"
#include "bank/change.h"
#include "base/buffer.h"
#include "base/files.h"

static char folder[] = "/tmp/ownmark-change-faults-XXXXXX";
static char path[80];
static struct buffer before, wanted;

static const char question[] = "  <question id=\"new\" topic=\"waves\"><part objective=\"AO1\" command=\"name\" marks=\"1\">"
                               "<ask><p>Name a wave.</p></ask><scheme><point>swell</point></scheme></part></question>\n";
static const struct bank_change change = {NULL, question};

static void read_bank(struct buffer *out)
{
    struct messages messages = MESSAGES_EMPTY;
    buffer_clear(out);
    cr_assert(file_read(path, 1 << 20, out, &messages));
}

static void put_before(void)
{
    FILE *file = fopen(path, "wb");
    cr_assert(file != NULL);
    cr_assert_eq(fwrite(buffer_text(&before), 1, before.length, file), before.length);
    fclose(file);
}

static void set_up(void)
{
    struct messages messages = MESSAGES_EMPTY;
    cr_assert(mkdtemp(folder) != NULL);
    snprintf(path, sizeof path, "%s/bank.xml", folder);
    cr_assert(file_read("tests/data/cycle.xml", 1 << 20, &before, &messages));
    put_before();
    cr_assert(bank_change(path, &change, 1, &messages));
    read_bank(&wanted);
    put_before();
}

/* How many files there are besides the bank; they are taken away. */
static int sweep(void)
{
    DIR *open = opendir(folder);
    int others = 0;
    cr_assert(open != NULL);
    for (const struct dirent *entry; (entry = readdir(open)) != NULL;) {
        if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0 || strcmp(entry->d_name, "bank.xml") == 0)
            continue;
        others++;
        char *name = path_join(folder, entry->d_name);
        unlink(name);
        free(name);
    }
    closedir(open);
    return others;
}

static void tear_down(void)
{
    disk_fail(0, 0);
    sweep();
    unlink(path), rmdir(folder);
    buffer_free(&before), buffer_free(&wanted);
}

static bool holds(const struct buffer *content)
{
    struct buffer now = BUFFER_EMPTY;
    read_bank(&now);
    bool same = now.length == content->length && memcmp(buffer_text(&now), buffer_text(content), now.length) == 0;
    buffer_free(&now);
    return same;
}

typedef bool writer(struct messages *messages);

static bool write_change(struct messages *messages)
{
    return bank_change(path, &change, 1, messages);
}

static bool write_whole(struct messages *messages)
{
    return bank_put(path, buffer_text(&wanted), wanted.length, messages);
}

/* Fails the calls one after another until it comes through without one. */
static void fail_each(writer *write_it, int code)
{
    bool done = false;
    for (long at = 1; !done; at++) {
        struct messages messages = MESSAGES_EMPTY;
        put_before();
        disk_fail(at, code);
        bool written = write_it(&messages), failed = disk_failed();
        disk_fail(0, 0);
        done = !failed;
        cr_expect_eq(written, !failed, "call %ld", at);
        cr_expect_eq(sweep(), 0, "call %ld: what was begun is taken away", at);
        cr_expect_eq(messages.errors, failed, "call %ld: one message", at);
        cr_expect_eq(messages.unwritten, failed, "call %ld", at);
        bool synced_late = failed && messages.errors && strncmp(messages.items[0].text, "wrote ", 6) == 0;
        cr_expect(holds(written || synced_late ? &wanted : &before), "call %ld: whole", at);
        if (failed && messages.errors)
            cr_expect(strstr(messages.items[0].text, path) && strstr(messages.items[0].text, strerror(code)), "%s",
                      messages.items[0].text);
        messages_free(&messages);
        cr_assert_lt(at, 100);
        cr_assert(!done || at > 5, "a temporary file, a write, a mode, two syncs and a renaming are counted");
    }
}

Test(bank, a_change_on_a_full_disk_leaves_the_bank_whole, .init = set_up, .fini = tear_down)
{
    fail_each(write_change, ENOSPC);
    fail_each(write_whole, ENOSPC);
}

Test(bank, a_change_on_a_broken_disk_leaves_the_bank_whole, .init = set_up, .fini = tear_down)
{
    fail_each(write_change, EIO);
    fail_each(write_whole, EIO);
}

Test(bank, a_new_bank_that_cannot_be_written_is_not_there, .init = set_up, .fini = tear_down)
{
    bool done = false;
    for (long at = 1; !done; at++) {
        struct messages messages = MESSAGES_EMPTY;
        char other[100];
        snprintf(other, sizeof other, "%s/new.xml", folder);
        disk_fail(at, ENOSPC);
        bool written = bank_create(other, buffer_text(&before), before.length, &messages);
        done = !disk_failed();
        disk_fail(0, 0);
        bool synced_late = messages.errors && strncmp(messages.items[0].text, "wrote ", 6) == 0;
        cr_expect_eq(written, done, "call %ld", at);
        cr_expect_eq(sweep(), written || synced_late, "call %ld", at);
        messages_free(&messages);
        cr_assert_lt(at, 100);
    }
}

/* Killed at each call in turn; the file that was begun may be left beside it. */
Test(bank, a_change_that_is_killed_leaves_the_bank_whole, .init = set_up, .fini = tear_down)
{
    int status = -1, last = -1;
    for (long at = 1; status != 0; at++) {
        pid_t child = fork();
        cr_assert_geq(child, 0);
        if (child == 0) {
            struct messages messages = MESSAGES_EMPTY;
            disk_fail(at, 0);
            _exit(bank_change(path, &change, 1, &messages) ? 0 : 9);
        }
        cr_assert_eq(waitpid(child, &status, 0), child);
        cr_expect(status == 0 || WIFSIGNALED(status), "call %ld: %d", at, status);
        bool as_before = holds(&before), as_wanted = holds(&wanted);
        cr_expect(as_before || as_wanted, "call %ld", at);
        cr_expect(as_wanted || status != 0, "call %ld: what was reported as written is there", at);
        last = as_wanted;
        sweep();
        put_before();
        cr_assert_lt(at, 100);
    }
    cr_expect_eq(last, 1);
}

Test(bank, a_change_where_nothing_may_be_written_says_so, .init = set_up, .fini = tear_down)
{
    struct messages messages = MESSAGES_EMPTY;
    disk_fail(1, EACCES);       /* a folder that may only be read, also for who may write anywhere */
    cr_expect_not(bank_change(path, &change, 1, &messages));
    disk_fail(0, 0);
    cr_assert_eq(messages.count, 1);
    cr_expect(strstr(messages.items[0].text, "Permission denied; check the folder and the space left"), "%s",
              messages.items[0].text);
    cr_expect(holds(&before));
    messages_free(&messages);
}
