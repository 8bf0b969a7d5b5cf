/* What it weighs to miss a demand, beside the costs of aims and items, which it must outweigh. Private to this room. */
#ifndef OWNMARK_PAPER_WEIGHTS_H
#define OWNMARK_PAPER_WEIGHTS_H

enum {
    WEIGHT_OF_TOTAL = 10000,      /* a mark beside the paper's total: the last thing to give up */
    WEIGHT_OF_AIM = 1000,         /* a mark outside the span of an aim */
    WEIGHT_OF_SECOND = 10         /* a second too long: at 72 seconds a mark, somewhat less than a mark of an aim */
};

#endif
