#include "bank/bank.h"

#include <assert.h>
#include <errno.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "bank/cache.h"
#include "bank/index.h"
#include "bank/reader.h"
#include "base/files.h"
#include "base/memory.h"

struct bank {
    char *path, *folder;
    char *real_path;            /* still right when the program changes its folder */
    struct arena *arena;
    struct sense *sense;        /* knows the names of the course */
    const struct course *course;
    struct index index;
    struct cached_bank kept;    /* id and course text: what the cache keeps besides the index */
    bool from_cache;
};

/* ---- Opening ---- */

static struct bank *bank_new(const char *path)
{
    struct bank *bank = memory_get_zeroed(1, sizeof *bank);
    bank->path = memory_copy_text(path);
    bank->folder = path_folder_of(path);
    bank->real_path = realpath(path, NULL);
    if (!bank->real_path)
        bank->real_path = memory_copy_text(path);
    bank->arena = arena_new();
    bank->sense = sense_new(path, bank->folder);
    bank->index = index_new(bank->arena);
    return bank;
}

/* Back to what bank_new gives, for a second attempt. */
static void bank_clear(struct bank *bank)
{
    index_free(&bank->index);
    sense_free(bank->sense);
    arena_reset(bank->arena);
    buffer_free(&bank->kept.course_text);
    bank->course = NULL;
    bank->sense = sense_new(bank->path, bank->folder);
    bank->index = index_new(bank->arena);
}

void bank_close(struct bank *bank)
{
    if (!bank)
        return;
    index_free(&bank->index);
    sense_free(bank->sense);
    arena_free(bank->arena);
    buffer_free(&bank->kept.course_text);
    free(bank->real_path);
    free(bank->folder);
    free(bank->path);
    free(bank);
}

struct opening {
    struct bank *bank;
    const struct source *source;
};

static void keep_question(void *context, const struct question *question, const struct element_bytes *at)
{
    struct opening *opening = context;
    index_add_question(&opening->bank->index, question, at, opening->source->bytes + at->offset);
}

static bool read_all_of(struct bank *bank, const struct source *source, struct messages *messages)
{
    struct opening opening = {bank, source};
    struct reading reading = {
        .source = source, .root = READ_BANK, .sense = bank->sense, .check_questions = true,
        .course_arena = bank->arena, .question_arena = arena_new(), .messages = messages,
        .context = &opening, .on_question = keep_question,
    };
    bool sound = reader_read(&reading);
    arena_free(reading.question_arena);
    if (!sound)
        return false;
    assert(reading.read_course && bank->index.count == reading.question_count);
    memcpy(bank->kept.id, reading.id, sizeof bank->kept.id);
    memcpy(bank->kept.language, reading.language, sizeof bank->kept.language);
    bank->kept.state = source->state;
    bank->course = reading.read_course;
    buffer_add_bytes(&bank->kept.course_text, source->bytes + reading.course_at.offset, reading.course_at.length);
    index_finish(&bank->index);
    return true;
}

/* The course is read from its text again, as strictly as the first time. */
static bool read_kept_course(struct bank *bank)
{
    struct messages silent = MESSAGES_EMPTY;
    struct source source;
    struct reading reading = {.source = &source, .root = READ_COURSE, .sense = bank->sense,
                              .course_arena = bank->arena, .messages = &silent};
    const struct buffer *text = &bank->kept.course_text;
    bool good = source_from_bytes(&source, bank->path, buffer_text(text), text->length, &silent) &&
                reader_read(&reading);
    messages_free(&silent);
    bank->course = reading.read_course;
    return good;
}

static bool read_from_cache(struct bank *bank)
{
    struct messages silent = MESSAGES_EMPTY;
    struct file_state state;
    int descriptor = file_open(bank->real_path, BANK_FILE_LIMIT, &state, &silent);
    messages_free(&silent);
    if (descriptor < 0)
        return false;
    close(descriptor);
    bank->from_cache = cache_read(bank->real_path, &state, &bank->kept, &bank->index) && read_kept_course(bank) &&
                       cache_fits_course(&bank->index, bank->course);
    if (!bank->from_cache)
        bank_clear(bank);
    return bank->from_cache;
}

struct bank *bank_open(const char *path, bool use_cache, struct messages *messages)
{
    assert(path && messages);
    struct bank *bank = bank_new(path);
    if (use_cache && read_from_cache(bank))
        return bank;
    struct source source;
    bool good = source_load(&source, path, messages) && read_all_of(bank, &source, messages);
    source_free(&source);
    if (good) {
        if (use_cache)
            cache_write(bank->real_path, &bank->kept, &bank->index);
        return bank;
    }
    bank_close(bank);
    return NULL;
}

/* ---- What it knows ---- */

