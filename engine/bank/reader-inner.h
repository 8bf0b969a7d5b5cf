/* What the files of the reader share. The parser tells of a start tag, text, an end tag; for each open element there
 * is a frame; what an element gives to the one around it (a run, a block, a node of a scheme …) goes onto the pile of
 * its kind, and the element around it takes from the pile what lies above the height noted in its own frame. */
#ifndef OWNMARK_BANK_READER_INNER_H
#define OWNMARK_BANK_READER_INNER_H

#include <libxml/parser.h>
#include <libxml/xmlschemas.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "bank/bank.h"
#include "bank/commandwords.h"
#include "bank/reader.h"
#include "bank/scan.h"
#include "base/buffer.h"

/* ---- The elements ---- */

/* "list" and others mean one thing here and another there: a row for each meaning. */
enum element {
    IN_DOCUMENT,    /* parent of what may stand at the root */
    BANK, COURSE, ABOUT, OBJECTIVE, SKILL, TOPIC, SUB_TOPIC, EXPLAIN, KEY_POINT, COMMAND_WORD, MEANING, NEEDS, TRAP,
    DATA_SHEET, CONSTANT, FORMULA,
    QUESTION, STEM, CAUTION, GIVEN, PART, ASK, MODEL, NOTE, SCHEME,
    PARAGRAPH, BLOCK_OF_ITEMS, ITEM, TABLE, CAPTION, HEAD, ROW, CELL, FIGURE, SOURCE,
    EMPHASIS, SUBSCRIPT, SUPERSCRIPT, VALUE,
    POINT, ACCEPT, IGNORE, REJECT, KEY, NUMBER, ALL, ANY, LIST, ROUTES, ROUTE,
    LEVELS, LEVEL, STRAND, STRAND_AT, CAP, INDICATIVE, QUALITY, BAND,
    ELEMENT_COUNT
};
_Static_assert(ELEMENT_COUNT <= 64, "parents are bits of a 64-bit set");

#define PARENT(element) (UINT64_C(1) << (element))

struct reader;

struct element_row {
    enum element element;
    const char *name;
    uint64_t parents;                       /* set of the elements it may stand in */
    void (*start)(struct reader *reader);   /* NULL: nothing to do */
    void (*end)(struct reader *reader);
    bool mixed;                             /* text between its children belongs to it */
};

/* The rows of each file, with their number. */
extern const struct element_row rows_of_course[], rows_of_prose[], rows_of_question[], rows_of_scheme[];
extern const size_t rows_of_course_count, rows_of_prose_count, rows_of_question_count, rows_of_scheme_count;

/* ---- Piles ---- */

enum pile_kind {
    PILE_RUNS, PILE_PROSE, PILE_ROWS, PILE_BLOCKS, PILE_TEXTS,
    PILE_OBJECTIVES, PILE_SKILLS, PILE_TOPICS, PILE_WORDS, PILE_CONSTANTS, PILE_FORMULAE,
    PILE_GIVENS, PILE_PARTS,
    PILE_NODES, PILE_ACCEPTS, PILE_IGNORES, PILE_REJECTS, PILE_KEYS,
    PILE_LEVELS, PILE_STRANDS, PILE_CAPS, PILE_BANDS,
    PILE_COUNT
};

struct pile {
    char *items;
    size_t count, capacity, size;
};

/* ---- Frames ---- */

struct frame {
    const struct element_row *row;      /* NULL: an element that cannot be used here; all in it is passed over */
    const char *name;
    struct tag tag;
    void *object;                       /* what its start function makes, for its children to fill */
    uint32_t heights[PILE_COUNT];
};

struct fault_key {
    size_t offset;
    char attribute[32];
};

enum { NUMBERED_KINDS = NODE_QUALITY + 1 };

struct reader {
    struct reading *reading;
    struct arena *arena;                /* of the course or of the question, whichever is being read */
    struct scan scan;
    xmlParserCtxtPtr parser;
    xmlSchemaValidCtxtPtr valid;
    xmlSchemaSAXPlugPtr plug;
    xmlSAXHandlerPtr plug_handler;
    void *plug_context;

    struct frame frames[BANK_DEPTH_LIMIT + 1];   /* frames[0] stands for the document */
    int depth;                          /* of open elements; the innermost one is frames[depth] */
    struct tag last_tag;
    const xmlChar *own_uri;             /* the parser's copy of our namespace, once it was met; NULL before */
    const xmlChar **attributes;         /* of the tag that is starting: five pointers each */
    int attribute_count;
    struct buffer text;                 /* since the last tag that mattered */
    struct pile piles[PILE_COUNT];
    const struct element_row *slots[256];

    /* the part being read: how many nodes of each kind were numbered */
    const char *part_id;
    int numbered[NUMBERED_KINDS], indicative_numbered;
    int part_objective;

    struct buffer subject;              /* "question w04"; empty outside */
    size_t errors_before;               /* before the course or the question that is being read */
    bool has_gaps;                      /* it lacks something, or holds what cannot be used */

    /* faults */
    struct arena *scratch;
    struct fault_key keys[BANK_FAULT_LIMIT];
    size_t key_count, dropped_at_start;
    bool malformed;                     /* the parser gave up */
    bool stopped;
};

/* The value of an attribute of the tag that is starting, white space folded, in the arena; NULL when absent. */
const char *reader_attribute(struct reader *reader, const char *name);
const char *reader_attribute_or(struct reader *reader, const char *name, const char *otherwise);
bool reader_has_attribute(const struct reader *reader, const char *name);
bool reader_yes(struct reader *reader, const char *name, bool otherwise);
long reader_whole(struct reader *reader, const char *name, long otherwise);
double reader_decimal(struct reader *reader, const char *name, double otherwise);
/* Index of the value among the choices, or `otherwise`. */
int reader_choice(struct reader *reader, const char *name, const char *const *choices, int count, int otherwise);
/* The words of the value, divided at spaces. */
const char *const *reader_list(struct reader *reader, const char *name, size_t *count);
double reader_number(const char *text);

static inline struct frame *reader_frame(struct reader *reader) { return &reader->frames[reader->depth]; }
static inline struct frame *reader_parent(struct reader *reader) { return &reader->frames[reader->depth - 1]; }
void *reader_new(struct reader *reader, size_t size);   /* in the arena, and object of the innermost frame */

void reader_push(struct reader *reader, enum pile_kind kind, const void *item);
/* What the innermost element was given, moved to the arena; NULL and 0 when nothing. */
const void *reader_take(struct reader *reader, enum pile_kind kind, size_t *count);
/* How much lies there for it, and the last of it. */
size_t reader_given(const struct reader *reader, enum pile_kind kind);

/* The text since the last tag, white space folded and trimmed, in the arena; the text is emptied. */
const char *reader_text(struct reader *reader);
void reader_flush_run(struct reader *reader, enum run_style style);
struct rich reader_prose(struct reader *reader);

struct sense_at reader_at(struct reader *reader);   /* of the innermost element */

/* A fault at the innermost element, or at one of its attributes. */
void reader_fault(struct reader *reader, const char *attribute, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Was this attribute of the innermost element reported already? */
bool reader_is_faulted(const struct reader *reader, const char *attribute);

/* ---- Faults found by the library (reader-faults.c) ---- */

#if LIBXML_VERSION < 21200
typedef xmlErrorPtr library_error;
#else
typedef const xmlError *library_error;
#endif

void reader_take_error(void *reader, library_error error);
void reader_scan_fault(struct reader *reader);

#endif
