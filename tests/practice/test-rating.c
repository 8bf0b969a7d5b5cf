/* The four steps of how sure a student is. The words are our own. */
#include <criterion/criterion.h>

#include <string.h>

#include "practice/rating.h"
#include "report/text.h"

Test(practice, a_rating_is_read_from_its_number_its_name_or_the_beginning_of_it)
{
    static const struct { const char *typed; enum topic_rating rating; } cases[] = {
        {"1", TOPIC_LOST}, {"4", TOPIC_COULD_TEACH}, {"lost", TOPIC_LOST}, {" Following ", TOPIC_FOLLOWING},
        {"u", TOPIC_UNAIDED}, {"could", TOPIC_COULD_TEACH}, {"could teach it", TOPIC_COULD_TEACH},
        {"", TOPIC_NOT_RATED}, {"  ", TOPIC_NOT_RATED}, {"0", TOPIC_NOT_RATED}, {"5", TOPIC_NOT_RATED}, {"12", TOPIC_NOT_RATED},
        {"lostt", TOPIC_NOT_RATED}, {"teach", TOPIC_NOT_RATED},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        cr_assert_eq(topic_rating_read(cases[i].typed), cases[i].rating, "%s", cases[i].typed);
}

Test(practice, every_rating_has_a_name_and_is_explained)
{
    cr_assert_str_eq(topic_rating_name(TOPIC_UNAIDED), "unaided");
    cr_assert_str_eq(topic_rating_name(TOPIC_NOT_RATED), "not rated");
    cr_assert_str_eq(topic_rating_name((enum topic_rating)5), "not rated");
    struct page *page = page_new();
    topic_rating_show_steps(page);
    cr_assert_eq(page->count, TOPIC_COULD_TEACH);
    cr_expect_str_eq(page->blocks[0].label, "1");
    cr_expect_str_eq(page->blocks[2].text.runs[0].text, "unaided: I can do it on my own");
    page_free(page);
}

/* ---- Beside the marks: the limits of the bands are 0.40 and 0.70 (learner_band_of) ------------------- */

static enum rating_against_marks against(enum topic_rating rating, double low, double high, double marks)
{
    const struct learner_estimate estimate = {.share = (low + high) / 2, .low80 = low, .high80 = high};
    return topic_rating_compare(rating, &estimate, marks);
}

Test(practice, a_rating_disagrees_only_when_the_whole_range_does)
{
    cr_expect_eq(against(TOPIC_LOST, 0.2, 0.5, 10), RATING_AGREES);
    cr_expect_eq(against(TOPIC_LOST, 0.39, 0.9, 10), RATING_AGREES);
    cr_expect_eq(against(TOPIC_LOST, 0.40, 0.9, 10), RATING_LOWER);
    cr_expect_eq(against(TOPIC_FOLLOWING, 0.1, 0.39, 10), RATING_HIGHER);
    cr_expect_eq(against(TOPIC_FOLLOWING, 0.1, 0.40, 10), RATING_AGREES);
    cr_expect_eq(against(TOPIC_FOLLOWING, 0.70, 0.95, 10), RATING_LOWER);
    cr_expect_eq(against(TOPIC_UNAIDED, 0.3, 0.69, 10), RATING_HIGHER);
    cr_expect_eq(against(TOPIC_UNAIDED, 0.3, 0.70, 10), RATING_AGREES);
    cr_expect_eq(against(TOPIC_COULD_TEACH, 0.3, 0.69, 10), RATING_HIGHER);
    cr_expect_eq(against(TOPIC_COULD_TEACH, 0.8, 0.9, 10), RATING_AGREES);
    cr_expect_eq(against(TOPIC_COULD_TEACH, 0.1, 0.2, 2.9), RATING_UNTOLD, "under three marks nothing is known");
    cr_expect_eq(against(TOPIC_NOT_RATED, 0.1, 0.2, 10), RATING_UNTOLD);
    cr_expect_eq(against((enum topic_rating)9, 0.1, 0.2, 10), RATING_UNTOLD);
}

Test(practice, disagreement_is_pointed_out_either_way_with_what_to_do)
{
    const struct topic_rated topics[] = {
        {"t.1", "Tides", TOPIC_UNAIDED, {.low80 = 0.2, .high80 = 0.5}, 9},
        {"t.2", "Waves", TOPIC_FOLLOWING, {.low80 = 0.3, .high80 = 0.6}, 9},
        {"t.3", "Shore", TOPIC_LOST, {.low80 = 0.6, .high80 = 0.9}, 9},
        {"t.4", "Dunes", TOPIC_COULD_TEACH, {.low80 = 0.1, .high80 = 0.3}, 9},
    };
    const struct text_look look = {.width = 100};
    struct page *page = page_new();
    struct buffer out = BUFFER_EMPTY;
    topic_rating_remarks(page, &topics[1], 1);
    cr_assert_eq(page->count, 0, "agreement needs no words");
    topic_rating_remarks(page, topics, 4);
    page_render_text(page, &look, &out);
    for (char *end; (end = strchr(out.text, '\n'));)
        *end = ' ';
    cr_assert(strstr(buffer_text(&out), "surer than your marks say: Tides (you say: unaided; your marks say: 20 to 50 of 100), "
                                        "Dunes (you say: could teach it; your marks say: 10 to 30 of 100). "), "%s", buffer_text(&out));
    cr_assert(strstr(buffer_text(&out), "'ownmark practise --topic t.1'"));
    cr_assert(strstr(buffer_text(&out), "more than you think: Shore (you say: lost; your marks say: 60 to 90 of 100). Next: "));
    buffer_free(&out);
    page_free(page);
}
