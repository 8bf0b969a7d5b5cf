/* What may stand in the answers about a course. */
#include <stdlib.h>
#include <string.h>

#include "authoring/course-interview-inner.h"
#include "base/memory.h"
#include "base/text.h"

char *course_first_word(char **line)
{
    char *start = *line + strspn(*line, " "), *end = start + strcspn(start, " ");
    *line = *end ? end + 1 : end;
    *end = '\0';
    return start;
}

static bool is_share(const char *text)
{
    size_t digits = strspn(text, "0123456789.");
    return digits > 0 && (!text[digits] || strcmp(text + digits, "%") == 0) && strtod(text, NULL) <= 100;
}

static bool is_kind(const char *text)
{
    return strcmp(text, "know") == 0 || strcmp(text, "apply") == 0 || strcmp(text, "analyse") == 0;
}

static const char *fault_of_objective(char *line)
{
    const char *id = course_first_word(&line), *share = course_first_word(&line), *kind = course_first_word(&line);
    if (!text_is_id(id, strlen(id)))
        return "The first word is a short name: a letter, then letters, digits, - . and _.";
    if (!is_share(share))
        return "The second word is the share of the marks, such as AO1 40 know Know and understand.";
    if (!is_kind(kind))
        return "The third word says what it asks in general terms: know, apply or analyse.";
    return text_is_blank(line) ? "Its name is missing, such as AO1 40 know Know and understand." : NULL;
}

static const char *fault_of_skill(char *line)
{
    const char *id = course_first_word(&line), *share = course_first_word(&line);
    if (!text_is_id(id, strlen(id)))
        return "The first word is a short name: a letter, then letters, digits, - . and _.";
    if (!is_share(share))
        return "The second word is the least share of the marks, such as practical 15 Practical work.";
    return text_is_blank(line) ? "Its name is missing, such as practical 15 Practical work." : NULL;
}

static const char *last_word(const char *line)
{
    const char *last = strrchr(line, ' ');
    return last ? last + 1 : "";
}

static const char *fault_of_topic(const char *line, bool first)
{
    if (*line == '-' && first)
        return "A sub-topic follows its main topic; type the main topic first, without a share.";
    return *line == '-' && !is_share(last_word(line)) ? "A sub-topic has a share of the marks, such as - Tides 15." : NULL;
}

const char *course_fault_of_line(const struct course_interview *interview, const char *line)
{
    char *copy = memory_copy_text(line);
    const char *trimmed = text_trim(copy);
    const char *fault = interview->field == FIELD_OBJECTIVES ? fault_of_objective((char *)trimmed)
                        : interview->field == FIELD_SKILLS   ? fault_of_skill((char *)trimmed)
                                                             : fault_of_topic(trimmed, !interview->values[FIELD_TOPICS]);
    free(copy);
    return fault;
}

/* Of an objective the second word, of a topic the last, when it is a share. */
static double share_of_line(const struct course_interview *interview, char *line)
{
    const char *share = last_word(line);
    if (interview->field == FIELD_OBJECTIVES) {
        course_first_word(&line);
        share = course_first_word(&line);
    }
    return is_share(share) ? strtod(share, NULL) : 0;
}

double course_shares_so_far(const struct course_interview *interview)
{
    double sum = 0;
    char *lines = memory_copy_text(interview->values[interview->field]), *rest = NULL;
    for (char *line = strtok_r(lines, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest))
        sum += share_of_line(interview, line);
    free(lines);
    return sum;
}

/* Held against the schema's rules: the course can be read only when it is whole, and the bank's id is not in it. */
const char *course_fault_of(enum field field, const char *text)
{
    char *end;
    double number = strtod(text, &end);
    bool whole = strspn(text, "0123456789") == strlen(text), decimal = strspn(text, "0123456789.") == strlen(text) && !*end;
    if (field == FIELD_ID && !text_is_id(text, strlen(text)))
        return "Please type a letter, then letters, digits, - . and _, 64 at most, no spaces.";
    if (field == FIELD_MARKS && (!whole || number < 1 || number > 1000))
        return "Please type a whole number of marks from 1 to 1000.";
    if (field == FIELD_MINUTES && (!decimal || number <= 0 || number > 10000))
        return "Please type minutes: a number above 0, up to 10000.";
    return NULL;
}
