#include "authoring/course-interview.h"

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

enum field { FIELD_NAME, FIELD_ID, FIELD_MARKS, FIELD_MINUTES, FIELD_OBJECTIVES, FIELD_SKILLS, FIELD_TOPICS, FIELDS };

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

struct course_interview {
    char *values[FIELDS];           /* lines with newlines between them */
    enum field field;               /* FIELDS: over */
    bool left;
    struct page *page;
    bool page_shown;
    struct buffer prompt, text;     /* text: the finished course */
    struct practice_ask ask;
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

/* Takes the first word off a line. */
static char *first_word(char **line)
{
    char *start = *line + strspn(*line, " "), *end = start + strcspn(start, " ");
    *line = *end ? end + 1 : end;
    *end = '\0';
    return start;
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
    markup_attribute(element, "id", first_word(&line));
    markup_attribute(element, "share", without_percent(first_word(&line)));
    markup_attribute(element, "kind", first_word(&line));
    markup_text(element, text_trim(line));
}

static void give_skill(struct markup *course, char *line)
{
    struct markup *element = markup_child(course, "skill");
    markup_attribute(element, "id", first_word(&line));
    markup_attribute(element, "share", without_percent(first_word(&line)));
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

struct course_interview *course_interview_new(void)
{
    struct course_interview *interview = memory_get_zeroed(1, sizeof *interview);
    interview->page = page_new();
    page_heading(interview->page, 1, "A new bank");
    page_paragraph(interview->page, "First the course: what is examined, and how the marks are shared out. ? explains, .back goes back, "
                   ".leave ends without writing anything.");
    present(interview);
    return interview;
}

void course_interview_free(struct course_interview *interview)
{
    if (!interview)
        return;
    for (size_t i = 0; i < FIELDS; i++)
        free(interview->values[i]);
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

/* ---- Lines of a list -------------------------------------------------------------------------------- */

static bool is_share(const char *text)
{
    size_t digits = strspn(text, "0123456789.");
    return digits > 0 && (!text[digits] || strcmp(text + digits, "%") == 0) && strtod(text, NULL) <= 100;
}

static bool is_kind(const char *text)
{
    return strcmp(text, "know") == 0 || strcmp(text, "apply") == 0 || strcmp(text, "analyse") == 0;
}

/* What is wrong with a line before it is taken; NULL: nothing. */
static const char *fault_of_objective(char *line)
{
    const char *id = first_word(&line), *share = first_word(&line), *kind = first_word(&line);
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
    const char *id = first_word(&line), *share = first_word(&line);
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

static const char *fault_of_line(const struct course_interview *interview, const char *line)
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
        first_word(&line);
        share = first_word(&line);
    }
    return is_share(share) ? strtod(share, NULL) : 0;
}

static double shares_so_far(const struct course_interview *interview)
{
    double sum = 0;
    char *lines = memory_copy_text(interview->values[interview->field]), *rest = NULL;
    for (char *line = strtok_r(lines, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest))
        sum += share_of_line(interview, line);
    free(lines);
    return sum;
}

static void end_list(struct course_interview *interview)
{
    const char *value = interview->values[interview->field];
    double sum = value && interview->field != FIELD_SKILLS ? shares_so_far(interview) : 100;
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
    const char *fault = fault_of_line(interview, line);
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

/* What is wrong with a single value, held against the schema's rules: the course can be read only when it is whole, and
 * the bank's id is not in it. NULL: nothing. */
static const char *fault_of(enum field field, const char *text)
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

static void take_field(struct course_interview *interview, const char *line)
{
    char *own, *typed = memory_copy_text(line);
    const char *proposed = proposal(interview, &own), *text = text_trim(typed);
    if (!*text && proposed)
        text = proposed;
    const char *fault = *text ? fault_of(interview->field, text) : fields[interview->field].help;
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
    page_paragraph(interview->page, "Nothing was written.");
    interview->left = true;
}

enum practice_result course_interview_enter(struct course_interview *interview, const char *line, bool pasted,
                                            struct messages *messages)
{
    (void)messages;
    if (interview->page_shown)
        page_clear(interview->page);
    interview->page_shown = false;
    if (!pasted && strcmp(line, ".leave") == 0)
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
    return PRACTICE_ON;
}

bool course_interview_keep_draft(struct course_interview *interview, const char *line, struct messages *messages)
{
    (void)interview, (void)line, (void)messages;
    return true;
}

const char *course_interview_text(const struct course_interview *interview)
{
    return interview->field == FIELDS && !interview->left ? buffer_text(&interview->text) : NULL;
}

const char *course_interview_id(const struct course_interview *interview)
{
    return course_interview_text(interview) ? interview->values[FIELD_ID] : NULL;
}
