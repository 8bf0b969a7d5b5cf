#include "bank/reader-inner.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "bank/schema.h"
#include "base/memory.h"
#include "base/text.h"

enum { CHUNK = 64 * 1024, MEGABYTE = 1024 * 1024 };

static const char *const root_names[] = {"bank", "course", "question"};

static const size_t pile_sizes[PILE_COUNT] = {
    [PILE_RUNS] = sizeof(struct run), [PILE_PROSE] = sizeof(struct rich), [PILE_ROWS] = sizeof(struct table_row),
    [PILE_BLOCKS] = sizeof(struct block), [PILE_TEXTS] = sizeof(const char *),
    [PILE_OBJECTIVES] = sizeof(struct objective), [PILE_SKILLS] = sizeof(struct skill),
    [PILE_TOPICS] = sizeof(struct topic), [PILE_WORDS] = sizeof(struct written_word),
    [PILE_CONSTANTS] = sizeof(struct constant), [PILE_FORMULAE] = sizeof(struct data_formula),
    [PILE_GIVENS] = sizeof(struct given), [PILE_PARTS] = sizeof(struct part), [PILE_NODES] = sizeof(struct node),
    [PILE_ACCEPTS] = sizeof(const char *), [PILE_IGNORES] = sizeof(const char *),
    [PILE_REJECTS] = sizeof(const char *), [PILE_KEYS] = sizeof(struct key_word),
    [PILE_LEVELS] = sizeof(struct level), [PILE_STRANDS] = sizeof(struct strand),
    [PILE_CAPS] = sizeof(struct level_cap), [PILE_BANDS] = sizeof(struct band),
};

/* ---- The table of elements ---- */

/* Names of one slot are told apart by walking on: the table is more than four times as large as the rows. */
static size_t slot_of(const char *name)
{
    size_t hash = 0;
    for (; *name; name++)
        hash = hash * 31 + (unsigned char)*name;
    return hash % (sizeof((struct reader *)0)->slots / sizeof(struct element_row *));
}

static void add_rows(struct reader *reader, const struct element_row *rows, size_t count)
{
    const size_t slots = sizeof reader->slots / sizeof *reader->slots;
    for (size_t i = 0; i < count; i++) {
        size_t slot = slot_of(rows[i].name);
        while (reader->slots[slot])
            slot = (slot + 1) % slots;
        reader->slots[slot] = &rows[i];
    }
}

static const struct element_row *find_row(const struct reader *reader, const char *name, enum element parent)
{
    const size_t slots = sizeof reader->slots / sizeof *reader->slots;
    for (size_t slot = slot_of(name); reader->slots[slot]; slot = (slot + 1) % slots) {
        const struct element_row *row = reader->slots[slot];
        if ((row->parents & PARENT(parent)) && strcmp(row->name, name) == 0)
            return row;
    }
    return NULL;
}

/* ---- Start tags ---- */

static void stop(struct reader *reader)
{
    reader->stopped = true;
    xmlStopParser(reader->parser);
}

static void stop_when_full(struct reader *reader)
{
    if (reader->reading->messages->dropped > reader->dropped_at_start)
        stop(reader);
}

/* The scanner's tag that belongs to this event of the parser. Both read the same bytes; should they ever disagree on
 * what is a tag, the file is refused rather than read with wrong places. */
static bool take_tag(struct reader *reader, const xmlChar *name, bool is_end)
{
    const struct tag *tag = scan_take(&reader->scan);
    if (tag && tag->is_end == is_end) {
        reader->last_tag = *tag;
        return true;
    }
    messages_add(reader->reading->messages, SEVERITY_ERROR, (struct place){reader->reading->source->name, 0, 0}, NULL,
                 "the tags around '%s' cannot be followed; look for a stray '<' or quotation mark",
                 (const char *)name);
    stop(reader);
    return false;
}

