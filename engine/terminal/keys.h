/* What comes from the keyboard, told apart into keys and pastes before line editing sees it. Line editing takes a
 * paste key by key and draws after each: quadratic, and a newline in it would enter the line. So a bracketed paste
 * (ESC [ 200 ~ … ESC [ 201 ~) and an unbracketed burst of text are taken out here and inserted as one. Pure: bytes in,
 * events out. Private to this room. */
#ifndef OWNMARK_TERMINAL_KEYS_H
#define OWNMARK_TERMINAL_KEYS_H

#include <stdbool.h>
#include <stddef.h>
#include "base/buffer.h"

enum keys_kind {
    KEYS_TYPED,     /* bytes to be obeyed */
    KEYS_PASTED,    /* text; every line end in it is one newline */
    KEYS_REFUSED    /* a paste over the limit: length says how long it was, bytes is "" */
};

struct keys_event {
    enum keys_kind kind;
    char *bytes;        /* NUL-terminated; freed by the next keys_drop */
    size_t length;
};

struct keys {
    struct keys_event *events;
    size_t count, capacity;
    enum { KEYS_SINGLE, KEYS_BRACKETED, KEYS_BURST } state;
    struct buffer paste;    /* collected so far, or its end when it grew beyond the limit */
    size_t dropped;         /* bytes of the paste no longer in `paste` */
    struct buffer held;     /* what may be the start of a bracket */
};

#define KEYS_EMPTY ((struct keys){NULL, 0, 0, KEYS_SINGLE, {NULL, 0, 0}, 0, {NULL, 0, 0}})

/* What one read() gave. */
void keys_feed(struct keys *keys, const char *bytes, size_t length);

/* Is something unfinished that silence would decide? Then keys_silence is to be called once nothing came for
 * KEYS_SILENCE milliseconds: a burst is over, a lone ESC is a key. */
#define KEYS_SILENCE 80
bool keys_wait_for_silence(const struct keys *keys);
void keys_silence(struct keys *keys);

/* The event to be dealt with first, NULL when there is none; keys_drop removes it. */
struct keys_event *keys_first(struct keys *keys);
void keys_drop(struct keys *keys);

void keys_forget(struct keys *keys);   /* everything, an unfinished paste too */
void keys_free(struct keys *keys);

#endif
