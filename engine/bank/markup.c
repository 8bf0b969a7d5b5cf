#include "bank/markup.h"

#include <assert.h>
#include <string.h>

#include "base/text.h"

/* A space inside a tag, where no line may be broken; no XML text can hold this byte. */
#define TAG_SPACE '\001'

struct attribute {
    const char *name, *value;       /* escaped */
    struct attribute *next;
};

struct piece {
    const char *text;
    struct piece *next;
};

struct markup {
    struct arena *arena;
    const char *name;               /* NULL: a comment or an instruction, whole in its flow */
    struct attribute *attributes, **last_attribute;
    struct piece *flow, **last_piece;       /* its own words with what is inline, escaped, none of them empty */
    struct markup *children, **last_child;
    struct markup *next;
};

/* ---- Building ------------------------------------------------------------------------------------- */

static struct markup *markup_make(struct arena *arena, const char *name)
{
    struct markup *element = arena_get(arena, sizeof *element);
    *element = (struct markup){.arena = arena, .name = arena_copy_text(arena, name)};
    element->last_piece = &element->flow;
    element->last_attribute = &element->attributes;
    element->last_child = &element->children;
    return element;
}

struct markup *markup_new(struct arena *arena, const char *name)
{
    assert(name);
    return markup_make(arena, name);
}

/* Bit by bit, for a paragraph may have thousands of them. */
static void add_flow(struct markup *element, const char *text)
{
    if (!*text)
        return;
    struct piece *piece = arena_get(element->arena, sizeof *piece);
    *piece = (struct piece){arena_copy_text(element->arena, text), NULL};
    *element->last_piece = piece;
    element->last_piece = &piece->next;
}

static struct markup *append(struct markup *parent, struct markup *child)
{
    *parent->last_child = child;
    parent->last_child = &child->next;
    return child;
}

struct markup *markup_child(struct markup *parent, const char *name)
{
    return append(parent, markup_new(parent->arena, name));
}

void markup_comment(struct markup *parent, const char *text)
{
    add_flow(append(parent, markup_make(parent->arena, NULL)), arena_print(parent->arena, "<!--%s-->", text));
}

void markup_instruction(struct markup *parent, const char *target, const char *text)
{
    add_flow(append(parent, markup_make(parent->arena, NULL)),
             arena_print(parent->arena, "<?%s%s%s?>", target, *text ? " " : "", text));
}

static void add_escaped(struct buffer *out, const char *text, bool in_attribute)
{
    for (; *text; text++) {
        switch (*text) {
        case '&': buffer_add(out, "&amp;"); break;
        case '<': buffer_add(out, "&lt;"); break;
        case '>': buffer_add(out, "&gt;"); break;
        case '"': buffer_add(out, in_attribute ? "&quot;" : "\""); break;
        case '\n': case '\t': case '\r': buffer_add_character(out, ' '); break;
        default: buffer_add_character(out, *text);
        }
    }
}

void markup_attribute(struct markup *element, const char *name, const char *value)
{
    if (!value)
        return;
    struct buffer escaped = BUFFER_EMPTY;
    struct attribute *attribute = arena_get(element->arena, sizeof *attribute);
    add_escaped(&escaped, value, true);
    *attribute = (struct attribute){arena_copy_text(element->arena, name),
                                    arena_copy_text(element->arena, buffer_text(&escaped)), NULL};
    *element->last_attribute = attribute;
    element->last_attribute = &attribute->next;
    buffer_free(&escaped);
}

void markup_whole(struct markup *element, const char *name, long value)
{
    markup_attribute(element, name, arena_print(element->arena, "%ld", value));
}

void markup_text(struct markup *element, const char *text)
{
    struct buffer escaped = BUFFER_EMPTY;
    add_escaped(&escaped, text, false);
    add_flow(element, buffer_text(&escaped));
    buffer_free(&escaped);
}

void markup_inline(struct markup *element, const char *name, const char *text)
{
    struct buffer escaped = BUFFER_EMPTY;
    buffer_print(&escaped, "<%s>", name);
    add_escaped(&escaped, text, false);
    buffer_print(&escaped, "</%s>", name);
    add_flow(element, buffer_text(&escaped));
    buffer_free(&escaped);
}

void markup_value(struct markup *element, const char *symbol)
{
    struct buffer tag = BUFFER_EMPTY;
    buffer_print(&tag, "<value%cof=\"", TAG_SPACE);
    add_escaped(&tag, symbol, true);
    buffer_add(&tag, "\"/>");
    add_flow(element, buffer_text(&tag));
    buffer_free(&tag);
}

void markup_inline_comment(struct markup *element, const char *text)
{
    char *kept = arena_print(element->arena, "<!--%s-->", text);
    for (char *at = kept; *at; at++)
        if (*at == ' ')
            *at = TAG_SPACE;
    add_flow(element, kept);
}

