#include <string.h>

#include "base/random.h"
#include "base/text.h"
#include "trial.h"

/* "ca", "abc": Wikipedia, Damerau-Levenshtein distance (restricted form: 3). The others by counting the
 * edits by hand. */
Test(base, text_distance_known)
{
    static const struct { const char *a, *b; size_t distance; } known[] = {
        {"", "", 0}, {"", "abc", 3}, {"explain", "explain", 0}, {"explain", "explian", 1}, {"ca", "abc", 3},
        {"explain", "Explain", 0}, {"evaluate", "evalaute", 1}, {"state", "slate", 1}, {"state", "sate", 1},
        {"state", "statte", 1}, {"kitten", "sitting", 3}, {"straße", "STRASSE", 0}, {"é", "e\u0301", 0}, {"é", "e", 1},
        {"日本語", "日語本", 1}, {"日本語", "", 3}};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        cr_expect(text_distance(known[i].a, known[i].b, 100) == known[i].distance, "'%s', '%s': %zu",
                  known[i].a, known[i].b, text_distance(known[i].a, known[i].b, 100));
}

Test(base, text_distance_stops_at_the_limit)
{
    cr_expect(text_distance("kitten", "sitting", 3) == 3);
    cr_expect(text_distance("kitten", "sitting", 2) == 3);
    cr_expect(text_distance("kitten", "sitting", 0) == 1);
    cr_expect(text_distance("same", "same", 0) == 0);
    cr_expect(text_distance("a", "abcdefgh", 2) == 3);
    cr_expect(text_distance("abc", "xyz", SIZE_MAX) == 3);
    cr_expect(text_distance("", "", SIZE_MAX) == 0);
}

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

/* The definition, without a table: compares the ends of both words. */
static size_t plain_distance(const char *a, size_t m, const char *b, size_t n)
{
    if (m == 0 || n == 0)
        return m + n;
    size_t best = plain_distance(a, m - 1, b, n - 1) + (a[m - 1] != b[n - 1]);
    best = least(best, plain_distance(a, m - 1, b, n) + 1);
    best = least(best, plain_distance(a, m, b, n - 1) + 1);
    if (m > 1 && n > 1 && a[m - 1] == b[n - 2] && a[m - 2] == b[n - 1])
        best = least(best, plain_distance(a, m - 2, b, n - 2) + 1);
    return best;
}

static void random_word(struct random_source *source, char *word, uint64_t longest)
{
    size_t length = (size_t)random_below(source, longest + 1);
    for (size_t i = 0; i < length; i++)
        word[i] = (char)('a' + random_below(source, 3));
    word[length] = '\0';
}

Test(base, text_distance_property_against_the_definition)
{
    uint64_t seed = trial_seed(75);
    struct random_source source = {seed};
    for (int round = 0; round < 1000; round++) {
        char a[8], b[8];
        random_word(&source, a, 6);
        random_word(&source, b, 6);
        size_t full = plain_distance(a, strlen(a), b, strlen(b));
        for (size_t limit = 0; limit <= 7; limit++)
            cr_assert(text_distance(a, b, limit) == least(full, limit + 1), "seed %lu: '%s' '%s' limit %zu: %zu, full %zu",
                      seed, a, b, limit, text_distance(a, b, limit), full);
    }
}

Test(base, text_distance_property_symmetry_and_bounds)
{
    uint64_t seed = trial_seed(76);
    struct random_source source = {seed};
    for (int round = 0; round < 2000; round++) {
        char a[48], b[48];
        random_word(&source, a, 40);
        random_word(&source, b, 40);
        size_t m = strlen(a), n = strlen(b), distance = text_distance(a, b, 100);
        cr_assert(distance == text_distance(b, a, 100), "seed %lu: '%s' '%s'", seed, a, b);
        cr_assert(distance >= (m > n ? m - n : n - m) && distance <= (m > n ? m : n), "seed %lu: '%s' '%s'", seed, a, b);
        cr_assert((distance == 0) == (strcmp(a, b) == 0), "seed %lu: '%s' '%s'", seed, a, b);
        if (m > 0) {
            strcpy(b, a);
            b[random_below(&source, m)] = 'z';
            cr_assert(text_distance(a, b, 100) == 1, "seed %lu: '%s' '%s'", seed, a, b);
        }
    }
}

Test(base, text_nearest_candidate)
{
    static const char *const words[] = {"state", "explain", "calculate", "compare", "evaluate", "Explain"};
    check_text(text_nearest("explian", words, 6), "explain");
    cr_expect(text_nearest("explian", words, 6) == words[1], "ties go to the earlier");
    cr_expect(text_nearest("Explain", words, 6) == words[1], "case does not matter");
    check_text(text_nearest("clculate", words, 6), "calculate");
    check_text(text_nearest("valuate", words, 6), "evaluate");
    cr_expect(text_nearest("discuss", words, 6) == NULL);
    cr_expect(text_nearest("", words, 6) == NULL);
    cr_expect(text_nearest("state", words, 0) == NULL);
}

/* A third of the word's length, at least 1, both sides of the line. */
Test(base, text_nearest_limit)
{
    static const char *const two[] = {"ab"}, *const six[] = {"abcdef"}, *const nearer[] = {"abcxyf", "abcdxf", "abcxef"};
    check_text(text_nearest("ax", two, 1), "ab");
    cr_expect(text_nearest("xy", two, 1) == NULL);
    check_text(text_nearest("abcdxy", six, 1), "abcdef");
    cr_expect(text_nearest("abcxyz", six, 1) == NULL);
    cr_expect(text_nearest("abcdef", nearer, 3) == nearer[1]);
}
