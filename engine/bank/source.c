#include "bank/source.h"

#include <errno.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/mman.h>
#include <unistd.h>

#include "bank/bank.h"
#include "base/memory.h"
#include "base/text.h"

/* ---- Places ---- */

static unsigned long characters_between(const char *from, const char *to)
{
    unsigned long count = 0;
    for (; from < to; from++)
        count += ((unsigned char)*from & 0xC0) != 0x80;
    return count;
}

struct place source_place_in_line(const struct source *source, unsigned long line, size_t line_start, size_t offset)
{
    unsigned long before = line_start == 0 ? source->column - 1 : 0;
    return (struct place){source->name, line,
                          before + 1 + characters_between(source->bytes + line_start, source->bytes + offset)};
}

struct place source_place(const struct source *source, size_t offset)
{
    const char *end = source->bytes + (offset < source->length ? offset : source->length);
    const char *start = source->bytes, *newline;
    unsigned long line = source->line;
    for (; (newline = memchr(start, '\n', (size_t)(end - start))) != NULL; start = newline + 1)
        line++;
    return source_place_in_line(source, line, (size_t)(start - source->bytes), (size_t)(end - source->bytes));
}

__attribute__((format(printf, 4, 5)))
static bool refuse(const struct source *source, size_t offset, struct messages *messages, const char *format, ...)
{
    struct buffer text = BUFFER_EMPTY;
    va_list arguments;
    va_start(arguments, format);
    buffer_print_list(&text, format, arguments);
    va_end(arguments);
    struct place place = source->bytes ? source_place(source, offset) : (struct place){source->name, 0, 0};
    messages_add(messages, SEVERITY_ERROR, place, source->subject, "%s", buffer_text(&text));
    buffer_free(&text);
    return false;
}

/* ---- What stands at the head ---- */

struct foreign_start {
    const char *bytes;
    size_t length;
    const char *what;
};

static const struct foreign_start foreign_starts[] = {
    {"\xFE\xFF", 2, "UTF-16 text: save it as UTF-8"},
    {"\xFF\xFE", 2, "UTF-16 text: save it as UTF-8"},
    {"<\0", 2, "UTF-16 text: save it as UTF-8"},
    {"\0<", 2, "UTF-16 text: save it as UTF-8"},
    {"\x1F\x8B", 2, "a compressed file (gzip): unpack it first"},
    {"PK\x03\x04", 4, "a ZIP archive or an office document: name an XML file"},
    {"\x7F" "ELF", 4, "a program: name an XML file"},
    {"SQLite format 3", 15, "a database: name an XML file"},
    {"%PDF", 4, "a PDF document: name an XML file"},
};

static bool starts_as_text(const struct source *source, struct messages *messages)
{
    if (source->length == 0)
        return refuse(source, 0, messages, "the file is empty; a bank begins with "
                      "<bank xmlns=\"urn:ownmark:bank:1\" id=\"…\">");
    for (size_t i = 0; i < sizeof foreign_starts / sizeof *foreign_starts; i++) {
        const struct foreign_start *start = &foreign_starts[i];
        if (source->length >= start->length && memcmp(source->bytes, start->bytes, start->length) == 0)
            return refuse(source, 0, messages, "this is no bank but %s", start->what);
    }
    return true;
}

static const char *find_bytes(const char *from, const char *to, const char *wanted)
{
    return memmem(from, (size_t)(to - from), wanted, strlen(wanted));
}

/* The quoted value of a pseudo-attribute of the XML declaration; NULL when it is not there. */
static const char *declared(const char *from, const char *to, const char *name, size_t *length)
{
    const char *at = find_bytes(from, to, name);
    if (!at)
        return NULL;
    at += strlen(name);
    while (at < to && strchr(" \t\r\n=", *at))
        at++;
    if (at >= to || (*at != '"' && *at != '\''))
        return NULL;
    const char *end = memchr(at + 1, *at, (size_t)(to - at - 1));
    *length = end ? (size_t)(end - at - 1) : 0;
    return end ? at + 1 : NULL;
}

static bool declaration_is_ours(const struct source *source, struct messages *messages)
{
    const char *start = source->bytes, *limit = start + source->length;
    if (source->length >= 3 && memcmp(start, "\xEF\xBB\xBF", 3) == 0)
        start += 3;
    if (limit - start < 6 || memcmp(start, "<?xml", 5) != 0 || !strchr(" \t\r\n", start[5]))
        return true;
    const char *end = find_bytes(start, limit, "?>");
    if (!end)
        return true;    /* the parser tells */
    size_t length;
    const char *version = declared(start, end, "version", &length);
    if (version && !(length == 3 && memcmp(version, "1.0", 3) == 0))
        return refuse(source, (size_t)(version - source->bytes), messages,
                      "the XML version is '%.*s'; wanted 1.0", (int)(length < 20 ? length : 20), version);
    const char *encoding = declared(start, end, "encoding", &length);
    if (encoding && !(length == 5 && strncasecmp(encoding, "UTF-8", 5) == 0))
        return refuse(source, (size_t)(encoding - source->bytes), messages,
                      "the encoding is '%.*s'; wanted UTF-8: save the file as UTF-8 and write encoding=\"UTF-8\"",
                      (int)(length < 40 ? length : 40), encoding);
    return true;
}

