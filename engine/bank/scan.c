#include "bank/scan.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "bank/bank.h"
#include "base/memory.h"

void scan_begin(struct scan *scan, const struct source *source)
{
    *scan = (struct scan){.bytes = source->bytes, .length = source->length, .line = source->line};
}

void scan_end(struct scan *scan)
{
    free(scan->tags);
    scan->tags = NULL;
}

/* Lines are counted in what is passed over; the caller moves `at`. */
static void count_lines(struct scan *scan, size_t to)
{
    const char *from = scan->bytes + scan->at, *end = scan->bytes + to, *newline;
    for (; (newline = memchr(from, '\n', (size_t)(end - from))) != NULL; from = newline + 1) {
        scan->line++;
        scan->line_start = (size_t)(newline + 1 - scan->bytes);
    }
}

static void pass_to(struct scan *scan, size_t to)
{
    assert(to >= scan->at && to <= scan->length);
    count_lines(scan, to);
    scan->at = to;
}

/* To the byte after the next `ending`, or to the end of the bytes. */
static size_t after(const struct scan *scan, size_t from, const char *ending)
{
    if (from >= scan->length)
        return scan->length;
    const char *found = memmem(scan->bytes + from, scan->length - from, ending, strlen(ending));
    return found ? (size_t)(found - scan->bytes) + strlen(ending) : scan->length;
}

static bool stands_here(const struct scan *scan, const char *text)
{
    size_t length = strlen(text);
    return scan->length - scan->at >= length && memcmp(scan->bytes + scan->at, text, length) == 0;
}

/* A comment, a processing instruction or CDATA: passed whole. */
static void pass_whole(struct scan *scan, size_t to, bool is_text)
{
    if (is_text)
        scan->text_length += to - scan->at;
    if ((is_text ? scan->text_length : to - scan->at) > BANK_TEXT_LIMIT) {
        scan->fault = is_text ? SCAN_TEXT_LENGTH : SCAN_COMMENT_LENGTH;
        return;
    }
    pass_to(scan, to);
}

static void pass_declaration(struct scan *scan)
{
    if (stands_here(scan, "<!--"))
        pass_whole(scan, after(scan, scan->at + 4, "-->"), false);
    else if (stands_here(scan, "<![CDATA["))
        pass_whole(scan, after(scan, scan->at + 9, "]]>"), true);
    else if (stands_here(scan, "<!DOCTYPE"))
        scan->fault = SCAN_DOCTYPE;
    else
        pass_whole(scan, after(scan, scan->at + 2, ">"), false);
}

static void keep_tag(struct scan *scan, size_t end, bool is_end)
{
    if (scan->first == scan->count)
        scan->first = scan->count = 0;
    scan->tags = memory_grow(scan->tags, &scan->capacity, scan->count, sizeof *scan->tags);
    scan->tags[scan->count++] = (struct tag){scan->at, end, scan->line_start, scan->line, is_end};
}

/* The end of a start tag; quotes hide '>' and each pair of them is an attribute. */
static size_t start_tag_end(struct scan *scan)
{
    size_t limit = scan->length - scan->at > BANK_TAG_LIMIT ? scan->at + BANK_TAG_LIMIT : scan->length;
    int attributes = 0;
    size_t at = scan->at + 1;
    for (; at < limit && scan->bytes[at] != '>'; at++) {
        char quote = scan->bytes[at];
        if (quote != '"' && quote != '\'')
            continue;
        const char *close = memchr(scan->bytes + at + 1, quote, limit - at - 1);
        at = close ? (size_t)(close - scan->bytes) : limit - 1;
        if (++attributes > BANK_ATTRIBUTE_LIMIT) {
            scan->fault = SCAN_ATTRIBUTES;
            return at;
        }
    }
    if (at == limit && limit < scan->length)
        scan->fault = SCAN_TAG_LENGTH;
    return at < scan->length ? at + 1 : scan->length;
}

static void pass_start_tag(struct scan *scan)
{
    size_t end = start_tag_end(scan);
    bool closed = end >= 2 && scan->bytes[end - 1] == '>' && scan->bytes[end - 2] == '/';
    if (!scan->fault && scan->depth + 1 > BANK_DEPTH_LIMIT)
        scan->fault = SCAN_DEPTH;
    if (scan->fault)
        return;
    keep_tag(scan, end, false);
    if (closed)
        keep_tag(scan, end, true);
    else
        scan->depth++;
    scan->text_length = 0;
    pass_to(scan, end);
}

static void pass_end_tag(struct scan *scan)
{
    size_t end = after(scan, scan->at + 2, ">");
    if (end - scan->at > BANK_TAG_LIMIT) {
        scan->fault = SCAN_TAG_LENGTH;
        return;
    }
    keep_tag(scan, end, true);
    scan->depth -= scan->depth > 0;
    scan->text_length = 0;
    pass_to(scan, end);
}

static void pass_markup(struct scan *scan)
{
    switch (scan->at + 1 < scan->length ? scan->bytes[scan->at + 1] : '\0') {
    case '!': pass_declaration(scan); break;
    case '?': pass_whole(scan, after(scan, scan->at + 2, "?>"), false); break;
    case '/': pass_end_tag(scan); break;
    default:  pass_start_tag(scan); break;
    }
}

static void pass_text(struct scan *scan)
{
    const char *here = scan->bytes + scan->at;
    const char *tag = memchr(here, '<', scan->length - scan->at);
    size_t length = tag ? (size_t)(tag - here) : scan->length - scan->at;
    scan->text_length += length;
    if (scan->text_length > BANK_TEXT_LIMIT)
        scan->fault = SCAN_TEXT_LENGTH;
    else
        pass_to(scan, scan->at + length);
}

void scan_until(struct scan *scan, size_t target)
{
    while (!scan->fault && scan->at < scan->length && scan->at < target) {
        if (scan->bytes[scan->at] == '<')
            pass_markup(scan);
        else
            pass_text(scan);
    }
}

const struct tag *scan_take(struct scan *scan)
{
    return scan->first < scan->count ? &scan->tags[scan->first++] : NULL;
}

const char *scan_fault_text(enum scan_fault fault)
{
    switch (fault) {
    case SCAN_GOOD:
        break;
    case SCAN_DOCTYPE:
        return "a DOCTYPE is not allowed; take it out and write out what its entities stand for";
    case SCAN_DEPTH:
        return "elements are nested more than 64 deep here; take some out";
    case SCAN_ATTRIBUTES:
        return "this tag has more than 64 attributes; take some out";
    case SCAN_TAG_LENGTH:
        return "this tag is longer than 65536 bytes; shorten it, or look for a missing quotation mark or '>'";
    case SCAN_TEXT_LENGTH:
        return "this text is longer than 1048576 bytes; divide it into paragraphs";
    case SCAN_COMMENT_LENGTH:
        return "this comment is longer than 1048576 bytes; shorten it, or look for its missing end";
    }
    assert(false && "a fault that has a sentence");
    return "";
}
