/* Is the ask plain: does it say its command word, only one, and in words a student can read? */
#include <ctype.h>
#include <math.h>
#include <string.h>

#include "authoring/command-words.h"
#include "authoring/warnings-inner.h"
#include "base/buffer.h"
#include "base/text.h"

/* Common practice, no source. */
enum { ASK_WORDS_MOST = 60, READING_WORDS_LEAST = 40, READING_AGE_MOST = 16, FIRST_SCHOOL_AGE = 5 };

/* "Give your answer to 2 figures", "Show your working", "State the unit", "Give two reasons": how to answer, no second
 * command. */
static bool says_how_to_answer(const struct words *words, size_t start)
{
    static const char *const next[] = {"your", "the unit", "the units", "all", "each"}, *const counts[] = {"one", "two", "three"};
    for (size_t i = 0; i < sizeof counts / sizeof *counts; i++)
        if (start + 1 < words->count && text_equal(words->items[start].folded, "give") &&
            text_equal(words->items[start + 1].folded, counts[i]))
            return true;
    for (size_t i = 0; i < sizeof next / sizeof *next; i++) {
        size_t length = strcspn(next[i], " ");
        if (start + 1 < words->count && strncmp(words->items[start + 1].folded, next[i], length) == 0 &&
            words->items[start + 1].folded[length] == '\0' &&
            (!next[i][length] || (start + 2 < words->count && text_equal(words->items[start + 2].folded, next[i] + length + 1))))
            return true;
    }
    return false;
}

static void check_command_word(const struct weak *weak, const struct part *part, const struct words *words)
{
    const char *wanted = weak->course->words[part->word].word;
    bool said = false;
    int other = -1;
    for (size_t i = 0; i < words->count; i++) {
        said = said || phrase_stands_at(words, i, &weak->command_words[part->word]);
        if (!word_begins_sentence(words, i))
            continue;
        int found = command_word_at(weak->course, weak->command_words, words, i);
        if (found >= 0 && found != part->word && !says_how_to_answer(words, i))
            other = found;
    }
    if (!said && other >= 0)
        weak_warn(weak, "the ask says '%s', but its command word is '%s'; make the two agree",
                  weak->course->words[other].word, wanted);
    else if (!said)
        weak_warn(weak, "the ask does not say its command word '%s'; a student looks for it", wanted);
    else if (other >= 0)
        weak_warn(weak, "the ask gives two commands, '%s' and '%s'; a part each is easier to answer and to mark", wanted,
                  weak->course->words[other].word);
}

/* Automated Readability Index: Senter and Smith, AMRL-TR-66-220, 1967. A grade; the age is some five years more. */
static double reading_age(const char *text, const struct words *words)
{
    size_t characters = 0;
    for (const char *at = text; *at; at++)
        characters += isalnum((unsigned char)*at) != 0;
    double grade = 4.71 * (double)characters / (double)words->count +
                   0.5 * (double)words->count / (double)words->sentences - 21.43;
    return grade + FIRST_SCHOOL_AGE;
}

static void check_reading_age(const struct weak *weak, const struct part *part)
{
    struct buffer text = BUFFER_EMPTY;
    for (size_t i = 0; i < weak->question->stem.count; i++)
        if (weak->question->stem.items[i].kind == BLOCK_PARAGRAPH)
            plain_add_rich(&text, &weak->question->stem.items[i].text, weak->values), buffer_add(&text, "\n");
    plain_add_blocks(&text, &part->ask, weak->values);
    const struct words words = words_of(buffer_text(&text), weak->arena);
    if (words.count >= READING_WORDS_LEAST && words.sentences > 0) {
        int age = (int)lround(reading_age(buffer_text(&text), &words));
        if (age > READING_AGE_MOST)
            weak_warn(weak, "the question reads like a text for %s; shorter sentences and plainer words help every student",
                      age >= 18 ? "adults" : "readers of 17");
    }
    buffer_free(&text);
}

void weak_ask(const struct weak *weak, const struct part *part)
{
    struct buffer text = BUFFER_EMPTY;
    plain_add_blocks(&text, &part->ask, weak->values);
    const struct words words = words_of(buffer_text(&text), weak->arena);
    check_command_word(weak, part, &words);
    if (words.count > ASK_WORDS_MOST)
        weak_warn(weak, "the ask has %zu words; more than %d are hard to keep in mind: move what is given into the stem",
                  words.count, ASK_WORDS_MOST);
    buffer_free(&text);
    check_reading_age(weak, part);
}
