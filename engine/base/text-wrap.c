/* Line filling. The break opportunities are libunistring's; the filling is ours, because its own lets a
 * long word run over the edge. */
#include <stdlib.h>
#include <string.h>
#include <unigbrk.h>
#include <unilbrk.h>

#include "base/memory.h"
#include "base/text.h"

enum { NARROWEST = 2 }; /* the columns of one wide character */

struct filler {
    struct buffer *out;
    size_t columns;
    size_t indent;
    size_t column;      /* where the next character goes, spaces in waiting not counted */
    size_t line_start;  /* column at which the present line began */
    bool indented;      /* the present line's indent was written or is not wanted */
    size_t spaces;      /* bytes of spaces before the next word, written only if it stays on this line */
};

static void end_line(struct filler *filler)
{
    buffer_add_character(filler->out, '\n');
    filler->column = filler->line_start = filler->indent;
    filler->indented = false;
}

static void put(struct filler *filler, const char *bytes, size_t length)
{
    if (!filler->indented)
        buffer_add_repeated(filler->out, " ", filler->indent);
    filler->indented = true;
    buffer_add_bytes(filler->out, bytes, length);
    filler->column += text_width_bytes(bytes, length);
}

static size_t without_final_spaces(const char *text, size_t length)
{
    while (length > 0 && text[length - 1] == ' ')
        length--;
    return length;
}

/* UAX #14 forbids a break before "/" or ")" even behind spaces, so what it calls unbreakable may have
 * spaces within. When it must be broken all the same, it is there. 0: no such place up to `fitting`. */
static size_t end_before_last_space(const char *word, size_t fitting)
{
    while (fitting > 0 && word[fitting] != ' ')
        fitting--;
    return without_final_spaces(word, fitting);
}

/* As much of the word as goes on this line; at least one cluster on an empty one, so that it ends. */
static size_t piece_that_fits(const struct filler *filler, const char *word, size_t length)
{
    size_t room = filler->columns > filler->column ? filler->columns - filler->column : 0;
    size_t piece = text_fit_bytes(word, length, room);
    if (piece == length)
        return piece;
    size_t at_space = end_before_last_space(word, piece);
    if (at_space > 0)
        return at_space;
    if (piece > 0 || filler->column > filler->line_start)
        return piece;
    const uint8_t *start = (const uint8_t *)word;
    return (size_t)(u8_grapheme_next(start, start + length) - start);
}

/* A word wider than any line. */
static void put_in_pieces(struct filler *filler, const char *word, size_t length)
{
    while (length > 0) {
        size_t piece = piece_that_fits(filler, word, length);
        size_t ink = without_final_spaces(word, piece);
        if (ink > 0)
            put(filler, word, ink);
        while (piece < length && word[piece] == ' ')
            piece++;
        word += piece;
        length -= piece;
        if (length > 0)
            end_line(filler);
    }
}

/* `spaces` is the run of plain spaces that stands before the word. */
static void put_word(struct filler *filler, const char *word, size_t length)
{
    const char *spaces = word - filler->spaces;
    size_t width = text_width_bytes(word, length);
    bool fits = filler->column + filler->spaces + width <= filler->columns;
    bool started = filler->column > filler->line_start || filler->line_start > filler->indent;
    if (fits)
        put(filler, spaces, filler->spaces);
    else if (started)
        end_line(filler);
    filler->spaces = 0;
    if (filler->column + width <= filler->columns)
        put(filler, word, length);
    else
        put_in_pieces(filler, word, length);
}

/* Puts the piece between two break opportunities: a word and the spaces behind it. */
static void put_segment(struct filler *filler, const char *segment, size_t length)
{
    size_t word = without_final_spaces(segment, length);
    if (word > 0)
        put_word(filler, segment, word);
    filler->spaces += length - word;
}

/* ".leave" is one word: UAX #14 takes the full stop for the end of what stands before it. */
static void keep_instructions_whole(const char *line, size_t length, char *breaks)
{
    for (size_t i = 1; i + 1 < length; i++)
        if (line[i] == '.' && (line[i - 1] == ' ' || line[i - 1] == '(') && line[i + 1] >= 'a' && line[i + 1] <= 'z') {
            breaks[i] = line[i - 1] == ' ' ? UC_BREAK_POSSIBLE : UC_BREAK_PROHIBITED;
            breaks[i + 1] = UC_BREAK_PROHIBITED;
        }
}

/* 'ownmark settings exam-date' is copied as it stands: no break at a hyphen between quotation marks. */
static void keep_commands_whole(const char *line, size_t length, char *breaks)
{
    static const char opening[] = "'ownmark ";
    bool quoted = false;
    for (size_t i = 0; i + 1 < length; i++) {
        if (quoted && line[i] == '\'')
            quoted = false;
        else if (length - i > strlen(opening) && memcmp(line + i, opening, strlen(opening)) == 0)
            quoted = true;
        if (quoted && line[i] == '-')
            breaks[i + 1] = UC_BREAK_PROHIBITED;
    }
}

static void fill_line(struct filler *filler, const char *line, size_t length)
{
    if (length == 0)
        return;
    char *breaks = memory_get(length);
    u8_possible_linebreaks((const uint8_t *)line, length, "UTF-8", breaks);
    keep_instructions_whole(line, length, breaks);
    keep_commands_whole(line, length, breaks);
    size_t start = 0;
    for (size_t i = 1; i <= length; i++) {
        if (i < length && breaks[i] != UC_BREAK_POSSIBLE)
            continue;
        put_segment(filler, line + start, i - start);
        start = i;
    }
    filler->spaces = 0;
    free(breaks);
}

void text_add_wrapped(struct buffer *out, const char *text, size_t columns, size_t indent, size_t first)
{
    if (indent + NARROWEST > columns)
        indent = columns > NARROWEST ? columns - NARROWEST : 0;
    struct filler filler = {.out = out, .columns = columns, .indent = indent, .column = first,
                            .line_start = first, .indented = true};
    for (;;) {
        size_t length = strcspn(text, "\n");
        fill_line(&filler, text, length);
        if (!text[length])
            break;
        end_line(&filler);
        text += length + 1;
    }
}
