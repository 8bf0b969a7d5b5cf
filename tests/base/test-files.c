#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/files.h"
#include "trial.h"

static char path[256];
static struct messages messages;

/* Stands in for the system's, so that a test can have a file appear just after it was looked for. */
static bool lstat_sees_nothing;

int lstat(const char *restrict file, struct stat *restrict status)
{
    if (!lstat_sees_nothing)
        return fstatat(AT_FDCWD, file, status, AT_SYMLINK_NOFOLLOW);
    errno = ENOENT;
    return -1;
}

static void set_up(void)
{
    messages = MESSAGES_EMPTY;
    snprintf(path, sizeof path, "%s/bank.xml", trial_folder());
}

static void tear_down(void)
{
    messages_free(&messages);
    trial_folder_end();
}

#define IN_A_FOLDER .init = set_up, .fini = tear_down, .timeout = 10

/* A path in the folder of this test. */
static const char *here(const char *name)
{
    static char joined[4][512];
    static unsigned turn;
    char *result = joined[turn++ % 4];
    snprintf(result, sizeof joined[0], "%.*s/%s", (int)(strrchr(path, '/') - path), path, name);
    return result;
}

/* Exactly one message, an error, that names the path and holds these words; then forgets it. */
static void check_message(const char *named, const char *words)
{
    cr_assert(messages.count == 1 && messages.errors == 1, "%zu messages", messages.count);
    const char *text = messages.items[0].text;
    cr_expect(strstr(text, named) != NULL, "'%s' does not name %s", text, named);
    cr_expect(strstr(text, words) != NULL, "'%s' does not say '%s'", text, words);
    messages_free(&messages);
}

static size_t entries_in_folder(void)
{
    DIR *folder = opendir(here("."));
    cr_assert(folder != NULL);
    size_t count = 0;
    while (readdir(folder))
        count++;
    closedir(folder);
    return count - 2; /* "." and ".." */
}

static void check_content(const char *file, const char *expected)
{
    struct buffer out = BUFFER_EMPTY;
    cr_expect(file_read(file, 1 << 20, &out, &messages));
    check_text(buffer_text(&out), expected);
    buffer_free(&out);
}

Test(base, files_read_appends_the_whole_file, IN_A_FOLDER)
{
    struct buffer out = BUFFER_EMPTY;
    trial_make_file(path, "a\0b\n", 4);
    buffer_add(&out, "=");
    cr_assert(file_read(path, 100, &out, &messages));
    cr_assert(out.length == 5 && memcmp(out.text, "=a\0b\n", 6) == 0);
    trial_make_file(here("empty"), "", 0);
    cr_assert(file_read(here("empty"), 0, &out, &messages));
    cr_assert(out.length == 5 && messages.count == 0);
    buffer_free(&out);
}

Test(base, files_read_longer_than_a_chunk, IN_A_FOLDER)
{
    enum { LENGTH = 100003 };
    static char bytes[LENGTH];
    for (size_t i = 0; i < LENGTH; i++)
        bytes[i] = (char)(i * 31 % 251);
    struct buffer out = BUFFER_EMPTY;
    trial_make_file(path, bytes, LENGTH);
    cr_assert(file_read(path, LENGTH, &out, &messages));
    cr_assert(out.length == LENGTH && memcmp(out.text, bytes, LENGTH) == 0);
    buffer_free(&out);
}

Test(base, files_limit_at_both_sides, IN_A_FOLDER)
{
    struct buffer out = BUFFER_EMPTY;
    trial_make_file(path, "0123456789", 10);
    cr_expect(file_read(path, 11, &out, &messages));
    cr_expect(file_read(path, 10, &out, &messages));
    cr_expect(out.length == 20 && messages.count == 0);
    cr_expect(!file_read(path, 9, &out, &messages));
    check_message(path, "it has 10 bytes and the most allowed is 9");
    cr_expect(out.length == 20, "nothing was added");
    buffer_free(&out);
}

Test(base, files_read_refuses_what_grows, IN_A_FOLDER)
{
    /* A file of this kind says it has 0 bytes and gives more. */
    struct buffer out = BUFFER_EMPTY;
    cr_expect(!file_read("/proc/self/status", 1 << 20, &out, &messages));
    check_message("/proc/self/status", "its size changed");
    cr_expect(out.length == 0);
    buffer_free(&out);
}

