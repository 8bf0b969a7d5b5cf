/* A course half described, kept in a file: a line each, the number of its question before it. */
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "authoring/course-interview-inner.h"
#include "base/files.h"
#include "base/memory.h"
#include "base/text.h"

enum { KEPT_LIMIT = 1024 * 1024 };

static void add_value(struct buffer *out, int field, const char *value)
{
    for (const char *line = value; line; line = strchr(line, '\n') ? strchr(line, '\n') + 1 : NULL)
        buffer_print(out, "%d %.*s\n", field, (int)strcspn(line, "\n"), line);
}

bool course_save(const struct course_interview *interview, struct messages *messages)
{
    struct buffer out = BUFFER_EMPTY;
    for (int i = 0; interview->draft && i < FIELDS; i++)
        add_value(&out, i, interview->values[i]);
    if (!out.length) {
        course_forget(interview);
        return true;
    }
    char *folder = path_folder_of(interview->draft);
    bool saved = directory_make(folder, messages) &&
                 file_write(interview->draft, buffer_text(&out), out.length, 0600, true, messages);
    free(folder);
    buffer_free(&out);
    return saved;
}

static void take_back(struct course_interview *interview, char *line)
{
    int field = *line - '0';
    if (field < 0 || field >= FIELDS || line[1] != ' ')
        return;
    char **value = &interview->values[field];
    struct buffer whole = BUFFER_EMPTY;
    buffer_print(&whole, "%s%s%s", *value ? *value : "", *value ? "\n" : "", line + 2);
    free(*value);
    *value = buffer_take(&whole);
}

/* A list may go on; behind any other answer comes the next question. */
static enum field next_to_ask(const struct course_interview *interview)
{
    int field = FIELDS - 1;
    while (field > 0 && !interview->values[field])
        field--;
    return (enum field)(interview->values[field] && !course_field_is_list((enum field)field) ? field + 1 : field);
}

void course_load(struct course_interview *interview)
{
    struct messages messages = MESSAGES_EMPTY;
    struct buffer bytes = BUFFER_EMPTY;
    char *rest = NULL;
    if (interview->draft && access(interview->draft, F_OK) == 0 && file_read(interview->draft, KEPT_LIMIT, &bytes, &messages) &&
        bytes.length && text_is_valid(bytes.text, bytes.length))
        for (char *line = strtok_r(bytes.text, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest))
            take_back(interview, line);
    interview->field = next_to_ask(interview);
    buffer_free(&bytes);
    messages_free(&messages);
}

void course_forget(const struct course_interview *interview)
{
    if (interview->draft)
        unlink(interview->draft);
}
