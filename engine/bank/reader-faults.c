/* What the XML library and the scanner have to say, in our own words: failure first, what was found, what was wanted,
 * how to mend it. One fault a place. */
#include <assert.h>
#include <libxml/HTMLparser.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "bank/reader-inner.h"
#include "bank/schema.h"
#include "base/memory.h"
#include "base/text.h"

enum { SHOWN = 60 };    /* bytes of a found value, at most */

/* ---- Places ---- */

static bool is_space(char character)
{
    return character == ' ' || character == '\t' || character == '\n' || character == '\r';
}

/* The offset of an attribute's name inside a tag; the tag's own when it is not found. */
static size_t attribute_offset(const struct reader *reader, const struct tag *tag, const char *name)
{
    const char *bytes = reader->reading->source->bytes;
    size_t length = strlen(name), at = tag->start;
    while (at < tag->end && !is_space(bytes[at]))
        at++;
    while (at < tag->end) {
        while (at < tag->end && is_space(bytes[at]))
            at++;
        size_t end = at + length;
        if (end < tag->end && memcmp(bytes + at, name, length) == 0 && (is_space(bytes[end]) || bytes[end] == '='))
            return at;
        while (at < tag->end && bytes[at] != '"' && bytes[at] != '\'')
            at++;
        const char *close = at < tag->end ? memchr(bytes + at + 1, bytes[at], tag->end - at - 1) : NULL;
        at = close ? (size_t)(close - bytes) + 1 : tag->end;
    }
    return tag->start;
}

static struct place place_in_tag(const struct reader *reader, const struct tag *tag, size_t offset)
{
    const struct source *source = reader->reading->source;
    unsigned long line = tag->line;
    size_t line_start = tag->line_start;
    for (size_t i = tag->start; i < offset; i++)
        if (source->bytes[i] == '\n') {
            line++;
            line_start = i + 1;
        }
    return source_place_in_line(source, line, line_start, offset);
}

/* ---- One fault a place ---- */

static bool is_new(struct reader *reader, size_t offset, const char *attribute)
{
    for (size_t i = 0; i < reader->key_count; i++)
        if (reader->keys[i].offset == offset && strncmp(reader->keys[i].attribute, attribute,
                                                        sizeof reader->keys[i].attribute - 1) == 0)
            return false;
    struct fault_key *key = &reader->keys[reader->key_count % BANK_FAULT_LIMIT];
    reader->key_count += reader->key_count < BANK_FAULT_LIMIT;
    key->offset = offset;
    memset(key->attribute, 0, sizeof key->attribute);
    memcpy(key->attribute, attribute, strnlen(attribute, sizeof key->attribute - 1));
    return true;
}

bool reader_is_faulted(const struct reader *reader, const char *attribute)
{
    for (size_t i = reader->key_count; i-- > 0;)
        if (reader->keys[i].offset == reader_frame((struct reader *)reader)->tag.start &&
            strcmp(reader->keys[i].attribute, attribute) == 0)
            return true;
    return false;
}

static const char *subject_of(const struct reader *reader)
{
    return reader->subject.length ? reader->subject.text : reader->reading->source->subject;
}

__attribute__((format(printf, 5, 0)))
static void add_in_tag(struct reader *reader, const struct tag *tag, size_t offset, const char *key,
                       const char *format, va_list arguments)
{
    reader->has_gaps = true;
    if (!is_new(reader, tag->start, key))
        return;
    struct buffer text = BUFFER_EMPTY;
    buffer_print_list(&text, format, arguments);
    messages_add(reader->reading->messages, SEVERITY_ERROR, place_in_tag(reader, tag, offset), subject_of(reader),
                 "%s", buffer_text(&text));
    buffer_free(&text);
}

void reader_fault(struct reader *reader, const char *attribute, const char *format, ...)
{
    const struct tag *tag = &reader_frame(reader)->tag;
    size_t offset = attribute ? attribute_offset(reader, tag, attribute) : tag->start;
    va_list arguments;
    va_start(arguments, format);
    add_in_tag(reader, tag, offset, attribute ? attribute : "", format, arguments);
    va_end(arguments);
}

/* At a place that is in no tag; each such place has one fault anyway. */
__attribute__((format(printf, 3, 4)))
static void fault_at(struct reader *reader, struct place place, const char *format, ...)
{
    reader->has_gaps = true;
    struct buffer text = BUFFER_EMPTY;
    va_list arguments;
    va_start(arguments, format);
    buffer_print_list(&text, format, arguments);
    va_end(arguments);
    messages_add(reader->reading->messages, SEVERITY_ERROR, place, subject_of(reader), "%s", buffer_text(&text));
    buffer_free(&text);
}

