/* Can the figures be used by a student who does not see them, or does not see their colours? */
#include <stdlib.h>
#include <string.h>

#include "authoring/warnings-inner.h"
#include "base/buffer.h"
#include "base/files.h"
#include "base/text.h"

enum { ALTERNATIVE_WORDS_LEAST = 8, FIGURE_LIMIT = 1024 * 1024, COLOURS = 16 };

static const char *const colours[] = {"red", "blue", "green", "yellow", "orange", "purple", "pink", "brown", "coloured"};
static const char *const carriers[] = {"line", "lines", "curve", "curves", "bar", "bars", "dot", "dots", "arrow", "arrows",
                                       "area", "areas", "zone", "zones", "part", "parts", "section", "sections"};

static bool is_among(const char *word, const char *const *list, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (text_equal(word, list[i]))
            return true;
    return false;
}

static void check_words(const struct weak *weak, const struct blocks *blocks)
{
    struct buffer text = BUFFER_EMPTY;
    plain_add_blocks(&text, blocks, weak->values);
    const struct words words = words_of(buffer_text(&text), weak->arena);
    for (size_t i = 0; i + 1 < words.count; i++)
        if (is_among(words.items[i].folded, colours, sizeof colours / sizeof *colours) &&
            is_among(words.items[i + 1].folded, carriers, sizeof carriers / sizeof *carriers))
            weak_warn(weak, "'the %s %s' can be found by its colour only; label it in the figure and name the label",
                      words.items[i].folded, words.items[i + 1].folded);
    buffer_free(&text);
}

/* ---- The drawing itself --------------------------------------------------------------------------- */

static bool is_grey(const char *colour, size_t length)
{
    if (length == 7 && colour[0] == '#')
        return memcmp(colour + 1, colour + 3, 2) == 0 && memcmp(colour + 1, colour + 5, 2) == 0;
    if (length == 4 && colour[0] == '#')
        return colour[1] == colour[2] && colour[1] == colour[3];
    static const char *const plain[] = {"none", "black", "white", "grey", "gray", "currentColor", "inherit"};
    for (size_t i = 0; i < sizeof plain / sizeof *plain; i++)
        if (strlen(plain[i]) == length && memcmp(plain[i], colour, length) == 0)
            return true;
    return false;
}

/* How many different colours strokes and fills have, greys apart. */
static size_t colours_of(const char *drawing)
{
    const char *seen[COLOURS];
    size_t lengths[COLOURS], count = 0;
    for (const char *at = drawing; (at = strpbrk(at, "sf")) && count < COLOURS; at++) {
        size_t name = strncmp(at, "stroke=\"", 8) == 0 ? 8 : strncmp(at, "fill=\"", 6) == 0 ? 6 : 0;
        size_t length = name ? strcspn(at + name, "\"") : 0;
        bool known = !length || is_grey(at + name, length);
        for (size_t i = 0; i < count && !known; i++)
            known = lengths[i] == length && memcmp(seen[i], at + name, length) == 0;
        if (!known)
            seen[count] = at + name, lengths[count++] = length;
    }
    return count;
}

static void check_drawing(const struct weak *weak, const struct block *figure)
{
    struct messages silent = MESSAGES_EMPTY;
    struct buffer drawing = BUFFER_EMPTY;
    char *path = path_is_file_beneath(weak->folder, figure->file) ? path_join(weak->folder, figure->file) : NULL;
    if (path && file_read(path, FIGURE_LIMIT, &drawing, &silent) && colours_of(buffer_text(&drawing)) > 1 &&
        !strstr(buffer_text(&drawing), "stroke-dasharray") && !strstr(buffer_text(&drawing), "<text"))
        weak_warn(weak, "figure %s tells its parts apart by colour only; add labels or dashes", figure->file);
    free(path);
    buffer_free(&drawing);
    messages_free(&silent);
}

static void check_figures(const struct weak *weak, const struct block *blocks, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const struct block *block = &blocks[i];
        if (block->kind == BLOCK_SOURCE)
            check_figures(weak, block->blocks, block->block_count);
        if (block->kind != BLOCK_FIGURE)
            continue;
        if (words_of(block->alternative ? block->alternative : "", weak->arena).count < ALTERNATIVE_WORDS_LEAST)
            weak_warn(weak, "the text of figure %s is too short to answer from; say what can be read from it", block->file);
        if (weak->folder && block->file)
            check_drawing(weak, block);
    }
}

void weak_figures(const struct weak *weak)
{
    const struct question *question = weak->question;
    check_figures(weak, question->stem.items, question->stem.count);
    check_words(weak, &question->stem);
    for (size_t i = 0; i < question->part_count; i++) {
        check_figures(weak, question->parts[i].ask.items, question->parts[i].ask.count);
        check_words(weak, &question->parts[i].ask);
    }
}
