#include "bank/tidy.h"

#include <libxml/parser.h>
#include <libxml/tree.h>
#include <stdlib.h>
#include <string.h>

#include "bank/bank.h"
#include "bank/markup.h"
#include "bank/reader.h"
#include "bank/source.h"
#include "bank/write.h"
#include "base/files.h"
#include "base/memory.h"
#include "base/text.h"

#define BANK_NAMESPACE "urn:ownmark:bank:1"

static const char *plain(const xmlChar *text)
{
    return text ? (const char *)text : "";
}

static bool is_named(const xmlNode *node, const char *name)
{
    return node->type == XML_ELEMENT_NODE && strcmp(plain(node->name), name) == 0;
}

/* ---- Attributes ----------------------------------------------------------------------------------- */

/* The order of docs/bank-format.md; one that is not in it follows in its own order. */
static const struct { const char *element, *names[16]; } orders[] = {
    {"bank", {"id", "language"}},
    {"course", {"name", "paper-marks", "paper-minutes"}},
    {"objective", {"id", "share", "kind"}},
    {"skill", {"id", "share"}},
    {"topic", {"id", "name", "share"}},
    {"command-word", {"word", "objective"}},
    {"constant", {"symbol", "value", "unit"}},
    {"question", {"id", "topic", "also", "demand", "minutes", "enemies"}},
    {"part", {"id", "objective", "command", "marks", "skills", "lines"}},
    {"given", {"symbol", "unit", "value", "choices", "from", "to", "step", "formula", "places"}},
    {"scheme", {"working", "unit-penalty", "crossed-out"}},
    {"point", {"id", "kind", "marks", "needs", "objective", "follow", "idea"}},
    {"number", {"symbol", "value", "formula", "unit", "unit-printed", "tolerance", "figures", "places", "from", "to",
                "to-excluded"}},
    {"list", {"take", "rule"}},
    {"figure", {"file", "text"}},
    {"source", {"title", "credit"}},
};

static const char *const *order_of(const char *element)
{
    static const char *const none[] = {NULL};
    for (size_t i = 0; i < sizeof orders / sizeof *orders; i++)
        if (strcmp(orders[i].element, element) == 0)
            return orders[i].names;
    return none;
}

static bool is_in(const char *const *order, const char *name)
{
    for (; *order; order++)
        if (strcmp(*order, name) == 0)
            return true;
    return false;
}

static void give_attribute(struct markup *element, const xmlAttr *attribute)
{
    struct buffer name = BUFFER_EMPTY, value = BUFFER_EMPTY;
    xmlChar *content = xmlNodeGetContent((const xmlNode *)attribute);
    if (attribute->ns && attribute->ns->prefix)
        buffer_print(&name, "%s:", plain(attribute->ns->prefix));
    buffer_add(&name, plain(attribute->name));
    text_add_folded_space(&value, plain(content));
    char *trimmed = memory_copy_text(buffer_text(&value));
    markup_attribute(element, buffer_text(&name), text_trim(trimmed));
    free(trimmed);
    xmlFree(content);
    buffer_free(&name), buffer_free(&value);
}

static void give_namespaces(struct markup *element, const xmlNode *node)
{
    struct buffer name = BUFFER_EMPTY;
    if (is_named(node, "bank"))
        markup_attribute(element, "xmlns", BANK_NAMESPACE);
    for (const xmlNs *space = node->nsDef; space; space = space->next) {
        if (!space->prefix || strcmp(plain(space->href), BANK_NAMESPACE) == 0)
            continue;
        buffer_clear(&name);
        buffer_print(&name, "xmlns:%s", plain(space->prefix));
        markup_attribute(element, buffer_text(&name), plain(space->href));
    }
    buffer_free(&name);
}

static void give_attributes(struct markup *element, const xmlNode *node)
{
    const char *const *order = order_of(plain(node->name));
    give_namespaces(element, node);
    for (const char *const *name = order; *name; name++)
        for (const xmlAttr *attribute = node->properties; attribute; attribute = attribute->next)
            if (!attribute->ns && strcmp(plain(attribute->name), *name) == 0)
                give_attribute(element, attribute);
    for (const xmlAttr *attribute = node->properties; attribute; attribute = attribute->next)
        if (attribute->ns || !is_in(order, plain(attribute->name)))
            give_attribute(element, attribute);
}

/* ---- Content -------------------------------------------------------------------------------------- */

static bool is_text(const xmlNode *node)
{
    return node->type == XML_TEXT_NODE || node->type == XML_CDATA_SECTION_NODE;
}

static bool is_inline(const xmlNode *node)
{
    return is_named(node, "em") || is_named(node, "sub") || is_named(node, "sup") || is_named(node, "value");
}

/* Does the element hold words of its own? */
static bool has_words(const xmlNode *node)
{
    for (const xmlNode *child = node->children; child; child = child->next)
        if (is_inline(child) || (is_text(child) && !text_is_blank(plain(child->content))))
            return true;
    return false;
}

