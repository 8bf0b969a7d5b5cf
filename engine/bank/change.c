#include "bank/change.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "bank/bank.h"
#include "bank/check.h"
#include "bank/reader.h"
#include "bank/scan.h"
#include "bank/source.h"
#include "base/buffer.h"
#include "base/files.h"
#include "base/memory.h"

enum { NEW_BANK_MODE = 0644 };

/* Where a change goes in the bytes as they were. */
struct splice {
    size_t offset, length;
    const char *text;
};

/* ---- Where the questions are ---------------------------------------------------------------------- */

struct finding {
    const struct bank_change *changes;
    size_t count;
    struct splice *splices;
};

static void find_replaced(void *context, const struct question *question, const struct element_bytes *at)
{
    struct finding *finding = context;
    for (size_t i = 0; i < finding->count; i++)
        if (finding->changes[i].replaces && strcmp(finding->changes[i].replaces, question->id) == 0)
            finding->splices[i] = (struct splice){at->offset, at->length, finding->changes[i].xml};
}

static bool find_places(const struct source *source, const char *path, struct finding *finding, struct messages *messages)
{
    char *folder = path_folder_of(path);
    struct reading reading = {
        .source = source, .root = READ_BANK, .sense = sense_new(path, folder), .check_questions = true,
        .course_arena = arena_new(), .question_arena = arena_new(), .messages = messages, .context = finding,
        .on_question = find_replaced,
    };
    bool sound = reader_read(&reading);
    for (size_t i = 0; sound && i < finding->count; i++) {
        if (!finding->changes[i].replaces || finding->splices[i].length)
            continue;
        messages_error(messages, "%s has no question '%s' any more; nothing was written", path, finding->changes[i].replaces);
        sound = false;
    }
    sense_free(reading.sense);
    arena_free(reading.course_arena);
    arena_free(reading.question_arena);
    free(folder);
    return sound;
}

/* The end tag of the bank: the last one there is. */
static size_t end_of_questions(const struct source *source)
{
    struct scan scan;
    size_t end = source->length;
    scan_begin(&scan, source);
    scan_until(&scan, source->length);
    for (const struct tag *tag; (tag = scan_take(&scan)) != NULL;)
        if (tag->is_end)
            end = tag->start;
    scan_end(&scan);
    return end;
}

/* ---- Putting in ----------------------------------------------------------------------------------- */

/* New lines end as the file's do. */
static void add_lines(struct buffer *out, const char *text, size_t length, bool crlf)
{
    for (size_t i = 0; i < length; i++) {
        if (crlf && text[i] == '\n')
            buffer_add_character(out, '\r');
        buffer_add_character(out, text[i]);
    }
}

/* The written question begins with its indent and ends with a newline; in the place of another both are there already. */
static void add_in_place(struct buffer *out, const char *xml, bool crlf)
{
    size_t blanks = strspn(xml, " "), length = strlen(xml);
    while (length > blanks && xml[length - 1] == '\n')
        length--;
    add_lines(out, xml + blanks, length - blanks, crlf);
}

static int by_offset(const void *a, const void *b)
{
    const struct splice *x = a, *y = b;
    return (x->offset > y->offset) - (x->offset < y->offset);
}

static void add_new_ones(struct buffer *out, const struct finding *finding, const char *bytes, size_t end, bool crlf)
{
    bool at_line_start = end > 0 && bytes[end - 1] == '\n';
    for (size_t i = 0; i < finding->count; i++) {
        if (finding->changes[i].replaces)
            continue;
        add_lines(out, at_line_start ? "\n" : "\n\n", at_line_start ? 1 : 2, crlf);
        add_lines(out, finding->changes[i].xml, strlen(finding->changes[i].xml), crlf);
        at_line_start = true;
    }
}

static void splice_all(const struct source *source, struct finding *finding, struct buffer *out)
{
    const char *newline = memchr(source->bytes, '\n', source->length);
    bool crlf = newline && newline > source->bytes && newline[-1] == '\r';
    size_t at = 0, end = end_of_questions(source), indent = end;
    while (indent > 0 && (source->bytes[indent - 1] == ' ' || source->bytes[indent - 1] == '\t'))
        indent--;
    struct splice *sorted = memory_get_zeroed(finding->count + 1, sizeof *sorted);
    size_t count = 0;
    for (size_t i = 0; i < finding->count; i++)
        if (finding->changes[i].replaces)
            sorted[count++] = finding->splices[i];
    qsort(sorted, count, sizeof *sorted, by_offset);
    for (size_t i = 0; i < count; i++) {
        buffer_add_bytes(out, source->bytes + at, sorted[i].offset - at);
        add_in_place(out, sorted[i].text, crlf);
        at = sorted[i].offset + sorted[i].length;
    }
    buffer_add_bytes(out, source->bytes + at, indent - at);
    add_new_ones(out, finding, source->bytes, indent, crlf);
    buffer_add_bytes(out, source->bytes + indent, source->length - indent);
    free(sorted);
}

/* ---- Writing -------------------------------------------------------------------------------------- */

/* A bank may be reached through a link: the file it leads to is what changes. */
static bool write_over(const char *path, const char *bytes, size_t length, struct messages *messages)
{
    struct stat state;
    char *real = realpath(path, NULL);
    unsigned mode = real && stat(real, &state) == 0 ? state.st_mode & 0777 : NEW_BANK_MODE;
    bool locked = !(mode & 0222);
    if (locked)
        messages_error(messages, "'%s' is read-only: make it writable, or work on a copy", path);
    bool written = !locked && file_write(real ? real : path, bytes, length, mode, true, messages);
    free(real);
    return written;
}

bool bank_put(const char *path, const char *bytes, size_t length, struct messages *messages)
{
    return bank_check_bytes(path, bytes, length, messages).sound && write_over(path, bytes, length, messages);
}

void bank_new_text(struct buffer *out, const char *id, const char *course, const char *const *questions, size_t count)
{
    buffer_print(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<bank xmlns=\"urn:ownmark:bank:1\" id=\"%s\">\n%s", id, course);
    for (size_t i = 0; i < count; i++)
        buffer_print(out, "\n%s", questions[i]);
    buffer_add(out, "</bank>\n");
}

bool bank_create(const char *path, const char *bytes, size_t length, struct messages *messages)
{
    return bank_check_bytes(path, bytes, length, messages).sound &&
           file_write(path, bytes, length, NEW_BANK_MODE, false, messages);
}

bool bank_change(const char *path, const struct bank_change *changes, size_t count, struct messages *messages)
{
    struct source source;
    struct buffer out = BUFFER_EMPTY;
    struct finding finding = {changes, count, memory_get_zeroed(count + 1, sizeof(struct splice))};
    bool changed = source_load(&source, path, messages) && find_places(&source, path, &finding, messages);
    if (changed) {
        splice_all(&source, &finding, &out);
        changed = bank_put(path, buffer_text(&out), out.length, messages);
    }
    source_free(&source);
    buffer_free(&out);
    free(finding.splices);
    return changed;
}
