/* The model of a bank: what the XML says, resolved and ready for arithmetic. Plain data, no behaviour, no XML.
 *
 * Everything hangs in an arena that its owner frees: the course in the bank's arena, each question in its
 * own. Texts are valid UTF-8; absent texts are NULL; absent arrays have count 0. Ids match
 * [A-Za-z][A-Za-z0-9._-]{0,63}. Places are lines and columns in the bank file, from 1. */
#ifndef OWNMARK_BANK_MODEL_H
#define OWNMARK_BANK_MODEL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* ---- Written matter: paragraphs, tables, figures, sources ---------------------------------------- */

enum run_style {
    RUN_PLAIN,
    RUN_EMPHASIS,
    RUN_SUBSCRIPT,
    RUN_SUPERSCRIPT,
    RUN_VALUE        /* text is a symbol: stands for the drawn given or the computed number, with its unit */
};

struct run {
    enum run_style style;
    const char *text;
};

struct rich {               /* one paragraph or one cell */
    const struct run *runs;
    size_t count;
};

enum block_kind { BLOCK_PARAGRAPH, BLOCK_TABLE, BLOCK_FIGURE, BLOCK_SOURCE, BLOCK_LIST };

struct table_row {
    const struct rich *cells;
    size_t count;
    bool heading;
};

struct block {
    enum block_kind kind;
    struct rich text;               /* paragraph; caption of a table or figure; credit line of a source */
    const char *title;              /* source: "Source A: the harbour master's log" */
    const struct table_row *rows;   /* table; every row has the same number of cells */
    size_t row_count;
    const struct rich *items;       /* list */
    size_t item_count;
    const char *file;               /* figure: path inside the bank's folder */
    const char *alternative;        /* figure: the text that stands for it, enough to answer without seeing it */
    const struct block *blocks;     /* source: its content */
    size_t block_count;
};

struct blocks {
    const struct block *items;
    size_t count;
};

/* ---- The course --------------------------------------------------------------------------------- */

enum objective_kind { OBJECTIVE_KNOW, OBJECTIVE_APPLY, OBJECTIVE_ANALYSE };

struct objective {
    const char *id;             /* "AO1": numbers are not portable between subjects */
    const char *name;
    double share;               /* per cent of the marks; all objectives add up to 100 */
    enum objective_kind kind;   /* what it asks of the student, in general terms */
};

struct skill {                  /* cuts across objectives */
    const char *id;
    const char *name;
    double share;               /* at least this per cent of the marks */
};

struct explain_prompt {         /* "explain it aloud" */
    const char *ask;
    const char *const *points;
    size_t point_count;
};

/* Topics stand in one array, each main topic followed by its sub-topics; two levels deep. Questions name
 * sub-topics, or a main topic that has none. */
struct topic {
    const char *id;
    const char *name;
    int parent;                 /* index of the main topic; -1 for a main topic */
    double share;               /* per cent of the marks; leaves add up to 100, a main topic is the sum of its own */
    bool is_leaf;
    struct explain_prompt explain;  /* ask NULL when there is none */
};

struct command_word {
    const char *word;           /* lower case: "explain", "to what extent" */
    int objective;              /* index into objectives that it usually signals */
    const char *meaning;
    const char *needs;          /* what a full answer needs, one sentence */
    const char *trap;           /* where marks are usually lost; NULL if not said */
    bool generic;               /* from the built-in set */
};

struct constant {
    const char *symbol;
    const char *value;          /* decimal text */
    const char *unit;           /* "" for none */
    const char *name;
};

struct data_formula {
    const char *name;
    struct rich text;
};

struct course {
    const char *name;
    const char *about;          /* NULL if not said */
    int paper_marks;            /* the whole examination */
    double paper_minutes;
    double minutes_per_mark;    /* paper_minutes / paper_marks */
    const struct objective *objectives;     size_t objective_count;
    const struct skill *skills;             size_t skill_count;
    const struct topic *topics;             size_t topic_count;
    const struct command_word *words;       size_t word_count;   /* built-in set as the course changes it */
    const struct constant *constants;       size_t constant_count;
    const struct data_formula *formulae;    size_t formula_count;
};

/* ---- Schemes ------------------------------------------------------------------------------------ */

enum point_kind {
    POINT_PLAIN,
    POINT_METHOD,       /* M */
    POINT_ACCURACY,     /* A: needs its method, the nearest method point before it unless `needs` says otherwise */
    POINT_INDEPENDENT,  /* B */
    POINT_IMPLIED       /* C: earned when seen, or when a later mark that rests on it is earned */
};

/* What a right number is. Either `value`, `formula`, or the interval alone. */
struct number_key {
    const char *symbol;         /* name under which later formulae use it; NULL */
    const char *value;          /* decimal text */
    const char *formula;        /* over givens, constants and numbers of earlier points and parts */
    const char *unit;           /* "" for a pure number */
    bool unit_printed;          /* printed on the answer line: none is asked of the student */
    double tolerance;           /* absolute, or a fraction when relative; 0: by figures (trade rule 11) */
    bool tolerance_relative;
    bool has_interval;
    double from, to;            /* in `unit` */
    bool to_excluded;           /* [from, to) */
    int figures;                /* significant figures the ask demands; 0: none demanded */
    int places;                 /* decimal places the ask demands; -1: none demanded */
};

struct key_word {
    const char *const *alternatives;   /* any one will do */
    size_t count;
    bool essential;                    /* underlined in the scheme: warn when missing */
};

struct wording {
    const char *const *items;
    size_t count;
};

