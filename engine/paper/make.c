#include "paper/make.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "base/hash.h"

const char *paper_path_from(const char *folder, const char *target, struct arena *arena)
{
    assert(folder[0] == '/' && target[0] == '/');
    size_t common = 0, length = strlen(folder);
    for (size_t i = 0; folder[i] == target[i] && target[i]; i++)
        if (target[i] == '/')
            common = i + 1;
    if (length > 1 && strncmp(folder, target, length) == 0 && target[length] == '/')
        common = length + 1;
    struct buffer path = BUFFER_EMPTY;
    for (size_t i = common; i < length; i++)
        if (i == common || folder[i] == '/')
            buffer_add(&path, "../");
    buffer_add(&path, target + common);
    const char *copy = arena_copy_text(arena, buffer_text(&path));
    buffer_free(&path);
    return copy;
}

static const char *path_to_bank(const struct bank *bank, const char *folder, struct arena *arena)
{
    char *from = realpath(folder, NULL), *to = realpath(bank_path(bank), NULL);
    const char *path = from && to ? paper_path_from(from, to, arena) : bank_path(bank);
    free(from);
    free(to);
    return path;
}

static void describe_bank(const struct bank *bank, const char *folder, struct arena *arena, struct paper_bank *described)
{
    struct buffer text = BUFFER_EMPTY;
    described->id = bank_id(bank);
    described->path = path_to_bank(bank, folder, arena);
    bank_course_text(bank, &text);
    hash_content(buffer_text(&text), text.length, described->course_hash);
    buffer_free(&text);
}

/* Banks of which the paper takes nothing are not in it. */
static size_t list_banks(const struct gathered *gathered, const size_t *order, size_t count, const char *folder,
                         struct arena *arena, struct opened_paper *opened, size_t *place_of)
{
    struct paper_bank *banks = arena_get_array(arena, gathered->bank_count, sizeof *banks);
    size_t taken = 0;
    opened->banks = arena_get_array(arena, gathered->bank_count, sizeof(struct bank *));
    for (size_t bank = 0; bank < gathered->bank_count; bank++) {
        bool used = false;
        for (size_t i = 0; i < count && !used; i++)
            used = gathered->places[order[i]].bank == bank;
        place_of[bank] = taken;
        if (!used)
            continue;
        describe_bank(gathered->banks[bank], folder, arena, &banks[taken]);
        opened->banks[taken++] = gathered->banks[bank];
    }
    opened->paper.banks = banks;
    return taken;
}

static bool take_question(const struct gathered *gathered, size_t item, size_t bank_place, struct arena *arena,
                          struct paper_question *entry, struct opened_question *question, struct messages *messages)
{
    struct bank *bank = gathered->banks[gathered->places[item].bank];
    size_t index = gathered->places[item].index;
    struct buffer text = BUFFER_EMPTY;
    const struct question_summary *summary = gather_summary(gathered, item);
    *entry = (struct paper_question){bank_place, summary->id, summary->marks, gather_variant(gathered, item), ""};
    *question = (struct opened_question){.bank = bank, .index = (int)index};
    if (!bank_question_text(bank, index, &text, messages))
        return false;
    hash_content(buffer_text(&text), text.length, entry->hash);
    buffer_free(&text);
    question->question = bank_question(bank, index, arena, messages);
    return question->question &&
           values_draw(bank_course(bank), question->question, entry->seed, arena, &question->values, messages);
}

bool paper_make(const struct gathered *gathered, const bool *chosen, moment made, const char *folder, struct arena *arena,
                struct opened_paper *opened, struct messages *messages)
{
    size_t *order, count = gather_order(gathered, chosen, arena, &order);
    size_t *place_of = arena_get_array(arena, gathered->bank_count, sizeof *place_of);
    struct paper_question *entries = arena_get_array(arena, count + 1, sizeof *entries);
    if (count > PAPER_QUESTION_LIMIT) {
        messages_error(messages, "a paper has at most %d questions, and this one would have %zu; ask for fewer marks",
                       PAPER_QUESTION_LIMIT, count);
        return false;
    }
    *opened = (struct opened_paper){
        .paper = {.course = gathered->course->name, .language = bank_language(gathered->banks[0]),
                  .minutes = gathered->minutes, .seed = gathered->wishes->seed, .made = made, .questions = entries,
                  .question_count = count},
        .questions = arena_get_array(arena, count + 1, sizeof(struct opened_question)),
    };
    opened->paper.bank_count = list_banks(gathered, order, count, folder, arena, opened, place_of);
    for (size_t i = 0; i < count; i++) {
        if (!take_question(gathered, order[i], place_of[gathered->places[order[i]].bank], arena, &entries[i],
                           &opened->questions[i], messages))
            return false;
        opened->paper.marks += entries[i].marks;
    }
    return true;
}
