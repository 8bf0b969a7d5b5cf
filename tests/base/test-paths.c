/* The variables and their defaults: XDG Base Directory Specification 0.8. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/files.h"
#include "trial.h"

typedef char *path_in_place(const char *name, struct messages *messages);

static void check_taken(char *result, const char *expected)
{
    check_text(result, expected);
    free(result);
}

static void check_place(path_in_place *place, const char *variable, const char *below_home)
{
    struct messages messages = MESSAGES_EMPTY;
    char expected[128];
    snprintf(expected, sizeof expected, "/home/learner/%s/ownmark/record.db", below_home);
    setenv("HOME", "/home/learner", 1);
    unsetenv(variable);
    check_taken(place("record.db", &messages), expected);
    setenv(variable, "", 1);
    check_taken(place("record.db", &messages), expected);
    setenv(variable, "relative/one", 1);
    check_taken(place("record.db", &messages), expected);
    setenv(variable, "/elsewhere", 1);
    check_taken(place("record.db", &messages), "/elsewhere/ownmark/record.db");
    unsetenv("HOME");
    check_taken(place("a/b", &messages), "/elsewhere/ownmark/a/b");
    cr_expect(messages.count == 0);

    static const char *const unusable[] = {NULL, "", "relative", "~"};
    for (size_t i = 0; i < sizeof unusable / sizeof *unusable; i++) {
        setenv(variable, "relative", 1);
        if (unusable[i])
            setenv("HOME", unusable[i], 1);
        cr_expect(place("record.db", &messages) == NULL);
        cr_assert(messages.errors == 1);
        cr_expect(strstr(messages.items[0].text, "HOME") && strstr(messages.items[0].text, variable));
        messages_free(&messages);
    }
}

Test(base, paths_by_xdg)
{
    check_place(path_in_data, "XDG_DATA_HOME", ".local/share");
    check_place(path_in_cache, "XDG_CACHE_HOME", ".cache");
    check_place(path_in_state, "XDG_STATE_HOME", ".local/state");
}

/* As dirname(1) of POSIX. */
Test(base, paths_folder_of)
{
    static const char *const known[][2] = {{"", "."}, {"file", "."}, {"a/b", "a"}, {"a/b/", "a"}, {"a//b", "a"}, {"/a", "/"},
                                           {"/", "/"}, {"//", "/"}, {"/a/b/c", "/a/b"}, {"a/", "."}, {"./a", "."}};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        check_taken(path_folder_of(known[i][0]), known[i][1]);
}

Test(base, paths_join)
{
    check_taken(path_join("a", "b"), "a/b");
    check_taken(path_join("a/", "b"), "a/b");
    check_taken(path_join("/", "b"), "/b");
    check_taken(path_join("", "b"), "b");
    check_taken(path_join(".", "b/c"), "./b/c");
}

static void make_tree(const char *top, char *bank, size_t size)
{
    snprintf(bank, size, "%s/bank", top);
    cr_assert(mkdir(bank, 0700) == 0 && chdir(bank) == 0);
    cr_assert(mkdir("figures", 0700) == 0);
    trial_make_file("figures/map.svg", "map", 3);
    trial_make_file("plain.svg", "plain", 5);
    trial_make_file("../secret", "secret", 6);
    cr_assert(symlink("../secret", "out.svg") == 0 && symlink("plain.svg", "in.svg") == 0);
    cr_assert(symlink("..", "up") == 0 && symlink("figures", "pictures") == 0);
    cr_assert(mkfifo("fifo", 0600) == 0);
}

static void check_beneath(const char *bank, const char *relative, bool expected)
{
    cr_expect(path_is_file_beneath(bank, relative) == expected, "'%s'", relative);
    int descriptor = path_open_beneath(bank, relative);
    cr_expect((descriptor >= 0) == expected, "open '%s'", relative);
    if (descriptor >= 0)
        close(descriptor);
}

Test(base, paths_beneath, .timeout = 10)
{
    char bank[128], absolute[192];
    make_tree(trial_folder(), bank, sizeof bank);
    check_beneath(bank, "plain.svg", true);
    check_beneath(bank, "figures/map.svg", true);
    check_beneath(bank, "./figures//map.svg", true);
    check_beneath(bank, "figures/../plain.svg", true);
    static const char *const refused[] = {
        "", ".", "figures", "none.svg", "../secret", "figures/../../secret", "../bank/plain.svg", "out.svg", "in.svg",
        "up/secret", "pictures/map.svg", "fifo", "/etc/passwd", "plain.svg/", "plain.svg/x", "/proc/self/environ"};
    for (size_t i = 0; i < sizeof refused / sizeof *refused; i++)
        check_beneath(bank, refused[i], false);
    snprintf(absolute, sizeof absolute, "%s/plain.svg", bank);
    check_beneath(bank, absolute, false);
    check_beneath("/nonexistent", "plain.svg", false);
    check_beneath(absolute, "plain.svg", false);
    trial_folder_end();
}

Test(base, paths_open_beneath_reads)
{
    char bank[128], bytes[8] = {0};
    make_tree(trial_folder(), bank, sizeof bank);
    int descriptor = path_open_beneath(".", "figures/map.svg");
    cr_assert(descriptor >= 0);
    cr_expect(read(descriptor, bytes, sizeof bytes) == 3 && memcmp(bytes, "map", 3) == 0);
    close(descriptor);
    trial_folder_end();
}
