/* Causes: the table is complete and its labels lead back to it. From the contract; no outside source. */
#include "trial.h"

#include "marking/cause.h"

Test(marking, every_cause_has_its_words)
{
    for (int i = 0; i < CAUSES; i++) {
        const struct cause_text *text = cause_text((enum cause)i);
        cr_expect(text->label && text->title[0] && text->meaning[0] && text->remedy[0]);
        cr_expect_eq(cause_from_label(text->label), (enum cause)i, "%s", text->label);
    }
    cr_expect(cause_text(CAUSE_BLANK)->outcome && cause_text(CAUSE_TIME)->outcome && !cause_text(CAUSE_SLIP)->outcome);
    cr_expect_eq(cause_from_label("Knowledge"), CAUSE_NONE);
    cr_expect_eq(cause_from_label(NULL), CAUSE_NONE);
}

Test(marking, causes_that_a_reason_makes_plain)
{
    cr_expect_eq(cause_of_reason(REASON_UNIT_MISSING), CAUSE_UNIT);
    cr_expect_eq(cause_of_reason(REASON_FIGURES), CAUSE_UNIT);
    cr_expect_eq(cause_of_reason(REASON_LIST_CANCELLED), CAUSE_CONTRADICTION);
    cr_expect_eq(cause_of_reason(REASON_NO_RESPONSE), CAUSE_BLANK);
    cr_expect_eq(cause_of_reason(REASON_NOT_SHOWN), CAUSE_NONE);
    cr_expect_eq(cause_of_reason(REASON_EARNED), CAUSE_NONE);
}
