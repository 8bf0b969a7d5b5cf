#include "practice/rating.h"

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

const char *topic_rating_meaning(enum topic_rating rating)
{
    return is_rating(rating) ? steps[rating].meaning : "";
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
