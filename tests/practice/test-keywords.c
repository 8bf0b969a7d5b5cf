/* Key words of a topic, and what two notes have of them. Expected lists were made by hand from the bank's text. */
#include <criterion/criterion.h>
#include <string.h>

#include "practice/keywords.h"

static struct key_words words_for(const char *topic, struct bank **bank, struct arena *arena)
{
    struct messages messages = MESSAGES_EMPTY;
    struct key_words words;
    int index = -1;
    *bank = bank_open("tests/data/topics.xml", false, &messages);
    messages_print(&messages);
    cr_assert(*bank != NULL);
    for (size_t i = 0; i < bank_course(*bank)->topic_count; i++)
        if (strcmp(bank_course(*bank)->topics[i].id, topic) == 0)
            index = (int)i;
    cr_assert(key_words_of_topic(*bank, index, arena, &words, &messages));
    return words;
}

static void expect_list(const struct key_word_list *list, const char *wanted)
{
    struct buffer text = BUFFER_EMPTY;
    for (size_t i = 0; i < list->count; i++)
        buffer_print(&text, "%s%s", i ? " " : "", list->items[i]);
    cr_assert_str_eq(buffer_text(&text), wanted);
    buffer_free(&text);
}

Test(practice, key_words_come_from_key_points_and_from_keys_of_points)
{
    struct arena *arena = arena_new();
    struct bank *bank;
    struct key_words words = words_for("waves", &bank, arena);
    struct buffer text = BUFFER_EMPTY;
    for (size_t i = 0; i < words.count; i++)
        buffer_print(&text, "%s%s", i ? " " : "", words.items[i].folded);
    /* "wind blowing over the sea passes energy", "longer fetch gives higher waves", then the keys "distance", "open water" */
    cr_assert_str_eq(buffer_text(&text), "wind blowing sea energy fetch waves bed slows distance open water");
    buffer_free(&text);
    bank_close(bank);
    words = words_for("shore", &bank, arena);
    cr_assert_eq(words.count, 0);       /* no key point, and questions of another topic do not count */
    bank_close(bank);
    arena_free(arena);
}

Test(practice, key_words_kept_lost_and_added_by_stem_and_with_slips)
{
    struct arena *arena = arena_new();
    struct bank *bank;
    struct key_words words = words_for("waves", &bank, arena);
    struct key_word_changes changes = key_words_compare(&words, "The Wind gives the wave its energy. The fetch is open water.",
                                                        "winds -> enrgy; the sea bed slowed it", arena);
    expect_list(&changes.kept, "Wind energy");
    expect_list(&changes.lost, "fetch wave open water");
    expect_list(&changes.added, "sea bed slowed");
    changes = key_words_compare(&words, "", "", arena);
    cr_assert_eq(changes.kept.count + changes.lost.count + changes.added.count, 0);
    cr_assert_eq(key_words_in(&words, "Wind, wind and winds"), 1);
    cr_assert_eq(key_words_in(&words, ""), 0);
    bank_close(bank);
    arena_free(arena);
}

Test(practice, key_words_of_a_text_leave_out_what_every_topic_has)
{
    struct arena *arena = arena_new();
    struct key_words words = key_words_of_text("The wave does not rise because v is 2 times higher, and the crest falls", NULL, arena);
    cr_assert_eq(words.count, 3);
    cr_assert_str_eq(words.items[0].folded, "wave");
    cr_assert_str_eq(words.items[1].folded, "times");
    cr_assert_str_eq(words.items[2].folded, "crest");
    arena_free(arena);
}
