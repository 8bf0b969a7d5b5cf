#include "authoring/cell.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "base/text.h"

/* ---- Text ----------------------------------------------------------------------------------------- */

static char *copy(const char *start, size_t length)
{
    struct buffer text = BUFFER_EMPTY;
    buffer_add_bytes(&text, start, length);
    return buffer_take(&text);
}

/* The mark that stands here and the length of its opening; 0: none. */
static size_t opening(const char *at, const char **name)
{
    *name = *at == '_' ? "sub" : *at == '^' ? "sup" : *at == '*' ? "em" : NULL;
    if (*at == '{')
        return 1;
    return *name && at[1] == '{' ? 2 : 0;
}

void cell_read_rich(struct markup *element, const char *text)
{
    const char *plain = text, *at = text;
    while (*at) {
        const char *name, *close;
        size_t length = opening(at, &name);
        if (!length || !(close = strchr(at + length, '}'))) {
            at++;
            continue;
        }
        char *before = copy(plain, (size_t)(at - plain)), *inside = copy(at + length, (size_t)(close - at) - length);
        markup_text(element, before);
        if (name && length == 2)
            markup_inline(element, name, inside);
        else
            markup_value(element, text_trim(inside));
        free(before), free(inside);
        plain = at = close + 1;
    }
    markup_text(element, plain);
}

void cell_read_blocks(struct markup *around, const char *name, const char *text)
{
    struct markup *element = NULL;
    char *lines = memory_copy_text(text), *rest = NULL;
    for (char *line = strtok_r(lines, "\r\n", &rest); line; line = strtok_r(NULL, "\r\n", &rest)) {
        if (text_is_blank(line))
            continue;
        if (!element)
            element = markup_child(around, name);
        cell_read_rich(markup_child(element, "p"), text_trim(line));
    }
    free(lines);
}

bool cell_write_rich(struct buffer *out, const struct rich *text)
{
    static const char *const opens[] = {[RUN_PLAIN] = "", [RUN_EMPHASIS] = "*{", [RUN_SUBSCRIPT] = "_{",
                                        [RUN_SUPERSCRIPT] = "^{", [RUN_VALUE] = "{"};
    for (size_t i = 0; i < text->count; i++) {
        if (strpbrk(text->runs[i].text, "{}"))
            return false;
        buffer_print(out, "%s%s%s", opens[text->runs[i].style], text->runs[i].text, text->runs[i].style == RUN_PLAIN ? "" : "}");
    }
    return true;
}

bool cell_write_blocks(struct buffer *out, const struct blocks *blocks)
{
    for (size_t i = 0; i < blocks->count; i++) {
        if (i)
            buffer_add_character(out, '\n');
        if (blocks->items[i].kind != BLOCK_PARAGRAPH || !cell_write_rich(out, &blocks->items[i].text))
            return false;
    }
    return true;
}

/* ---- Wordings ------------------------------------------------------------------------------------- */

bool cell_write_wordings(struct buffer *out, const struct wording *wording)
{
    for (size_t i = 0; i < wording->count; i++) {
        if (strchr(wording->items[i], '|'))
            return false;
        buffer_print(out, "%s%s", i ? " | " : "", wording->items[i]);
    }
    return true;
}

void cell_each_wording(const char *text, void (*each)(const char *wording, void *context), void *context)
{
    char *wordings = memory_copy_text(text), *rest = NULL;
    for (char *wording = strtok_r(wordings, "|", &rest); wording; wording = strtok_r(NULL, "|", &rest))
        if (!text_is_blank(wording))
            each(text_trim(wording), context);
    free(wordings);
}

/* ---- Givens --------------------------------------------------------------------------------------- */

struct givens_reading {
    struct markup *around;
    const char *fault;
};

