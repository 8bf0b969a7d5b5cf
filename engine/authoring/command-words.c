#include "authoring/command-words.h"

#include "base/text.h"

const struct words *command_words_split(const struct course *course, struct arena *arena)
{
    struct words *split = arena_get_array(arena, course->word_count, sizeof *split);
    for (size_t i = 0; i < course->word_count; i++)
        split[i] = words_of(course->words[i].word, arena);
    return split;
}

bool phrase_stands_at(const struct words *words, size_t start, const struct words *phrase)
{
    if (start + phrase->count > words->count)
        return false;
    for (size_t i = 0; i < phrase->count; i++)
        if (!text_equal(words->items[start + i].folded, phrase->items[i].folded))
            return false;
    return true;
}

bool word_begins_sentence(const struct words *words, size_t index)
{
    return index == 0 || words->items[index].sentence != words->items[index - 1].sentence;
}

int command_word_at(const struct course *course, const struct words *split, const struct words *words, size_t start)
{
    int best = -1;
    size_t longest = 0;
    for (size_t i = 0; i < course->word_count; i++) {
        if (split[i].count > longest && phrase_stands_at(words, start, &split[i])) {
            longest = split[i].count;
            best = (int)i;
        }
    }
    return best;
}

int command_word_of_ask(const struct course *course, const struct words *split, const struct words *ask)
{
    int anywhere = -1;
    for (size_t i = 0; i < ask->count; i++) {
        int found = command_word_at(course, split, ask, i);
        if (found >= 0 && word_begins_sentence(ask, i))
            return found;
        if (anywhere < 0)
            anywhere = found;
    }
    return anywhere;
}
