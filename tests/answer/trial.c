#include "trial.h"

static const struct command_word words[] = {
    {.word = "calculate"}, {.word = "compare"}, {.word = "complete"}, {.word = "describe"}, {.word = "evaluate"},
    {.word = "explain"}, {.word = "name"}, {.word = "state"}, {.word = "show that"}, {.word = "to what extent"},
};

static const struct topic topics[] = {
    {.id = "waves", .name = "Wave energy", .parent = -1, .is_leaf = true},
    {.id = "shore", .name = "Rocky-shore ecology", .parent = -1, .is_leaf = true},
};

const struct course trial_course = {
    .name = "Coastal Science", .words = words, .word_count = sizeof words / sizeof *words,
    .topics = topics, .topic_count = 2,
};

uint64_t trial_seed(uint64_t usual)
{
    const char *wanted = getenv("OWNMARK_SEED");
    return wanted ? strtoull(wanted, NULL, 0) : usual;
}
