/* A file that is saved is noticed however it is saved. Common practice, no source. */
#include <criterion/criterion.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/watch.h"

static char folder[] = "/tmp/ownmark-watch-XXXXXX";
static char file[64], other[64];
static struct messages messages;
static struct watch *watch;

static void put(const char *path, const char *text)
{
    FILE *out = fopen(path, "w");
    cr_assert(out != NULL);
    fputs(text, out);
    fclose(out);
}

static void set_up(void)
{
    cr_assert(mkdtemp(folder) != NULL);
    snprintf(file, sizeof file, "%s/bank.xml", folder);
    snprintf(other, sizeof other, "%s/other.xml", folder);
    put(file, "one");
    watch = watch_new(file, &messages);
    cr_assert(watch != NULL);
}

static void tear_down(void)
{
    watch_free(watch);
    messages_free(&messages);
    unlink(file), unlink(other), rmdir(folder);
}

Test(base, watch_notices_a_file_written_in_place, .init = set_up, .fini = tear_down)
{
    put(file, "two");
    cr_expect(watch_wait(watch));
}

Test(base, watch_notices_a_file_put_in_its_place, .init = set_up, .fini = tear_down)
{
    put(other, "two");
    cr_assert_eq(rename(other, file), 0);
    cr_expect(watch_wait(watch));
}

/* Another file's save does not end the waiting; the interrupt that comes then does, though it came before the wait. */
Test(base, watch_passes_over_other_files_and_ends_at_an_interrupt, .init = set_up, .fini = tear_down)
{
    put(other, "two");
    kill(getpid(), SIGINT);
    cr_expect_not(watch_wait(watch));
}

/* Else the program would wait for ever for a file that cannot come back. */
Test(base, watch_ends_when_the_folder_is_gone, .init = set_up, .fini = tear_down, .timeout = 20)
{
    unlink(file);
    cr_assert_eq(rmdir(folder), 0);
    cr_expect_not(watch_wait(watch));
}

Test(base, watch_refuses_a_folder_that_is_not_there)
{
    struct messages refused = MESSAGES_EMPTY;
    cr_expect(watch_new("/nowhere-at-all/bank.xml", &refused) == NULL);
    cr_expect_eq(refused.errors, 1);
    messages_free(&refused);
}
