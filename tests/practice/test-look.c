/* The second look at a unit that can be read in two ways: "ms-1" is metres per second to many who write it, and one divided by
 * a millisecond by the rules of the SI (brochure, 9th edition, 5.3: a prefix and its unit are raised to the power together). It
 * is asked about and not judged (docs/marking.md, rule 10). Texts and marks are this program's own. */
#include "sitting.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Writes the right speed, 0.20 Hz times the wavelength as it was drawn, with this unit, and ticks the method, and
 * the value as told. */
static void answer_with_unit(struct sitting *sitting, const char *unit, const char *tick)
{
    sitting_begin(sitting, "cycle.xml", "sum", 0);
    const char *length = strstr(buffer_text(&sitting->shown), "length ");
    cr_assert_not_null(length);
    char line[32];
    snprintf(line, sizeof line, "= %g %s", 0.2 * strtod(length + strlen("length "), NULL), unit);
    TYPE(sitting, "calculate", "", "", "3", "v = f L", line, ".");
    sitting_forget(sitting);
    TYPE(sitting, "y", tick);
}

Test(practice, an_unclear_unit_is_asked_about)
{
    struct sitting sitting;
    answer_with_unit(&sitting, "ms-1", "y");
    sitting_expect_prompt(&sitting, "y n");
    sitting_expect(&sitting, "Second look");
    sitting_expect(&sitting, "Your unit \"ms-1\" is not clear. Did you mean m/s?");
    sitting_expect_not(&sitting, "Award");
    TYPE(&sitting, "perhaps");
    sitting_expect(&sitting, "Please type y or n.");
    sitting_expect_prompt(&sitting, "y n");
    sitting_forget(&sitting);
    TYPE(&sitting, "y");
    sitting_expect(&sitting, "Award: 3 of 3");
    sitting_end(&sitting);
}

Test(practice, another_unit_meant_loses_its_mark)
{
    struct sitting sitting;
    answer_with_unit(&sitting, "ms-1", "y");
    sitting_forget(&sitting);
    TYPE(&sitting, "n");
    sitting_expect(&sitting, "Award: 2 of 3");
    sitting_expect(&sitting, "1 mark lost: the unit is wrong");
    sitting_end(&sitting);
}

Test(practice, a_clear_unit_is_not_asked_about)
{
    struct sitting sitting;
    answer_with_unit(&sitting, "m s-1", "y");
    sitting_expect_not(&sitting, "is not clear");
    sitting_expect(&sitting, "Award: 3 of 3");
    sitting_end(&sitting);
}

/* Whoever does not claim the mark is asked about the mark and not about the unit. */
Test(practice, an_unclear_unit_of_an_unticked_value_is_left_alone)
{
    struct sitting sitting;
    answer_with_unit(&sitting, "ms-1", "n");
    sitting_expect_not(&sitting, "is not clear");
    sitting_expect_prompt(&sitting, "earned after all? y n");
    sitting_end(&sitting);
}

Test(practice, the_question_about_a_unit_comes_again_after_a_resume)
{
    struct sitting sitting;
    answer_with_unit(&sitting, "ms-1", "y");
    sitting_forget(&sitting);
    sitting_again(&sitting);
    sitting_expect_prompt(&sitting, "y n");
    sitting_expect(&sitting, "Your unit \"ms-1\" is not clear. Did you mean m/s?");
    TYPE(&sitting, "y");
    sitting_again(&sitting);
    sitting_expect(&sitting, "Award: 3 of 3");
    sitting_end(&sitting);
}