/* ---- Rendering ------------------------------------------------------------------------------------ */

static bool is(const struct markup *element, const char *name)
{
    return element->name && strcmp(element->name, name) == 0;
}

static void indent(struct buffer *out, int depth)
{
    buffer_add_repeated(out, "  ", (size_t)depth);
}

/* Columns used so far in the line that is being written. */
static size_t column(const struct buffer *out)
{
    const char *text = buffer_text(out);
    size_t start = out->length;
    while (start > 0 && text[start - 1] != '\n')
        start--;
    return text_width_bytes(text + start, out->length - start);
}

/* Words are put on the line while they fit, then on new lines. */
static void fill(struct buffer *out, const struct markup *element, int depth, bool may_break)
{
    struct buffer whole = BUFFER_EMPTY;
    bool first = true;
    for (const struct piece *piece = element->flow; piece; piece = piece->next)
        buffer_add(&whole, piece->text);
    for (const char *flow = buffer_text(&whole); *flow;) {
        size_t blanks = strspn(flow, " "), length = strcspn(flow + blanks, " ");
        if (blanks && !first && length && may_break &&
            column(out) + 1 + text_width_bytes(flow + blanks, length) > MARKUP_WIDTH) {
            buffer_add_character(out, '\n');
            indent(out, depth);
        } else if (blanks && !first && length) {
            buffer_add_character(out, ' ');
        }
        for (size_t i = 0; i < length; i++)
            buffer_add_character(out, flow[blanks + i] == TAG_SPACE ? ' ' : flow[blanks + i]);
        first = false;
        flow += blanks + length;
    }
    buffer_free(&whole);
}

static void start_tag(struct buffer *out, const struct markup *element, int depth, bool may_break)
{
    buffer_print(out, "<%s", element->name);
    for (const struct attribute *at = element->attributes; at; at = at->next) {
        if (may_break && at != element->attributes &&
            column(out) + text_width(at->name) + text_width(at->value) + 4 > MARKUP_WIDTH) {
            buffer_add_character(out, '\n');
            indent(out, depth + 2);
        } else {
            buffer_add_character(out, ' ');
        }
        buffer_print(out, "%s=\"%s\"", at->name, at->value);
    }
    buffer_add(out, element->flow || element->children ? ">" : "/>");
}

/* May its children stand on its own line, when it is short? */
static bool may_be_one_line(const struct markup *element)
{
    static const char *const pairs[][2] = {{"point", "key"}, {"head", "cell"}, {"row", "cell"}, {"ask", "p"},
                                           {"model", "p"}, {"note", "p"}, {"stem", "p"}};
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++) {
        if (!is(element, pairs[i][0]))
            continue;
        for (const struct markup *child = element->children; child; child = child->next)
            if (!is(child, pairs[i][1]) || (child->next && *pairs[i][1] == 'p'))
                return false;
        return true;
    }
    return !element->children;
}

static void one_line(struct buffer *out, const struct markup *element)
{
    start_tag(out, element, 0, false);
    fill(out, element, 0, false);
    for (const struct markup *child = element->children; child; child = child->next) {
        if (is(child, "key"))
            buffer_add_character(out, ' ');
        one_line(out, child);
    }
    if (element->flow || element->children)
        buffer_print(out, "</%s>", element->name);
}

static bool add_one_line(struct buffer *out, const struct markup *element, int depth)
{
    if (!may_be_one_line(element))
        return false;
    struct buffer line = BUFFER_EMPTY;
    indent(&line, depth);
    one_line(&line, element);
    bool fits = text_width(buffer_text(&line)) <= MARKUP_WIDTH;
    if (fits)
        buffer_print(out, "%s\n", buffer_text(&line));
    buffer_free(&line);
    return fits;
}

static bool leads_to_question(const struct markup *child)
{
    while (child && !child->name)
        child = child->next;
    return child && is(child, "question");
}

/* A comment that stands over a question belongs to it. */
static void render_children(const struct markup *element, int depth, struct buffer *out)
{
    bool led = false;
    for (const struct markup *child = element->children; child; child = child->next) {
        bool leads = leads_to_question(child);
        if (leads && !led)
            buffer_add_character(out, '\n');
        led = leads && !child->name;
        markup_render(child, depth, out);
    }
}

void markup_render(const struct markup *element, int depth, struct buffer *out)
{
    if (!element->name) {
        indent(out, depth);
        buffer_print(out, "%s\n", element->flow->text);
        return;
    }
    if (add_one_line(out, element, depth))
        return;
    indent(out, depth);
    start_tag(out, element, depth, true);
    fill(out, element, depth + 1, true);
    if (element->children) {
        buffer_add_character(out, '\n');
        render_children(element, depth + 1, out);
        indent(out, depth);
    }
    if (element->flow || element->children)
        buffer_print(out, "</%s>", element->name);
    buffer_add_character(out, '\n');
}
