/* A point whose words are missing: is it absent, or said in words that the scheme does not have? It is called absent only when
 * next to nothing of the answer is left that could be saying it. */
#include "answer/inside.h"

#include <string.h>

#include "base/text.h"

enum {
    UNEXPLAINED = 2,            /* words left over that may still be there by the way */
    UNEXPLAINED_FEW = 1,        /* where some of the point is there, or a "not", which can say much with few words */
    UNEXPLAINED_OF = 3,         /* and at most one in this many */
    PARTLY_FROM = 4             /* words; a shorter answer with some of the point leaves out what goes without saying */
};

struct absence {
    const struct reading *reading;
    const struct vocabulary *scheme;    /* the words of the part's scheme: what is said with them is for some point */
    const struct point_evidence *points;
    size_t count;
};

/* ---- What is left over --------------------------------------------------------------------------- */

/* Does the word stand in a clause that earned another point? */
static bool earns_another(const struct absence *absence, const struct point_evidence *point, const struct word *word)
{
    const struct words *words = &absence->reading->words;
    for (size_t i = 0; i < absence->count; i++) {
        const struct point_evidence *other = &absence->points[i];
        for (size_t q = 0; other != point && other->verdict == LOOKS_EARNED && q < other->quote_count; q++)
            for (size_t w = 0; w < words->count; w++) {
                size_t start = words->items[w].at.start;
                if (words->items[w].clause == word->clause && start >= other->quotes[q].start
                    && start < other->quotes[q].start + other->quotes[q].length)
                    return true;
            }
    }
    return false;
}

/* Words of the answer that are neither the question's nor the scheme's, and earn nothing else. */
static size_t count_unexplained(const struct absence *absence, const struct point_evidence *point)
{
    const struct reading *reading = absence->reading;
    size_t count = 0;
    for (size_t i = 0; i < reading->words.count; i++) {
        const struct word *word = &reading->words.items[i];
        const struct word *meant = word_meant(word, reading->vocabulary);
        meant = meant ? meant : word;
        count += word_carries(word) && !is_empty(word) && !words_hold(&reading->asked, meant)
              && !vocabulary_holds(absence->scheme, meant) && !earns_another(absence, point, word);
    }
    return count;
}

/* At least half of the words are the course's; words of another field may say anything. */
static bool is_in_known_words(const struct reading *reading)
{
    size_t known = 0, carrying = 0;
    for (size_t i = 0; i < reading->words.count; i++) {
        if (!word_carries(&reading->words.items[i]) || reading->words.items[i].number)
            continue;
        carrying++;
        known += word_meant(&reading->words.items[i], reading->vocabulary) != NULL;
    }
    return carrying >= 1 && 2 * known >= carrying;
}

/* ---- Spelt by ear -------------------------------------------------------------------------------- */

/* A word that nobody knows may be one of the point's: "troff", "rane". */
static bool may_be_by_ear(const struct reading *reading, const struct word *typed, const char *wording)
{
    struct words wanted = reading_words(reading, wording);
    for (size_t i = 0; i < wanted.count; i++) {
        const struct word *word = &wanted.items[i];
        size_t length = strlen(word->folded), allowed = length < 8 ? length / 2 : 3;
        if (word_carries(word) && !word->number && word->folded[0] == typed->folded[0]
            && text_distance(typed->folded, word->folded, allowed) <= allowed)
            return true;
    }
    return false;
}

static bool has_word_by_ear(const struct reading *reading, const struct node *point)
{
    for (size_t i = 0; i < reading->words.count; i++) {
        const struct word *typed = &reading->words.items[i];
        if (!word_carries(typed) || typed->number || word_is_known(typed->folded) || word_meant(typed, reading->vocabulary))
            continue;
        for (size_t k = 0; k < point->accepts.count; k++)
            if (may_be_by_ear(reading, typed, point->accepts.items[k]))
                return true;
        for (size_t k = 0; k < point->key_count; k++)
            for (size_t a = 0; a < point->keys[k].count; a++)
                if (may_be_by_ear(reading, typed, point->keys[k].alternatives[a]))
                    return true;
    }
    return false;
}

/* ---- Settling ------------------------------------------------------------------------------------ */

static bool has_number(const struct words *words)
{
    for (size_t i = 0; i < words->count; i++)
        if (words->items[i].number)
            return true;
    return false;
}

/* The point wants one of some figures, and the answer has no figure at all. */
static bool lacks_figures(const struct reading *reading, const struct node *point)
{
    for (size_t i = 0; i < point->key_count && !has_number(&reading->words); i++) {
        size_t numbers = 0;
        for (size_t k = 0; k < point->keys[i].count; k++) {
            struct words wording = reading_words(reading, point->keys[i].alternatives[k]);
            numbers += wording.count == 1 && wording.items[0].number;
        }
        if (numbers && numbers == point->keys[i].count)
            return true;
    }
    return false;
}

/* "Not only" as well: it may say more than its words. */
static bool has_negation(const struct words *words)
{
    for (size_t i = 0; i < words->count; i++)
        if (word_negates(&words->items[i]))
            return true;
    return false;
}

static bool is_absent(const struct absence *absence, const struct point_evidence *point)
{
    const struct reading *reading = absence->reading;
    if (point->ground == GROUND_IGNORED)
        return count_unexplained(absence, point) <= UNEXPLAINED;
    bool nothing = point->ground == GROUND_NO_WORDS, negates = has_negation(&reading->words);
    if (!nothing && lacks_figures(reading, point->point))
        return true;
    if ((!nothing && negates) || !is_in_known_words(reading) || has_word_by_ear(reading, point->point))
        return false;
    size_t unexplained = count_unexplained(absence, point), carrying = 0;
    for (size_t i = 0; i < reading->words.count; i++)
        carrying += word_carries(&reading->words.items[i]);
    if (!nothing && carrying < PARTLY_FROM)
        return false;
    return unexplained <= (negates ? 0 : !nothing ? UNEXPLAINED_FEW : UNEXPLAINED) && unexplained * UNEXPLAINED_OF <= carrying;
}

/* "dunno", "I don't know", "no idea": there is nothing else in it. */
static bool gives_up(const struct reading *reading)
{
    bool says_so = false;
    for (size_t i = 0; i < reading->words.count; i++) {
        const char *word = reading->words.items[i].folded;
        bool giving_up = IS_ONE_OF(word, "dunno", "idk", "know", "idea", "clue", "sure");
        if (!giving_up && !IS_ONE_OF(word, "i", "do", "don't", "dont", "not", "no", "have", "haven't", "havent", "a", "the", "am",
                                     "i'm", "im", "sorry", "really", "this", "one", "it", "can't", "cant", "remember"))
            return false;
        says_so = says_so || giving_up || strcmp(word, "remember") == 0;
    }
    return says_so;
}

void settle_absent(const struct reading *reading, struct point_evidence *points, size_t count)
{
    struct vocabulary *scheme = vocabulary_new(reading->arena);
    vocabulary_add_scheme(scheme, &reading->ask->part->scheme.root);
    struct absence absence = {reading, scheme, points, count};
    bool nothing = gives_up(reading);
    for (size_t i = 0; i < count; i++) {
        const struct node *point = points[i].point;
        enum evidence_ground ground = points[i].ground;
        bool lacking = ground == GROUND_NO_WORDS || ground == GROUND_IGNORED || (ground == GROUND_SOME_WORDS && points[i].missing);
        bool worded = point->key_count || point->accepts.count;
        if (points[i].verdict == CANT_TELL && lacking && worded && (nothing || is_absent(&absence, &points[i])))
            points[i].verdict = LOOKS_NOT_EARNED;
    }
}
