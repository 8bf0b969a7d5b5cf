#include "disk.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/types.h>
#include <unistd.h>

static struct { long calls, fail_at; int code; bool hit; } disk;

void disk_fail(long at, int code)
{
    disk.calls = 0;
    disk.fail_at = at;
    disk.code = code;
    disk.hit = false;
}

bool disk_failed(void)
{
    return disk.hit;
}

static bool fails(void)
{
    if (!disk.fail_at || ++disk.calls != disk.fail_at)
        return false;
    disk.hit = true;
    if (!disk.code)
        raise(SIGKILL);
    errno = disk.code;
    return true;
}

/* ---- In place of the C library's ------------------------------------------------------------------- */

/* The half comes first: a process that is killed has written it too. */
ssize_t write(int descriptor, const void *bytes, size_t length)
{
    if (disk.fail_at && disk.calls + 1 == disk.fail_at)
        syscall(SYS_write, descriptor, bytes, length / 2);
    return fails() ? -1 : syscall(SYS_write, descriptor, bytes, length);
}

int fsync(int descriptor)
{
    return fails() ? -1 : (int)syscall(SYS_fsync, descriptor);
}

int fchmod(int descriptor, mode_t mode)
{
    return fails() ? -1 : (int)syscall(SYS_fchmod, descriptor, mode);
}

int rename(const char *from, const char *to)
{
    return fails() ? -1 : (int)syscall(SYS_renameat2, AT_FDCWD, from, AT_FDCWD, to, 0);
}

int renameat2(int from_folder, const char *from, int to_folder, const char *to, unsigned flags)
{
    return fails() ? -1 : (int)syscall(SYS_renameat2, from_folder, from, to_folder, to, flags);
}

int mkostemp(char *name, int flags)
{
    return fails() ? -1 : mkostemps(name, 0, flags);
}
