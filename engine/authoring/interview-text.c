/* Answers of several lines, and answers written in an editor. */
#include <string.h>

#include "authoring/interview-inner.h"
#include "base/text.h"

/* Givens stand between bars in their cell, paragraphs on lines. */
static const char *joint_of(int kind)
{
    return kind == SHEET_GIVENS ? " | " : "\n";
}

static const char *with_joint(struct interview *interview, const char *text, const char *from, const char *to)
{
    struct buffer out = BUFFER_EMPTY;
    for (const char *at = text, *end; *at; at = *end ? end + strlen(from) : end) {
        end = strstr(at, from);
        end = end ? end : at + strlen(at);
        const char *piece = text_trim(arena_print(interview->arena, "%.*s", (int)(end - at), at));
        if (*piece)
            buffer_print(&out, "%s%s", out.length ? to : "", piece);
    }
    const char *result = arena_copy_text(interview->arena, buffer_text(&out));
    buffer_free(&out);
    return result;
}

static bool take_one(struct interview *interview, const char *line)
{
    size_t before = interview->lines.length;
    buffer_print(&interview->lines, "%s%s", before ? joint_of(interview->step.kind) : "", line);
    if (answer_take(interview, interview->step, buffer_text(&interview->lines)))
        return true;
    buffer_shorten(&interview->lines, before);
    return false;
}

/* A text that was pasted: what can stand is taken, the rest is told. */
static void take_pasted(struct interview *interview, const char *text)
{
    char *rest = NULL, *copy = arena_copy_text(interview->arena, text);
    for (char *line = strtok_r(copy, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest)) {
        const char *trimmed = text_trim(line);
        if (*trimmed && !take_one(interview, trimmed))
            page_paragraph(interview->page, "Left out: %s", trimmed);
    }
}

/* Each line is taken as it comes, so that a wrong one is told at once and nothing is lost when the terminal goes away. */
bool text_enter(struct interview *interview, const char *line)
{
    if (text_is_blank(line) || strcmp(line, ".") == 0) {
        buffer_clear(&interview->lines);
        return true;
    }
    if (!interview->lines.length && strcmp(line, "-") == 0)
        return answer_take(interview, interview->step, "");
    if (strchr(line, '\n'))
        take_pasted(interview, line);
    else if (!take_one(interview, text_trim(arena_copy_text(interview->arena, line))))
        buffer_add(&interview->refused, line);
    else if (interview->step.kind == SHEET_GIVENS && !strchr(line, '['))
        page_paragraph(interview->page, "It has no unit then; a unit stands in square brackets: H = 1.2 [m] wave height.");
    return false;
}

bool text_back(struct interview *interview)
{
    const char *joint = joint_of(interview->step.kind), *last = NULL;
    if (!interview->lines.length)
        return false;
    for (const char *at = buffer_text(&interview->lines); (at = strstr(at, joint)) != NULL; at += strlen(joint))
        last = at;
    buffer_shorten(&interview->lines, last ? (size_t)(last - buffer_text(&interview->lines)) : 0);
    answer_take(interview, interview->step, buffer_text(&interview->lines));
    if (interview->lines.length)
        text_say_now(interview);
    else
        page_paragraph(interview->page, "%s", "Taken back; there is nothing there now.");
    return true;
}

void text_say_now(struct interview *interview)
{
    const char *text = answer_text(interview, interview->step);
    page_paragraph(interview->page, "The %s is now:", step_rule_for(interview->step.kind)->name);
    page_verbatim(interview->page, 1, with_joint(interview, text, joint_of(interview->step.kind), "\n"));
    if (!interview->lines.length)
        page_paragraph(interview->page, "%s", "Enter keeps it, .edit changes it in your editor, other lines take its place, - takes it out.");
}

enum practice_result text_begin_edit(struct interview *interview)
{
    buffer_clear(&interview->edited);
    buffer_add(&interview->edited, with_joint(interview, answer_text(interview, interview->step), joint_of(interview->step.kind), "\n"));
    return PRACTICE_EDIT;
}

const char *text_from_editor(struct interview *interview, const char *text)
{
    bool lines = step_rule_for(interview->step.kind)->lines;
    return with_joint(interview, text, "\n", lines ? joint_of(interview->step.kind) : " ");
}