void reader_scan_fault(struct reader *reader)
{
    const struct source *source = reader->reading->source;
    struct place place = source_place_in_line(source, reader->scan.line, reader->scan.line_start, reader->scan.at);
    fault_at(reader, place, "%s", scan_fault_text(reader->scan.fault));
}

/* ---- Parts of the library's sentences ---- */

/* What stands between two phrases of a sentence; NULL when they do not stand there. In scratch. */
static const char *between(struct reader *reader, const char *sentence, const char *before, const char *behind)
{
    const char *start = strstr(sentence, before);
    if (!start)
        return NULL;
    start += strlen(before);
    const char *end = strstr(start, behind);
    return end ? arena_copy_bytes(reader->scratch, start, (size_t)(end - start)) : NULL;
}

/* A value as it is shown: one line, cut at a character's end. */
static const char *shown(struct reader *reader, const char *value)
{
    struct buffer folded = BUFFER_EMPTY;
    text_add_folded_space(&folded, value);
    size_t length = folded.length;
    while (length > 0 && folded.text[length - 1] == ' ')
        length--;
    bool cut = length > SHOWN;
    if (cut)
        for (length = SHOWN; length > 0 && ((unsigned char)folded.text[length] & 0xC0) == 0x80; length--)
            continue;
    const char *result = arena_print(reader->scratch, "%.*s%s", (int)length, buffer_text(&folded), cut ? "…" : "");
    buffer_free(&folded);
    return result;
}

/* "Expected is one of ( {urn:…}caution, {urn:…}part )" as "<caution> or <part>"; NULL when nothing was expected. */
static const char *expected(struct reader *reader, const char *sentence)
{
    const char *list = between(reader, sentence, "Expected is one of ( ", " )");
    if (!list)
        list = between(reader, sentence, "Expected is ( ", " )");
    if (!list)
        return NULL;
    struct buffer text = BUFFER_EMPTY;
    for (const char *at = list; *at;) {
        at += strspn(at, ", ");
        const char *brace = *at == '{' ? strchr(at, '}') : NULL;
        at = brace ? brace + 1 : at;
        size_t length = strcspn(at, ", ");
        const char *next = at + length + strspn(at + length, ", ");
        if (length)
            buffer_print(&text, "%s<%.*s>", !text.length ? "" : *next ? ", " : " or ", (int)length, at);
        at = next;
    }
    const char *result = arena_copy_text(reader->scratch, buffer_text(&text));
    buffer_free(&text);
    return *result ? result : NULL;
}

/* ---- Faults against the schema ---- */

static const char *suggestion(struct reader *reader, const char *what, const char *name)
{
    const char *nearest = schema_nearest(what, name, reader->scratch);
    return nearest && strcmp(nearest, name) != 0 ? nearest : NULL;
}

/* An element that may not stand here, or an end that comes too early. */
static void take_content_fault(struct reader *reader, const char *sentence)
{
    const char *wanted = expected(reader, sentence), *name = reader_frame(reader)->name;
    if (strstr(sentence, "Missing child")) {
        if (wanted)
            reader_fault(reader, NULL, "'%s' is not complete; wanted %s before its end", name, wanted);
        else
            reader_fault(reader, NULL, "'%s' is not complete", name);
        return;
    }
    const char *parent = reader->depth > 1 ? reader_parent(reader)->name : "the file";
    const char *near = suggestion(reader, "element", name);
    const char *known = schema_nearest("element", name, reader->scratch);
    bool is_known = known && strcmp(known, name) == 0;
    if (is_known || !near)
        reader_fault(reader, NULL, "'%.40s' may not stand here in '%s'; wanted %s", name, parent,
                     wanted ? wanted : "its end");
    else
        reader_fault(reader, NULL, "'%.40s' is no element of a bank; did you mean '%s'? Here '%s' wants %s", name,
                     near, parent, wanted ? wanted : "its end");
}

/* An attribute's name as it is written, from the library's "{namespace}name". */
static const char *written_name(struct reader *reader, const char *name)
{
    const char *brace = *name == '{' ? strchr(name, '}') : NULL;
    for (int i = 0; brace && i < reader->attribute_count; i++) {
        const xmlChar **attribute = reader->attributes + 5 * i;
        if (attribute[1] && strcmp((const char *)attribute[0], brace + 1) == 0)
            return arena_print(reader->scratch, "%s:%s", (const char *)attribute[1], brace + 1);
    }
    return brace ? brace + 1 : name;
}

