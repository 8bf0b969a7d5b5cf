/* A growing text, always NUL-terminated (an empty buffer reads as ""). Start with BUFFER_EMPTY. */
#ifndef OWNMARK_BASE_BUFFER_H
#define OWNMARK_BASE_BUFFER_H

#include <stdarg.h>
#include <stddef.h>

struct buffer {
    char *text;      /* never NULL after the first append; use buffer_text() to read */
    size_t length;   /* bytes, without the final NUL */
    size_t capacity;
};

#define BUFFER_EMPTY ((struct buffer){NULL, 0, 0})

void buffer_add(struct buffer *buffer, const char *text);
void buffer_add_bytes(struct buffer *buffer, const char *bytes, size_t length);
void buffer_add_character(struct buffer *buffer, char character);
void buffer_add_repeated(struct buffer *buffer, const char *text, size_t times);
void buffer_print(struct buffer *buffer, const char *format, ...) __attribute__((format(printf, 2, 3)));
void buffer_print_list(struct buffer *buffer, const char *format, va_list arguments)
    __attribute__((format(printf, 2, 0)));
void buffer_shorten(struct buffer *buffer, size_t length);  /* length <= buffer->length */
void buffer_clear(struct buffer *buffer);                   /* keeps the memory */
void buffer_free(struct buffer *buffer);                    /* back to BUFFER_EMPTY */
const char *buffer_text(const struct buffer *buffer);       /* "" when empty; valid until the next change */
char *buffer_take(struct buffer *buffer);                   /* the caller frees; buffer becomes empty */

#endif
