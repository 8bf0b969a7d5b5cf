#include "bank/course.h"

#include "base/text.h"

int course_topic(const struct course *course, const char *id)
{
    for (size_t i = 0; i < course->topic_count; i++)
        if (text_equal(course->topics[i].id, id))
            return (int)i;
    return -1;
}

int course_objective(const struct course *course, const char *id)
{
    for (size_t i = 0; i < course->objective_count; i++)
        if (text_equal(course->objectives[i].id, id))
            return (int)i;
    return -1;
}

int course_skill(const struct course *course, const char *id)
{
    for (size_t i = 0; i < course->skill_count; i++)
        if (text_equal(course->skills[i].id, id))
            return (int)i;
    return -1;
}