static void take_unknown_attribute(struct reader *reader, const char *sentence)
{
    const char *name = between(reader, sentence, "The attribute '", "' is not allowed");
    if (!name)
        name = between(reader, sentence, "', attribute '", "'");
    name = written_name(reader, name ? name : "?");
    const char *element = reader_frame(reader)->name, *near = suggestion(reader, "attribute", name);
    /* "mark" for "marks" is one mistake: the absence of the right name is no second one. */
    if (near && !reader_has_attribute(reader, near)) {
        reader_fault(reader, name, "'%s' has no attribute '%.40s'; did you mean '%s'?", element, name, near);
        is_new(reader, reader_frame(reader)->tag.start, near);
    } else {
        reader_fault(reader, name, "'%s' has no attribute '%.40s'; take it out", element, name);
    }
}

static void take_missing_attribute(struct reader *reader, const char *sentence)
{
    const char *name = between(reader, sentence, "The attribute '", "' is required");
    if (!name || !is_new(reader, reader_frame(reader)->tag.start, name))
        return;
    const char *wanted = schema_wanted_by_attribute(name, reader->scratch);
    const struct tag *tag = &reader_frame(reader)->tag;
    fault_at(reader, place_in_tag(reader, tag, tag->start), "'%s' lacks the attribute '%s'; wanted %s",
             reader_frame(reader)->name, name, wanted ? wanted : "a value");
}

/* "{'low', 'standard', 'high'}" as "low, standard or high". */
static const char *words_of_set(struct reader *reader, const char *set)
{
    struct buffer words = BUFFER_EMPTY;
    for (const char *at = set; *at; at++) {
        bool last = strncmp(at, "', '", 4) == 0 && !strstr(at + 4, "', '");
        if (last)
            buffer_add(&words, " or ");
        else if (*at != '\'')
            buffer_add_character(&words, *at);
        at += last ? 3 : 0;
    }
    const char *kept = arena_copy_text(reader->scratch, buffer_text(&words));
    buffer_free(&words);
    return kept;
}

/* What a value should have been, by the set or the type the library names, else by its pattern, else by the attribute,
 * whose name alone may stand for several types. */
static const char *wanted_value(struct reader *reader, const char *sentence, const char *attribute)
{
    const char *wanted = NULL;
    const char *type = between(reader, sentence, "type '{" BANK_NAMESPACE "}", "'");
    const char *pattern = between(reader, sentence, "by the pattern '", "'.");
    const char *set = between(reader, sentence, "an element of the set {", "}");
    if (set)
        return words_of_set(reader, set);
    if (type)
        wanted = schema_wanted_by_type(type, strlen(type), reader->scratch);
    if (!wanted && pattern)
        wanted = schema_wanted_by_pattern(pattern, strlen(pattern), reader->scratch);
    if (!wanted && attribute)
        wanted = schema_wanted_by_attribute(attribute, reader->scratch);
    return wanted ? wanted : "some words";
}

static void take_bad_value(struct reader *reader, const char *sentence)
{
    const char *element = reader_frame(reader)->name;
    const char *attribute = between(reader, sentence, "', attribute '", "'");
    const char *wanted = wanted_value(reader, sentence, attribute);
    if (!attribute) {
        reader_fault(reader, NULL, "'%s' has no text; wanted %s", element, wanted);
        /* A line with nothing but an empty <em> is empty too, for the same reason. */
        is_new(reader, reader_parent(reader)->tag.start, "");
        return;
    }
    const char *value = between(reader, sentence, "The value '", "' ");
    if (!value)
        value = between(reader, sentence, "': '", "' is not a valid");
    value = shown(reader, value ? value : "");
    if (text_is_blank(value))
        reader_fault(reader, attribute, "the attribute '%s' of '%s' is empty; wanted %s", attribute, element, wanted);
    else
        reader_fault(reader, attribute, "the attribute '%s' of '%s' is '%s'; wanted %s", attribute, element, value,
                     wanted);
}

