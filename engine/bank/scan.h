/* A small reader of tags that runs ahead of the XML parser over the same bytes. It knows nothing but where tags,
 * comments, CDATA and processing instructions begin and end, and it does so in linear time. Two reasons:
 *
 * - The parser is quadratic in the attributes of a tag (100,000 of them: a minute) and recursive data are its weak
 *   side, so that limits must be kept before it sees a tag.
 * - A parser that is fed in pieces does not know the byte offset of a tag, and its line is that of the tag's end.
 *
 * The scanner is no judge of XML: whatever is not well-formed passes, for the parser to tell. For this room only. */
#ifndef OWNMARK_BANK_SCAN_H
#define OWNMARK_BANK_SCAN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "bank/source.h"

/* A tag: start tag, end tag, or both in one. */
struct tag {
    size_t start, end;          /* offsets of its '<' and of the byte after its '>' */
    size_t line_start;          /* offset of the first byte of its line */
    unsigned long line;
    bool is_end;                /* </x> */
};

enum scan_fault {
    SCAN_GOOD,
    SCAN_DOCTYPE,
    SCAN_DEPTH,
    SCAN_ATTRIBUTES,
    SCAN_TAG_LENGTH,
    SCAN_TEXT_LENGTH,
    SCAN_COMMENT_LENGTH
};

struct scan {
    const char *bytes;
    size_t length;
    size_t at;                  /* everything before it was scanned */
    unsigned long line;
    size_t line_start;
    size_t text_length;         /* of the text since the last tag, comments left out */
    int depth;
    enum scan_fault fault;      /* then `at` is the start of what is too much */
    struct tag *tags;           /* a queue: those from `first` on were not taken yet */
    size_t first, count, capacity;
};

void scan_begin(struct scan *scan, const struct source *source);
void scan_end(struct scan *scan);

/* Scans on until at least `target` is passed, the bytes end, or a limit is. */
void scan_until(struct scan *scan, size_t target);

/* The next tag not yet taken, NULL when there is none; valid until the next scan_until. */
const struct tag *scan_take(struct scan *scan);

/* What the fault means and how to mend it, a sentence for a message. */
const char *scan_fault_text(enum scan_fault fault);

#endif
