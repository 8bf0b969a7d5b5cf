#include "paper/deliver.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/files.h"
#include "base/memory.h"

static bool is_free(const char *folder, const char *name, bool replace, struct messages *messages)
{
    struct stat status;
    char *path = path_join(folder, name);
    bool taken = lstat(path, &status) == 0;
    bool good = !taken || (replace && S_ISREG(status.st_mode));
    if (!good && replace)
        messages_error(messages, "cannot write '%s': something that is no file has this name; name another folder with -o",
                       path);
    else if (!good)
        messages_error(messages, "'%s' exists already; name another folder with -o, or write over it with --replace", path);
    free(path);
    return good;
}

bool deliver_may(const char *folder, const struct delivery *deliveries, size_t count, bool replace,
                 struct messages *messages)
{
    struct stat status;
    if (stat(folder, &status) != 0)
        return true;
    if (!S_ISDIR(status.st_mode)) {
        messages_error(messages, "cannot write into '%s': it is no folder; name another with -o", folder);
        return false;
    }
    for (size_t i = 0; i < count; i++)
        if (!is_free(folder, deliveries[i].name, replace, messages))
            return false;
    return true;
}

static bool stage(const char *staging, const struct delivery *deliveries, size_t count, struct messages *messages)
{
    bool good = true;
    for (size_t i = 0; i < count && good; i++) {
        char *path = path_join(staging, deliveries[i].name);
        good = file_write(path, buffer_text(&deliveries[i].content), deliveries[i].content.length, 0600, false, messages);
        free(path);
    }
    return good;
}

static bool knows_no_flag(void)
{
    return errno == EINVAL || errno == ENOSYS;      /* of a file system */
}

/* Two files change their names. */
static bool exchange(const char *one, const char *other)
{
    if (renameat2(AT_FDCWD, one, AT_FDCWD, other, RENAME_EXCHANGE) == 0)
        return true;
    if (!knows_no_flag())
        return false;
    struct buffer aside = BUFFER_EMPTY;
    buffer_print(&aside, "%s.aside", one);
    bool good = rename(one, buffer_text(&aside)) == 0;
    if (good && rename(other, one) != 0) {
        rename(buffer_text(&aside), one);
        good = false;
    }
    good = good && rename(buffer_text(&aside), other) == 0;
    buffer_free(&aside);
    return good;
}

/* A name that appeared meanwhile is not written over. */
static bool rename_to_free(const char *from, const char *to)
{
    return renameat2(AT_FDCWD, from, AT_FDCWD, to, RENAME_NOREPLACE) == 0 || (knows_no_flag() && link(from, to) == 0);
}

/* A file that is written over takes the new one's place in the staging folder, so that it can be put back. */
static bool move(const char *staging, const char *folder, const char *name, bool replace)
{
    char *from = path_join(staging, name), *to = path_join(folder, name);
    bool good = replace && access(to, F_OK) == 0 ? exchange(from, to) : rename_to_free(from, to);
    int reason = errno;
    free(from);
    free(to);
    errno = reason;
    return good;
}

/* What was moved goes back: an old file to its name; a new one that took no name from another is taken away. */
static void move_back(const char *staging, const char *folder, const struct delivery *deliveries, size_t count, bool replace)
{
    for (size_t i = 0; i < count; i++) {
        char *from = path_join(folder, deliveries[i].name), *to = path_join(staging, deliveries[i].name);
        if (replace && access(to, F_OK) == 0)
            exchange(to, from);
        else
            unlink(from);
        free(from);
        free(to);
    }
}

static void remove_in(const char *folder, const struct delivery *deliveries, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        char *path = path_join(folder, deliveries[i].name);
        unlink(path);
        free(path);
    }
}

static bool move_all(const char *staging, const char *folder, const struct delivery *deliveries, size_t count, bool replace,
                     struct messages *messages)
{
    for (size_t i = 0; i < count; i++) {
        if (move(staging, folder, deliveries[i].name, replace))
            continue;
        messages_error(messages, "cannot write '%s/%s': %s; check the folder", folder, deliveries[i].name, strerror(errno));
        messages->unwritten = true;
        move_back(staging, folder, deliveries, i, replace);
        return false;
    }
    return true;
}

static void sync_folder(const char *folder)
{
    int descriptor = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (descriptor < 0)
        return;
    fsync(descriptor);
    close(descriptor);
}

bool deliver(const char *folder, const struct delivery *deliveries, size_t count, bool replace, struct messages *messages)
{
    struct stat status;
    bool was_there = stat(folder, &status) == 0;
    if (!deliver_may(folder, deliveries, count, replace, messages) || !directory_make(folder, messages))
        return false;
    char *staging = path_join(folder, ".ownmark-XXXXXX");
    bool made = mkdtemp(staging) != NULL;
    if (!made) {
        messages_error(messages, "cannot write into '%s': %s; check that you may", folder, strerror(errno));
        messages->unwritten = true;
    }
    bool good = made && stage(staging, deliveries, count, messages) &&
                move_all(staging, folder, deliveries, count, replace, messages);
    if (made) {
        remove_in(staging, deliveries, count);
        rmdir(staging);
    }
    if (good)
        sync_folder(folder);
    else if (!was_there)
        rmdir(folder);
    free(staging);
    return good;
}
