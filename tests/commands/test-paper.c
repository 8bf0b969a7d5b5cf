/* Papers made on a pseudo-terminal. */
#include "program.h"

#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

static const char *path_in(const struct home *home, const char *name)
{
    static char paths[4][128];
    static size_t next;
    char *path = paths[next++ % 4];
    snprintf(path, sizeof paths[0], "%s/%s", home->folder, name);
    return path;
}

static bool exists(const struct home *home, const char *name)
{
    struct stat status;
    return stat(path_in(home, name), &status) == 0;
}

Test(commands, the_nearest_paper_is_offered_and_written_only_on_yes)
{
    struct home home;
    struct pty pty;
    home_make(&home);
    const char *const words[] = {"paper", "tests/data/paper-bank.xml", "--marks", "16", "--minutes", "12", "--seed", "4", "-o",
                                 path_in(&home, "out"), NULL};
    program_on_pty(&pty, &home, words);
    pty_expect(&pty, "7 minutes 12 seconds too much");
    pty_expect(&pty, "Write the nearest paper all the same?> ");
    cr_expect(!exists(&home, "out"));
    pty_send(&pty, "\r");
    pty_expect(&pty, "Nothing was written.");
    cr_expect_eq(pty_wait(&pty), 1);
    cr_expect(!exists(&home, "out"));
    pty_free(&pty);
    program_on_pty(&pty, &home, words);
    pty_expect(&pty, "all the same?> ");
    pty_send(&pty, "y\r");
    pty_expect(&pty, "Written into");
    cr_expect_eq(pty_wait(&pty), 0);
    cr_expect(exists(&home, "out/paper.ownmark"));
    pty_free(&pty);
    home_remove(&home);
}

/* 100 marks cannot be had from the generated bank, and to prove which paper is nearest takes a minute or more. */
Test(commands, ctrl_c_keeps_the_best_paper_so_far)
{
    struct home home;
    struct pty pty;
    char command[512];
    const char *generator = getenv("MAKE_BANK");
    cr_assert(generator, "MAKE_BANK does not name the generator");
    home_make(&home);
    snprintf(command, sizeof command, "'%s' 10000 >'%s'", generator, path_in(&home, "bank.xml"));
    cr_assert_eq(system(command), 0);
    program_on_pty(&pty, &home, (const char *const[]){"paper", path_in(&home, "bank.xml"), "--marks", "100", "--seed", "1", "-o",
                                                      path_in(&home, "out"), "--seconds", "600", NULL});
    cr_assert(pty_appears(&pty, "% from best", 18 * PTY_PATIENCE), "reading so many questions takes its time under the sanitizers");
    pty_send(&pty, "\003");
    pty_expect(&pty, "The nearest paper misses:");
    pty_expect(&pty, "all the same?> ");
    pty_send(&pty, "y\r");
    pty_expect(&pty, "Written into");
    cr_expect_eq(pty_wait(&pty), 0);
    cr_expect(exists(&home, "out/mark-scheme-large.html"));
    pty_free(&pty);
    home_remove(&home);
}