/* Text where only elements may stand: its place is behind the last tag, not the start of the element. */
static void take_loose_text(struct reader *reader)
{
    const struct source *source = reader->reading->source;
    const struct tag *last = &reader->last_tag;
    size_t at = last->end;
    while (at < source->length && is_space(source->bytes[at]))
        at++;
    size_t end = at;
    while (end < source->length && source->bytes[end] != '<' && end - at <= SHOWN)
        end++;
    const char *text = arena_copy_bytes(reader->scratch, source->bytes + at, end - at);
    if (is_new(reader, at, ""))
        fault_at(reader, place_in_tag(reader, last, at), "the text '%s' may not stand here in '%s'; put it into one of "
                 "its elements, or take it out", shown(reader, text), reader_frame(reader)->name);
}

/* The element around it has no text then, which is no second mistake. */
static void take_element_in_text(struct reader *reader)
{
    reader_fault(reader, NULL, "'%.40s' may not stand in '%s'; wanted text only", reader_frame(reader)->name,
                 reader->depth > 1 ? reader_parent(reader)->name : "the file");
    is_new(reader, reader_parent(reader)->tag.start, "");
}

static void take_schema_fault(struct reader *reader, int code, const char *sentence)
{
    switch (code) {
    case XML_SCHEMAV_ELEMENT_CONTENT:
        take_content_fault(reader, sentence);
        break;
    case XML_SCHEMAV_CVC_COMPLEX_TYPE_3_2_1:
    case XML_SCHEMAV_CVC_COMPLEX_TYPE_3_2_2:
    case XML_SCHEMAV_CVC_TYPE_3_1_1:
        take_unknown_attribute(reader, sentence);
        break;
    case XML_SCHEMAV_CVC_COMPLEX_TYPE_4:
        take_missing_attribute(reader, sentence);
        break;
    case XML_SCHEMAV_CVC_COMPLEX_TYPE_2_3:
        take_loose_text(reader);
        break;
    case XML_SCHEMAV_CVC_COMPLEX_TYPE_2_1:
        reader_fault(reader, NULL, "'%s' holds something; wanted nothing between its tags", reader_frame(reader)->name);
        break;
    case XML_SCHEMAV_CVC_COMPLEX_TYPE_2_2:
    case XML_SCHEMAV_CVC_TYPE_3_1_2:
        take_element_in_text(reader);
        break;
    default:
        take_bad_value(reader, sentence);
        break;
    }
}

/* ---- Faults of XML itself ---- */

struct parser_fault {
    int code;
    const char *text;       /* at most one "%s", for what the library names first */
};

static const struct parser_fault parser_faults[] = {
    {XML_ERR_DOCUMENT_EMPTY, "no element stands here; a bank begins with <bank xmlns=\"" BANK_NAMESPACE "\" id=\"…\">"},
    {XML_ERR_DOCUMENT_END, "something stands behind the end of the bank; take it out, or look for an end tag that comes "
                           "too early"},
    {XML_ERR_TAG_NOT_FINISHED, "the file ends before '%s' is closed; the end is missing, or was not copied"},
    {XML_ERR_ENTITYREF_SEMICOL_MISSING, "'&%s' has no ';'; write &amp; for the character '&'"},
    {XML_ERR_NAME_REQUIRED, "a name is missing here; write &lt; for the character '<' and &amp; for '&'"},
    {XML_ERR_INVALID_CHAR, "a character that XML does not allow stands here; take it out"},
    {XML_ERR_INVALID_CHARREF, "a character reference to what is no character of XML; write another"},
    {XML_ERR_INVALID_DEC_CHARREF, "a character reference that is no number; write it as in &#176;"},
    {XML_ERR_INVALID_HEX_CHARREF, "a character reference that is no number; write it as in &#xB0;"},
    {XML_ERR_ATTRIBUTE_REDEFINED, "the attribute '%s' stands twice in this tag; keep one"},
    {XML_ERR_ATTRIBUTE_NOT_STARTED, "a value without quotation marks; write name=\"value\""},
    {XML_ERR_ATTRIBUTE_NOT_FINISHED, "a value whose quotation mark is not closed; close it"},
    {XML_ERR_ATTRIBUTE_WITHOUT_VALUE, "the attribute '%s' has no value; write name=\"value\""},
    {XML_ERR_LT_IN_ATTRIBUTE, "'<' inside a value; write &lt; for it, or look for a missing quotation mark"},
    {XML_ERR_COMMENT_NOT_FINISHED, "a comment that is not closed; end it with -->"},
    {XML_ERR_HYPHEN_IN_COMMENT, "'--' inside a comment; XML does not allow it: write a dash or one hyphen"},
    {XML_ERR_CDATA_NOT_FINISHED, "a CDATA section that is not closed; end it with ]]>"},
    {XML_ERR_MISPLACED_CDATA_END, "']]>' in text; write ]]&gt; for it"},
    {XML_ERR_PI_NOT_FINISHED, "a processing instruction that is not closed; end it with ?>"},
    {XML_ERR_RESERVED_XML_NAME, "the XML declaration stands inside the file; it may only be its very beginning"},
    {XML_ERR_GT_REQUIRED, "a tag without its '>'; add it, or write &lt; for the character '<'"},
    {XML_ERR_LTSLASH_REQUIRED, "an end tag is missing here"},
    {XML_ERR_SPACE_REQUIRED, "a space is missing between attributes; put one between them"},
    {XML_NS_ERR_UNDEFINED_NAMESPACE, "the prefix '%s' is not declared; write the name without a prefix"},
    {XML_NS_ERR_ATTRIBUTE_REDEFINED, "an attribute stands twice in this tag, under two prefixes; keep one"},
};

