/* Styles as marks in the text. */
#include "report/marked.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "base/text.h"

static enum style style_of_mark(char byte)
{
    return (enum style)(byte - 1);
}

static bool is_mark(char byte)
{
    return byte >= 1 && byte <= 1 + STYLE_SUPERSCRIPT;
}

void marked_switch(struct buffer *out, enum style style)
{
    buffer_add_character(out, (char)(1 + style));
}

void marked_add_words(struct buffer *out, const char *words, enum style style)
{
    if (style != STYLE_PLAIN)
        marked_switch(out, style);
    text_add_safe(out, words);
    if (style != STYLE_PLAIN)
        marked_switch(out, STYLE_PLAIN);
}

/* A break inside an index or exponent would tear it from what it belongs to. */
static void add_bracketed(struct buffer *out, const char *safe, bool raised)
{
    buffer_add(out, raised ? "^(" : "_(");
    for (; *safe; safe++) {
        if (*safe == ' ' || *safe == '\n')
            buffer_add(out, "\u00a0");
        else
            buffer_add_character(out, *safe);
    }
    buffer_add_character(out, ')');
}

static void add_script(struct buffer *out, const struct page_run *run, enum style base, bool ascii)
{
    bool raised = run->style == STYLE_SUPERSCRIPT;
    struct buffer safe = BUFFER_EMPTY;
    text_add_safe(&safe, run->text);
    if (base != STYLE_PLAIN)
        marked_switch(out, base);
    if (ascii || !script_add(out, buffer_text(&safe), raised))
        add_bracketed(out, buffer_text(&safe), raised);
    if (base != STYLE_PLAIN)
        marked_switch(out, STYLE_PLAIN);
    buffer_free(&safe);
}

void marked_add(struct buffer *out, const struct page_text *text, enum style base, bool ascii)
{
    for (size_t i = 0; i < text->count; i++) {
        const struct page_run *run = &text->runs[i];
        if (run->style == STYLE_SUBSCRIPT || run->style == STYLE_SUPERSCRIPT)
            add_script(out, run, base, ascii);
        else
            marked_add_words(out, run->text, run->style == STYLE_PLAIN ? base : run->style);
    }
}

static enum style last_style(const char *line, size_t length, enum style style)
{
    for (size_t i = 0; i < length; i++)
        if (is_mark(line[i]))
            style = style_of_mark(line[i]);
    return style;
}

char **marked_lines(const char *marked, size_t *count)
{
    char **lines = NULL;
    size_t capacity = 0;
    enum style style = STYLE_PLAIN;
    *count = 0;
    for (;;) {
        size_t length = strcspn(marked, "\n");
        struct buffer line = BUFFER_EMPTY;
        if (style != STYLE_PLAIN)
            marked_switch(&line, style);
        buffer_add_bytes(&line, marked, length);
        style = last_style(marked, length, style);
        if (style != STYLE_PLAIN)
            marked_switch(&line, STYLE_PLAIN);
        lines = memory_grow(lines, &capacity, *count, sizeof *lines);
        lines[(*count)++] = buffer_take(&line);
        if (!marked[length])
            return lines;
        marked += length + 1;
    }
}

static const char *sequence_of(enum style style)
{
    switch (style) {
    case STYLE_STRONG: return "\033[1m";
    case STYLE_EMPHASIS: return "\033[4m";
    case STYLE_QUIET: return "\033[2m";
    case STYLE_GOOD: return "\033[32m";
    case STYLE_BAD: return "\033[31m";
    case STYLE_PLAIN:
    case STYLE_SUBSCRIPT:
    case STYLE_SUPERSCRIPT: break;
    }
    return "";
}

struct writer {
    struct buffer *out;
    enum style wanted, in_force;
    size_t spaces;   /* held back: none is written at a line's end */
    bool colour;
};

static void bring(struct writer *writer, enum style wanted)
{
    if (!writer->colour || writer->in_force == wanted)
        return;
    if (writer->in_force != STYLE_PLAIN)
        buffer_add(writer->out, "\033[0m");
    buffer_add(writer->out, sequence_of(wanted));
    writer->in_force = wanted;
}

static void write_byte(struct writer *writer, char byte)
{
    if (byte == ' ') {
        writer->spaces++;
        return;
    }
    /* a new style begins at the word, not at the blanks before it; an old one ends before them */
    if (byte == '\n' || writer->in_force != writer->wanted)
        bring(writer, STYLE_PLAIN);
    if (byte != '\n') {
        buffer_add_repeated(writer->out, " ", writer->spaces);
        bring(writer, writer->wanted);
    }
    writer->spaces = 0;
    buffer_add_character(writer->out, byte);
}

void marked_write(struct buffer *out, const char *marked, bool colour)
{
    struct writer writer = {.out = out, .colour = colour, .wanted = STYLE_PLAIN, .in_force = STYLE_PLAIN};
    for (; *marked; marked++) {
        if (is_mark(*marked))
            writer.wanted = style_of_mark(*marked);
        else
            write_byte(&writer, *marked);
    }
    bring(&writer, STYLE_PLAIN);
}
