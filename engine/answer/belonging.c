/* Key words that are all there may still say something else: each rule here is one way in which they do. */
#include "answer/judgement.h"

#include <string.h>

enum { AS_REACH = 8 };          /* words from the first "as" of a comparison to what is compared with */

bool names_only(const struct evidence_ask *ask)
{
    static const char *const naming[] = {"name", "state", "give", "identify", "list", "label", "complete", "choose", "predict"};
    const char *word = ask->course->words[ask->part->word].word;
    for (size_t i = 0; i < sizeof naming / sizeof *naming; i++)
        if (strcmp(word, naming[i]) == 0)
            return true;
    return false;
}

bool is_left_open(const struct judgement *judgement, const struct hit *hit)
{
    const struct words *words = &judgement->reading->words;
    return names_only(judgement->reading->ask) &&
           ((hit->last + 1 < words->count && strcmp(words->items[hit->last + 1].folded, "or") == 0) ||
            (hit->first > 0 && strcmp(words->items[hit->first - 1].folded, "or") == 0));
}

static size_t clause_of(const struct judgement *judgement, const struct group *group)
{
    return judgement->reading->words.items[group->chosen->first].clause;
}

static bool has_direction(const struct judgement *judgement, const struct hit *hit)
{
    struct directions ways = directions_in(&judgement->reading->words, hit->first, hit->last);
    return ways.up + ways.down > 0;
}

/* A direction belongs to what stands in its clause: "more carbonate, so the shell dissolves less" does not say "less
 * carbonate". */
static bool directions_are_near(const struct judgement *judgement)
{
    for (size_t i = 0; i < judgement->group_count; i++) {
        size_t near = 0;
        for (size_t k = 0; k < judgement->group_count; k++)
            near += clause_of(judgement, &judgement->groups[i]) == clause_of(judgement, &judgement->groups[k]);
        if (has_direction(judgement, judgement->groups[i].chosen) && near < 2 && judgement->group_count > 1)
            return false;
    }
    return true;
}

/* Does a "than", or the second of "as long as", stand before this word in its clause? Then it is what is compared with, not
 * what is spoken of. */
static bool is_behind_than(const struct words *words, size_t index)
{
    size_t as = 0;
    for (size_t i = index; i-- > 0 && words->items[i].sentence == words->items[index].sentence;) {
        if (strcmp(words->items[i].folded, "and") == 0)
            return false;
        if (words->items[i].clause == words->items[index].clause && strcmp(words->items[i].folded, "than") == 0)
            return true;
        as += strcmp(words->items[i].folded, "as") == 0 && index - i <= AS_REACH;
        if (as == 2)
            return true;
    }
    return false;
}

/* Does the text have the word at index on the same side of its comparison, on the other one? */
static void find_sides(const struct words *words, size_t index, const struct words *text, bool *same, bool *other)
{
    for (size_t i = 0; i < text->count; i++) {
        if (strcmp(text->items[i].stem, words->items[index].stem) != 0)
            continue;
        bool kept = is_behind_than(text, i) == is_behind_than(words, index);
        *same = *same || kept;
        *other = *other || !kept;
    }
}

static bool has_chosen_words(const struct judgement *judgement, const struct words *wording)
{
    for (size_t i = 0; i < judgement->group_count; i++)
        if (!words_hold(wording, &judgement->reading->words.items[judgement->groups[i].chosen->first]))
            return false;
    return true;
}

/* Only on the other one, and no accepted wording with these key words has it on this one. */
static bool is_on_other_side(const struct judgement *judgement, size_t index)
{
    const struct words *words = &judgement->reading->words;
    const struct wording *accepts = &judgement->point->accepts;
    bool same = false, other = false, ignored = false;
    find_sides(words, index, &judgement->text, &same, &other);
    for (size_t i = 0; other && i < accepts->count; i++) {
        struct words wording = reading_words(judgement->reading, accepts->items[i]);
        if (has_chosen_words(judgement, &wording))
            find_sides(words, index, &wording, &same, &ignored);
    }
    return other && !same;
}

/* The words that the text compares, found again in the answer's clauses of key words, have to stand on the same sides. */
static bool sides_are_kept(const struct judgement *judgement)
{
    const struct words *words = &judgement->reading->words;
    for (size_t i = 0; i < words->count; i++) {
        bool near = false;
        for (size_t k = 0; k < judgement->group_count; k++)
            near = near || words->items[judgement->groups[k].chosen->first].clause == words->items[i].clause;
        if (near && word_carries(&words->items[i]) && !words->items[i].number && strcmp(words->items[i].stem, "part") != 0
            && is_on_other_side(judgement, i))
            return false;
    }
    return true;
}

/* "rises and then falls" is not said by "falls and then rises". Two ways in another order may still be the same ("low tides
 * lower, high tides higher"), so nothing is settled. */
static bool ways_keep_order(const struct judgement *judgement)
{
    const struct words *words = &judgement->reading->words, *text = &judgement->text;
    enum direction wanted = DIRECTION_NONE, first = DIRECTION_NONE;
    for (size_t i = 0; i < text->count && wanted == DIRECTION_NONE; i++)
        wanted = direction_at(text, i);
    size_t sentence = words->items[judgement->groups[0].chosen->first].sentence, up = 0, down = 0;
    for (size_t i = 0; i < words->count; i++) {
        enum direction way = words->items[i].sentence == sentence ? direction_at(words, i) : DIRECTION_NONE;
        first = first == DIRECTION_NONE ? way : first;
        up += way == DIRECTION_UP;
        down += way == DIRECTION_DOWN;
    }
    return !judgement->keys_direct || !judgement->sense.up || !judgement->sense.down || !up || !down || first == wanted;
}

