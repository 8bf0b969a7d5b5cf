#include "base/buffer.h"

#include <assert.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

enum { FIRST_CAPACITY = 64 };

/* Afterwards `more` bytes and the final NUL fit behind buffer->length. */
static void make_room(struct buffer *buffer, size_t more)
{
    if (more > SIZE_MAX / 2 - 1 - buffer->length)
        memory_exhausted();
    size_t needed = buffer->length + more + 1;
    if (needed <= buffer->capacity)
        return;
    size_t capacity = buffer->capacity ? buffer->capacity : FIRST_CAPACITY;
    while (capacity < needed)
        capacity *= 2;
    buffer->text = memory_resize(buffer->text, capacity);
    buffer->capacity = capacity;
}

void buffer_add_bytes(struct buffer *buffer, const char *bytes, size_t length)
{
    make_room(buffer, length);
    if (length)
        memcpy(buffer->text + buffer->length, bytes, length);
    buffer->length += length;
    buffer->text[buffer->length] = '\0';
}

void buffer_add(struct buffer *buffer, const char *text)
{
    assert(text);
    buffer_add_bytes(buffer, text, strlen(text));
}

void buffer_add_character(struct buffer *buffer, char character)
{
    buffer_add_bytes(buffer, &character, 1);
}

void buffer_add_repeated(struct buffer *buffer, const char *text, size_t times)
{
    size_t length = strlen(text);
    if (length && times > SIZE_MAX / length)
        memory_exhausted();
    make_room(buffer, length * times);
    while (times-- > 0)
        buffer_add_bytes(buffer, text, length);
}

void buffer_print(struct buffer *buffer, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    buffer_print_list(buffer, format, arguments);
    va_end(arguments);
}

void buffer_print_list(struct buffer *buffer, const char *format, va_list arguments)
{
    va_list again;
    va_copy(again, arguments);
    int length = vsnprintf(NULL, 0, format, arguments);
    assert(length >= 0);
    make_room(buffer, (size_t)length);
    vsnprintf(buffer->text + buffer->length, (size_t)length + 1, format, again);
    va_end(again);
    buffer->length += (size_t)length;
}

void buffer_shorten(struct buffer *buffer, size_t length)
{
    assert(length <= buffer->length);
    buffer->length = length;
    if (buffer->text)
        buffer->text[length] = '\0';
}

void buffer_clear(struct buffer *buffer)
{
    buffer_shorten(buffer, 0);
}

void buffer_free(struct buffer *buffer)
{
    free(buffer->text);
    *buffer = BUFFER_EMPTY;
}

const char *buffer_text(const struct buffer *buffer)
{
    return buffer->text ? buffer->text : "";
}

char *buffer_take(struct buffer *buffer)
{
    char *text = buffer->text ? buffer->text : memory_copy_text("");
    *buffer = BUFFER_EMPTY;
    return text;
}
