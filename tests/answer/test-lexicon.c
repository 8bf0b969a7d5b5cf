#include "trial.h"

#include "answer/lexicon.h"

/* Every list is searched by halves, so a word out of order would not be found: the first and last words and some between,
 * and words that stand in none. */
Test(answer, lexicon_finds_its_words)
{
    static const char *const known[] = {"abiotic", "alkane", "alkene", "absorb", "adsorb", "height", "weight", "organ", "organic",
                                        "mussel", "muscle", "zones", "through", "which", "the"};
    static const char *const unknown[] = {"", "desiccation", "aaa", "zzz", "organi"};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        cr_expect(lexicon_known(known[i]), "%s", known[i]);
    for (size_t i = 0; i < sizeof unknown / sizeof *unknown; i++)
        cr_expect_not(lexicon_known(unknown[i]), "%s", unknown[i]);
    cr_expect(lexicon_small("a") && lexicon_small("your") && lexicon_small("the") && !lexicon_small("shore"));
    cr_expect(lexicon_opens_clause("although") && lexicon_opens_clause("who") && !lexicon_opens_clause("and"));
    cr_expect(lexicon_negates("absence") && lexicon_negates("wouldnt") && lexicon_negates("needn't") && !lexicon_negates("n't"));
    cr_expect(lexicon_links("allow") && lexicon_links("why") && !lexicon_links("and"));
    cr_expect(lexicon_compares("alike") && lexicon_compares("while") && !lexicon_compares("and"));
    cr_expect(lexicon_up("acceler") && lexicon_up("wider") && !lexicon_up("fall"));
    cr_expect(lexicon_down("avoid") && lexicon_down("weakest") && !lexicon_down("rise"));
}

Test(answer, lexicon_of_irregular_words)
{
    bool final;
    cr_expect_str_eq(lexicon_irregular("rose", &final), "rise");
    cr_expect_not(final);
    cr_expect_str_eq(lexicon_irregular("organic", &final), "organic");
    cr_expect(final);
    cr_expect_null(lexicon_irregular("shore", &final));
    cr_expect_not(final);
}
