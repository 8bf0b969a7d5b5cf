/* The four steps of how sure a student is. The words are our own. */
#include <criterion/criterion.h>

#include "practice/rating.h"

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

Test(practice, every_rating_has_a_name_and_a_meaning_and_nothing_else_has)
{
    cr_assert_str_eq(topic_rating_name(TOPIC_UNAIDED), "unaided");
    cr_assert_str_eq(topic_rating_name(TOPIC_NOT_RATED), "not rated");
    cr_assert_str_eq(topic_rating_name((enum topic_rating)5), "not rated");
    cr_assert_str_eq(topic_rating_meaning((enum topic_rating)5), "");
    for (int i = TOPIC_LOST; i <= TOPIC_COULD_TEACH; i++)
        cr_assert_str_neq(topic_rating_meaning((enum topic_rating)i), "");
}
