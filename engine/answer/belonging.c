/* Key words that are all there may still say something else: each rule here is one way in which they do. */
#include "answer/judgement.h"

#include <string.h>

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
        if (!has_direction(judgement, judgement->groups[i].chosen))
            continue;
        for (size_t k = 0; k < judgement->group_count; k++)
            if (clause_of(judgement, &judgement->groups[i]) != clause_of(judgement, &judgement->groups[k]))
                return false;
    }
    return true;
}

/* Does a "than" stand before this word in its clause? Then it is what is compared with, not what is spoken of. */
static bool is_behind_than(const struct words *words, size_t index)
{
    for (size_t i = index; i-- > 0 && words->items[i].clause == words->items[index].clause;)
        if (strcmp(words->items[i].folded, "than") == 0)
            return true;
    return false;
}

static bool sides_are_kept(const struct judgement *judgement)
{
    const struct words *words = &judgement->reading->words, *text = &judgement->text;
    for (size_t i = 0; i < judgement->group_count; i++) {
        size_t at = judgement->groups[i].chosen->first;
        for (size_t k = 0; k < text->count; k++)
            if (strcmp(text->items[k].stem, words->items[at].stem) == 0 && is_behind_than(text, k) != is_behind_than(words, at))
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
    size_t where = words->count, up = 0, down = 0;
    for (size_t i = 0; i < judgement->group_count; i++) {
        const struct hit *hit = judgement->groups[i].chosen;
        struct directions ways = directions_in(words, hit->first, hit->last);
        up += ways.up;
        down += ways.down;
        if (ways.up + ways.down && hit->first < where) {
            where = hit->first;
            first = ways.up ? DIRECTION_UP : DIRECTION_DOWN;
        }
    }
    return !judgement->sense.up || !judgement->sense.down || !up || !down || first == wanted;
}

/* "Air above the sea rises" is not "air above the land rises": a clause that names only the other of a pair. */
static bool names_the_other(const struct judgement *judgement)
{
    const struct words *words = &judgement->reading->words;
    for (size_t i = 0; i < judgement->group_count; i++) {
        size_t clause = clause_of(judgement, &judgement->groups[i]), first = judgement->groups[i].chosen->first, last = first;
        while (first > 0 && words->items[first - 1].clause == clause)
            first--;
        while (last + 1 < words->count && words->items[last + 1].clause == clause)
            last++;
        if (names_reverse(words, first, last, &judgement->text))
            return true;
    }
    return false;
}

static bool is_degree(const struct word *word)
{
    return strcmp(word->stem, "more") == 0 || strcmp(word->stem, "less") == 0 || strcmp(word->stem, "fewer") == 0;
}

/* The word that a word of degree stands before: "oxygen" in "less oxygen"; NULL at the end of its clause, and where "than" or
 * "of" comes between. */
static const struct word *measured(const struct words *words, size_t degree)
{
    for (size_t i = degree + 1; i < words->count && words->items[i].clause == words->items[degree].clause; i++) {
        if (strcmp(words->items[i].folded, "than") == 0 || strcmp(words->items[i].folded, "of") == 0)
            return NULL;
        if (word_carries(&words->items[i]))
            return &words->items[i];
    }
    return NULL;
}

/* Does text measure this word? *any: it measures something. */
static bool text_measures(const struct reading *reading, const struct words *text, const struct word *word, bool *any)
{
    for (size_t i = 0; i < text->count; i++) {
        const struct word *other = is_degree(&text->items[i]) ? measured(text, i) : NULL;
        *any = *any || other;
        if (other && word_compare(word, other, reading->vocabulary) != WORD_MATCH_NONE)
            return true;
    }
    return false;
}

/* "less need for oxygen" is not "less oxygen": where the scheme says what is more or less, the answer has to say it of the same. */
static bool measures_the_same(const struct judgement *judgement)
{
    const struct reading *reading = judgement->reading;
    const struct wording *accepts = &judgement->point->accepts;
    for (size_t i = 0; i < judgement->group_count; i++) {
        size_t at = judgement->groups[i].chosen->first;
        const struct word *word = is_degree(&reading->words.items[at]) ? measured(&reading->words, at) : NULL;
        if (!word)
            continue;
        bool any = false, same = text_measures(reading, &judgement->text, word, &any);
        for (size_t k = 0; k < accepts->count && !same; k++) {
            struct words wording = reading_words(reading, accepts->items[k]);
            same = text_measures(reading, &wording, word, &any);
        }
        if (any && !same)
            return false;
    }
    return true;
}

/* The place of a key word in the point's own text; its count when it is not there. */
static size_t place_in_text(const struct judgement *judgement, const struct group *group)
{
    const struct words *text = &judgement->text;
    for (size_t i = 0; i < group->key->count; i++) {
        struct words wording = reading_words(judgement->reading, group->key->alternatives[i]);
        for (size_t k = 0; wording.count && k < text->count; k++)
            if (strcmp(text->items[k].stem, wording.items[0].stem) == 0)
                return k;
    }
    return text->count;
}

/* The one clause of the text that holds this word; SIZE_MAX when none or several do. */
static size_t clause_in_text(const struct judgement *judgement, const struct word *word)
{
    const struct words *text = &judgement->text;
    size_t clause = SIZE_MAX;
    for (size_t i = 0; i < text->count; i++) {
        if (!word_carries(&text->items[i])
            || word_compare(word, &text->items[i], judgement->reading->vocabulary) == WORD_MATCH_NONE)
            continue;
        if (clause != SIZE_MAX && clause != text->items[i].clause)
            return SIZE_MAX;
        clause = text->items[i].clause;
    }
    return clause;
}

static bool sets_against(const struct words *text)
{
    for (size_t i = 0; i < text->count; i++)
        if (strcmp(text->items[i].folded, "while") == 0 || strcmp(text->items[i].folded, "whereas") == 0
            || strcmp(text->items[i].folded, "but") == 0)
            return true;
    return false;
}

/* A text that sets two things against each other ("a random error changes, while a systematic error is the same") says what
 * belongs to which: "same" behind "random" is the other way round. */
static bool contrast_is_kept(const struct judgement *judgement)
{
    const struct words *words = &judgement->reading->words, *text = &judgement->text;
    for (size_t i = 0; sets_against(text) && i < judgement->group_count; i++) {
        size_t place = place_in_text(judgement, &judgement->groups[i]), at = judgement->groups[i].chosen->first;
        for (size_t k = at; place > 0 && place < text->count && k-- > 0 && words->items[k].sentence == words->items[at].sentence;) {
            size_t clause = clause_in_text(judgement, &words->items[k]);
            if (clause != SIZE_MAX && clause != text->items[place].clause
                && text->items[place - 1].clause == text->items[place].clause)
                return false;
            if (clause != SIZE_MAX)
                break;
        }
    }
    return true;
}

bool belongs_together(const struct judgement *judgement)
{
    return directions_are_near(judgement) && sides_are_kept(judgement) && ways_keep_order(judgement)
        && !names_the_other(judgement) && measures_the_same(judgement) && contrast_is_kept(judgement)
        && !is_left_open(judgement, judgement->groups[0].chosen);
}
