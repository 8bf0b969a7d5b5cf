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
    INTERVIEW_AT_STEP,
    INTERVIEW_REVIEW,
    INTERVIEW_CHANGE,       /* one step again, then back to the review */
    INTERVIEW_ANOTHER,      /* written: another question? */
    INTERVIEW_OVER
};

struct interview {
    char *path, *draft_path;
    char *replaces;                 /* id of the question that is changed; NULL */
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
    struct step *taken;             /* for .back */
    size_t taken_count, taken_capacity;
    struct buffer lines;            /* of an answer of several lines */

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
};

const struct step_rule *step_rule_for(int kind);

/* All steps of the draft as it is, in order, `each` returning false ends. Returns false when it did. */
bool steps_each(struct interview *interview, bool (*each)(struct interview *interview, struct step step, void *context),
                void *context);

/* The first step that was not asked; adds the row for a further point where one is needed. False: all is asked. */
bool steps_next(struct interview *interview, struct step *step);

bool steps_applies(struct interview *interview, struct step step);
size_t steps_cell_row(const struct interview *interview, struct step step);     /* where its cell is */
enum sheet_column steps_column(struct step step);

/* The rows beside the draft's follow it. */
void steps_add_row(struct interview *interview);
void steps_remove_row(struct interview *interview, size_t row);

void steps_start_levels(struct interview *interview, size_t row);   /* the row becomes the lowest level */
void steps_add_part(struct interview *interview);

/* After a draft was loaded: what stands before the last thing filled was asked. */
void steps_resume(struct interview *interview);

bool steps_is_calculation(const struct interview *interview, size_t row);
bool steps_is_described(const struct interview *interview, size_t row);         /* a level or a band: words for a person */

/* ---- Answers (interview-answers.c) ---- */

/* What Enter takes, in the interview's arena; NULL: nothing. */
const char *answer_proposal(struct interview *interview, struct step step);

/* Takes the text as the step's answer when it is sound; else says on the page why not. */
bool answer_take(struct interview *interview, struct step step, const char *text);

const char *answer_text(struct interview *interview, struct step step);         /* as it is now, for the review */

/* What was understood of an answer, on the page. */
void answer_tell(struct interview *interview, struct step step);

/* ---- Trying (interview-trial.c) ---- */

/* Is the draft so far sound, what is missing put in for the moment? Faults are put on the page. */
bool trial_is_sound(struct interview *interview, struct step step);

/* The whole draft, as it would be written; NULL with the faults on the page. */
const struct question *trial_whole(struct interview *interview, struct arena *arena, const struct course **course);

/* "P = 1.3 × 10⁴ W/m with H = 1.5 m": the number of a row with drawn numbers, on the page. */
void trial_show_number(struct interview *interview, size_t row);

/* ---- The review (interview-review.c) ---- */

void review_show(struct interview *interview);
enum practice_result review_enter(struct interview *interview, const char *line, struct messages *messages);

#endif
