#include "authoring/course-interview-inner.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bank/bank.h"
#include "bank/markup.h"
#include "base/arena.h"
#include "base/buffer.h"
#include "base/memory.h"
#include "base/text.h"

static const struct { const char *prompt, *help; bool lines; } fields[FIELDS] = {
    [FIELD_NAME] = {"name of the course", "As students know it, such as Coastal Science.", false},
    [FIELD_ID] = {"id of the bank", "A short name without spaces: letters, digits, - . and _.", false},
    [FIELD_MARKS] = {"marks of the whole examination", "A whole number, such as 60.", false},
    [FIELD_MINUTES] = {"minutes of the whole examination", "Minutes, such as 72: marks and minutes give the pace.", false},
    [FIELD_OBJECTIVES] = {"objective", "One a line, an empty line ends: its id, its share of the marks in per cent, what it asks in "
                          "general terms (know, apply or analyse), its name: AO1 40 know Know and understand. Shares add up to "
                          "100.", true},
    [FIELD_SKILLS] = {"skill", "One a line, an empty line ends: its id, the least share of the marks, its name: practical 15 Practical "
                      "work. Questions with the skill 'practical' show a caution.", true},
    [FIELD_TOPICS] = {"topic", "One a line, an empty line ends: a name and its share of the marks: Rocky shores 20. A main topic has no "
                      "share of its own and is followed by its sub-topics, each after a dash: - Tides 15.", true},
};

/* ---- As XML ---------------------------------------------------------------------------------------- */

/* "Waves and tides" gives waves-and-tides. */
static char *id_of_name(const char *name)
{
    struct buffer id = BUFFER_EMPTY;
    for (; *name && id.length < 40; name++) {
        if (isalnum((unsigned char)*name))
            buffer_add_character(&id, (char)tolower((unsigned char)*name));
        else if (id.length && id.text[id.length - 1] != '-')
            buffer_add_character(&id, '-');
    }
    while (id.length && id.text[id.length - 1] == '-')
        buffer_shorten(&id, id.length - 1);
    if (!id.length || !isalpha((unsigned char)*id.text)) {
        char *rest = buffer_take(&id);
        buffer_print(&id, "topic%s%s", *rest ? "-" : "", rest);
        free(rest);
    }
    return buffer_take(&id);
}

static char *without_percent(char *share)
{
    size_t length = strlen(share);
    if (length && share[length - 1] == '%')
        share[length - 1] = '\0';
    return share;
}

static void give_objective(struct markup *course, char *line)
{
    struct markup *element = markup_child(course, "objective");
    markup_attribute(element, "id", course_first_word(&line));
    markup_attribute(element, "share", without_percent(course_first_word(&line)));
    markup_attribute(element, "kind", course_first_word(&line));
    markup_text(element, text_trim(line));
}

static void give_skill(struct markup *course, char *line)
{
    struct markup *element = markup_child(course, "skill");
    markup_attribute(element, "id", course_first_word(&line));
    markup_attribute(element, "share", without_percent(course_first_word(&line)));
    markup_text(element, text_trim(line));
}

/* "Tides 15" or "Waves and tides": the share is the last word, when that is a number. */
static struct markup *give_topic(struct markup *around, const char *main_id, char *line, char **id)
{
    struct markup *element = markup_child(around, "topic");
    char *name = text_trim(line), *last = strrchr(name, ' ');
    bool shared = last && strspn(last + 1, "0123456789.%") == strlen(last + 1);
    if (shared)
        *last = '\0';
    char *own = id_of_name(text_trim(name));
    struct buffer whole = BUFFER_EMPTY;
    buffer_print(&whole, "%s%s%.24s", main_id ? main_id : "", main_id ? "." : "", own);
    markup_attribute(element, "id", buffer_text(&whole));
    markup_attribute(element, "name", name);
    markup_attribute(element, "share", shared ? without_percent(last + 1) : NULL);
    *id = buffer_take(&whole);
    free(own);
    return element;
}

static void give_topics(struct markup *course, char *lines)
{
    struct markup *main_topic = NULL;
    char *rest = NULL, *main_id = NULL, *id;
    for (char *line = strtok_r(lines, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest)) {
        bool sub = *line == '-' && main_topic;
        struct markup *topic = give_topic(sub ? main_topic : course, sub ? main_id : NULL, line + strspn(line, "- "), &id);
        if (sub) {
            free(id);
            continue;
        }
        free(main_id);
        main_topic = topic;
        main_id = id;
    }
    free(main_id);
}

