#include "bank/schema.h"

#include <libxml/parser.h>
#include <libxml/xmlschemas.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "base/text.h"

static const unsigned char text_bytes[] = {
#include "schema-text.inc"
    0,
};

const char *schema_text(void)
{
    return (const char *)text_bytes;
}

/* ---- The XML library ---- */

static xmlParserInputPtr load_nothing(const char *url, const char *id, xmlParserCtxtPtr context)
{
    (void)url, (void)id, (void)context;
    return NULL;
}

/* The library prints some of its own troubles; what matters comes through structured errors. */
__attribute__((format(printf, 2, 3)))
static void print_nothing(void *context, const char *format, ...)
{
    (void)context, (void)format;
}

static void memory_ran_out(void *unused)
{
    (void)unused;
    memory_exhausted();
}

static xmlSchemaPtr compile(void)
{
    xmlSchemaParserCtxtPtr parser = xmlSchemaNewMemParserCtxt(schema_text(), (int)sizeof text_bytes - 1);
    if (!parser)
        memory_ran_out(NULL);
    xmlSchemaPtr schema = xmlSchemaParse(parser);
    xmlSchemaFreeParserCtxt(parser);
    /* The text is the program's own and every test reads it: what can be lacking is memory. */
    if (!schema)
        memory_ran_out(NULL);
    return schema;
}

struct _xmlSchema *schema_compiled(void)
{
    static xmlSchemaPtr schema;
    if (!schema) {
        xmlInitParser();
        xmlSetExternalEntityLoader(load_nothing);
        xmlSetGenericErrorFunc(NULL, print_nothing);
        schema = compile();
    }
    return schema;
}

/* ---- What is wanted ---- */

/* The schema is our own text, laid out so that plain searching finds its way: name="…" of a simple type is followed
 * by its documentation, and the patterns of a type by nothing of another type before the next name. */

static const char opening[] = "<xs:documentation>";

static const char *documentation_after(const char *at, struct arena *arena)
{
    const char *start = strstr(at, opening);
    const char *end = start ? strstr(start, "</xs:documentation>") : NULL;
    if (!end)
        return NULL;
    start += strlen(opening);
    return arena_copy_bytes(arena, start, (size_t)(end - start));
}

static const char *last_before(const char *text, const char *end, const char *wanted)
{
    const char *last = NULL;
    for (const char *at = strstr(text, wanted); at && at < end; at = strstr(at + 1, wanted))
        last = at;
    return last;
}

const char *schema_wanted_by_type(const char *type, size_t length, struct arena *arena)
{
    const char *head = arena_print(arena, "<xs:simpleType name=\"%.*s\">", (int)length, type);
    const char *at = strstr(schema_text(), head);
    return at ? documentation_after(at, arena) : NULL;
}

const char *schema_wanted_by_pattern(const char *pattern, size_t length, struct arena *arena)
{
    const char *at = strstr(schema_text(), arena_print(arena, "<xs:pattern value=\"%.*s\"/>", (int)length, pattern));
    const char *type = at ? last_before(schema_text(), at, "<xs:simpleType name=") : NULL;
    return type ? documentation_after(type, arena) : NULL;
}

const char *schema_wanted_by_attribute(const char *attribute, struct arena *arena)
{
    const char *head = arena_print(arena, "<xs:attribute name=\"%s\" type=\"", attribute);
    const char *at = strstr(schema_text(), head);
    if (!at)
        return NULL;
    at += strlen(head);
    return schema_wanted_by_type(at, strcspn(at, "\""), arena);
}

const char *schema_nearest(const char *what, const char *name, struct arena *arena)
{
    const char *head = arena_print(arena, "<xs:%s name=\"", what);
    const char *candidates[256];
    size_t count = 0;
    for (const char *at = strstr(schema_text(), head); at && count < 256; at = strstr(at, head)) {
        at += strlen(head);
        candidates[count++] = arena_copy_bytes(arena, at, strcspn(at, "\""));
    }
    return text_nearest(name, candidates, count);
}
