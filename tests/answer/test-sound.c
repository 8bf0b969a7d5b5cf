/* What words sound like. Common knowledge of English spelling, no source. */
#include "trial.h"

#include "answer/lexicon.h"
#include "answer/sound.h"

static bool alike(const char *one, const char *other, size_t *vowels)
{
    struct sound first = sound_of(one), second = sound_of(other);
    return sound_same_frame(&first, &second, vowels);
}

Test(answer, spelt_by_ear_sounds_the_same)
{
    static const char *const pairs[][2] = {
        {"fotosynthesis", "photosynthesis"}, {"respirashun", "respiration"}, {"faeces", "feeces"}, {"oxigen", "oxygen"},
        {"presher", "pressure"}, {"dessication", "desiccation"}, {"clorine", "chlorine"}, {"nite", "night"}, {"dets", "debts"},
        {"rane", "rain"}, {"fead", "feed"}, {"erth", "earth"}, {"angul", "angle"}, {"losst", "lost"}, {"rong", "wrong"},
        {"nock", "knock"}, {"lim", "limb"}, {"stopt", "stopped"}, {"becaws", "becauze"}, {"wich", "which"}, {"frickshun", "friction"},
    };
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++) {
        size_t vowels;
        cr_expect(alike(pairs[i][0], pairs[i][1], &vowels), "%s is %s, %s is %s", pairs[i][0], sound_of(pairs[i][0]).text,
                  pairs[i][1], sound_of(pairs[i][1]).text);
        cr_expect_eq(vowels, 0, "%s, %s: %zu", pairs[i][0], pairs[i][1], vowels);
    }
}

Test(answer, vowels_heard_amiss_are_counted)
{
    size_t vowels;
    cr_expect(alike("orbet", "orbit", &vowels) && vowels == 1);
    cr_expect(alike("warter", "water", &vowels) && vowels == 1);
    cr_expect(alike("enuf", "enough", &vowels) && vowels == 0, "ou may be any vowel");
    cr_expect_not(alike("wade", "wave", &vowels));
    cr_expect_not(alike("tide", "tides", &vowels));
    cr_expect_not(alike("", "a", &vowels));
    cr_expect(alike("", "", &vowels) && vowels == 0);
}

Test(answer, sounds_have_an_end)
{
    char long_word[400];
    memset(long_word, 'b', sizeof long_word - 1);
    for (size_t i = 1; i < sizeof long_word - 1; i += 2)
        long_word[i] = 'a';
    long_word[sizeof long_word - 1] = '\0';
    struct sound sound = sound_of(long_word);
    cr_expect_eq(strlen(sound.text), SOUND_BYTES - 1);
    cr_expect_eq(sound_consonants(&sound), SOUND_BYTES / 2);
    sound = sound_of("d\u00e9sert");     /* bytes of other letters are taken as they are */
    cr_expect_gt(strlen(sound.text), 4);
    sound = sound_of("'");
    cr_expect_eq(strlen(sound.text), 0);
}

Test(answer, everyday_words_for_words_of_the_scheme)
{
    cr_expect(lexicon_says("shut", "close") && !lexicon_says("close", "shut"));
    cr_expect(lexicon_says("ad", "advert") && lexicon_says("youngster", "young") && lexicon_says("mum", "parent"));
    cr_expect_not(lexicon_says("", "") || lexicon_says("aaa", "close") || lexicon_says("zzz", "young") || lexicon_says("shut", "band"));
    static const char *const same[][2] = {
        {"quicker", "quickly"}, {"quicker", "quick"}, {"thinner", "thin"}, {"easier", "easy"}, {"easily", "easy"}, {"denser", "dense"},
        {"cheaper", "cheap"}, {"gently", "gentle"},
    };
    for (size_t i = 0; i < sizeof same / sizeof *same; i++)
        cr_expect(lexicon_same_quality(same[i][0], same[i][1]), "%s, %s", same[i][0], same[i][1]);
    cr_expect_not(lexicon_same_quality("thin", "thinner"), "the scheme asks for more than thin");
    cr_expect_not(lexicon_same_quality("water", "wate") || lexicon_same_quality("flower", "flow") || lexicon_same_quality("layer", "lay"));
}