const char *bank_id(const struct bank *bank) { return bank->kept.id; }
const char *bank_language(const struct bank *bank) { return bank->kept.language; }
const char *bank_path(const struct bank *bank) { return bank->path; }
const char *bank_whole_path(const struct bank *bank) { return bank->real_path; }
const char *bank_folder(const struct bank *bank) { return bank->folder; }
const struct course *bank_course(const struct bank *bank) { return bank->course; }
size_t bank_question_count(const struct bank *bank) { return bank->index.count; }
bool bank_came_from_cache(const struct bank *bank) { return bank->from_cache; }

const struct question_summary *bank_summary(const struct bank *bank, size_t index)
{
    assert(index < bank->index.count);
    return &bank->index.summaries[index];
}

int bank_find(const struct bank *bank, const char *question_id)
{
    const int *index = names_find(&bank->index.by_id, question_id);
    return index ? *index : -1;
}

/* ---- One question ---- */

static bool read_range(int descriptor, uint64_t offset, char *bytes, size_t length)
{
    size_t done = 0;
    while (done < length) {
        ssize_t got = TEMP_FAILURE_RETRY(pread(descriptor, bytes + done, length - done, (off_t)(offset + done)));
        if (got <= 0)
            return false;
        done += (size_t)got;
    }
    return true;
}

/* The bytes of the question, which must be those that were seen when the bank was opened. NULL and a message if not;
 * the caller frees. */
static char *question_bytes(struct bank *bank, size_t index, struct messages *messages)
{
    const struct question_summary *summary = bank_summary(bank, index);
    int descriptor = file_open(bank->real_path, BANK_FILE_LIMIT, NULL, messages);
    if (descriptor < 0)
        return NULL;
    char *bytes = memory_get((size_t)summary->length + 1);
    bool same = read_range(descriptor, summary->offset, bytes, (size_t)summary->length) &&
                index_fingerprint(bytes, (size_t)summary->length) == summary->fingerprint;
    close(descriptor);
    if (same) {
        bytes[summary->length] = '\0';
        return bytes;
    }
    /* Two edits within one tick of the clock can leave a file's state as it was; then the cache is wrong too. */
    cache_forget(bank->real_path);
    messages_add(messages, SEVERITY_ERROR, (struct place){bank->path, 0, 0}, NULL,
                 "the question '%s' is not where it was: the file has changed since it was opened; start again to use "
                 "it as it is now", summary->id);
    free(bytes);
    return NULL;
}

const struct question *bank_question(struct bank *bank, size_t index, struct arena *arena,
                                     struct messages *messages)
{
    char *bytes = question_bytes(bank, index, messages);
    if (!bytes)
        return NULL;
    struct source source;
    struct reading reading = {
        .source = &source, .root = READ_QUESTION, .sense = bank->sense, .course = bank->course,
        .question_arena = arena, .messages = messages,
    };
    bool good = source_from_bytes(&source, bank->path, bytes, (size_t)bank->index.summaries[index].length, messages);
    source.line = bank->index.places[index].line;
    source.column = bank->index.places[index].column;
    good = good && reader_read(&reading);
    free(bytes);
    return good ? reading.question : NULL;
}

bool bank_question_text(struct bank *bank, size_t index, struct buffer *out, struct messages *messages)
{
    char *bytes = question_bytes(bank, index, messages);
    if (!bytes)
        return false;
    buffer_add_bytes(out, bytes, (size_t)bank->index.summaries[index].length);
    free(bytes);
    return true;
}

void bank_course_text(const struct bank *bank, struct buffer *out)
{
    buffer_add_bytes(out, buffer_text(&bank->kept.course_text), bank->kept.course_text.length);
}

/* ---- From the record ---- */

bool bank_from_text(const char *course_text, const char *question_text, struct arena *arena,
                    const struct course **course, const struct question **question, struct messages *messages)
{
    assert(course_text && arena && course && (question || !question_text));
    struct sense *sense = sense_new(NULL, NULL);
    struct source source;
    struct reading of_course = {.source = &source, .root = READ_COURSE, .sense = sense, .course_arena = arena,
                                .messages = messages};
    struct reading of_question = {.source = &source, .root = READ_QUESTION, .sense = sense, .question_arena = arena,
                                  .messages = messages, .check_questions = true};
    bool good = source_from_bytes(&source, NULL, course_text, strlen(course_text), messages) &&
                reader_read(&of_course);
    of_question.course = of_course.read_course;
    if (question_text)
        good = good && source_from_bytes(&source, NULL, question_text, strlen(question_text), messages) &&
               reader_read(&of_question);
    sense_free(sense);
    if (!good)
        return false;
    *course = of_course.read_course;
    if (question_text)
        *question = of_question.question;
    return true;
}
