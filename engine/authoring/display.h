/* Questions of a bank for its author: as a student meets them, as a marker reads them, with the numbers drawn. */
#ifndef OWNMARK_AUTHORING_DISPLAY_H
#define OWNMARK_AUTHORING_DISPLAY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include "bank/bank.h"
#include "report/page.h"

/* Every question on a line: id, topic, marks, demand, command words. */
void display_list(struct page *page, const struct bank *bank);

struct display {
    uint64_t seed;          /* whose numbers are shown */
    size_t variants;        /* so many drawings in a table, seeds from 1; 0: none, as for a question without variants */
    bool scheme;            /* after the question: marking, model answers, notes */
};

/* One question. False with a message when the file has changed since the bank was opened. */
bool display_question(struct page *page, struct bank *bank, size_t index, const struct display *display,
                      struct messages *messages);

#endif