/* ---- UTF-8 ---- */

/* Bytes of the sequence at `at` (which is not ASCII), 0 when it is not UTF-8: Unicode 15, table 3-7. */
static size_t sequence_length(const unsigned char *at, size_t left)
{
    unsigned char first = at[0];
    size_t length = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
    if (first < 0xC2 || first > 0xF4 || left < length)
        return 0;
    unsigned char low = first == 0xE0 ? 0xA0 : first == 0xF0 ? 0x90 : 0x80;
    unsigned char high = first == 0xED ? 0x9F : first == 0xF4 ? 0x8F : 0xBF;
    if (at[1] < low || at[1] > high)
        return 0;
    for (size_t i = 2; i < length; i++)
        if ((at[i] & 0xC0) != 0x80)
            return 0;
    return length;
}

/* The offset of the first byte that is NUL or no UTF-8; length when there is none. Eight ASCII bytes are passed
 * at a time. */
static size_t first_bad_byte(const char *bytes, size_t length)
{
    const unsigned char *text = (const unsigned char *)bytes;
    const uint64_t ones = UINT64_C(0x0101010101010101), tops = UINT64_C(0x8080808080808080);
    size_t at = 0;
    while (at < length) {
        uint64_t eight;
        if (length - at >= sizeof eight) {
            memcpy(&eight, text + at, sizeof eight);
            if (((eight | (eight - ones)) & tops) == 0) {   /* no top bit, and no zero byte that borrowed */
                at += sizeof eight;
                continue;
            }
        }
        size_t step = text[at] == 0 ? 0 : text[at] < 0x80 ? 1 : sequence_length(text + at, length - at);
        if (step == 0)
            return at;
        at += step;
    }
    return length;
}

static bool bytes_are_text(const struct source *source, struct messages *messages)
{
    size_t bad = first_bad_byte(source->bytes, source->length);
    if (bad == source->length)
        return true;
    if (source->bytes[bad] == '\0')
        return refuse(source, bad, messages, "a NUL byte stands here; a bank is text: take it out or copy the file again");
    return refuse(source, bad, messages, "the byte 0x%02X is not valid UTF-8 here; save the file as UTF-8",
                  (unsigned char)source->bytes[bad]);
}

static bool is_fit(struct source *source, struct messages *messages)
{
    return starts_as_text(source, messages) && declaration_is_ours(source, messages) &&
           bytes_are_text(source, messages);
}

/* ---- Loading ---- */

/* Exactly as many bytes as the file had when it was opened; more or fewer: it is being written to. */
static bool read_exactly(int descriptor, char *bytes, size_t length)
{
    size_t done = 0;
    char extra;
    while (done < length) {
        ssize_t got = TEMP_FAILURE_RETRY(read(descriptor, bytes + done, length - done));
        if (got <= 0)
            return false;
        done += (size_t)got;
    }
    return TEMP_FAILURE_RETRY(read(descriptor, &extra, 1)) == 0;
}

/* A large bank is asked for in large pages, where the system has them: thousands of page faults less. */
static char *room_for(size_t size)
{
    const size_t large_page = (size_t)2 * 1024 * 1024;
    if (size < 2 * large_page)
        return memory_get(size);
    void *room;
    if (posix_memalign(&room, large_page, size) != 0)
        memory_exhausted();
    madvise(room, size, MADV_HUGEPAGE);     /* only a wish */
    return room;
}

bool source_load(struct source *source, const char *path, struct messages *messages)
{
    *source = (struct source){.name = path, .line = 1, .column = 1};
    int descriptor = file_open(path, BANK_FILE_LIMIT, &source->state, messages);
    if (descriptor < 0)
        return false;
    source->length = (size_t)source->state.size;
    source->owned = room_for(source->length + 1);
    source->owned[source->length] = '\0';
    errno = 0;
    bool whole = read_exactly(descriptor, source->owned, source->length);
    int reason = errno;
    close(descriptor);
    if (!whole) {
        messages_error(messages, "cannot read '%s': %s", path,
                       reason ? strerror(reason) : "its size changed while it was read; try again when nothing is "
                                                   "writing to it");
        return false;
    }
    source->bytes = source->owned;
    return is_fit(source, messages);
}

bool source_from_bytes(struct source *source, const char *name, const char *bytes, size_t length,
                       struct messages *messages)
{
    *source = (struct source){.name = name, .bytes = bytes, .length = length, .line = 1, .column = 1};
    return is_fit(source, messages);
}

void source_free(struct source *source)
{
    free(source->owned);
    source->owned = NULL;
    source->bytes = NULL;
}
