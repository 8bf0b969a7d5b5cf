/* Attributes, piles and texts for the functions of the elements. */
#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "bank/reader-inner.h"
#include "base/memory.h"

static bool is_space(char character)
{
    return character == ' ' || character == '\t' || character == '\n' || character == '\r';
}

/* White space of XML made one space each, from `from` to `to`; the ends kept. Returns the length. */
static size_t fold(char *to, const char *from, size_t length)
{
    size_t written = 0;
    for (size_t i = 0; i < length; i++) {
        if ((unsigned char)from[i] > ' ' || !is_space(from[i]))     /* most characters are told by the first */
            to[written++] = from[i];
        else if (written == 0 || to[written - 1] != ' ')
            to[written++] = ' ';
    }
    return written;
}

static const char *folded_and_trimmed(struct arena *arena, const char *text, size_t length)
{
    while (length > 0 && is_space(text[length - 1]))
        length--;
    while (length > 0 && is_space(*text))
        text++, length--;
    char *copy = arena_get(arena, length + 1);
    fold(copy, text, length);
    return copy;
}

/* ---- Attributes ---- */

static const xmlChar **find_attribute(const struct reader *reader, const char *name)
{
    for (int i = 0; i < reader->attribute_count; i++) {
        const xmlChar **attribute = reader->attributes + 5 * i;
        if (*attribute[0] == (unsigned char)*name && !attribute[1] && strcmp((const char *)attribute[0], name) == 0)
            return attribute;
    }
    return NULL;
}

bool reader_has_attribute(const struct reader *reader, const char *name)
{
    return find_attribute(reader, name) != NULL;
}

/* The parser leaves "&amp;" in a value as "&#38;" (and nothing else unresolved). */
static void resolve_ampersands(char *text)
{
    char *to = text;
    for (const char *from = text; *from;) {
        bool escaped = strncmp(from, "&#38;", 5) == 0;
        *to++ = *from;
        from += escaped ? 5 : 1;
    }
    *to = '\0';
}

const char *reader_attribute(struct reader *reader, const char *name)
{
    const xmlChar **attribute = find_attribute(reader, name);
    if (!attribute)
        return NULL;
    const char *start = (const char *)attribute[3];
    size_t length = (size_t)(attribute[4] - attribute[3]);
    char *text = (char *)folded_and_trimmed(reader->arena, start, length);
    if (strchr(text, '&'))
        resolve_ampersands(text);
    return text;
}

const char *reader_attribute_or(struct reader *reader, const char *name, const char *otherwise)
{
    const char *text = reader_attribute(reader, name);
    return text ? text : otherwise;
}

bool reader_yes(struct reader *reader, const char *name, bool otherwise)
{
    const char *text = reader_attribute(reader, name);
    return text ? strcmp(text, "yes") == 0 : otherwise;
}

/* The schema keeps the forms and ranges of numbers; a value it refuses is read as something, for a model that is
 * thrown away. */
long reader_whole(struct reader *reader, const char *name, long otherwise)
{
    const char *text = reader_attribute(reader, name);
    long value = text ? strtol(text, NULL, 10) : otherwise;
    return value > 1000000 ? 1000000 : value < -1000000 ? -1000000 : value;
}

double reader_number(const char *text)
{
    return strtod(text, NULL);
}

double reader_decimal(struct reader *reader, const char *name, double otherwise)
{
    const char *text = reader_attribute(reader, name);
    return text ? reader_number(text) : otherwise;
}

int reader_choice(struct reader *reader, const char *name, const char *const *choices, int count, int otherwise)
{
    const char *text = reader_attribute(reader, name);
    for (int i = 0; text && i < count; i++)
        if (strcmp(choices[i], text) == 0)
            return i;
    return otherwise;
}

const char *const *reader_list(struct reader *reader, const char *name, size_t *count)
{
    const char *text = reader_attribute(reader, name);
    *count = 0;
    if (!text || !*text)
        return NULL;
    size_t words = 1;
    for (const char *at = text; *at; at++)
        words += *at == ' ';
    const char **list = arena_get_array(reader->arena, words, sizeof *list);
    for (const char *at = text; *count < words; at++) {
        size_t length = strcspn(at, " ");
        list[(*count)++] = arena_copy_bytes(reader->arena, at, length);
        at += length;
    }
    return list;
}

/* ---- Piles ---- */

void *reader_new(struct reader *reader, size_t size)
{
    return reader_frame(reader)->object = arena_get(reader->arena, size);
}

void reader_push(struct reader *reader, enum pile_kind kind, const void *item)
{
    struct pile *pile = &reader->piles[kind];
    pile->items = memory_grow(pile->items, &pile->capacity, pile->count, pile->size);
    memcpy(pile->items + pile->count * pile->size, item, pile->size);
    pile->count++;
}

size_t reader_given(const struct reader *reader, enum pile_kind kind)
{
    return reader->piles[kind].count - reader->frames[reader->depth].heights[kind];
}

const void *reader_take(struct reader *reader, enum pile_kind kind, size_t *count)
{
    struct pile *pile = &reader->piles[kind];
    *count = reader_given(reader, kind);
    if (*count == 0)
        return NULL;
    pile->count -= *count;
    void *items = arena_get_array(reader->arena, *count, pile->size);
    return memcpy(items, pile->items + pile->count * pile->size, *count * pile->size);
}

/* ---- Texts ---- */

const char *reader_text(struct reader *reader)
{
    const char *text = folded_and_trimmed(reader->arena, buffer_text(&reader->text), reader->text.length);
    buffer_clear(&reader->text);
    return text;
}

/* A space at the start is dropped where nothing or a space stands before it in the same prose. */
void reader_flush_run(struct reader *reader, enum run_style style)
{
    if (reader->text.length == 0)
        return;
    struct pile *pile = &reader->piles[PILE_RUNS];
    struct run *last = reader_given(reader, PILE_RUNS) ? (struct run *)(void *)pile->items + pile->count - 1 : NULL;
    const char *before = last && last->style != RUN_VALUE ? last->text : NULL;
    bool spaced = !last || (before && *before && before[strlen(before) - 1] == ' ');

    char *text = arena_get(reader->arena, reader->text.length + 1);
    fold(text, reader->text.text, reader->text.length);
    buffer_clear(&reader->text);
    if (spaced && *text == ' ')
        text++;
    if (!*text)
        return;
    if (last && last->style == style && style == RUN_PLAIN)
        last->text = arena_print(reader->arena, "%s%s", last->text, text);
    else
        reader_push(reader, PILE_RUNS, &(struct run){style, text});
}

struct rich reader_prose(struct reader *reader)
{
    struct rich prose;
    const struct run *runs = reader_take(reader, PILE_RUNS, &prose.count);
    prose.runs = runs;
    if (prose.count == 0 || runs[prose.count - 1].style == RUN_VALUE)
        return prose;
    struct run *last = (struct run *)&runs[prose.count - 1];
    size_t length = strlen(last->text);
    if (length > 0 && last->text[length - 1] == ' ')
        last->text = arena_copy_bytes(reader->arena, last->text, length - 1);
    if (!*last->text)
        prose.count--;
    return prose;
}

struct sense_at reader_at(struct reader *reader)
{
    const struct tag *tag = &reader_frame(reader)->tag;
    struct place place = source_place_in_line(reader->reading->source, tag->line, tag->line_start, tag->start);
    return (struct sense_at){buffer_text(&reader->subject), place.line, place.column};
}
