#include "record/course-lines.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "record/record.h"

static const char *const objective_kinds[] = {"know", "apply", "analyse"};

/* ---- Writing ------------------------------------------------------------------------------------- */

static void add_topic(const struct course *course, const struct topic *topic, struct buffer *out)
{
    const char *unit = topic->parent >= 0 ? course->topics[topic->parent].id : topic->id;
    buffer_print(out, "topic\t%s\t%s\t%.17g\n", topic->id, unit, topic->share);
}

void record_course_lines(const struct course *course, struct buffer *out)
{
    for (size_t i = 0; i < course->topic_count; i++)
        if (course->topics[i].is_leaf)
            add_topic(course, &course->topics[i], out);
    for (size_t i = 0; i < course->objective_count; i++) {
        const struct objective *objective = &course->objectives[i];
        buffer_print(out, "objective\t%s\t%s\t%.17g\n", objective->id, objective_kinds[objective->kind],
                     objective->share);
    }
    for (size_t i = 0; i < course->word_count; i++)
        buffer_print(out, "word\t%s\n", course->words[i].word);
}

/* ---- Reading ------------------------------------------------------------------------------------- */

enum { MOST_LINES = 100000, FIELDS = 4 };

static size_t count_lines(const char *text)
{
    size_t count = 0;
    for (const char *at = text; (at = strchr(at, '\n')); at++)
        count++;
    return count;
}

static size_t add_id(struct course_lines *lines, enum line_kind kind, const char *id)
{
    size_t index = lines->count[kind]++;
    lines->ids[kind][index] = id;
    map_add(&lines->index[kind], id, (void *)(uintptr_t)(index + 1));
    return index;
}

size_t course_lines_find(const struct course_lines *lines, enum line_kind kind, const char *id)
{
    return (size_t)(uintptr_t)map_find(&lines->index[kind], id) - 1;
}

static bool read_share(const char *text, double *share)
{
    char *end;
    double per_cent = strtod(text, &end);
    *share = per_cent / 100;
    return end != text && *end == '\0' && isfinite(per_cent) && per_cent >= 0 && per_cent <= 1e6;
}

static const char *read_topic(struct course_lines *lines, char *const *fields)
{
    double share;
    if (!read_share(fields[3], &share))
        return "the share of a topic is not a number";
    size_t unit = course_lines_find(lines, LINE_UNIT, fields[2]);
    if (unit == SIZE_MAX)
        unit = add_id(lines, LINE_UNIT, fields[2]);
    size_t topic = add_id(lines, LINE_TOPIC, fields[1]);
    lines->unit[topic] = unit;
    lines->share[topic] = share;
    return NULL;
}

static const char *read_objective(struct course_lines *lines, char *const *fields)
{
    size_t kind = 0;
    while (kind < 3 && strcmp(objective_kinds[kind], fields[2]) != 0)
        kind++;
    double share;
    if (kind == 3 || !read_share(fields[3], &share))
        return "an objective has no known kind or no share";
    size_t objective = add_id(lines, LINE_OBJECTIVE, fields[1]);
    lines->kind[objective] = (enum learner_objective_kind)kind;
    lines->mix[objective] = share;
    return NULL;
}

static const char *read_line(struct course_lines *lines, char *line)
{
    static const struct { const char *name; enum line_kind kind; size_t fields; } forms[] = {
        {"topic", LINE_TOPIC, 4}, {"objective", LINE_OBJECTIVE, 4}, {"word", LINE_WORD, 2}};
    char *fields[FIELDS + 1] = {line};
    size_t count = 1;
    for (char *tab = line; count <= FIELDS && (tab = strchr(tab, '\t')); count++) {
        *tab++ = '\0';
        fields[count < FIELDS ? count : FIELDS] = tab;
    }
    for (size_t i = 0; i < sizeof forms / sizeof *forms; i++) {
        if (strcmp(fields[0], forms[i].name) != 0 || count != forms[i].fields)
            continue;
        if (*fields[1] == '\0' || course_lines_find(lines, forms[i].kind, fields[1]) != SIZE_MAX)
            return "a name is empty or stands there twice";
        if (forms[i].kind == LINE_TOPIC)
            return read_topic(lines, fields);
        if (forms[i].kind == LINE_OBJECTIVE)
            return read_objective(lines, fields);
        add_id(lines, LINE_WORD, fields[1]);
        return NULL;
    }
    return "a line is not of a known form";
}

static void make_room(struct course_lines *lines, size_t count, struct arena *arena)
{
    for (int kind = 0; kind < LINE_KINDS; kind++)
        lines->ids[kind] = arena_get_array(arena, count, sizeof *lines->ids[kind]);
    lines->unit = arena_get_array(arena, count, sizeof *lines->unit);
    lines->share = arena_get_array(arena, count, sizeof *lines->share);
    lines->mix = arena_get_array(arena, count, sizeof *lines->mix);
    lines->kind = arena_get_array(arena, count, sizeof *lines->kind);
}

const char *course_lines_read(struct course_lines *lines, const char *text, struct arena *arena)
{
    *lines = (struct course_lines){0};
    size_t count = count_lines(text);
    if (count > MOST_LINES)
        return "the course has too many lines";
    make_room(lines, count, arena);
    char *copy = arena_copy_text(arena, text);
    for (char *line = copy, *end; *line; line = end + 1) {
        end = strchr(line, '\n');
        if (!end)
            return "the last line of the course is not ended";
        *end = '\0';
        const char *fault = read_line(lines, line);
        if (fault)
            return fault;
    }
    return lines->count[LINE_TOPIC] && lines->count[LINE_OBJECTIVE] ? NULL : "the course has no topic or objective";
}

void course_lines_free(struct course_lines *lines)
{
    for (int kind = 0; kind < LINE_KINDS; kind++)
        map_free(&lines->index[kind]);
}