Test(base, files_read_refuses_what_shrinks, IN_A_FOLDER)
{
    /* A file of this kind says it has 4096 bytes and gives fewer. */
    static const char file[] = "/sys/kernel/uevent_seqnum";
    struct stat status;
    if (stat(file, &status) != 0 || status.st_size == 0)
        cr_skip_test("no such file on this system");
    struct buffer out = BUFFER_EMPTY;
    buffer_add(&out, "kept");
    cr_expect(!file_read(file, 1 << 20, &out, &messages));
    check_message(file, "its size changed");
    check_text(buffer_text(&out), "kept");
    buffer_free(&out);
}

Test(base, files_open_refuses_all_but_regular_files_without_waiting, IN_A_FOLDER)
{
    cr_assert(mkfifo(here("fifo"), 0600) == 0);
    cr_expect(file_open(here("fifo"), 100, NULL, &messages) == -1);
    check_message(here("fifo"), "a pipe or a device");
    cr_expect(file_open("/dev/zero", 100, NULL, &messages) == -1);
    check_message("/dev/zero", "a pipe or a device");
    cr_expect(file_open(here("."), 100, NULL, &messages) == -1);
    check_message(here("."), "a folder");
    cr_expect(file_open(here("none"), 100, NULL, &messages) == -1);
    check_message(here("none"), "No such file");
    cr_expect(file_open("", 100, NULL, &messages) == -1);
    check_message("''", "No such file");
    trial_make_file(path, "x", 1);
    cr_expect(file_open(here("bank.xml/x"), 100, NULL, &messages) == -1);
    check_message(here("bank.xml/x"), "Not a directory");
}

Test(base, files_open_tells_the_state, IN_A_FOLDER)
{
    struct file_state first, second;
    struct stat status;
    trial_make_file(path, "12345", 5);
    int descriptor = file_open(path, 5, &first, &messages);
    cr_assert(descriptor >= 0 && stat(path, &status) == 0);
    cr_expect(fcntl(descriptor, F_GETFD) & FD_CLOEXEC);
    close(descriptor);
    cr_expect(first.device == status.st_dev && first.inode == status.st_ino && first.size == 5);
    cr_expect(first.modified_seconds == status.st_mtim.tv_sec && first.modified_nanoseconds == status.st_mtim.tv_nsec);
    cr_expect(first.changed_seconds == status.st_ctim.tv_sec && first.changed_nanoseconds == status.st_ctim.tv_nsec);
    cr_assert(file_write(path, "12345", 5, 0600, true, &messages));
    descriptor = file_open(path, 5, &second, &messages);
    cr_assert(descriptor >= 0);
    close(descriptor);
    cr_expect(first.inode != second.inode, "a replaced file is another file");
}

Test(base, files_write_makes_and_replaces, IN_A_FOLDER)
{
    struct stat status;
    cr_assert(file_write(path, "old", 3, 0600, false, &messages));
    check_content(path, "old");
    cr_assert(stat(path, &status) == 0 && (status.st_mode & 07777) == 0600);
    cr_assert(file_write(path, "new content", 11, 0644, true, &messages));
    check_content(path, "new content");
    cr_assert(stat(path, &status) == 0 && (status.st_mode & 07777) == 0644);
    cr_assert(file_write(path, NULL, 0, 0600, true, &messages));
    check_content(path, "");
    cr_expect(entries_in_folder() == 1, "no temporary file stays");
}

Test(base, files_write_in_the_present_folder, IN_A_FOLDER)
{
    cr_assert(chdir(here(".")) == 0);
    cr_expect(file_write("plain", "x", 1, 0600, false, &messages));
    check_content("plain", "x");
}

Test(base, files_write_does_not_replace_unasked, IN_A_FOLDER)
{
    trial_make_file(path, "mine", 4);
    cr_expect(!file_write(path, "other", 5, 0600, false, &messages));
    check_message(path, "it exists");
    check_content(path, "mine");
    cr_expect(entries_in_folder() == 1);
}

Test(base, files_write_does_not_replace_what_has_just_appeared, IN_A_FOLDER)
{
    trial_make_file(path, "mine", 4);
    lstat_sees_nothing = true;
    cr_expect(!file_write(path, "other", 5, 0600, false, &messages));
    check_message(path, "File exists");
    check_content(path, "mine");
    cr_expect(entries_in_folder() == 1);
}

