#include "bank/check.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "bank/reader.h"
#include "base/files.h"

static void report(struct bank_check *result, const struct reading *reading)
{
    snprintf(result->id, sizeof result->id, "%s", reading->id);
    if (reading->read_course)
        snprintf(result->course, sizeof result->course, "%s", reading->read_course->name);
    /* A name cut in the middle of a character must not leave half of it. */
    size_t length = strlen(result->course);
    if (length == sizeof result->course - 1) {
        while (length > 0 && ((unsigned char)result->course[length - 1] & 0xC0) == 0x80)
            length--;
        if (length > 0 && (unsigned char)result->course[length - 1] >= 0xC0)
            result->course[length - 1] = '\0';
    }
    result->questions = reading->question_count;
    result->marks = reading->marks;
}

static struct bank_check check_source(const struct source *source, const char *path, struct messages *messages,
                                      void (*progress)(size_t done, size_t total, void *context), void *context)
{
    struct bank_check result = {.sound = false};
    char *folder = path_folder_of(path);
    struct reading reading = {
        .source = source, .root = READ_BANK, .sense = sense_new(path, folder), .check_questions = true,
        .course_arena = arena_new(), .question_arena = arena_new(), .messages = messages,
        .on_progress = progress, .progress_context = context,
    };
    result.sound = reader_read(&reading);
    report(&result, &reading);
    sense_free(reading.sense);
    arena_free(reading.course_arena);
    arena_free(reading.question_arena);
    free(folder);
    return result;
}

struct bank_check bank_check(const char *path, struct messages *messages,
                             void (*progress)(size_t done, size_t total, void *context), void *context)
{
    assert(path && messages);
    struct bank_check result = {.sound = false};
    struct source source;
    if (source_load(&source, path, messages))
        result = check_source(&source, path, messages, progress, context);
    source_free(&source);
    return result;
}

struct bank_check bank_check_bytes(const char *path, const char *bytes, size_t length, struct messages *messages)
{
    struct bank_check result = {.sound = false};
    struct source source;
    if (source_from_bytes(&source, path, bytes, length, messages))
        result = check_source(&source, path, messages, NULL, NULL);
    source_free(&source);
    return result;
}
