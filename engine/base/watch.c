#include "base/watch.h"

#include <errno.h>
#include <limits.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/inotify.h>
#include <unistd.h>

#include "base/files.h"
#include "base/memory.h"

/* An editor may write in several steps: what follows this closely belongs to the same save. */
enum { SETTLE_MILLISECONDS = 60 };

struct watch {
    int descriptor;
    char *name;         /* without its folder */
    sigset_t waiting;   /* signals held back while waiting: all as they were before */
    struct sigaction before;
};

static void notice(int number)
{
    (void)number;
}

/* An interrupt is held back until we wait, where it ends the waiting: none is lost in between. */
static void hold_interrupts(struct watch *watch)
{
    const struct sigaction action = {.sa_handler = notice};
    sigset_t interrupt;
    sigemptyset(&interrupt);
    sigaddset(&interrupt, SIGINT);
    sigprocmask(SIG_BLOCK, &interrupt, &watch->waiting);
    sigaction(SIGINT, &action, &watch->before);
}

struct watch *watch_new(const char *path, struct messages *messages)
{
    const char *slash = strrchr(path, '/');
    char *folder = path_folder_of(path);
    struct watch *watch = memory_get_zeroed(1, sizeof *watch);
    watch->name = memory_copy_text(slash ? slash + 1 : path);
    hold_interrupts(watch);
    watch->descriptor = inotify_init1(IN_CLOEXEC | IN_NONBLOCK);
    if (watch->descriptor < 0 || inotify_add_watch(watch->descriptor, folder, IN_CLOSE_WRITE | IN_MOVED_TO) < 0) {
        messages_error(messages, "'%s' cannot be watched: %s; check it by hand after each save", folder, strerror(errno));
        watch_free(watch);
        watch = NULL;
    }
    free(folder);
    return watch;
}

void watch_free(struct watch *watch)
{
    if (!watch)
        return;
    if (watch->descriptor >= 0)
        close(watch->descriptor);
    sigaction(SIGINT, &watch->before, NULL);
    sigprocmask(SIG_SETMASK, &watch->waiting, NULL);
    free(watch->name);
    free(watch);
}

/* Takes all that has happened; was our file in it? False when the folder is gone, or nothing can be read any more. */
static bool take_changes(const struct watch *watch, bool *ours)
{
    _Alignas(struct inotify_event) char bytes[8 * (sizeof(struct inotify_event) + NAME_MAX + 1)];
    for (;;) {
        ssize_t length = read(watch->descriptor, bytes, sizeof bytes);
        if (length <= 0)
            return length < 0 && (errno == EAGAIN || errno == EINTR);
        for (ssize_t at = 0; at < length;) {
            struct inotify_event event;
            memcpy(&event, bytes + at, sizeof event);
            if (event.mask & IN_IGNORED)
                return false;
            *ours = *ours || (event.len && strcmp(bytes + at + sizeof event, watch->name) == 0) ||
                    (event.mask & IN_Q_OVERFLOW);
            at += (ssize_t)(sizeof event + event.len);
        }
    }
}

bool watch_wait(struct watch *watch)
{
    struct pollfd wait = {.fd = watch->descriptor, .events = POLLIN};
    bool saved = false;
    for (;;) {
        const struct timespec settle = {.tv_nsec = SETTLE_MILLISECONDS * 1000000L};
        int ready = ppoll(&wait, 1, saved ? &settle : NULL, &watch->waiting);
        if (ready == 0)
            return true;
        if (ready < 0 || !take_changes(watch, &saved))
            return false;
    }
}