static const char *attribute_value(const struct reader *reader, const char *name, size_t *length)
{
    for (int i = 0; i < reader->attribute_count; i++) {
        const xmlChar **attribute = reader->attributes + 5 * i;
        if (*attribute[0] == (unsigned char)*name && !attribute[1] && strcmp((const char *)attribute[0], name) == 0) {
            *length = (size_t)(attribute[4] - attribute[3]);
            return (const char *)attribute[3];
        }
    }
    return NULL;
}

static void enter_subject(struct reader *reader, const char *name)
{
    buffer_clear(&reader->subject);
    reader->errors_before = reader->reading->messages->errors;
    reader->has_gaps = false;
    if (strcmp(name, "course") == 0) {
        buffer_add(&reader->subject, "course");
        return;
    }
    size_t length;
    const char *id = attribute_value(reader, "id", &length);
    reader->reading->question_count++;
    if (id && length > 0 && length <= 64)
        buffer_print(&reader->subject, "question %.*s", (int)length, id);
    else
        buffer_print(&reader->subject, "question number %zu", reader->reading->question_count);
}

/* The parser keeps each name once: the text is compared the first time only. */
static bool is_own_uri(struct reader *reader, const xmlChar *uri)
{
    if (uri == reader->own_uri)
        return uri != NULL;
    if (!xmlStrEqual(uri, (const xmlChar *)BANK_NAMESPACE))
        return false;
    reader->own_uri = uri;
    return true;
}

/* The root must be ours, by name and namespace; a course or a question alone inherited its namespace from the bank
 * it was cut out of. */
static bool root_is_ours(struct reader *reader, const char *name, const xmlChar *uri)
{
    enum reading_root root = reader->reading->root;
    const char *wanted = root_names[root];
    bool ours = uri ? is_own_uri(reader, uri) : root != READ_BANK;
    if (ours && strcmp(name, wanted) == 0)
        return true;
    if (strcmp(name, wanted) != 0)
        reader_fault(reader, NULL, "the file begins with '%.40s'; wanted <bank xmlns=\"" BANK_NAMESPACE "\" id=\"…\">",
                     name);
    else if (!uri)
        reader_fault(reader, NULL, "'%s' has no namespace; wanted <%s xmlns=\"" BANK_NAMESPACE "\" …>", name, name);
    else
        reader_fault(reader, NULL, "the namespace of '%s' is '%.80s'; wanted xmlns=\"" BANK_NAMESPACE "\"", name,
                     (const char *)uri);
    stop(reader);
    return false;
}

static void open_frame(struct reader *reader, const char *name)
{
    assert(reader->depth < BANK_DEPTH_LIMIT && "the scanner keeps the depth");
    struct frame *frame = &reader->frames[++reader->depth];
    frame->row = NULL;
    frame->name = name;
    frame->tag = reader->last_tag;
    frame->object = NULL;
    for (int i = 0; i < PILE_COUNT; i++)
        frame->heights[i] = (uint32_t)reader->piles[i].count;
}

/* Attributes of the schema-instance namespace tell editors where the schema is. They must not reach the validator,
 * which would load what they name or change types. */
static int without_instance_attributes(const xmlChar **attributes, int count)
{
    static const xmlChar instance[] = "http://www.w3.org/2001/XMLSchema-instance";
    int kept = 0;
    for (int i = 0; i < count; i++) {
        if (xmlStrEqual(attributes[5 * i + 2], instance))
            continue;
        if (kept != i)
            memcpy(attributes + 5 * kept, attributes + 5 * i, 5 * sizeof *attributes);
        kept++;
    }
    return kept;
}

static bool is_subject_root(const struct reader *reader)
{
    return reader->depth == (reader->reading->root == READ_BANK ? 2 : 1);
}

