#include "practice/rating.h"

#include <math.h>
#include <string.h>

#include "base/buffer.h"
#include "base/text.h"

static const struct step {
    const char *name, *meaning;
} steps[] = {
    [TOPIC_LOST] = {"lost", "I would not know how to begin"},
    [TOPIC_FOLLOWING] = {"following", "I can do it with the book or an example beside me"},
    [TOPIC_UNAIDED] = {"unaided", "I can do it on my own"},
    [TOPIC_COULD_TEACH] = {"could teach it", "I could explain it to somebody else"},
};

static bool is_rating(enum topic_rating rating)
{
    return (int)rating >= TOPIC_LOST && (int)rating <= TOPIC_COULD_TEACH;
}

const char *topic_rating_name(enum topic_rating rating)
{
    return is_rating(rating) ? steps[rating].name : "not rated";
}

enum topic_rating topic_rating_read(const char *typed)
{
    struct buffer folded = BUFFER_EMPTY;
    enum topic_rating found = TOPIC_NOT_RATED;
    text_add_case_folded(&folded, typed);
    const char *word = folded.length ? text_trim(folded.text) : "";
    for (int i = TOPIC_LOST; i <= TOPIC_COULD_TEACH && *word; i++) {
        const char number[] = {(char)('0' + i), '\0'};
        if (strcmp(word, number) == 0 || text_starts_with(steps[i].name, word))
            found = (enum topic_rating)i;
    }
    buffer_free(&folded);
    return found;
}

void topic_rating_show_steps(struct page *page)
{
    for (int i = TOPIC_LOST; i <= TOPIC_COULD_TEACH; i++) {
        const char number[] = {(char)('0' + i), '\0'};
        page_item(page, 0, number, "%s: %s", steps[i].name, steps[i].meaning);
    }
}

/* ---- Beside the marks ------------------------------------------------------------------------------ */

static enum learner_band band_meant(enum topic_rating rating)
{
    return rating == TOPIC_LOST ? LEARNER_LOW : rating == TOPIC_FOLLOWING ? LEARNER_MIDDLE : LEARNER_HIGH;
}

enum rating_against_marks topic_rating_compare(enum topic_rating rating, const struct learner_estimate *estimate, double marks)
{
    enum learner_band lowest = learner_band_of(estimate->low80, marks), highest = learner_band_of(estimate->high80, marks);
    if (!is_rating(rating) || lowest == LEARNER_NO_EVIDENCE || highest == LEARNER_NO_EVIDENCE)
        return RATING_UNTOLD;
    if (band_meant(rating) > highest)
        return RATING_HIGHER;
    return band_meant(rating) < lowest ? RATING_LOWER : RATING_AGREES;
}

static void add_disagreement(struct page *page, const struct topic_rated *topic, bool first)
{
    page_add(page, STYLE_PLAIN, "%s%s (you say: %s; your marks say: %ld to %ld of 100)", first ? "" : ", ", topic->name,
             topic_rating_name(topic->rating), lround(topic->estimate.low80 * 100.0), lround(topic->estimate.high80 * 100.0));
}

/* All topics that disagree that way, in one paragraph; the first of them, NULL when there is none. */
static const struct topic_rated *list_against(struct page *page, const struct topic_rated *topics, size_t count,
                                              enum rating_against_marks against, const char *opening)
{
    const struct topic_rated *first = NULL;
    for (size_t i = 0; i < count; i++) {
        if (topic_rating_compare(topics[i].rating, &topics[i].estimate, topics[i].marks) != against)
            continue;
        if (!first)
            page_paragraph(page, "%s", opening);
        add_disagreement(page, &topics[i], !first);
        first = first ? first : &topics[i];
    }
    if (first)
        page_add(page, STYLE_PLAIN, ". ");
    return first;
}

void topic_rating_remarks(struct page *page, const struct topic_rated *topics, size_t count)
{
    const struct topic_rated *first = list_against(page, topics, count, RATING_HIGHER, "You feel surer than your marks say: ");
    if (first)
        page_add(page, STYLE_PLAIN, "That happens to everybody: knowing a page when you see it is not yet writing it. Next: "
                                    "'ownmark practise --topic %s' with the book shut, then compare with the scheme word by word.",
                 first->id);
    if (list_against(page, topics, count, RATING_LOWER, "Your marks say you can do more than you think: "))
        page_add(page, STYLE_PLAIN, "Next: trust that, and give the minutes to another topic; 'ownmark practise' picks one.");
}
