/* Inside the practice room: what its files share. Not for other rooms. */
#ifndef OWNMARK_PRACTICE_MACHINE_H
#define OWNMARK_PRACTICE_MACHINE_H

#include "practice/facts.h"
#include "practice/practice.h"
#include "practice/steps.h"
#include "practice/totals.h"

enum position {
    AT_STEP,            /* inside a question */
    AT_MOCK,            /* at one of a mock's own prompts (mock-inner.h) */
    AT_NEXT,            /* between two questions */
    AT_RATING,          /* after the last one: how sure of each topic */
    AT_END              /* summary shown, or left */
};

struct mock;

struct practice {
    struct bank *bank;          /* of a mock: that of the question in hand */
    struct record *record;
    struct wish wish;
    double minutes;
    int questions;              /* at most; 0: no limit */
    bool why;
    int64_t sitting;            /* sequence of its opening event */
    double began;               /* clock_elapsed at begin or resume */
    double minutes_before;      /* practised in this sitting before a resume */

    struct arena *arena;        /* lives as long as the sitting */
    bool *asked;                /* [questions of the bank] */
    int number;                 /* questions opened so far */
    int previous_topic;
    double allowance;           /* 1 = none, 1.25 = a quarter more time */
    struct totals totals;
    int64_t last_script;        /* marked last in this sitting; 0: none */
    const char *last_part;
    bool rating_begun;          /* the last question is done */

    struct mock *mock;          /* a paper sat whole, answered before any of it is marked; NULL: one question after another */
    struct script *script;      /* the question in hand; NULL between questions. Of a mock: the mock's */
    struct step step;           /* as last presented */
    bool step_is_new;           /* its introduction was not shown yet */
    enum position position;
    bool left;
    double answer_clock;        /* clock_elapsed when the answer prompt was first shown; < 0: not running */
    bool clock_hidden;
    bool blank_warned;          /* an empty answer was questioned once */
    bool rewrite_ready;         /* the missed points were read; now they are out of sight */
    bool clear_screen;          /* what stands on the screen should go out of sight before the next prompt */

    struct page *page;
    bool page_shown;            /* handed out: cleared before the next writing */
    struct buffer prompt, prefill;
    bool has_prefill;
    struct practice_ask ask;
    const char **completions;   /* command words, sorted */
};

/* ---- Steps: one table row each -------------------------------------------------------------------- */

struct step_rule {
    enum step_kind kind;
    const char *prompt;         /* NULL: `prompt_for` writes it */
    void (*prompt_for)(struct practice *practice, struct buffer *out);
    void (*introduce)(struct practice *practice);       /* may be NULL */
    enum practice_result (*enter)(struct practice *practice, const char *line, bool pasted,
                                  struct messages *messages);
    void (*go_back)(struct practice *practice, struct messages *messages);  /* NULL: nothing to go back to */
    bool several_lines, clock;
    const char *help;
};

const struct step_rule *step_rule_of(enum step_kind kind);

enum practice_result enter_word(struct practice *, const char *, bool, struct messages *);
enum practice_result enter_givens(struct practice *, const char *, bool, struct messages *);
enum practice_result enter_wanted(struct practice *, const char *, bool, struct messages *);
enum practice_result enter_plan(struct practice *, const char *, bool, struct messages *);
enum practice_result enter_prediction(struct practice *, const char *, bool, struct messages *);
enum practice_result enter_answer(struct practice *, const char *, bool, struct messages *);
enum practice_result enter_route(struct practice *, const char *, bool, struct messages *);
enum practice_result enter_tick(struct practice *, const char *, bool, struct messages *);
enum practice_result enter_list_item(struct practice *, const char *, bool, struct messages *);
enum practice_result enter_strand(struct practice *, const char *, bool, struct messages *);
enum practice_result enter_cap(struct practice *, const char *, bool, struct messages *);
enum practice_result enter_best_fit(struct practice *, const char *, bool, struct messages *);
enum practice_result enter_quality(struct practice *, const char *, bool, struct messages *);
enum practice_result enter_cause(struct practice *, const char *, bool, struct messages *);
enum practice_result enter_rewrite(struct practice *, const char *, bool, struct messages *);

void introduce_word(struct practice *);
void introduce_givens(struct practice *);
void introduce_wanted(struct practice *);
void introduce_plan(struct practice *);
void introduce_prediction(struct practice *);
void introduce_answer(struct practice *);
void introduce_route(struct practice *);
void introduce_tick(struct practice *);
void introduce_list_item(struct practice *);
void introduce_strand(struct practice *);
void introduce_cap(struct practice *);
void introduce_best_fit(struct practice *);
void introduce_quality(struct practice *);
void introduce_cause(struct practice *);
void show_causes(struct practice *);        /* all of them, numbered */
void introduce_rewrite(struct practice *);

