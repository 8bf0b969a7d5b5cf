#include "marking/cause.h"

#include <assert.h>
#include <string.h>

static const struct cause_text texts[CAUSES] = {
    [CAUSE_NONE] = {"", "no cause named", "The mark was lost; why was not said.", "Name the cause: it decides what to do next.", false},
    [CAUSE_KNOWLEDGE] = {"knowledge", "a gap in knowledge", "The idea was not known, or not remembered.",
                         "Learn the point, then write it down from memory today and again on a later day.", false},
    [CAUSE_COMMAND] = {"command", "the command word misread", "The answer did something other than the command word asks.",
                       "Underline the command word and say what it wants before you write.", false},
    [CAUSE_CONTEXT] = {"context", "the context or data not used", "The answer stays general where the question gives a case or figures.",
                       "Put a name or a figure from the question into every point you make.", false},
    [CAUSE_POINTS] = {"points", "too few points", "There were fewer separate points than marks.",
                      "Count the marks, and plan one separate point for each before you write.", false},
    [CAUSE_STEM] = {"stem", "the question handed back", "The words repeat the question and add nothing that earns a mark.",
                    "Start with the first new fact instead of the words of the question.", false},
    [CAUSE_VAGUE] = {"vague", "a vague term", "The idea is there, but not in words exact enough to credit.",
                     "Swap words like 'affects' or 'it' for the proper term, a direction or an amount.", false},
    [CAUSE_UNLINKED] = {"unlinked", "a reason not linked", "The facts stand side by side; what follows from what is not said.",
                        "Join each fact to its result with 'because' or 'so that'.", false},
    [CAUSE_ONE_SIDED] = {"one-sided", "one side only", "Only one side of a comparison or an argument is there.",
                         "Write about both sides in the same sentence, with a comparing word.", false},
    [CAUSE_NO_JUDGEMENT] = {"no-judgement", "no judgement", "Evidence is given, but no verdict that rests on it.",
                            "End with a verdict and the one reason that settles it.", false},
    [CAUSE_SLIP] = {"slip", "a slip in the working", "The way was right; arithmetic, rounding or a power of ten went wrong.",
                    "Estimate the answer first, and work each line a second time.", false},
    [CAUSE_UNIT] = {"unit", "unit or significant figures", "The number is right, but its unit or its figures are not as asked.",
                    "Write the unit as soon as you write the number, and check the figures asked for.", false},
    [CAUSE_CONTRADICTION] = {"contradiction", "a contradiction or an extra", "Something wrong beside the right answer cancels it.",
                             "Give as many answers as asked for, and cross out what you no longer mean.", false},
    [CAUSE_BLANK] = {"blank", "nothing written", "The part was left empty.",
                     "Write the one thing you are surest of: an empty part can earn nothing.", true},
    [CAUSE_TIME] = {"time", "out of time", "The answer stopped because time ran out.",
                    "Practise at the pace of the paper, and move on when a part has had its minutes.", true},
};

const struct cause_text *cause_text(enum cause cause)
{
    assert(cause < CAUSES);
    return &texts[cause];
}

enum cause cause_from_label(const char *label)
{
    for (int i = CAUSE_NONE + 1; label && i < CAUSES; i++)
        if (strcmp(texts[i].label, label) == 0)
            return (enum cause)i;
    return CAUSE_NONE;
}

enum cause cause_of_reason(enum award_reason reason)
{
    switch (reason) {
    case REASON_UNIT_MISSING: case REASON_UNIT_WRONG: case REASON_FIGURES: return CAUSE_UNIT;
    case REASON_REJECTED: case REASON_CONTRADICTED: case REASON_LIST_CANCELLED: case REASON_LIST_LATE:
        return CAUSE_CONTRADICTION;
    case REASON_TOO_FEW: return CAUSE_POINTS;
    case REASON_UNSUPPORTED: return CAUSE_COMMAND;
    case REASON_NO_RESPONSE: return CAUSE_BLANK;
    default: return CAUSE_NONE;
    }
}
