#include "base/files.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/memory.h"

/* Without O_NONBLOCK the opening of a FIFO waits for a writer, before its type can be looked at. */
enum { READING = O_RDONLY | O_CLOEXEC | O_NOCTTY | O_NONBLOCK };

static struct file_state state_from(const struct stat *status)
{
    return (struct file_state){
        .device = status->st_dev,
        .inode = status->st_ino,
        .size = (uint64_t)status->st_size,
        .modified_seconds = status->st_mtim.tv_sec,
        .modified_nanoseconds = status->st_mtim.tv_nsec,
        .changed_seconds = status->st_ctim.tv_sec,
        .changed_nanoseconds = status->st_ctim.tv_nsec,
    };
}

/* Is the open file one that may be read? If not, adds why. */
static bool is_readable(int descriptor, const char *path, size_t limit, struct stat *status,
                        struct messages *messages)
{
    if (fstat(descriptor, status) != 0) {
        messages_error(messages, "cannot look at '%s': %s", path, strerror(errno));
        return false;
    }
    if (!S_ISREG(status->st_mode)) {
        messages_error(messages, "cannot read '%s': it is %s; name a file", path,
                       S_ISDIR(status->st_mode) ? "a folder" : "a pipe or a device");
        return false;
    }
    if ((uint64_t)status->st_size > limit) {
        messages_error(messages, "cannot read '%s': it has %lld bytes and the most allowed is %zu; "
                       "name a smaller file or split this one", path, (long long)status->st_size, limit);
        return false;
    }
    return true;
}

int file_open(const char *path, size_t limit, struct file_state *state, struct messages *messages)
{
    int descriptor = (int)TEMP_FAILURE_RETRY(open(path, READING));
    if (descriptor < 0) {
        messages_error(messages, "cannot open '%s': %s; check its name and that you may read it", path,
                       strerror(errno));
        return -1;
    }
    struct stat status;
    if (!is_readable(descriptor, path, limit, &status, messages)) {
        close(descriptor);
        return -1;
    }
    if (state)
        *state = state_from(&status);
    return descriptor;
}

/* Appends until the end of the file or until more than `expected` bytes came. False: errno is set. */
static bool read_all(int descriptor, size_t expected, struct buffer *out)
{
    char chunk[16 * 1024];
    size_t total = 0;
    while (total <= expected) {
        ssize_t got = TEMP_FAILURE_RETRY(read(descriptor, chunk, sizeof chunk));
        if (got < 0)
            return false;
        if (got == 0)
            break;
        buffer_add_bytes(out, chunk, (size_t)got);
        total += (size_t)got;
    }
    return true;
}

bool file_read(const char *path, size_t limit, struct buffer *out, struct messages *messages)
{
    struct file_state state;
    int descriptor = file_open(path, limit, &state, messages);
    if (descriptor < 0)
        return false;

    size_t before = out->length;
    bool whole = read_all(descriptor, (size_t)state.size, out);
    if (!whole) {
        messages_error(messages, "cannot read '%s': %s", path, strerror(errno));
    } else if (out->length - before != state.size) {
        messages_error(messages, "cannot read '%s': its size changed while it was read; try again when "
                       "nothing is writing to it", path);
        whole = false;
    }
    close(descriptor);
    if (!whole)
        buffer_shorten(out, before);
    return whole;
}

static bool write_all(int descriptor, const char *bytes, size_t length)
{
    while (length > 0) {
        ssize_t written = TEMP_FAILURE_RETRY(write(descriptor, bytes, length));
        if (written < 0)
            return false;
        bytes += written;
        length -= (size_t)written;
    }
    return true;
}

/* Closes in every case; false when any step failed, with errno from the first that did. */
static bool fill_and_close(int descriptor, const char *bytes, size_t length, unsigned mode)
{
    bool good = write_all(descriptor, bytes, length) && fchmod(descriptor, (mode_t)mode) == 0 &&
                fsync(descriptor) == 0;
    int reason = errno;
    if (close(descriptor) != 0 && good)
        return false;
    errno = reason;
    return good;
}

