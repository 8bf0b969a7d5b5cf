/* What the files of the interview share. For this room only. */
#ifndef OWNMARK_AUTHORING_INTERVIEW_INNER_H
#define OWNMARK_AUTHORING_INTERVIEW_INNER_H

#include "answer/words.h"
#include "authoring/draft.h"
#include "authoring/interview.h"
#include "base/buffer.h"

/* What is asked: a cell of the draft, or one of these. */
enum {
    STEP_STYLE = SHEET_COLUMNS,     /* how the part is marked */
    STEP_NUMBER,                    /* a value or a formula */
    STEP_PARTS,                     /* another part? */
    STEP_KINDS
};

struct step {
    size_t row;
    int kind;
};

enum interview_place {
    INTERVIEW_GO_ON,        /* a draft was found: go on with it? */
    INTERVIEW_THROW_AWAY,   /* … not: is it to be thrown away? */
    INTERVIEW_AT_STEP,
    INTERVIEW_REVIEW,
    INTERVIEW_CHANGE,       /* one step again, then back to the review */
    INTERVIEW_ANOTHER,      /* written: another question? */
    INTERVIEW_OVER
};

struct interview {
    char *path, *draft_path;
    char *replaces;                 /* id of the question that is changed; NULL */
    struct buffer original;         /* … its bytes in the file */
    struct buffer original_xml;     /* … and what it would be written as, unchanged */
    struct bank *bank;              /* NULL: it does not exist yet */
    char *new_id;                   /* … then its id */
    struct buffer course_text;
    const struct course *course;
    const struct words *command_words;
    struct arena *arena;            /* as long as the course */

    struct draft draft;
    struct interview_row { bool asked[STEP_KINDS]; bool closed; } *rows;    /* beside the draft's rows */
    size_t row_capacity;

    enum interview_place place;
    struct step step, introduced;
    bool greeted;                   /* said once, not with each question */
    const char *met[STEP_KINDS];    /* … as is what explains a kind of step, until there is something else to explain */
    struct step *taken;             /* for .back */
    size_t taken_count, taken_capacity;
    struct buffer lines;            /* of an answer of several lines */
    struct buffer edited;           /* what the editor is opened with */
    struct buffer refused;          /* what was typed and could not stand: it is there to be mended */

    struct page *page;
    bool page_shown;
    struct buffer prompt, prefill;
    bool has_prefill;
    struct practice_ask ask;
    const char **completions;
    size_t completion_count;
};

/* ---- The steps (interview-steps.c) ---- */

struct step_rule {
    int kind;
    const char *name;               /* the prompt, and the label in the review */
    const char *help;
    bool lines;                     /* several lines, ended by an empty one */
    bool required;
    bool told;                      /* the help is said when it is asked for the first time */
    bool worded;                    /* words of the author's own: a refused answer is there again to be mended */
};

const struct step_rule *step_rule_for(int kind);
const char *step_help(const struct interview *interview, struct step step);

/* All steps of the draft as it is, in order, `each` returning false ends. Returns false when it did. */
bool steps_each(struct interview *interview, bool (*each)(struct interview *interview, struct step step, void *context),
                void *context);

/* The first step that was not asked; adds the row for a further point where one is needed. False: all is asked. */
bool steps_next(struct interview *interview, struct step *step);

bool steps_applies(struct interview *interview, struct step step);
size_t steps_cell_row(struct step step);                        /* where its cell is */
enum sheet_column steps_column(struct step step);

/* The rows beside the draft's follow it. */
void steps_add_row(struct interview *interview);
void steps_remove_row(struct interview *interview, size_t row);

void steps_start_levels(struct interview *interview, size_t row);   /* the row becomes the lowest level */
void steps_add_part(struct interview *interview);

/* After a draft was loaded: what stands before the last thing filled was asked, and can be taken back. */
void steps_resume(struct interview *interview);
void steps_all_asked(struct interview *interview);      /* … or all of it */
void steps_remember(struct interview *interview, struct step step);     /* for .back */

/* A further point is asked for where the part's group has room; false: a point a mark is there. */
bool steps_reopen(struct interview *interview, size_t row);

bool steps_is_calculation(const struct interview *interview, size_t row);
bool steps_is_described(const struct interview *interview, size_t row);         /* a level or a band: words for a person */

/* ---- Asking (interview-ask.c) ---- */

void ask_greet(struct interview *interview);
void ask_introduce(struct interview *interview);        /* what stands before the step's prompt */
void ask_step(struct interview *interview);
void ask_words(struct interview *interview, const char *prompt);

/* ---- Texts (interview-text.c) ---- */

/* One line of an answer of several. True: the answer is whole. */
bool text_enter(struct interview *interview, const char *line);
bool text_back(struct interview *interview);            /* the last line; false: there is none */
void text_say_now(struct interview *interview);         /* what the answer is so far */
enum practice_result text_begin_edit(struct interview *interview);

/* An answer as it came from the editor, in the form of its cell; in the interview's arena. */
const char *text_from_editor(struct interview *interview, const char *text);

/* ---- Answers (interview-answers.c) ---- */

/* What Enter takes, in the interview's arena; NULL: nothing. */
const char *answer_proposal(struct interview *interview, struct step step);

/* Takes the text as the step's answer when it is sound; else says on the page why not. */
bool answer_take(struct interview *interview, struct step step, const char *text);

const char *answer_text(struct interview *interview, struct step step);         /* as it is now, for the review */

/* What was understood of an answer, on the page. */
void answer_tell(struct interview *interview, struct step step);

/* ---- Trying (interview-trial.c) ---- */

/* What is wrong with the draft so far, what is missing put in for the moment. */
void trial_faults(struct interview *interview, struct step step, struct messages *faults);
void trial_show_faults(struct page *page, const struct messages *faults);

/* The whole draft, as it would be written; NULL with the faults on the page. */
const struct question *trial_whole(struct interview *interview, struct arena *arena, const struct course **course);

/* "P = 1.3 × 10⁴ W/m with H = 1.5 m": the number of a row with drawn numbers, on the page. */
void trial_show_number(struct interview *interview, size_t row);

/* ---- The review (interview-review.c) ---- */

void review_show(struct interview *interview);
void review_enter(struct interview *interview, const char *line);

#endif