static void on_start(void *context, const xmlChar *name, const xmlChar *prefix, const xmlChar *uri,
                     int namespace_count, const xmlChar **namespaces, int attribute_count, int defaulted,
                     const xmlChar **attributes)
{
    struct reader *reader = context;
    (void)namespace_count, (void)namespaces;
    if (reader->stopped || !take_tag(reader, name, false))
        return;
    const char *text = (const char *)name;
    if (reader_frame(reader)->row && reader_frame(reader)->row->mixed)
        reader_flush_run(reader, RUN_PLAIN);
    buffer_clear(&reader->text);
    open_frame(reader, text);
    reader->attributes = attributes;
    reader->attribute_count = without_instance_attributes(attributes, attribute_count);
    if (reader->depth == 1 && !root_is_ours(reader, text, uri))
        return;
    if (is_subject_root(reader) && (strcmp(text, "course") == 0 || strcmp(text, "question") == 0))
        enter_subject(reader, text);
    if (prefix && is_own_uri(reader, uri)) {
        reader_fault(reader, NULL, "'%.40s:%.40s' has a prefix; write the elements of a bank without one, under "
                     "<bank xmlns=\"" BANK_NAMESPACE "\">", (const char *)prefix, text);
        stop(reader);
        return;
    }
    if (!uri && reader->reading->root != READ_BANK)
        uri = (const xmlChar *)BANK_NAMESPACE;
    reader->plug_handler->startElementNs(reader->plug_context, name, prefix, uri, 0, NULL, reader->attribute_count,
                                         defaulted, attributes);
    const struct element_row *parent = reader_parent(reader)->row;
    if (parent && is_own_uri(reader, uri))
        reader_frame(reader)->row = find_row(reader, text, parent->element);
    if (reader_frame(reader)->row && reader_frame(reader)->row->start)
        reader_frame(reader)->row->start(reader);
    stop_when_full(reader);
}

/* ---- Text and end tags ---- */

static void on_text(void *context, const xmlChar *text, int length)
{
    struct reader *reader = context;
    if (reader->stopped)
        return;
    reader->plug_handler->characters(reader->plug_context, text, length);
    if (reader_frame(reader)->row)
        buffer_add_bytes(&reader->text, (const char *)text, (size_t)length);
}

static void on_cdata(void *context, const xmlChar *text, int length)
{
    struct reader *reader = context;
    if (reader->stopped)
        return;
    reader->plug_handler->cdataBlock(reader->plug_context, text, length);
    if (reader_frame(reader)->row)
        buffer_add_bytes(&reader->text, (const char *)text, (size_t)length);
}

static void on_end(void *context, const xmlChar *name, const xmlChar *prefix, const xmlChar *uri)
{
    struct reader *reader = context;
    if (reader->stopped || !take_tag(reader, name, true))
        return;
    if (!uri && reader->reading->root != READ_BANK)
        uri = (const xmlChar *)BANK_NAMESPACE;
    assert(reader->depth > 0);
    reader->plug_handler->endElementNs(reader->plug_context, name, prefix, uri);
    const struct element_row *row = reader_frame(reader)->row;
    if (row && row->mixed)
        reader_flush_run(reader, RUN_PLAIN);
    if (row && row->end)
        row->end(reader);
    buffer_clear(&reader->text);
    if (is_subject_root(reader))
        buffer_clear(&reader->subject);
    reader->depth--;
    stop_when_full(reader);
}

/* The scanner refuses a DOCTYPE before the parser sees it; this is the second lock on that door. */
static void on_doctype(void *context, const xmlChar *name, const xmlChar *external, const xmlChar *system)
{
    struct reader *reader = context;
    (void)name, (void)external, (void)system;
    reader->malformed = true;
    messages_error(reader->reading->messages, "%s", scan_fault_text(SCAN_DOCTYPE));
    stop(reader);
}

static xmlSAXHandler handler = {
    .initialized = XML_SAX2_MAGIC,
    .internalSubset = on_doctype,
    .startElementNs = on_start,
    .endElementNs = on_end,
    .characters = on_text,
    .ignorableWhitespace = on_text,
    .cdataBlock = on_cdata,
    .serror = reader_take_error,
};

/* ---- One reading ---- */

