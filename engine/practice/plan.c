#include "practice/plan.h"

#include <stdlib.h>
#include <string.h>

#include "base/text.h"

static const char *const names[WISH_WORDS] = {"topic", "objective", "word", "skill", "question"};

static const char **word_at(struct wish_words *words, size_t index)
{
    const char **const fields[WISH_WORDS] = {&words->topic, &words->objective, &words->word, &words->skill,
                                             &words->question};
    return fields[index];
}

void plan_write(const struct practice_plan *plan, struct buffer *out)
{
    struct wish_words words = plan->words;
    buffer_print(out, "minutes=%g\nquestions=%d\n", plan->minutes, plan->questions);
    if (plan->missed)
        buffer_add(out, "missed=yes\n");
    for (size_t i = 0; i < WISH_WORDS; i++)
        if (*word_at(&words, i))
            buffer_print(out, "%s=%s\n", names[i], *word_at(&words, i));
}

static void read_line(const char *line, struct practice_plan *plan)
{
    const char *equals = strchr(line, '=');
    if (!equals)
        return;
    if (text_starts_with(line, "minutes="))
        plan->minutes = strtod(equals + 1, NULL);
    if (text_starts_with(line, "questions="))
        plan->questions = (int)strtol(equals + 1, NULL, 10);
    plan->missed = plan->missed || text_equal(line, "missed=yes");
    for (size_t i = 0; i < WISH_WORDS; i++)
        if (strlen(names[i]) == (size_t)(equals - line) && text_starts_with(line, names[i]))
            *word_at(&plan->words, i) = equals + 1;
}

void plan_read(const struct bank *bank, const char *text, struct arena *arena, struct practice_plan *plan,
               struct messages *messages)
{
    char *rest = NULL;
    *plan = (struct practice_plan){.wish = WISH_ANYTHING};
    for (char *line = strtok_r(arena_copy_text(arena, text), "\n", &rest); line; line = strtok_r(NULL, "\n", &rest))
        read_line(line, plan);
    if (!wish_read(bank, &plan->words, &plan->wish, messages))
        plan->wish = WISH_ANYTHING;
}
