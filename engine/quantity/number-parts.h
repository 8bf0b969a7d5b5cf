/* The parts of a written number, shared by number.c (one number) and number-find.c (numbers in prose). */
#ifndef OWNMARK_QUANTITY_NUMBER_PARTS_H
#define OWNMARK_QUANTITY_NUMBER_PARTS_H

#include "quantity/number.h"

enum reading { READING_NONE, READING_UNDECIDED, READING_NUMBER };

/* A number without sign: digits, decimal point, exponent, or a fraction. */
struct magnitude {
    struct decimal value;
    double approximate;
    enum number_form form;          /* plain, standard form, fraction or mixed */
    int figures_low, figures_high;
    int places;
    int exponent;                   /* as written behind a mantissa; 0 if none */
    bool exponent_in_words;         /* 1.2 million */
};

/* Reads one magnitude at the start of text; on READING_NUMBER *end is behind it. In prose a final point is
 * the sentence's and not the number's. */
enum reading magnitude_read(const char *text, bool prose, struct magnitude *magnitude, const char **end);

/* Reads one number with its sign, currency, uncertainty, range and percent at the start of text, except for
 * start and length. */
enum reading number_at(const char *text, bool prose, struct number *number, const char **end);

/* Do "s.f.", "significant figures", "decimal places" or their like follow? The number before says how exact
 * an answer is and is none. */
bool is_precision_note(const char *text);

#endif