Test(base, files_write_does_not_follow_a_link, IN_A_FOLDER)
{
    trial_make_file(path, "mine", 4);
    cr_assert(symlink("bank.xml", here("link")) == 0 && symlink("nowhere", here("dangling")) == 0);
    cr_expect(!file_write(here("link"), "other", 5, 0600, false, &messages));
    check_message(here("link"), "it exists");
    cr_expect(!file_write(here("dangling"), "other", 5, 0600, false, &messages));
    check_message(here("dangling"), "it exists");
    cr_expect(access(here("nowhere"), F_OK) != 0);

    /* With leave to replace, the link goes and the file it named stays. */
    cr_expect(file_write(here("link"), "other", 5, 0600, true, &messages));
    check_content(here("link"), "other");
    check_content(path, "mine");
}

Test(base, files_write_refuses_what_is_no_file, IN_A_FOLDER)
{
    cr_assert(mkdir(here("folder"), 0700) == 0 && mkfifo(here("fifo"), 0600) == 0);
    cr_assert(symlink("/dev/null", here("null")) == 0);
    for (int replace = 1; replace >= 0; replace--) {
        cr_expect(!file_write(here("folder"), "x", 1, 0600, replace, &messages));
        check_message(here("folder"), replace ? "a folder" : "it exists");
        cr_expect(!file_write(here("fifo"), "x", 1, 0600, replace, &messages));
        check_message(here("fifo"), replace ? "a pipe or a device" : "it exists");
        cr_expect(!file_write(here("null"), "x", 1, 0600, replace, &messages));
        check_message(here("null"), replace ? "a pipe or a device" : "it exists");
    }
    cr_expect(entries_in_folder() == 3);
}

Test(base, files_write_needs_its_folder, IN_A_FOLDER)
{
    trial_make_file(path, "x", 1);
    cr_expect(!file_write(here("none/out"), "x", 1, 0600, true, &messages));
    check_message(here("none/out"), "No such file");
    cr_expect(!file_write(here("bank.xml/out"), "x", 1, 0600, false, &messages));
    check_message(here("bank.xml/out"), "Not a directory");
    cr_expect(!file_write("", "x", 1, 0600, true, &messages));
    check_message("''", "No such file");
    cr_expect(entries_in_folder() == 1);
}

/* The file size limit makes the first write short and the second fail, like a full disk. */
Test(base, files_write_that_fails_half_way_changes_nothing, IN_A_FOLDER)
{
    static char bytes[10000];
    memset(bytes, 'n', sizeof bytes);
    trial_make_file(path, "old", 3);
    signal(SIGXFSZ, SIG_IGN);
    struct rlimit limit;
    cr_assert(getrlimit(RLIMIT_FSIZE, &limit) == 0);
    limit.rlim_cur = 4096;
    cr_assert(setrlimit(RLIMIT_FSIZE, &limit) == 0);
    cr_expect(!file_write(path, bytes, sizeof bytes, 0600, true, &messages));
    check_message(path, "File too large");
    cr_expect(!file_write(here("fresh"), bytes, sizeof bytes, 0600, false, &messages));
    check_message(here("fresh"), "File too large");
    check_content(path, "old");
    cr_expect(entries_in_folder() == 1, "the temporary file is gone");
    cr_expect(file_write(path, bytes, 4096, 0600, true, &messages), "just within the limit");
}

Test(base, files_directory_make_makes_parents, IN_A_FOLDER)
{
    struct stat status;
    umask(0);
    cr_expect(directory_make(here("a/b//c/"), &messages));
    cr_assert(stat(here("a/b/c"), &status) == 0 && S_ISDIR(status.st_mode) && (status.st_mode & 07777) == 0700);
    cr_assert(stat(here("a"), &status) == 0 && (status.st_mode & 07777) == 0700);
    cr_expect(directory_make(here("a/b/c"), &messages), "again");
    cr_expect(directory_make("/", &messages) && messages.count == 0);
    cr_assert(chdir(here("a")) == 0);
    cr_expect(directory_make("relative/one", &messages));
    cr_expect(access(here("a/relative/one"), F_OK) == 0);
}

Test(base, files_directory_make_refuses, IN_A_FOLDER)
{
    trial_make_file(path, "x", 1);
    cr_expect(!directory_make(path, &messages));
    check_message(path, "something else has that name");
    cr_expect(!directory_make(here("bank.xml/deeper/still"), &messages));
    check_message(path, "something else has that name");
    cr_assert(symlink("nowhere", here("dangling")) == 0);
    cr_expect(!directory_make(here("dangling"), &messages));
    check_message(here("dangling"), "something else has that name");
    cr_expect(!directory_make("", &messages));
    check_message("''", "No such file");
    cr_expect(!directory_make("/proc/nothing/here", &messages));
    check_message("/proc/nothing", "cannot make the folder");
}