static void give_lines(struct markup *course, char *lines, void (*give)(struct markup *, char *))
{
    char *rest = NULL;
    for (char *line = strtok_r(lines, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest))
        give(course, line);
}

static void render(const struct course_interview *interview, struct buffer *out)
{
    struct arena *arena = arena_new();
    struct markup *course = markup_new(arena, "course");
    char *const *values = interview->values;
    markup_attribute(course, "name", values[FIELD_NAME]);
    markup_attribute(course, "paper-marks", values[FIELD_MARKS]);
    markup_attribute(course, "paper-minutes", values[FIELD_MINUTES]);
    give_lines(course, arena_copy_text(arena, values[FIELD_OBJECTIVES]), give_objective);
    if (values[FIELD_SKILLS])
        give_lines(course, arena_copy_text(arena, values[FIELD_SKILLS]), give_skill);
    give_topics(course, arena_copy_text(arena, values[FIELD_TOPICS]));
    markup_render(course, 1, out);
    arena_free(arena);
}

/* ---- Asked ----------------------------------------------------------------------------------------- */

static const char *proposal(const struct course_interview *interview, char **own)
{
    const char *before = fields[interview->field].lines ? NULL : interview->values[interview->field];
    *own = before                             ? memory_copy_text(before)
           : interview->field == FIELD_ID     ? id_of_name(interview->values[FIELD_NAME])
                                              : NULL;
    return *own;
}

static void present(struct course_interview *interview)
{
    buffer_clear(&interview->prompt);
    if (interview->field == FIELDS)
        return;
    char *own;
    const char *proposed = proposal(interview, &own);
    buffer_add(&interview->prompt, fields[interview->field].prompt);
    if (proposed)
        buffer_print(&interview->prompt, " [%s]", proposed);
    free(own);
}

static void introduce_field(struct course_interview *interview)
{
    if (interview->field == FIELDS || !fields[interview->field].lines)
        return;
    page_paragraph(interview->page, "%s", fields[interview->field].help);
    if (interview->values[interview->field])
        page_verbatim(interview->page, 1, interview->values[interview->field]);
}

struct course_interview *course_interview_new(const char *draft)
{
    struct course_interview *interview = memory_get_zeroed(1, sizeof *interview);
    interview->page = page_new();
    interview->draft = draft ? memory_copy_text(draft) : NULL;
    course_load(interview);
    page_heading(interview->page, 1, "A new bank");
    page_paragraph(interview->page, "First the course: what is examined, and how the marks are shared out. ? explains, .back goes back, "
                   ".leave stops%s.", draft ? " and keeps what there is for later" : " without writing anything");
    if (interview->values[FIELD_NAME])
        page_paragraph(interview->page, "%s was left half described; it goes on here.", interview->values[FIELD_NAME]);
    introduce_field(interview);
    present(interview);
    return interview;
}

void course_interview_free(struct course_interview *interview)
{
    if (!interview)
        return;
    for (size_t i = 0; i < FIELDS; i++)
        free(interview->values[i]);
    free(interview->draft);
    buffer_free(&interview->prompt), buffer_free(&interview->text);
    page_free(interview->page);
    free(interview);
}

const struct page *course_interview_screen(struct course_interview *interview)
{
    interview->page_shown = true;
    return interview->page;
}

const struct practice_ask *course_interview_ask(struct course_interview *interview)
{
    if (interview->field == FIELDS || interview->left)
        return NULL;
    interview->ask = (struct practice_ask){.prompt = buffer_text(&interview->prompt)};
    return &interview->ask;
}

/* ---- Taken ----------------------------------------------------------------------------------------- */

/* Read as any course: what is wrong is said, and the lines it comes from are asked again. */
static void finish(struct course_interview *interview)
{
    struct messages messages = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    const struct course *course;
    buffer_clear(&interview->text);
    render(interview, &interview->text);
    if (bank_from_text(buffer_text(&interview->text), NULL, arena, &course, NULL, &messages)) {
        interview->field = FIELDS;
        page_paragraph(interview->page, "%s has %s and %s. Now its first question.", course->name,
                       text_count((long)course->objective_count, "objective", "objectives"),
                       text_count((long)course->topic_count, "topic", "topics"));
    } else {
        page_paragraph(interview->page, "The course cannot stand like this:");
        for (size_t i = 0; i < messages.count; i++)
            page_item(interview->page, 0, "-", "%s", messages.items[i].text);
        page_paragraph(interview->page, "Please give objectives, skills and topics again.");
        for (int i = FIELD_OBJECTIVES; i < FIELDS; i++) {
            free(interview->values[i]);
            interview->values[i] = NULL;
        }
        interview->field = FIELD_OBJECTIVES;
        introduce_field(interview);
    }
    messages_free(&messages);
    arena_free(arena);
}