static void give_inline(struct markup *element, const xmlNode *node)
{
    xmlChar *content = is_named(node, "value") ? xmlGetNoNsProp(node, (const xmlChar *)"of") : xmlNodeGetContent(node);
    if (is_named(node, "value"))
        markup_value(element, plain(content));
    else
        markup_inline(element, plain(node->name), plain(content));
    xmlFree(content);
}

static void give_element(struct markup *element, const xmlNode *node);

/* A comment inside an inline element goes before it. */
static void give_inner_comments(struct markup *element, const xmlNode *node)
{
    for (const xmlNode *child = node->children; child; child = child->next)
        if (child->type == XML_COMMENT_NODE)
            markup_inline_comment(element, plain(child->content));
}

/* Comments among words stay among them; those of a point, whose words come before all else, become lines of their own. */
static void give_child(struct markup *element, const xmlNode *parent, const xmlNode *child, bool words)
{
    if (child->type == XML_COMMENT_NODE && words && !is_named(parent, "point"))
        markup_inline_comment(element, plain(child->content));
    else if (child->type == XML_COMMENT_NODE)
        markup_comment(element, plain(child->content));
    else if (child->type == XML_PI_NODE)
        markup_instruction(element, plain(child->name), plain(child->content));
    else if (words && is_text(child))
        markup_text(element, plain(child->content));
    else if (words && is_inline(child))
        give_inner_comments(element, child), give_inline(element, child);
    else if (child->type == XML_ELEMENT_NODE)
        give_element(markup_child(element, plain(child->name)), child);
}

static void give_element(struct markup *element, const xmlNode *node)
{
    bool words = has_words(node);
    give_attributes(element, node);
    for (const xmlNode *child = node->children; child; child = child->next)
        give_child(element, node, child, words);
}

/* ---- The document --------------------------------------------------------------------------------- */

static void lay_out(const xmlDoc *document, struct buffer *out)
{
    struct arena *arena = arena_new();
    buffer_add(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    for (const xmlNode *node = document->children; node; node = node->next) {
        struct markup *around = markup_new(arena, "around");
        if (node->type == XML_COMMENT_NODE)
            buffer_print(out, "<!--%s-->\n", plain(node->content));
        if (node->type == XML_PI_NODE)
            buffer_print(out, "<?%s%s%s?>\n", plain(node->name), node->content ? " " : "", plain(node->content));
        if (node->type != XML_ELEMENT_NODE)
            continue;
        give_element(around = markup_new(arena, "bank"), node);
        markup_render(around, 0, out);
    }
    arena_free(arena);
}

/* ---- Held against what was there ------------------------------------------------------------------- */

struct meaning {
    const struct reading *reading;
    struct buffer *text;
};

static void add_question(void *context, const struct question *question, const struct element_bytes *at)
{
    struct meaning *meaning = context;
    (void)at;
    question_write(meaning->reading->read_course, question, meaning->text);
}

/* The bank as the reader understands it: the course's text is not compared, its checks and every name in use are. */
static bool meaning_of(const struct source *source, const char *path, struct buffer *text, struct messages *messages)
{
    char *folder = path_folder_of(path);
    struct meaning meaning = {.text = text};
    struct reading reading = {
        .source = source, .root = READ_BANK, .sense = sense_new(path, folder), .check_questions = true,
        .course_arena = arena_new(), .question_arena = arena_new(), .messages = messages, .on_question = add_question,
        .context = &meaning,
    };
    meaning.reading = &reading;
    bool sound = reader_read(&reading);
    buffer_print(text, "%s %s", reading.id, reading.language);
    sense_free(reading.sense);
    arena_free(reading.course_arena);
    arena_free(reading.question_arena);
    free(folder);
    return sound;
}

static bool says_the_same(const struct buffer *meaning, const struct buffer *out, const char *path, struct messages *messages)
{
    struct buffer again = BUFFER_EMPTY;
    struct source source;
    bool same = source_from_bytes(&source, path, buffer_text(out), out->length, messages) &&
                meaning_of(&source, path, &again, messages) && text_equal(buffer_text(meaning), buffer_text(&again));
    if (!same)
        messages_error(messages, "%s cannot be laid out without changing what it says; it was left as it is", path);
    source_free(&source);
    buffer_free(&again);
    return same;
}

bool bank_tidy(const char *path, struct buffer *out, struct messages *messages)
{
    struct source source;
    struct buffer meaning = BUFFER_EMPTY;
    bool tidied = source_load(&source, path, messages) && meaning_of(&source, path, &meaning, messages);
    if (tidied) {
        /* The reader has kept the limits and refused a DOCTYPE: a tree of these bytes is small and has no entities. */
        xmlDoc *document = xmlReadMemory(source.bytes, (int)source.length, path, "UTF-8", XML_PARSE_NONET | XML_PARSE_NOCDATA);
        if (!document)
            memory_exhausted();
        lay_out(document, out);
        xmlFreeDoc(document);
        tidied = says_the_same(&meaning, out, path, messages);
    }
    source_free(&source);
    buffer_free(&meaning);
    return tidied;
}