/* The clause around the hit, or its part between two "and"s. */
static bool names_other_around(const struct judgement *judgement, const struct hit *hit, enum pairs_kind kind,
                               bool part)
{
    const struct words *words = &judgement->reading->words;
    size_t first = hit->first, last = hit->first, clause = words->items[first].clause;
    while (first > 0 && words->items[first - 1].clause == clause
           && !(part && strcmp(words->items[first - 1].folded, "and") == 0))
        first--;
    while (last + 1 < words->count && words->items[last + 1].clause == clause
           && !(part && strcmp(words->items[last + 1].folded, "and") == 0))
        last++;
    return names_reverse(words, first, last, &judgement->text, kind);
}

/* "Air above the sea rises" is not "air above the land rises": a clause that names only the other of a pair. */
static bool names_the_other(const struct judgement *judgement, enum pairs_kind kind)
{
    for (size_t i = 0; i < judgement->group_count; i++)
        if (names_other_around(judgement, judgement->groups[i].chosen, kind, false)
            || names_other_around(judgement, judgement->groups[i].chosen, kind, true))
            return true;
    return false;
}

static size_t place_of_word(const struct words *words, const struct word *word)
{
    size_t at = 0;
    while (at < words->count && strcmp(words->items[at].folded, word->folded) != 0)
        at++;
    return at;
}

/* "From 8.11 to 8.05" is not said by "from 8.05 to 8.11". */
static bool numbers_keep_order(const struct judgement *judgement)
{
    const struct words *words = &judgement->reading->words, *text = &judgement->text;
    const struct word *before = NULL;
    for (size_t i = 0; i < text->count; i++) {
        if (!text->items[i].number)
            continue;
        size_t one = before ? place_of_word(words, before) : words->count, two = place_of_word(words, &text->items[i]);
        if (one < words->count && two < one && strcmp(folded_at(text, i - 1), "to") == 0)
            return false;
        before = &text->items[i];
    }
    return true;
}

static bool takes_away(const struct words *words, size_t index)
{
    return IS_ONE_OF(words->items[index].folded, "minus", "subtract", "divided")
        || (strcmp(words->items[index].folded, "take") == 0 && strcmp(folded_at(words, index + 1), "away") == 0);
}

/* The place of the only such word in first … last; SIZE_MAX. */
static size_t place_of_taking_away(const struct words *words)
{
    size_t place = SIZE_MAX;
    for (size_t i = 0; i < words->count; i++) {
        if (takes_away(words, i) && place != SIZE_MAX)
            return SIZE_MAX;
        place = takes_away(words, i) ? i : place;
    }
    return place;
}

/* "Deaths minus births" is not "births minus deaths"; "subtract … from …" turns it round again and is left alone. */
static bool operands_keep_order(const struct judgement *judgement)
{
    const struct words *words = &judgement->reading->words, *text = &judgement->text;
    size_t sign = place_of_taking_away(words), wanted = place_of_taking_away(text);
    if (sign == SIZE_MAX || wanted == SIZE_MAX || sign == 0 || strcmp(words->items[sign].folded, "subtract") == 0)
        return true;
    size_t crossed = 0, kept = 0;
    for (size_t i = 0; i < judgement->group_count; i++) {
        const struct word *word = &words->items[judgement->groups[i].chosen->first];
        for (size_t k = 0; k < text->count; k++)
            if (strcmp(text->items[k].stem, word->stem) == 0 && k != wanted && judgement->groups[i].chosen->first != sign) {
                bool same = (k < wanted) == (judgement->groups[i].chosen->first < sign);
                kept += same;
                crossed += !same;
            }
    }
    return !crossed || kept;
}

/* Where the text goes both ways ("the pH falls as the carbon dioxide rises"), one way alone is something else. */
static bool goes_both_ways(const struct judgement *judgement)
{
    const struct words *words = &judgement->reading->words;
    if (!judgement->sense.up || !judgement->sense.down || !judgement->keys_direct)
        return true;
    struct directions found = directions_in(words, 0, words->count - 1);
    return found.up + found.down < 2 || (found.up && found.down);
}

/* "A correlation does not show the cause" is not said by "that is the cause". */
static bool negation_is_kept(const struct judgement *judgement)
{
    const struct words *words = &judgement->reading->words;
    for (size_t i = 0; i < judgement->group_count; i++) {
        const struct hit *hit = judgement->groups[i].chosen;
        if (hit->first == hit->last && !hit->lacking && is_negated_in(&judgement->text, &words->items[hit->first]))
            return false;
    }
    return true;
}

enum belonging belonging_of(const struct judgement *judgement)
{
    if (!sides_are_kept(judgement) || !contrast_is_kept(judgement) || !measures_the_same(judgement)
        || names_the_other(judgement, PAIRS_OF_SIDES) || !numbers_keep_order(judgement) || !operands_keep_order(judgement)
        || !label_is_kept(judgement)
        || is_left_open(judgement, judgement->groups[0].chosen))
        return BELONGS_ELSEWHERE;
    bool together = !names_the_other(judgement, PAIRS_ALL) && directions_are_near(judgement) && ways_keep_order(judgement)
                 && goes_both_ways(judgement) && negation_is_kept(judgement) && amounts_are_kept(judgement);
    return together ? BELONGS_TOGETHER : BELONGS_PERHAPS;
}
