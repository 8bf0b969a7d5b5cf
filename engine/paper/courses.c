#include "paper/courses.h"

#include <string.h>

static bool differ(const struct bank *bank, const char *what, const char *id, struct messages *messages)
{
    messages_add(messages, SEVERITY_ERROR, (struct place){bank_path(bank), 0, 0}, NULL,
                 "its course is not that of the first bank, which has no %s '%s'; a paper takes banks of one course", what, id);
    return false;
}

static bool is_of_course(const struct course *course, const struct bank *bank, struct messages *messages)
{
    const struct course *own = bank_course(bank);
    if (strcmp(course->name, own->name) != 0) {
        messages_add(messages, SEVERITY_ERROR, (struct place){bank_path(bank), 0, 0}, NULL,
                     "its course is '%s', and that of the first bank '%s'; a paper takes banks of one course", own->name,
                     course->name);
        return false;
    }
    for (size_t i = 0; i < own->objective_count; i++)
        if (course_objective(course, own->objectives[i].id) < 0)
            return differ(bank, "objective", own->objectives[i].id, messages);
    for (size_t i = 0; i < own->skill_count; i++)
        if (course_skill(course, own->skills[i].id) < 0)
            return differ(bank, "skill", own->skills[i].id, messages);
    for (size_t i = 0; i < own->topic_count; i++) {
        int topic = course_topic(course, own->topics[i].id);
        if (topic < 0 || course->topics[topic].is_leaf != own->topics[i].is_leaf)
            return differ(bank, "topic", own->topics[i].id, messages);
    }
    return true;
}

bool courses_go_together(struct bank *const *banks, size_t count, struct messages *messages)
{
    for (size_t i = 1; i < count; i++) {
        if (!is_of_course(bank_course(banks[0]), banks[i], messages))
            return false;
        for (size_t j = 0; j < i; j++) {
            if (strcmp(bank_id(banks[i]), bank_id(banks[j])) != 0)
                continue;
            messages_add(messages, SEVERITY_ERROR, (struct place){bank_path(banks[i]), 0, 0}, NULL,
                         "the bank's id '%s' is that of '%s' too; name a bank once, and give each an id of its own",
                         bank_id(banks[i]), bank_path(banks[j]));
            return false;
        }
    }
    return true;
}
