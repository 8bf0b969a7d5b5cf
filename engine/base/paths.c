/* Where files live, and how a path is kept inside a folder. */
#include <assert.h>
#include <errno.h>
#include <fcntl.h>
#include <linux/openat2.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

#include "base/files.h"
#include "base/memory.h"

static bool is_absolute(const char *path)
{
    return path && path[0] == '/';
}

/* XDG Base Directory Specification 0.8: a relative value is invalid and is ignored. */
static char *path_in(const char *variable, const char *below_home, const char *name,
                     struct messages *messages)
{
    assert(name && name[0] != '/');
    struct buffer path = BUFFER_EMPTY;
    const char *base = getenv(variable);
    const char *home = getenv("HOME");
    if (is_absolute(base)) {
        buffer_print(&path, "%s/ownmark/%s", base, name);
    } else if (is_absolute(home)) {
        buffer_print(&path, "%s/%s/ownmark/%s", home, below_home, name);
    } else {
        messages_error(messages, "cannot tell where your files live: HOME is %s; set HOME or %s to a full "
                       "path, or name the record with --record", home && home[0] ? "not a full path" : "not set", variable);
        return NULL;
    }
    return buffer_take(&path);
}

char *path_in_data(const char *name, struct messages *messages)
{
    return path_in("XDG_DATA_HOME", ".local/share", name, messages);
}

char *path_in_cache(const char *name, struct messages *messages)
{
    return path_in("XDG_CACHE_HOME", ".cache", name, messages);
}

char *path_in_state(const char *name, struct messages *messages)
{
    return path_in("XDG_STATE_HOME", ".local/state", name, messages);
}

/* The length without the slashes at the end, but never less than that of a leading "/". */
static size_t without_final_slashes(const char *path, size_t length)
{
    while (length > 1 && path[length - 1] == '/')
        length--;
    return length;
}

char *path_folder_of(const char *path)
{
    size_t length = without_final_slashes(path, strlen(path));
    while (length > 0 && path[length - 1] != '/')
        length--;
    if (length == 0)
        return memory_copy_text(".");
    length = without_final_slashes(path, length);
    struct buffer folder = BUFFER_EMPTY;
    buffer_add_bytes(&folder, path, length);
    return buffer_take(&folder);
}

char *path_join(const char *folder, const char *name)
{
    struct buffer path = BUFFER_EMPTY;
    buffer_add(&path, folder);
    if (path.length > 0 && path.text[path.length - 1] != '/')
        buffer_add_character(&path, '/');
    buffer_add(&path, name);
    return buffer_take(&path);
}

/* The kernel walks the path: no check of ours could be overtaken by a change to the folders. glibc has
 * no wrapper for openat2. Returns the descriptor of a regular file, or -1. */
static int open_regular_beneath(const char *folder, const char *relative, uint64_t flags)
{
    int base = open(folder, O_PATH | O_DIRECTORY | O_CLOEXEC);
    if (base < 0)
        return -1;
    struct open_how how = {.flags = flags, .resolve = RESOLVE_BENEATH | RESOLVE_NO_SYMLINKS};
    long opened = TEMP_FAILURE_RETRY(syscall(SYS_openat2, base, relative, &how, sizeof how));
    close(base);
    if (opened < 0)
        return -1;
    int descriptor = (int)opened;
    struct stat status;
    if (fstat(descriptor, &status) == 0 && S_ISREG(status.st_mode))
        return descriptor;
    close(descriptor);
    return -1;
}

bool path_is_file_beneath(const char *folder, const char *relative)
{
    int descriptor = open_regular_beneath(folder, relative, O_PATH | O_CLOEXEC);
    if (descriptor >= 0)
        close(descriptor);
    return descriptor >= 0;
}

int path_open_beneath(const char *folder, const char *relative)
{
    return open_regular_beneath(folder, relative, O_RDONLY | O_CLOEXEC | O_NOCTTY | O_NONBLOCK);
}
