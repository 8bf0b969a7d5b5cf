/* Reading and writing files safely. Each failure adds one message that names the path and the remedy; one of the system while
 * writing is marked as such (messages.unwritten). */
#ifndef OWNMARK_BASE_FILES_H
#define OWNMARK_BASE_FILES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "base/buffer.h"
#include "base/message.h"

/* What identifies a file's state without reading it. */
struct file_state {
    uint64_t device, inode, size;
    int64_t modified_seconds, modified_nanoseconds;
    int64_t changed_seconds, changed_nanoseconds;
};

/* Opens for reading: regular files only (no FIFO, device, directory), never blocks, close-on-exec,
 * refuses more than `limit` bytes. Returns the descriptor or -1 with a message. */
int file_open(const char *path, size_t limit, struct file_state *state, struct messages *messages);

/* The whole file into out; refused when it grows or shrinks while being read. */
bool file_read(const char *path, size_t limit, struct buffer *out, struct messages *messages);

/* Writes a temporary file beside path (mode), fsyncs, renames over path, fsyncs the directory: a reader
 * sees the old or the new content, whole. If replace is false an existing path is refused. */
bool file_write(const char *path, const char *bytes, size_t length, unsigned mode, bool replace,
                struct messages *messages);

/* Creates the directory and its parents with mode 0700 where missing. */
bool directory_make(const char *path, struct messages *messages);

/* Where the user's files live (XDG base directories; relative values are ignored). The result, e.g.
 * "~/.local/share/ownmark/record.db" for ("record.db"), is freed by the caller; NULL and a message when
 * HOME is unset, empty or relative and the XDG variable gives nothing. */
char *path_in_data(const char *name, struct messages *messages);
char *path_in_cache(const char *name, struct messages *messages);
char *path_in_state(const char *name, struct messages *messages);

char *path_folder_of(const char *path);                        /* "." when there is none; caller frees */
char *path_join(const char *folder, const char *name);         /* caller frees */

/* Is `relative` a regular file that lies inside `folder`, with no step out of it through "..", an absolute
 * path or a symbolic link (openat2 RESOLVE_BENEATH|RESOLVE_NO_SYMLINKS)? */
bool path_is_file_beneath(const char *folder, const char *relative);

/* Opens it for reading under the same rule; -1 if not. */
int path_open_beneath(const char *folder, const char *relative);

#endif