enum node_kind {
    NODE_POINT,
    NODE_ALL,       /* every child counts, at most `marks` together */
    NODE_ANY,       /* any `take` of the children */
    NODE_ROUTES,    /* alternative ways: children are NODE_ALL, the best one counts */
    NODE_LIST,      /* `take` items asked for; list rule */
    NODE_LEVELS,    /* levels of response */
    NODE_QUALITY    /* a separate pot for written quality; none where the rest of the part earned none */
};

enum list_rule { LIST_CANCEL, LIST_FIRST };   /* extra wrong items cancel right ones; or only the first n count */

struct level {
    int number;             /* from 1 up */
    int from, to;           /* marks */
    const char *descriptor;
};

struct strand {
    const char *name;
    const char *const *descriptors;   /* one a level, lowest first; NULL where the level's own text serves */
};

struct level_cap {          /* "without a judgement: level 2 at most" */
    const char *condition;
    int level;
};

struct band {               /* quality marks */
    int marks;
    const char *descriptor;
};

struct node {
    enum node_kind kind;
    const char *id;                 /* unique in its question; given by the program (a.1, a.2 …) when not written */
    int marks;                      /* point: its marks (1). All: a maximum, or 0 for none. Others: derived */
    unsigned long line, column;
    const struct node *children;    size_t child_count;   /* point, levels, quality: none */

    /* NODE_POINT, and what is common to wording */
    enum point_kind point_kind;
    struct rich text;
    const char *const *needs;       size_t need_count;    /* ids of earlier points, any part of the question */
    int objective;                  /* index; the part's objective unless the point names its own */
    bool follow;                    /* follow-through allowed (default yes; no = correct answer only) */
    const char *idea;               /* points that test the same thing share it; NULL */
    struct wording accepts, ignores, rejects;
    const struct key_word *keys;    size_t key_count;
    const struct number_key *number;                      /* NULL: a point in words */

    /* NODE_ANY, NODE_LIST */
    int take;
    enum list_rule list_rule;

    /* NODE_ROUTES children carry a name */
    const char *name;

    /* NODE_LEVELS */
    const struct level *levels;     size_t level_count;   /* lowest first */
    const struct strand *strands;   size_t strand_count;
    const struct level_cap *caps;   size_t cap_count;
    const struct node *indicative;  size_t indicative_count; /* points that carry no marks: not a checklist */

    /* NODE_QUALITY */
    const struct band *bands;       size_t band_count;    /* highest first; 0 marks need not be written */
};

enum crossed_out { CROSSED_OUT_MARKED, CROSSED_OUT_IGNORED };  /* marked unless replaced; or never */

struct scheme {
    struct node root;               /* NODE_ALL over what the scheme lists */
    bool working_required;          /* "show that": an unsupported answer earns nothing; no unit is asked */
    bool unit_penalty;              /* a missing or wrong unit loses the final mark (once a question) */
    enum crossed_out crossed_out;
};

/* ---- Questions ---------------------------------------------------------------------------------- */

enum given_form { GIVEN_FIXED, GIVEN_CHOICE, GIVEN_RANGE, GIVEN_COMPUTED };

struct given {
    const char *symbol;
    const char *name;               /* "wave height" */
    const char *unit;               /* "" for a pure number */
    enum given_form form;
    const char *const *choices;     /* decimal texts; fixed: one */
    size_t choice_count;
    const char *low, *high, *step;  /* range, decimal texts */
    const char *formula;            /* computed from other givens, to `places` decimals */
    int places;
};

struct part {
    const char *id;                 /* "a"; a question of one part may leave it out: "a" */
    int objective;                  /* index */
    int word;                       /* index into course.words */
    int marks;
    const int *skills;              size_t skill_count;    /* indices */
    int lines;                      /* answer lines when printed; 2 a mark unless said */
    struct blocks ask;              /* usually one paragraph */
    const struct given *givens;     size_t given_count;
    struct scheme scheme;
    struct blocks model;            /* model answer: count 0 when there is none */
    struct blocks note;             /* for the student, after marking */
    unsigned long line, column;
};

enum demand { DEMAND_LOW, DEMAND_STANDARD, DEMAND_HIGH };

struct question {
    const char *id;
    int topic;                      /* index of a leaf */
    const int *also;                size_t also_count;     /* further topics it touches */
    enum demand demand;
    int marks;                      /* sum over parts */
    double minutes;                 /* marks × pace unless given */
    const char *const *enemies;     size_t enemy_count;    /* ids that give this one away */
    struct blocks stem;
    const char *caution;            /* always shown with practical work */
    const struct given *givens;     size_t given_count;    /* shared by the parts */
    const struct part *parts;       size_t part_count;
    struct blocks note;
    bool varied;                    /* some given is drawn */
    unsigned long line, column;
};

/* What choosing needs to know of a question, without its text. */
struct question_summary {
    const char *id;
    int topic;
    enum demand demand;
    int marks;
    double minutes;
    bool varied;
    bool has_numbers;               /* a part with givens or a number to find */
    const char *const *enemies;     size_t enemy_count;     /* as the question names them; naming on one side is enough */
    const struct part_summary *parts;  size_t part_count;
    const char *const *ideas;          size_t idea_count;  /* of its points, each once */
    uint64_t offset, length;        /* its bytes in the file */
    uint64_t fingerprint;           /* of those bytes */
};

struct part_summary {
    int objective, word, marks;
    uint64_t skills;                /* bit set of skill indices (at most 64 skills) */
};

#endif
