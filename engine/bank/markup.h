/* Elements of a bank as they are written: the one canonical layout, for questions made by the program and for banks laid
 * out afresh. Built as a tree in an arena, then rendered.
 *
 * The layout: two spaces a level; an element on a line, filled to MARKUP_WIDTH columns where white space may stand; short
 * points with their key words, rows with their cells, and asks, models, notes and stems of one paragraph on one line; a
 * blank line before each question. White space that the reader folds is folded here, so that what is read back is the same.
 * For this room and for authoring. */
#ifndef OWNMARK_BANK_MARKUP_H
#define OWNMARK_BANK_MARKUP_H

#include <stdbool.h>
#include "base/arena.h"
#include "base/buffer.h"

enum { MARKUP_WIDTH = 120 };

struct markup;

/* Texts are copied; they may hold any characters XML can. All hang in arena. */
struct markup *markup_new(struct arena *arena, const char *name);
struct markup *markup_child(struct markup *parent, const char *name);   /* appended; the new one */
/* Appended as they were written: between the dashes; between the question marks, with the target. */
void markup_comment(struct markup *parent, const char *text);
void markup_instruction(struct markup *parent, const char *target, const char *text);
void markup_attribute(struct markup *element, const char *name, const char *value);    /* NULL: none is written */
void markup_whole(struct markup *element, const char *name, long value);

/* Words of the element itself, which stand before its children. */
void markup_text(struct markup *element, const char *text);
void markup_inline(struct markup *element, const char *name, const char *text);     /* em, sub, sup */
void markup_value(struct markup *element, const char *symbol);                      /* <value of="…"/> */
void markup_inline_comment(struct markup *element, const char *text);               /* among the words */

/* Appends the element, `depth` levels in, ended by a newline. */
void markup_render(const struct markup *element, int depth, struct buffer *out);

#endif
