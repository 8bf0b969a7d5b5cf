/* Ways: more or less, up or down, and words that come in pairs. */
#include "answer/inside.h"

#include <string.h>

/* "goes up", "went back down", "put the price up"; "up" alone may be anything ("dries up"), and "goes up the beach" is a way
 * to go and not more. */
static enum direction moved_at(const struct words *words, size_t index)
{
    const char *word = words->items[index].folded;
    enum direction way = strcmp(word, "up") == 0 ? DIRECTION_UP : strcmp(word, "down") == 0 ? DIRECTION_DOWN : DIRECTION_NONE;
    bool leads_on = IS_ONE_OF(folded_at(words, index + 1), "the", "a", "this", "its");
    for (size_t back = 1; way != DIRECTION_NONE && back <= 3 && back <= index; back++) {
        const char *before = words->items[index - back].stem;
        if (words->items[index - back].clause != words->items[index].clause)
            break;
        if (!leads_on && back < 3 && IS_ONE_OF(before, "go", "goe", "gone", "come"))
            return way;
        if (IS_ONE_OF(before, "put", "push", "drive", "bring"))
            return way;
    }
    return DIRECTION_NONE;
}

static bool is_lessened(const struct words *words, size_t much)
{
    for (size_t back = 1; back <= 4 && back <= much; back++)
        if (lessens_at(words, much - back))
            return true;
    return false;
}

enum direction direction_at(const struct words *words, size_t index)
{
    const char *word = words->items[index].folded, *next = folded_at(words, index + 1);
    if (moved_at(words, index) != DIRECTION_NONE)
        return moved_at(words, index);
    if (IS_ONE_OF(word, "lower", "higher")
        && IS_ONE_OF(next, "shore", "shores", "zone", "zones", "slope", "slopes", "part", "parts", "end", "limit", "edge",
                     "beach", "levels", "up", "down", "ground", "area", "areas", "region", "course"))
        return DIRECTION_NONE;
    if (strcmp(word, "more") == 0 && IS_ONE_OF(next, "or", "stable", "even", "constant"))
        return DIRECTION_NONE;
    if (IS_ONE_OF(word, "longer", "more") && index > 0 && IS_ONE_OF(folded_at(words, index - 1), "no", "any"))
        return DIRECTION_NONE;      /* "no longer", "not any more" */
    if (IS_ONE_OF(word, "much", "many", "often") && is_lessened(words, index))
        return DIRECTION_DOWN;
    return word_direction(&words->items[index]);
}

struct directions directions_in(const struct words *words, size_t first, size_t last)
{
    struct directions found = {0, 0};
    for (size_t i = first; i <= last && i < words->count; i++) {
        enum direction direction = direction_at(words, i);
        found.up += direction == DIRECTION_UP;
        found.down += direction == DIRECTION_DOWN;
    }
    return found;
}

/* Places and times, one side and the other, and then qualities. */
static const char *const pairs[][2] = {
    {"upper", "lower"}, {"top", "bottom"}, {"inside", "outside"}, {"before", "after"}, {"summer", "winter"}, {"day", "night"},
    {"exposed", "sheltered"}, {"land", "sea"}, {"north", "south"}, {"east", "west"}, {"spring", "neap"}, {"crest", "trough"},
    {"male", "female"}, {"with", "without"}, {"deep", "shallow"}, {"deeper", "shallower"}, {"old", "new"}, {"wet", "dry"},
    {"high", "low"}, {"higher", "lower"}, {"near", "far"}, {"nearer", "further"}, {"hot", "cold"}, {"large", "small"},
    {"big", "small"}, {"fast", "slow"}, {"long", "short"}, {"longer", "shorter"}, {"hard", "soft"}, {"open", "closed"},
    {"maximum", "minimum"}, {"strong", "weak"}, {"wide", "narrow"}, {"heavy", "light"}, {"steep", "gentle"}, {"calm", "rough"},
    {"steeper", "flatter"}, {"steep", "flat"}, {"thicker", "thinner"}, {"wider", "narrower"}, {"same", "differ"}, {"same", "differs"}, {"alike", "different"}, {"now", "later"},
};
enum { SIDES = 18 };

/* The place of the word in first … last; words->count when it is not there. */
static size_t place_of(const struct words *words, size_t first, size_t last, const char *folded)
{
    for (size_t i = first; i <= last && i < words->count; i++)
        if (strcmp(words->items[i].folded, folded) == 0)
            return i;
    return words->count;
}

/* Where the wording names both ("lower over the land than over the sea"), it speaks of the one it names first. */
bool names_reverse(const struct words *words, size_t first, size_t last, const struct words *wording,
                   enum pairs_kind kind)
{
    size_t count = kind == PAIRS_OF_SIDES ? SIDES : sizeof pairs / sizeof *pairs;
    for (size_t i = 0; i < count && wording->count; i++) {
        size_t one = place_of(wording, 0, wording->count - 1, pairs[i][0]);
        size_t two = place_of(wording, 0, wording->count - 1, pairs[i][1]);
        if (one == two)
            continue;   /* neither */
        if (place_of(words, first, last, pairs[i][two < one]) == words->count
            && place_of(words, first, last, pairs[i][one < two]) < words->count)
            return true;
    }
    return false;
}

/* ---- One way for another ------------------------------------------------------------------------- */

/* Words of direction that say no more than more or less: "rises" for "increases", but not "faster" for "hotter". */
bool direction_is_plain(const struct words *words, size_t index)
{
    return moved_at(words, index) != DIRECTION_NONE
        || IS_ONE_OF(words->items[index].stem, "more", "higher", "highest", "increas", "rise", "rais", "grow", "growth", "greater",
                     "greatest", "larger", "largest", "bigger", "gain", "upward", "less", "lower", "lowest", "fewer", "fall",
                     "drop", "decreas", "declin", "reduc", "reduct", "smaller", "smallest", "diminish", "shrink", "lessen",
                     "downward", "much", "mani");
}