static void next_field(struct course_interview *interview)
{
    interview->field++;
    if (interview->field == FIELDS)
        finish(interview);
    else
        introduce_field(interview);
}

static void end_list(struct course_interview *interview)
{
    const char *value = interview->values[interview->field];
    double sum = value && interview->field != FIELD_SKILLS ? course_shares_so_far(interview) : 100;
    if (!value && interview->field != FIELD_SKILLS)
        page_paragraph(interview->page, "At least one is wanted; ? explains.");
    else if (fabs(sum - 100) > 0.5)
        page_paragraph(interview->page, "The shares add up to %g, not to 100: add another, or take lines back with .back.", sum);
    else
        next_field(interview);
}

static void take_line(struct course_interview *interview, const char *line)
{
    char **value = &interview->values[interview->field];
    if (text_is_blank(line)) {
        end_list(interview);
        return;
    }
    const char *fault = course_fault_of_line(interview, line);
    if (fault) {
        page_paragraph(interview->page, "%s", fault);
        return;
    }
    struct buffer lines = BUFFER_EMPTY;
    buffer_print(&lines, "%s%s%s", *value ? *value : "", *value ? "\n" : "", line);
    free(*value);
    *value = buffer_take(&lines);
}

/* The last line of a list. */
static void take_line_back(struct course_interview *interview)
{
    char **value = &interview->values[interview->field], *last = strrchr(*value, '\n');
    page_paragraph(interview->page, "Taken back: %s", last ? last + 1 : *value);
    if (last) {
        *last = '\0';
        return;
    }
    free(*value);
    *value = NULL;
}

static void take_field(struct course_interview *interview, const char *line)
{
    char *own, *typed = memory_copy_text(line);
    const char *proposed = proposal(interview, &own), *text = text_trim(typed);
    if (!*text && proposed)
        text = proposed;
    const char *fault = *text ? course_fault_of(interview->field, text) : fields[interview->field].help;
    if (fault) {
        page_paragraph(interview->page, "%s", fault);
    } else {
        free(interview->values[interview->field]);
        interview->values[interview->field] = memory_copy_text(text);
        next_field(interview);
    }
    free(typed), free(own);
}

static void back(struct course_interview *interview)
{
    if (fields[interview->field].lines && interview->values[interview->field]) {
        take_line_back(interview);
        return;
    }
    if (interview->field > FIELD_NAME)
        interview->field--;
    introduce_field(interview);
}

void course_interview_leave(struct course_interview *interview)
{
    if (interview->page_shown)
        page_clear(interview->page);
    interview->page_shown = false;
    bool kept = interview->draft && interview->values[FIELD_NAME];
    page_paragraph(interview->page, kept ? "Kept for later: the same command goes on with it." : "Nothing was written.");
    interview->left = true;
}

enum practice_result course_interview_enter(struct course_interview *interview, const char *line, bool pasted,
                                            struct messages *messages)
{
    if (interview->page_shown)
        page_clear(interview->page);
    interview->page_shown = false;
    if (!text_is_valid(line, strlen(line)))
        page_paragraph(interview->page, "That holds characters that are no text (UTF-8 is wanted).");
    else if (!pasted && strcmp(line, ".leave") == 0)
        course_interview_leave(interview);
    else if (!pasted && strcmp(line, ".back") == 0)
        back(interview);
    else if (!pasted && strcmp(line, "?") == 0)
        page_paragraph(interview->page, "%s", fields[interview->field].help);
    else if (fields[interview->field].lines)
        take_line(interview, line);
    else
        take_field(interview, line);
    present(interview);
    return course_save(interview, messages) ? PRACTICE_ON : PRACTICE_FAILED;
}

bool course_interview_keep_draft(struct course_interview *interview, const char *line, struct messages *messages)
{
    (void)line;
    return course_save(interview, messages);
}

const char *course_interview_text(const struct course_interview *interview)
{
    return interview->field == FIELDS && !interview->left ? buffer_text(&interview->text) : NULL;
}

const char *course_interview_id(const struct course_interview *interview)
{
    return course_interview_text(interview) ? interview->values[FIELD_ID] : NULL;
}