/* ": n*T to 0 places" or "6.0 to 9.0 by 0.5" or "1.2 1.5". */
static bool read_value(struct markup *given, char *value)
{
    char *to = strstr(value, " to "), *by = to ? strstr(to, " by ") : NULL, *places = NULL;
    if (*value == ':') {
        for (char *at = value; (at = strstr(at, " to ")) != NULL; at += 4)
            to = at;
        places = to ? strstr(to, " place") : NULL;
        if (!places)
            return false;
        *to = *places = '\0';
        markup_attribute(given, "formula", text_trim(value + 1));
        markup_attribute(given, "places", text_trim(to + 4));
        return true;
    }
    if (to && !by)
        return false;
    if (to) {
        *to = *by = '\0';
        markup_attribute(given, "from", text_trim(value));
        markup_attribute(given, "to", text_trim(to + 4));
        markup_attribute(given, "step", text_trim(by + 4));
        return *text_trim(value) && *text_trim(to + 4) && *text_trim(by + 4);
    }
    char *trimmed = text_trim(value);
    markup_attribute(given, strchr(trimmed, ' ') ? "choices" : "value", trimmed);
    return *trimmed != '\0';
}

/* Where the name begins when there is no unit: after the last number. */
static char *end_of_numbers(char *text)
{
    char *end = text;
    for (char *at = text; *at;) {
        char *word = at + strspn(at, " "), *after = word + strcspn(word, " ");
        bool number = *word && strspn(word, "+-.0123456789eE") == (size_t)(after - word);
        bool joins = (after - word == 2 && (strncmp(word, "to", 2) == 0 || strncmp(word, "by", 2) == 0));
        if (!number && !joins)
            break;
        end = after;
        at = after;
    }
    return end;
}

static bool read_one(struct markup *around, char *text, const char **fault)
{
    char *equals = strchr(text, '='), *bracket = strchr(text, '['), *closing = bracket ? strchr(bracket, ']') : NULL;
    char *places = equals ? strstr(equals, " place") : NULL, *name = NULL;
    *fault = "a given is written 'H = 1.2 [m] wave height'";
    if (!equals || equals == text + strspn(text, " ") || (bracket && !closing))
        return false;
    char *value = equals + 1 + strspn(equals + 1, " ");
    *equals = '\0';
    if (bracket)
        *bracket = *closing = '\0', name = closing + 1;
    else if (*value == ':' && places)
        name = places + 1 + strcspn(places + 1, " ");
    else
        name = end_of_numbers(value);
    char *kept_name = memory_copy_text(text_trim(name));
    if (!bracket)
        *name = '\0';
    struct markup *given = markup_child(around, "given");
    markup_attribute(given, "symbol", text_trim(text));
    char *unit = bracket ? text_trim(bracket + 1) : NULL;
    markup_attribute(given, "unit", unit && *unit ? unit : NULL);
    markup_text(given, kept_name);
    free(kept_name);
    *fault = "the value of a given is a number, several numbers, '6.0 to 9.0 by 0.5' or ': n*T to 0 places'";
    return read_value(given, value);
}

static void read_given(const char *wording, void *context)
{
    struct givens_reading *reading = context;
    char *text = memory_copy_text(wording);
    if (!reading->fault && read_one(reading->around, text, &reading->fault))
        reading->fault = NULL;
    free(text);
}

bool cell_read_givens(struct markup *around, const char *text, const char **fault)
{
    struct givens_reading reading = {around, NULL};
    cell_each_wording(text, read_given, &reading);
    *fault = reading.fault;
    return !reading.fault;
}

static void write_given_value(struct buffer *out, const struct given *given)
{
    if (given->form == GIVEN_RANGE)
        buffer_print(out, "%s to %s by %s", given->low, given->high, given->step);
    else if (given->form == GIVEN_COMPUTED)
        buffer_print(out, ": %s to %d places", given->formula, given->places);
    for (size_t i = 0; i < given->choice_count; i++)
        buffer_print(out, "%s%s", i ? " " : "", given->choices[i]);
}

bool cell_write_givens(struct buffer *out, const struct given *givens, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const struct given *given = &givens[i];
        if (strpbrk(given->name, "|[]") || strpbrk(given->unit, "|[]"))
            return false;
        buffer_print(out, "%s%s = ", i ? " | " : "", given->symbol);
        write_given_value(out, given);
        /* The brackets, though empty, part the numbers from a name that may begin with one. */
        buffer_print(out, " [%s] %s", given->unit, given->name);
    }
    return true;
}