static void take_unknown_entity(struct reader *reader, struct place place, const char *name)
{
    const htmlEntityDesc *entity = htmlEntityLookup((const xmlChar *)name);
    if (entity)
        fault_at(reader, place, "the entity '&%.40s;' is not known in XML; write the character itself or &#%u;", name,
                 entity->value);
    else
        fault_at(reader, place, "the entity '&%.40s;' is not known; write the character itself or its number, such as "
                 "&#160; for a no-break space", name);
}

/* A parser fed in pieces calls every early end "extra content at the end". */
static int code_of(const struct reader *reader, library_error error)
{
    if (error->code != XML_ERR_DOCUMENT_END)
        return error->code;
    return reader->depth > 0 ? XML_ERR_TAG_NOT_FINISHED
           : reader->last_tag.end == 0 ? XML_ERR_DOCUMENT_EMPTY : XML_ERR_DOCUMENT_END;
}

static const char *parser_fault_text(int code)
{
    for (size_t i = 0; i < sizeof parser_faults / sizeof *parser_faults; i++)
        if (parser_faults[i].code == code)
            return parser_faults[i].text;
    return NULL;
}

/* The template holds one place for a name, written "%s". */
static const char *with_name(struct reader *reader, const char *template, const char *name)
{
    const char *place = strstr(template, "%s");
    if (!place)
        return template;
    return arena_print(reader->scratch, "%.*s%s%s", (int)(place - template), template, shown(reader, name ? name : "?"),
                       place + 2);
}

static void take_parser_fault(struct reader *reader, library_error error)
{
    const struct source *source = reader->reading->source;
    unsigned long line = error->line > 0 ? (unsigned long)error->line - 1 + source->line : 0;
    unsigned long column = error->int2 > 0 ? (unsigned long)error->int2 : 0;
    struct place place = {source->name, line, error->line == 1 && column ? column + source->column - 1 : column};
    int code = code_of(reader, error);
    const char *text = parser_fault_text(code);
    const char *name = code == XML_ERR_TAG_NOT_FINISHED ? reader_frame(reader)->name : error->str1;
    if (error->code == XML_ERR_TAG_NAME_MISMATCH)
        fault_at(reader, place, "'%s' of line %d is closed by '</%s>'; close each element inside the one it stands in",
                 shown(reader, error->str1), error->int1, shown(reader, error->str2 ? error->str2 : "?"));
    else if (error->code == XML_ERR_UNDECLARED_ENTITY || error->code == XML_WAR_UNDECLARED_ENTITY)
        take_unknown_entity(reader, place, error->str1 ? error->str1 : "");
    else if (text)
        fault_at(reader, place, "%s", with_name(reader, text, name));
    else
        fault_at(reader, place, "not well-formed XML here: %s", shown(reader, error->message ? error->message : ""));
}

void reader_take_error(void *context, library_error error)
{
    struct reader *reader = context;
    if (error->code == XML_ERR_NO_MEMORY)
        memory_exhausted();
    if (reader->stopped || error->level < XML_ERR_ERROR)
        return;
    if (error->domain == XML_FROM_SCHEMASV) {
        if (!reader->malformed)
            take_schema_fault(reader, error->code, error->message ? error->message : "");
    } else if (!reader->malformed) {
        /* Only the first: what follows from it says nothing new. */
        reader->malformed = true;
        take_parser_fault(reader, error);
    }
    arena_reset(reader->scratch);
}
