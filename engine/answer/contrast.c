/* A text that sets two things against each other says what belongs to which. */
#include "answer/judgement.h"

#include <string.h>

static bool turns_to_other_side(const struct words *text, size_t index)
{
    return index > 0 && IS_ONE_OF(text->items[index].folded, "while", "whereas", "but");
}

bool sets_against(const struct words *text)
{
    for (size_t i = 0; i < text->count; i++)
        if (turns_to_other_side(text, i))
            return true;
    return false;
}

/* On which side of what the text sets against each other a word of it stands. */
static size_t side_of(const struct words *text, size_t index)
{
    size_t side = 0;
    for (size_t i = 0; i <= index; i++)
        side += turns_to_other_side(text, i);
    return side;
}

/* The one side of the text that holds this word; SIZE_MAX when none or both do. */
static size_t side_in_text(const struct judgement *judgement, const struct word *word)
{
    const struct words *text = &judgement->text;
    size_t side = SIZE_MAX;
    for (size_t i = 0; i < text->count; i++) {
        if (!word_carries(&text->items[i])
            || word_compare(word, &text->items[i], judgement->reading->vocabulary) < WORD_MATCH_SLIP)
            continue;
        if (side != SIZE_MAX && side != side_of(text, i))
            return SIZE_MAX;
        side = side_of(text, i);
    }
    return side;
}

/* The one side of the text that the group's chosen word stands on, or all of its alternatives do; SIZE_MAX. */
static size_t side_of_key(const struct judgement *judgement, const struct group *group)
{
    const struct words *text = &judgement->text;
    size_t side = side_in_text(judgement, &judgement->reading->words.items[group->chosen->first]);
    if (side != SIZE_MAX)
        return side;
    for (size_t i = 0; i < group->key->count; i++) {
        struct words wording = reading_words(judgement->reading, group->key->alternatives[i]);
        for (size_t k = 0; wording.count == 1 && k < text->count; k++) {
            if (strcmp(text->items[k].stem, wording.items[0].stem) != 0)
                continue;
            if (side != SIZE_MAX && side != side_of(text, k))
                return SIZE_MAX;
            side = side_of(text, k);
        }
    }
    return side;
}

/* A text that sets two things against each other ("a random error changes, while a systematic error is the same") says what
 * belongs to which: "same" behind "random" is the other way round. */
bool contrast_is_kept(const struct judgement *judgement)
{
    const struct words *words = &judgement->reading->words;
    for (size_t i = 0; sets_against(&judgement->text) && i < judgement->group_count; i++) {
        size_t at = judgement->groups[i].chosen->first, side = side_of_key(judgement, &judgement->groups[i]);
        size_t nearest = SIZE_MAX;
        for (size_t k = at; side != SIZE_MAX && k-- > 0 && words->items[k].clause == words->items[at].clause
             && strcmp(words->items[k].folded, "and") != 0;) {
            size_t other = side_in_text(judgement, &words->items[k]);
            nearest = nearest == SIZE_MAX ? other : nearest;
            if (other != SIZE_MAX && other != side && is_key(judgement, k))
                return false;
        }
        if (nearest != SIZE_MAX && nearest != side)
            return false;
    }
    return true;
}
