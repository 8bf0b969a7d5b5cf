#include "authoring/warnings.h"

#include <stdarg.h>

#include "authoring/command-words.h"
#include "authoring/warnings-inner.h"
#include "base/buffer.h"

void weak_warn(const struct weak *weak, const char *format, ...)
{
    struct buffer text = BUFFER_EMPTY;
    va_list arguments;
    va_start(arguments, format);
    buffer_print_list(&text, format, arguments);
    va_end(arguments);
    messages_add(weak->messages, SEVERITY_WARNING, (struct place){weak->file, weak->line, weak->column}, weak->subject,
                 "%s", buffer_text(&text));
    buffer_free(&text);
}

static void look_at_question(struct weak *weak)
{
    const struct question *question = weak->question;
    struct vocabulary *vocabulary = vocabulary_new(weak->arena);
    vocabulary_add_course(vocabulary, weak->course);
    vocabulary_add_question(vocabulary, question);
    weak->vocabulary = vocabulary;
    weak->subject = arena_print(weak->arena, "question %s", question->id);
    weak->line = question->line, weak->column = question->column;
    weak_figures(weak);
    weak_variants(weak);
    for (size_t i = 0; i < question->part_count; i++) {
        const struct part *part = &question->parts[i];
        weak->line = part->line, weak->column = part->column;
        if (question->part_count > 1)
            weak->subject = arena_print(weak->arena, "question %s (%s)", question->id, part->id);
        weak_ask(weak, part);
        weak_scheme(weak, part);
        weak_model(weak, i);
    }
}

/* weak has all but what hangs on the question. */
static void try_question(struct weak weak, const struct question *question)
{
    struct arena *arena = arena_new();
    struct values values;
    weak.question = question, weak.values = &values, weak.arena = arena;
    if (values_draw(weak.course, question, 1, arena, &values, weak.messages))
        look_at_question(&weak);
    arena_free(arena);
}

void warnings_of_question(const struct course *course, const struct question *question, const char *folder,
                          const char *file, struct messages *messages)
{
    struct arena *arena = arena_new();
    const struct weak weak = {.course = course, .command_words = command_words_split(course, arena), .file = file,
                              .folder = folder, .messages = messages};
    try_question(weak, question);
    arena_free(arena);
}

bool warnings_of_bank(struct bank *bank, struct messages *messages,
                      void (*progress)(size_t done, size_t total, void *context), void *context)
{
    bool read = true;
    struct arena *arena = arena_new(), *kept = arena_new();
    size_t count = bank_question_count(bank);
    const struct weak weak = {.course = bank_course(bank), .command_words = command_words_split(bank_course(bank), kept),
                              .file = bank_path(bank), .folder = bank_folder(bank), .messages = messages};
    for (size_t i = 0; read && i < count; i++) {
        arena_reset(arena);
        const struct question *question = bank_question(bank, i, arena, messages);
        read = question != NULL;
        if (read)
            try_question(weak, question);
        if (progress && i % 16 == 0)
            progress(i, count, context);
    }
    arena_free(arena);
    arena_free(kept);
    return read;
}