/* The new name appears only if nothing has it; decided by the kernel, so no one can step in between.
 * Some file systems know only the hard link as a way to say so. */
static bool rename_to_free_name(const char *from, const char *to)
{
    if (renameat2(AT_FDCWD, from, AT_FDCWD, to, RENAME_NOREPLACE) == 0)
        return true;
    if (errno != EINVAL && errno != ENOSYS)
        return false;
    return link(from, to) == 0 && unlink(from) == 0;
}

/* A file system that cannot sync a folder says EINVAL: there is no more to be done there. */
static bool sync_folder(const char *folder)
{
    int descriptor = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (descriptor < 0)
        return false;
    bool good = fsync(descriptor) == 0 || errno == EINVAL;
    int reason = errno;
    close(descriptor);
    errno = reason;
    return good;
}

/* Refuses what must not be replaced by a file: a device or FIFO would be lost, and for a link without
 * `replace` the file it names is not ours to touch. */
static bool may_be_written(const char *path, bool replace, struct messages *messages)
{
    struct stat status;
    if (!replace && lstat(path, &status) == 0) {
        messages_error(messages, "cannot write '%s': it exists already; name another file, or write over it "
                       "with --replace", path);
        return false;
    }
    if (stat(path, &status) == 0 && !S_ISREG(status.st_mode)) {
        messages_error(messages, "cannot write '%s': it is %s; name a file", path,
                       S_ISDIR(status.st_mode) ? "a folder" : "a pipe or a device");
        return false;
    }
    return true;
}

static bool write_beside(const char *folder, const char *path, const char *bytes, size_t length,
                         unsigned mode, bool replace, struct messages *messages)
{
    char *temporary = path_join(folder, ".ownmark-XXXXXX");
    int descriptor = mkostemp(temporary, O_CLOEXEC);
    bool made = descriptor >= 0;
    bool good = made && fill_and_close(descriptor, bytes, length, mode) &&
                (replace ? rename(temporary, path) == 0 : rename_to_free_name(temporary, path));
    if (!good) {
        messages_error(messages, "cannot write '%s': %s; check the folder and the space left", path,
                       strerror(errno));
        messages->unwritten = true;
        if (made)
            unlink(temporary);
    }
    free(temporary);
    return good;
}

bool file_write(const char *path, const char *bytes, size_t length, unsigned mode, bool replace,
                struct messages *messages)
{
    if (!may_be_written(path, replace, messages))
        return false;
    char *folder = path_folder_of(path);
    bool good = write_beside(folder, path, bytes, length, mode, replace, messages);
    if (good && !sync_folder(folder)) {
        messages_error(messages, "wrote '%s', but it may not outlast a power cut: cannot sync '%s': %s",
                       path, folder, strerror(errno));
        messages->unwritten = true;
        good = false;
    }
    free(folder);
    return good;
}

static bool is_folder(const char *path)
{
    struct stat status;
    return stat(path, &status) == 0 && S_ISDIR(status.st_mode);
}

/* mkdir may find that another program was quicker: what counts is that the folder is there. */
static bool make_one(const char *path, struct messages *messages)
{
    if (is_folder(path) || mkdir(path, 0700) == 0)
        return true;
    int reason = errno;
    if (is_folder(path))
        return true;
    if (reason == EEXIST)
        messages_error(messages, "cannot make the folder '%s': something else has that name; move it away or name "
                       "another folder", path);
    else
        messages_error(messages, "cannot make the folder '%s': %s; check that you may write in the folder above it, or "
                       "name another place", path, strerror(reason));
    return false;
}

bool directory_make(const char *path, struct messages *messages)
{
    char *part = memory_copy_text(path);
    bool good = true;
    for (char *slash = strchr(part + (part[0] == '/'), '/'); slash && good; slash = strchr(slash + 1, '/')) {
        *slash = '\0';
        good = make_one(part, messages);
        *slash = '/';
    }
    good = good && make_one(part, messages);
    free(part);
    return good;
}
