/* Files that belong together, on a disk that fails at each call in turn: all new or all as before. Common practice, no source. */
#include <criterion/criterion.h>
#include <dirent.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "paper/deliver.h"
#include "support/disk.h"
#include "trial.h"

enum { FILES = 3 };
static const char *const names[FILES] = {"a.html", "b.html", "c.html"};

static void fill(struct delivery *deliveries, const char *content)
{
    for (int i = 0; i < FILES; i++) {
        deliveries[i] = (struct delivery){names[i], BUFFER_EMPTY};
        buffer_add(&deliveries[i].content, content);
    }
}

static void release(struct delivery *deliveries)
{
    for (int i = 0; i < FILES; i++)
        buffer_free(&deliveries[i].content);
}

/* The contents one after another, "-" for a file that is not there; anything else in the folder counts as "+". */
static const char *state(void)
{
    static char text[64];
    DIR *folder = opendir(trial_path("out"));
    int entries = 0;
    *text = '\0';
    for (int i = 0; i < FILES; i++) {
        char name[32];
        snprintf(name, sizeof name, "out/%s", names[i]);
        char *content = access(trial_path(name), F_OK) == 0 ? trial_read(name) : NULL;
        strcat(strcat(text, content ? content : "-"), " ");
        entries -= content != NULL;
        free(content);
    }
    while (folder && readdir(folder))
        entries++;
    if (folder)
        closedir(folder);
    return strcat(text, !folder ? "no folder" : entries > 2 ? "+" : "");
}

/* Starts from the first `old` files; gives how many calls there were. */
static long fail_each(size_t old, bool replace, int code, const char *before)
{
    struct delivery one[FILES], two[FILES];
    fill(one, "old"), fill(two, "new");
    for (long at = 1;; at++) {
        struct messages messages = MESSAGES_EMPTY;
        for (int i = 0; i < FILES; i++) {
            char name[32];
            snprintf(name, sizeof name, "out/%s", names[i]);
            unlink(trial_path(name));
        }
        rmdir(trial_path("out"));
        if (old)
            cr_assert(deliver(trial_path("out"), one, old, true, &messages));
        disk_fail(at, code);
        bool good = deliver(trial_path("out"), two, FILES, replace, &messages), failed = disk_failed();
        disk_fail(0, 0);
        cr_expect_str_eq(state(), good ? "new new new " : before, "call %ld, errno %d", at, code);
        cr_expect(good ? messages.count == 0 : messages.count == 1 && messages.unwritten, "call %ld, errno %d", at, code);
        messages_free(&messages);
        if (!failed) {
            cr_expect(good);
            release(one), release(two);
            return at - 1;
        }
    }
}

Test(paper, a_failing_disk_leaves_a_folder_of_papers_as_it_was, .init = trial_begin, .fini = trial_end)
{
    static const int codes[] = {ENOSPC, EIO, EINVAL};      /* EINVAL: a file system that does not know a flag, too */
    for (size_t i = 0; i < sizeof codes / sizeof *codes; i++) {
        cr_expect_gt(fail_each(0, false, codes[i], "- - - no folder"), 6 * FILES);
        cr_expect_gt(fail_each(2, true, codes[i], "old old - "), 6 * FILES);
        cr_expect_gt(fail_each(FILES, true, codes[i], "old old old "), 6 * FILES);
    }
}
