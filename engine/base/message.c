#include "base/message.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "base/text.h"

enum { SHOWN_WHEN_PRINTED = 20 };

static char *copy_or_null(const char *text)
{
    return text ? memory_copy_text(text) : NULL;
}

__attribute__((format(printf, 5, 0)))
static void add_list(struct messages *messages, enum severity severity, struct place place,
                     const char *subject, const char *format, va_list arguments)
{
    assert(messages);
    if (severity == SEVERITY_ERROR)
        messages->errors++; /* counted even when dropped, so that errors == 0 means what it says */
    if (messages_full(messages)) {
        messages->dropped++;
        return;
    }
    messages->items = memory_grow(messages->items, &messages->capacity, messages->count,
                                  sizeof *messages->items);
    struct buffer text = BUFFER_EMPTY;
    buffer_print_list(&text, format, arguments);
    struct message *message = &messages->items[messages->count++];
    message->severity = severity;
    message->place = place;
    message->place.file = copy_or_null(place.file);
    message->subject = copy_or_null(subject);
    message->text = buffer_take(&text);
}

void messages_add(struct messages *messages, enum severity severity, struct place place,
                  const char *subject, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    add_list(messages, severity, place, subject, format, arguments);
    va_end(arguments);
}

void messages_error(struct messages *messages, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    add_list(messages, SEVERITY_ERROR, (struct place){NULL, 0, 0}, NULL, format, arguments);
    va_end(arguments);
}

bool messages_full(const struct messages *messages)
{
    return messages->limit > 0 && messages->count >= messages->limit;
}

/* One message's place in the order of rendering: by the first message of its group, then its own. */
struct rank {
    const char *subject;
    size_t group;
    size_t index;
};

static int compare_sizes(size_t a, size_t b)
{
    return (a > b) - (a < b);
}

static int by_subject(const void *left, const void *right)
{
    const struct rank *a = left, *b = right;
    int order = a->subject && b->subject ? strcmp(a->subject, b->subject)
                                         : (a->subject != NULL) - (b->subject != NULL);
    return order ? order : compare_sizes(a->index, b->index);
}

static int by_group(const void *left, const void *right)
{
    const struct rank *a = left, *b = right;
    int order = compare_sizes(a->group, b->group);
    return order ? order : compare_sizes(a->index, b->index);
}

static struct rank *rank_messages(const struct messages *messages)
{
    struct rank *ranks = memory_get_zeroed(messages->count, sizeof *ranks);
    for (size_t i = 0; i < messages->count; i++)
        ranks[i] = (struct rank){messages->items[i].subject, i, i};
    if (messages->count < 2)
        return ranks;

    /* Sorted by subject, each group stands together with its first message at its head. */
    qsort(ranks, messages->count, sizeof *ranks, by_subject);
    for (size_t i = 1; i < messages->count; i++)
        if (ranks[i].subject && text_equal(ranks[i].subject, ranks[i - 1].subject))
            ranks[i].group = ranks[i - 1].group;
    qsort(ranks, messages->count, sizeof *ranks, by_group);
    return ranks;
}

/* A newline in a file's name or a subject must not start what looks like another message. */
static void add_name(struct buffer *out, const char *name)
{
    for (;;) {
        size_t length = strcspn(name, "\n");
        text_add_safe_bytes(out, name, length);
        if (!name[length])
            return;
        buffer_add(out, "<U+000A>");
        name += length + 1;
    }
}

/* Further lines of a text are set in, for the same reason. */
static void add_sentence(struct buffer *out, const char *text)
{
    size_t length = strlen(text);
    while (length > 0 && text[length - 1] == '\n')
        length--;
    while (length > 0) {
        const char *newline = memchr(text, '\n', length);
        size_t line = newline ? (size_t)(newline - text) : length;
        text_add_safe_bytes(out, text, line);
        if (!newline)
            break;
        buffer_add(out, "\n  ");
        text += line + 1;
        length -= line + 1;
    }
    buffer_add_character(out, '\n');
}

static void render_one(const struct message *message, struct buffer *out)
{
    const struct place *place = &message->place;
    if (place->file) {
        add_name(out, place->file);
        if (place->line)
            buffer_print(out, ":%lu", place->line);
        if (place->line && place->column)
            buffer_print(out, ":%lu", place->column);
        buffer_add(out, ": ");
    }
    if (message->severity == SEVERITY_WARNING)
        buffer_add(out, "warning: ");
    if (message->subject) {
        add_name(out, message->subject);
        buffer_add(out, ": ");
    }
    add_sentence(out, message->text);
}

void messages_render(const struct messages *messages, size_t show, struct buffer *out)
{
    size_t shown = show && show < messages->count ? show : messages->count;
    struct rank *ranks = rank_messages(messages);
    for (size_t i = 0; i < shown; i++)
        render_one(&messages->items[ranks[i].index], out);
    free(ranks);
    size_t left = messages->count - shown + messages->dropped;
    if (left)
        buffer_print(out, "and %zu more\n", left);
}

static void add_lines_wrapped(struct buffer *out, const char *text, size_t columns)
{
    while (*text) {
        size_t length = strcspn(text, "\n");
        struct buffer line = BUFFER_EMPTY;
        buffer_add_bytes(&line, text, length);
        text_add_wrapped(out, buffer_text(&line), columns, 2, 0);
        buffer_add_character(out, '\n');
        buffer_free(&line);
        text += length + (text[length] == '\n');
    }
}

void messages_print(const struct messages *messages)
{
    messages_print_wrapped(messages, 0);
}

void messages_print_wrapped(const struct messages *messages, size_t columns)
{
    struct buffer text = BUFFER_EMPTY, wrapped = BUFFER_EMPTY;
    messages_render(messages, SHOWN_WHEN_PRINTED, &text);
    if (columns)
        add_lines_wrapped(&wrapped, buffer_text(&text), columns);
    fputs(buffer_text(columns ? &wrapped : &text), stderr);
    buffer_free(&text);
    buffer_free(&wrapped);
}

void messages_free(struct messages *messages)
{
    for (size_t i = 0; i < messages->count; i++) {
        free((void *)messages->items[i].place.file);
        free(messages->items[i].subject);
        free(messages->items[i].text);
    }
    free(messages->items);
    *messages = MESSAGES_EMPTY;
}
