#include "paper/opened.h"

#include <stdlib.h>
#include <string.h>

#include "base/files.h"
#include "base/hash.h"
#include "base/memory.h"

void opened_paper_free(struct opened_paper *opened)
{
    if (!opened)
        return;
    for (size_t i = 0; opened->banks && i < opened->paper.bank_count; i++)
        bank_close(opened->banks[i]);
    free(opened->banks);
    arena_free(opened->arena);
    free(opened);
}

/* ---- Banks -------------------------------------------------------------------------------------------------- */

static struct bank *open_elsewhere(const struct paper_bank *wanted, const char *const *paths, size_t count,
                                   struct messages *messages)
{
    for (size_t i = 0; i < count; i++) {
        struct bank *bank = bank_open(paths[i], true, messages);
        if (bank && strcmp(bank_id(bank), wanted->id) == 0)
            return bank;
        bank_close(bank);
    }
    return NULL;
}

static struct bank *open_where_it_was(const struct paper_bank *wanted, const char *paper_path, struct messages *messages)
{
    char *folder = path_folder_of(paper_path);
    char *path = wanted->path[0] == '/' ? memory_copy_text(wanted->path) : path_join(folder, wanted->path);
    struct bank *bank = bank_open(path, true, messages);
    if (!bank)
        messages_error(messages, "the bank '%s' of this paper is not where it was; name its file behind the paper's",
                       wanted->id);
    if (bank && strcmp(bank_id(bank), wanted->id) != 0) {
        messages_error(messages, "'%s' is the bank '%s', but the paper wants '%s'; name the right file behind the paper's",
                       path, bank_id(bank), wanted->id);
        bank_close(bank);
        bank = NULL;
    }
    free(path);
    free(folder);
    return bank;
}

static void compare_course(const struct paper_bank *wanted, const struct bank *bank, struct messages *messages)
{
    struct buffer text = BUFFER_EMPTY;
    char hash[33];
    bank_course_text(bank, &text);
    hash_content(buffer_text(&text), text.length, hash);
    buffer_free(&text);
    if (strcmp(hash, wanted->course_hash) != 0)
        messages_add(messages, SEVERITY_WARNING, (struct place){bank_path(bank), 0, 0}, NULL,
                     "the course has been changed since the paper was made: its data sheet and names may differ from what "
                     "was printed");
}

static bool open_banks(struct opened_paper *opened, const char *path, const char *const *elsewhere, size_t count,
                       struct messages *messages)
{
    opened->banks = memory_get_zeroed(opened->paper.bank_count, sizeof(struct bank *));
    for (size_t i = 0; i < opened->paper.bank_count; i++) {
        const struct paper_bank *wanted = &opened->paper.banks[i];
        opened->banks[i] = open_elsewhere(wanted, elsewhere, count, messages);
        if (!opened->banks[i])
            opened->banks[i] = open_where_it_was(wanted, path, messages);
        if (!opened->banks[i])
            return false;
        compare_course(wanted, opened->banks[i], messages);
    }
    return true;
}

/* ---- Questions ---------------------------------------------------------------------------------------------- */

static bool is_same(const struct paper_question *wanted, struct bank *bank, size_t index, struct messages *messages)
{
    struct buffer text = BUFFER_EMPTY;
    char hash[33];
    if (!bank_question_text(bank, index, &text, messages))
        return false;
    hash_content(buffer_text(&text), text.length, hash);
    buffer_free(&text);
    if (strcmp(hash, wanted->hash) == 0 && bank_summary(bank, index)->marks == wanted->marks)
        return true;
    messages_add(messages, SEVERITY_ERROR, (struct place){bank_path(bank), 0, 0}, NULL,
                 "the question '%s' has been changed since the paper was made; use the bank as it was, or make the paper "
                 "again", wanted->id);
    return false;
}

static bool open_question(struct opened_paper *opened, size_t number, struct messages *messages)
{
    const struct paper_question *wanted = &opened->paper.questions[number];
    struct opened_question *question = &opened->questions[number];
    struct bank *bank = opened->banks[wanted->bank];
    *question = (struct opened_question){.bank = bank, .index = bank_find(bank, wanted->id)};
    if (question->index < 0) {
        messages_add(messages, SEVERITY_ERROR, (struct place){bank_path(bank), 0, 0}, NULL,
                     "the paper wants the question '%s', and the bank has none; use the bank as it was, or make the paper "
                     "again", wanted->id);
        return false;
    }
    if (!is_same(wanted, bank, (size_t)question->index, messages))
        return false;
    question->question = bank_question(bank, (size_t)question->index, opened->arena, messages);
    return question->question && values_draw(bank_course(bank), question->question, wanted->seed, opened->arena,
                                             &question->values, messages);
}

struct opened_paper *opened_paper_read(const char *path, const char *const *elsewhere, size_t count,
                                       struct messages *messages)
{
    struct opened_paper *opened = memory_get_zeroed(1, sizeof *opened);
    opened->arena = arena_new();
    bool good = paper_file_read(path, opened->arena, &opened->paper, messages) &&
                open_banks(opened, path, elsewhere, count, messages);
    if (good)
        opened->questions = arena_get_array(opened->arena, opened->paper.question_count, sizeof *opened->questions);
    for (size_t i = 0; good && i < opened->paper.question_count; i++)
        good = open_question(opened, i, messages);
    if (good)
        return opened;
    opened_paper_free(opened);
    return NULL;
}