static void begin(struct reader *reader, struct reading *reading)
{
    static const struct element_row document = {.element = IN_DOCUMENT};
    reader->reading = reading;
    reader->arena = reading->root == READ_QUESTION ? reading->question_arena : reading->course_arena;
    reader->frames[0].row = &document;
    reader->scratch = arena_new();
    reader->errors_before = reading->messages->errors;
    reader->dropped_at_start = reading->messages->dropped;
    for (int i = 0; i < PILE_COUNT; i++)
        reader->piles[i].size = pile_sizes[i];
    add_rows(reader, rows_of_course, rows_of_course_count);
    add_rows(reader, rows_of_prose, rows_of_prose_count);
    add_rows(reader, rows_of_question, rows_of_question_count);
    add_rows(reader, rows_of_scheme, rows_of_scheme_count);
    scan_begin(&reader->scan, reading->source);

    reader->valid = xmlSchemaNewValidCtxt(schema_compiled());
    reader->parser = xmlCreatePushParserCtxt(&handler, reader, NULL, 0, NULL);
    if (!reader->valid || !reader->parser)
        memory_exhausted();
    xmlCtxtUseOptions(reader->parser, XML_PARSE_NONET | XML_PARSE_BIG_LINES);
    xmlSchemaSetValidStructuredErrors(reader->valid, reader_take_error, reader);
    reader->plug = xmlSchemaSAXPlug(reader->valid, &reader->plug_handler, &reader->plug_context);
    if (!reader->plug)
        memory_exhausted();
}

static void end(struct reader *reader)
{
    xmlSchemaSAXUnplug(reader->plug);
    xmlSchemaFreeValidCtxt(reader->valid);
    xmlFreeParserCtxt(reader->parser);
    scan_end(&reader->scan);
    for (int i = 0; i < PILE_COUNT; i++)
        free(reader->piles[i].items);
    buffer_free(&reader->text);
    buffer_free(&reader->subject);
    arena_free(reader->scratch);
    free(reader);
}

static void feed(struct reader *reader)
{
    const struct reading *reading = reader->reading;
    const struct source *source = reading->source;
    size_t fed = 0, told = 0;
    while (fed < source->length && !reader->stopped && !reader->malformed) {
        scan_until(&reader->scan, fed + CHUNK);
        xmlParseChunk(reader->parser, source->bytes + fed, (int)(reader->scan.at - fed), 0);
        fed = reader->scan.at;
        if (reader->scan.fault)
            break;
        if (reading->on_progress && fed - told >= MEGABYTE) {
            reading->on_progress(fed, source->length, reading->progress_context);
            told = fed;
        }
    }
    if (reader->stopped || reader->malformed)
        return;
    if (reader->scan.fault)
        reader_scan_fault(reader);
    else
        xmlParseChunk(reader->parser, NULL, 0, 1);
}

/* The flags say less than the errors do (an unbound prefix leaves the first at 1), so that both must be clean. */
static bool came_to_the_end(const struct reader *reader)
{
    return !reader->stopped && !reader->malformed && !reader->scan.fault && reader->parser->wellFormed &&
           reader->parser->nsWellFormed && reader->depth == 0;
}

bool reader_read(struct reading *reading)
{
    struct messages *messages = reading->messages;
    size_t limit = messages->limit, errors = messages->errors;
    if (!limit || limit > messages->count + BANK_FAULT_LIMIT)
        messages->limit = messages->count + BANK_FAULT_LIMIT;
    struct reader *reader = memory_get_zeroed(1, sizeof *reader);
    begin(reader, reading);
    feed(reader);
    bool whole = came_to_the_end(reader);
    if (!whole && messages->errors == errors)
        messages_add(messages, SEVERITY_ERROR, source_place(reading->source, reader->scan.at), NULL,
                     "the file is not well-formed XML");
    /* An enemy may be among the questions that could not be read: then nothing is said of enemies. */
    if (whole && messages->errors == errors && reading->root == READ_BANK && reading->check_questions)
        sense_end(reading->sense, messages);
    end(reader);
    messages->limit = limit;
    return whole && messages->errors == errors;
}
