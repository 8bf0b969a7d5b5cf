/* A bank's written matter on a page: stems, tables, figures, asks, schemes, as a student meets them. */
#ifndef OWNMARK_PRACTICE_SHOW_H
#define OWNMARK_PRACTICE_SHOW_H

#include "bank/model.h"
#include "bank/values.h"
#include "report/page.h"

/* Runs added to the block opened last; RUN_VALUE shows the drawn value with its unit. */
void show_rich(struct page *page, const struct rich *text, const struct values *values);

/* "  [3 marks]", added to the block opened last and never broken over two lines. */
void show_marks(struct page *page, int marks);

/* folder: the bank's, put before figure paths; NULL leaves them as written. level: indent. */
void show_blocks(struct page *page, const struct blocks *blocks, const struct values *values, const char *folder,
                 int level);

/* "Question 3" with topic, marks and minutes as facts; then caution, stem, shared givens that the stem does not
 * show are not repeated: givens stand in the text. number 0: no number. */
void show_question(struct page *page, const struct course *course, const struct question *question,
                   const struct values *values, const char *folder, int number, double allowed_seconds);

/* "(a) Calculate …  [3 marks]"; a question of one part shows no letter. */
void show_ask(struct page *page, const struct question *question, const struct part *part,
              const struct values *values, const char *folder);

/* Constants and formulae; says so when the course has none. */
void show_data_sheet(struct page *page, const struct course *course);

/* A right value as it is shown, with its unit. value must be finite. */
void show_right_value(struct buffer *out, const struct number_key *key, double value);

/* One marking point: its text, number wanted, then what is accepted, ignored, rejected. */
void show_point(struct page *page, const struct node *point, const struct values *values);

/* The whole scheme of a part, as a marker reads it. */
struct scheme_view {
    const struct course *course;
    const struct part *part;
    const struct values *values;
    bool keys;          /* the key words too, which an author wants to see and a marker does not need */
};
void show_scheme(struct page *page, const struct scheme_view *view);

/* Appends `, asked in "Calculate …"` (the first paragraph of the ask) for a mark whose own words do not tell what it was
 * about: a number, a level, a quality mark. Nothing for others. values NULL: a value is shown as "…". */
void show_add_asked(struct buffer *out, const struct node *node, const struct part *part, const struct values *values);

/* Text of a rich paragraph without styles; the caller frees. */
char *show_plain(const struct rich *text, const struct values *values);

#endif
