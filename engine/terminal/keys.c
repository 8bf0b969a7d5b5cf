/* Telling pastes from keys. */
#include "terminal/keys.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "terminal/terminal.h"

#define BEGIN "\033[200~"
#define END "\033[201~"
enum { BRACKET = 6 };

/* Nobody types so much between two reads, but lines typed ahead while the program was busy come as a few bytes with
 * newlines, and held-down arrow keys as a row of escape sequences. */
enum {
    BURST_LEAST = 16,           /* bytes that may be a burst of text */
    BURST_PRINTABLE = 12,       /* of these so many are neither control characters nor newlines */
    BURST_WHATEVER = 256        /* bytes that are a burst whatever they are */
};

static void add_event(struct keys *keys, enum keys_kind kind, const char *bytes, size_t length)
{
    struct buffer copy = BUFFER_EMPTY;
    buffer_add_bytes(&copy, bytes, kind == KEYS_REFUSED ? 0 : length);
    keys->events = memory_grow(keys->events, &keys->capacity, keys->count, sizeof *keys->events);
    keys->events[keys->count++] = (struct keys_event){kind, buffer_take(&copy), length};
}

/* CR LF and CR become LF; gives the new length. */
static size_t mend_line_ends(char *text, size_t length)
{
    size_t to = 0;
    for (size_t from = 0; from < length; from++) {
        if (text[from] == '\r' && from + 1 < length && text[from + 1] == '\n')
            continue;
        text[to++] = text[from] == '\r' ? '\n' : text[from];
    }
    return to;
}

static void end_paste(struct keys *keys)
{
    size_t total = keys->dropped + keys->paste.length;
    if (total > TERMINAL_ENTRY_LIMIT)
        add_event(keys, KEYS_REFUSED, "", total);
    else if (total > 0)
        add_event(keys, KEYS_PASTED, keys->paste.text, mend_line_ends(keys->paste.text, keys->paste.length));
    buffer_clear(&keys->paste);
    keys->dropped = 0;
    keys->state = KEYS_SINGLE;
}

/* Keeps only what the end of the paste may have to be found in. */
static void keep_paste_small(struct keys *keys)
{
    if (keys->dropped + keys->paste.length <= TERMINAL_ENTRY_LIMIT || keys->paste.length <= BRACKET)
        return;
    size_t surplus = keys->paste.length - BRACKET;
    memmove(keys->paste.text, keys->paste.text + surplus, BRACKET);
    buffer_shorten(&keys->paste, BRACKET);
    keys->dropped += surplus;
}

/* Takes bytes of a bracketed paste; gives how many of them belong to it, its end included. */
static size_t take_bracketed(struct keys *keys, const char *bytes, size_t length)
{
    size_t before = keys->paste.length;
    buffer_add_bytes(&keys->paste, bytes, length);
    size_t start = before >= BRACKET ? before - BRACKET + 1 : 0;
    char *end = memmem(keys->paste.text + start, keys->paste.length - start, END, BRACKET);
    if (!end) {
        keep_paste_small(keys);
        return length;
    }
    size_t content = (size_t)(end - keys->paste.text);
    buffer_shorten(&keys->paste, content);
    end_paste(keys);
    return content + BRACKET - before;
}

static bool is_burst(const char *bytes, size_t length)
{
    size_t printable = 0;
    for (size_t i = 0; i < length; i++) {
        unsigned char byte = (unsigned char)bytes[i];
        if ((byte < 0x20 && byte != '\n' && byte != '\r' && byte != '\t') || byte == 0x7f)
            return length >= BURST_WHATEVER;
        printable += byte >= 0x20;
    }
    return length >= BURST_LEAST && printable >= BURST_PRINTABLE;
}

static void take_single(struct keys *keys, const char *bytes, size_t length)
{
    if (length == 0)
        return;
    if (is_burst(bytes, length)) {
        keys->state = KEYS_BURST;
        buffer_add_bytes(&keys->paste, bytes, length);
        keep_paste_small(keys);
    } else {
        add_event(keys, KEYS_TYPED, bytes, length);
    }
}

/* How many bytes at the end of text may be the start of a bracket. */
static size_t bracket_start(const char *bytes, size_t length)
{
    for (size_t part = length < BRACKET ? length : BRACKET - 1; part > 0; part--)
        if (memcmp(bytes + length - part, BEGIN, part) == 0)
            return part;
    return 0;
}

static void take(struct keys *keys, const char *bytes, size_t length)
{
    while (length > 0) {
        if (keys->state == KEYS_BRACKETED) {
            size_t taken = take_bracketed(keys, bytes, length);
            bytes += taken;
            length -= taken;
            continue;
        }
        const char *begin = memmem(bytes, length, BEGIN, BRACKET);
        size_t before = begin ? (size_t)(begin - bytes) : length - bracket_start(bytes, length);
        take_single(keys, bytes, before);
        if (!begin) {
            buffer_add_bytes(&keys->held, bytes + before, length - before);
            return;
        }
        keys_silence(keys); /* a burst cannot go on behind a bracketed paste */
        keys->state = KEYS_BRACKETED;
        bytes = begin + BRACKET;
        length -= before + BRACKET;
    }
}

void keys_feed(struct keys *keys, const char *bytes, size_t length)
{
    if (keys->state == KEYS_BURST) {
        buffer_add_bytes(&keys->paste, bytes, length);
        keep_paste_small(keys);
    } else if (keys->held.length > 0) {
        struct buffer joined = keys->held;
        keys->held = BUFFER_EMPTY;
        buffer_add_bytes(&joined, bytes, length);
        take(keys, joined.text, joined.length);
        buffer_free(&joined);
    } else {
        take(keys, bytes, length);
    }
}

bool keys_wait_for_silence(const struct keys *keys)
{
    return keys->state == KEYS_BURST || keys->held.length > 0;
}

/* One line with Enter behind it is a line typed fast, or pasted with its end, as every terminal takes it; only a
 * newline before the end tells a text of several lines. */
static void end_burst(struct keys *keys)
{
    struct buffer *paste = &keys->paste;
    char last = paste->length > 0 ? paste->text[paste->length - 1] : '\0';
    bool entered = last == '\r' || last == '\n';
    size_t inner = strcspn(buffer_text(paste), "\r\n");
    if (!entered || inner + 1 < paste->length || keys->dropped > 0) {
        end_paste(keys);
        return;
    }
    buffer_shorten(paste, paste->length - 1);
    end_paste(keys);
    add_event(keys, KEYS_TYPED, &last, 1);
}

void keys_silence(struct keys *keys)
{
    if (keys->state == KEYS_BURST)
        end_burst(keys);
    if (keys->held.length > 0) {
        add_event(keys, KEYS_TYPED, keys->held.text, keys->held.length);
        buffer_clear(&keys->held);
    }
}

struct keys_event *keys_first(struct keys *keys)
{
    return keys->count > 0 ? &keys->events[0] : NULL;
}

void keys_drop(struct keys *keys)
{
    free(keys->events[0].bytes);
    memmove(keys->events, keys->events + 1, --keys->count * sizeof *keys->events);
}

void keys_forget(struct keys *keys)
{
    while (keys->count > 0)
        keys_drop(keys);
    buffer_clear(&keys->paste);
    buffer_clear(&keys->held);
    keys->dropped = 0;
    keys->state = KEYS_SINGLE;
}

void keys_free(struct keys *keys)
{
    keys_forget(keys);
    free(keys->events);
    buffer_free(&keys->paste);
    buffer_free(&keys->held);
    *keys = KEYS_EMPTY;
}
