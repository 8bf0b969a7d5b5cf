#include "report/picture.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "base/files.h"
#include "base/text.h"
#include "report/html.h"

enum { FIGURE_LIMIT = 2 * 1024 * 1024, MOST_WIDE = 2000 };

/* By name and by what the file starts with; NULL: not a picture that a browser shows inside a page. */
static const char *media_type(const char *name, const struct buffer *bytes)
{
    const char *dot = strrchr(name, '.');
    if (!dot)
        return NULL;
    if (text_equal_ignoring_case(dot, ".svg"))
        return text_is_valid(bytes->text, bytes->length) && strstr(bytes->text, "<svg") ? "image/svg+xml" : NULL;
    if (text_equal_ignoring_case(dot, ".png"))
        return bytes->length > 8 && memcmp(bytes->text, "\x89PNG\r\n\x1a\n", 8) == 0 ? "image/png" : NULL;
    if (text_equal_ignoring_case(dot, ".jpg") || text_equal_ignoring_case(dot, ".jpeg"))
        return bytes->length > 3 && memcmp(bytes->text, "\xff\xd8\xff", 3) == 0 ? "image/jpeg" : NULL;
    return NULL;
}

/* Only from inside the folder; a picture that is too large is none. */
static bool read_picture(const char *folder, const char *file, struct buffer *bytes)
{
    char chunk[16 * 1024];
    ssize_t got = 0;
    int descriptor = path_open_beneath(folder, file);
    if (descriptor < 0)
        return false;
    while (bytes->length <= FIGURE_LIMIT && (got = TEMP_FAILURE_RETRY(read(descriptor, chunk, sizeof chunk))) > 0)
        buffer_add_bytes(bytes, chunk, (size_t)got);
    close(descriptor);
    return got == 0 && bytes->length > 0;
}

/* A drawing that says no width of its own would fill the page or shrink to a default. */
static void add_width(struct buffer *out, const char *drawing, double scale)
{
    const char *tag = strstr(drawing, "<svg"), *box = tag ? strstr(tag, "viewBox=") : NULL;
    const char *own = tag ? strstr(tag, " width=") : NULL, *end = tag ? strchr(tag, '>') : NULL;
    double width;
    if (!box || (own && own < end) || sscanf(box, "viewBox=%*[\"']%*f%*[ ,]%*f%*[ ,]%lf", &width) != 1 || !(width >= 1 && width <= MOST_WIDE))
        return;
    buffer_print(out, " width=\"%.0f\"", width * scale);
}

bool html_add_picture(struct buffer *out, const char *folder, const char *file, const char *words, double scale)
{
    struct buffer bytes = BUFFER_EMPTY;
    const char *type = read_picture(folder, file, &bytes) ? media_type(file, &bytes) : NULL;
    if (type) {
        buffer_add(out, "<img alt=\"");
        html_add_words(out, words ? words : "");
        buffer_add(out, "\"");
        if (strcmp(type, "image/svg+xml") == 0)
            add_width(out, buffer_text(&bytes), scale);
        buffer_print(out, " src=\"data:%s;base64,", type);
        html_add_base64(out, bytes.text, bytes.length);
        buffer_add(out, "\"/>\n");
    }
    buffer_free(&bytes);
    return type != NULL;
}