void back_over_line(struct practice *, struct messages *);      /* takes the last line of a text back to edit it */
void back_over_tick(struct practice *, struct messages *);
void back_over_cause(struct practice *, struct messages *);

void prompt_answer(struct practice *, struct buffer *);
void prompt_strand(struct practice *, struct buffer *);
void prompt_marks(struct practice *, struct buffer *);
void prompt_best_fit(struct practice *, struct buffer *);
void prompt_quality(struct practice *, struct buffer *);

/* ---- Shared by the stages ------------------------------------------------------------------------- */

struct part_facts *part_in_hand(struct practice *practice);
const struct part *part_asked(const struct practice *practice);
double part_allowed(const struct practice *practice, const struct part *part);  /* seconds */
double question_allowed(const struct practice *practice, const struct question *question);

/* Appends one event of the question in hand (sitting, script, bank, part filled in), durable, then takes it in. */
bool note(struct practice *practice, struct event event, struct messages *messages);
bool note_text(struct practice *practice, enum part_text text, const char *suffix, const char *line,
               struct messages *messages);

/* The whole award of the part in hand shown and noted once its ticks are settled; then causes, model, rewriting. */
bool award_part(struct practice *practice, size_t part, struct messages *messages);
void show_award(struct practice *practice, size_t part);
/* The next step once a part is awarded: a cause, the rewriting, or STEP_DONE. */
struct step step_after_award(const struct practice *practice, size_t part);

/* Draws the numbers and makes the script in hand of a question; takes arena over on success. */
bool draw_script(struct practice *practice, struct arena *arena, const struct course *course,
                 const struct question *question, uint64_t seed, struct messages *messages);
void drop_script(struct practice *practice);
/* Keeps the text of a question of the bank in the record, and gives its hash. */
bool keep_question(struct practice *practice, size_t index, char hash[33], struct messages *messages);
/* The same of the bank's course; lines: what record_course_lines says of it, appended. */
bool keep_course(struct practice *practice, char hash[33], struct buffer *lines, struct messages *messages);
/* The script of a question that was opened before, in hand; its text comes from the record. course_text: the course in XML. */
bool reopen_script(struct practice *practice, const struct event *event, const char *course_text, struct messages *messages);
/* A machine with nothing in it yet. */
struct practice *practice_new(struct bank *bank, struct record *record);
void close_replayed(struct practice *practice, const struct event *event);
/* At most what was begun of the question in hand is marked: closes it for good. */
bool give_up_script(struct practice *practice, struct messages *messages);
void show_opened(struct practice *practice);
double seconds_a_mark(const struct practice *practice, const struct question *question);    /* allowed */
bool note_closed(struct practice *practice, struct messages *messages);     /* marked, or left when a check was skipped */
bool close_question(struct practice *practice, struct messages *messages);      /* appends EVENT_QUESTION_MARKED */
bool open_next_question(struct practice *practice, struct messages *messages);
bool finish_sitting(struct practice *practice, struct messages *messages);     /* asks for the ratings first */
bool end_sitting(struct practice *practice, struct messages *messages);
void remember_marked(struct practice *practice, int64_t script, const struct event *event);

/* ---- How sure of each topic (stage-rate.c) ---- */
bool rating_is_due(struct practice *practice);
bool rating_begin(struct practice *practice, struct messages *messages);
void rating_present(struct practice *practice);
enum practice_result rating_enter(struct practice *practice, const char *line, bool pasted, struct messages *messages);
void rating_help(struct practice *practice);
bool rating_replay(struct practice *practice, const struct event *event);      /* false: not an event of the ratings */
void rating_show(struct practice *practice);       /* for the summary; nothing when no topic was rated */

void show_summary(struct practice *practice);
/* Pieces of it. */
void show_marks_table(struct practice *practice, const char *caption, const struct total_row *rows, size_t count);
void show_missed_list(struct practice *practice);
void show_caution(struct practice *practice);
void show_habits(struct practice *practice);
double minutes_practised(const struct practice *practice);

/* Help and instructions: false when the line is neither, and nothing was done. */
bool run_instruction(struct practice *practice, const char *line, enum practice_result *result,
                     struct messages *messages);

/* Works out the step in hand and what is asked; called after every entry. */
bool present(struct practice *practice, struct messages *messages);

void say_saved_and_left(struct practice *practice);

enum practice_result enter_look(struct practice *, const char *, bool, struct messages *);
void introduce_look(struct practice *);
void prompt_look(struct practice *, struct buffer *);
void show_writing(struct practice *practice, size_t part);     /* slips, what the command word lacks, vague words … */
bool note_evidence(struct practice *practice, size_t part, struct messages *messages);
const char *practice_answer(const struct practice *practice, size_t part);
/* An answer from one of its lines on, with a line drawn where time was called. */
void show_written(struct practice *practice, size_t part, const char *from);

/* The answer part of a clock: seconds spent on the part in hand. */
double seconds_used(const struct practice *practice);

#endif
