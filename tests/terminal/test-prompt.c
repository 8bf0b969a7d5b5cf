/* Laying out prompts; expectations drawn by hand from the contract (terminal/prompt.h). */
#include <criterion/criterion.h>
#include <string.h>

#include "terminal/prompt.h"

static void add_time(void *context, struct buffer *out)
{
    buffer_add(out, context);
}

static void check(const char *prompt, char *time, const char *above_expected, const char *last_expected)
{
    struct buffer above = BUFFER_EMPTY, last = BUFFER_EMPTY;
    struct terminal_ask ask = {.prompt = prompt, .clock = time ? add_time : NULL, .clock_context = time};
    prompt_lay_out(&ask, 40, &above, &last);
    cr_expect(strcmp(buffer_text(&above), above_expected) == 0, "got [%s]", buffer_text(&above));
    cr_expect(strcmp(buffer_text(&last), last_expected) == 0, "got [%s]", buffer_text(&last));
    buffer_free(&above);
    buffer_free(&last);
}

Test(terminal, prompt_is_one_line_where_it_fits)
{
    char time[] = "3:12 of 6:00", empty[] = "";
    check("answer", NULL, "", "answer> ");
    check("answer", time, "", "answer 3:12 of 6:00> ");
    check("answer", empty, "", "answer> ");
    check("", NULL, "", "> ");
}

Test(terminal, prompt_goes_above_where_it_is_long)
{
    char time[] = "3:12 of 6:00";
    check("Which way does the sand of the long beach move, y or n", NULL,
          "Which way does the sand of the long\n", "beach move, y or n> ");
    check("Which way does the sand of the long beach move, y or n", time,
          "Which way does the sand of the long\nbeach move, y or n\n", "3:12 of 6:00> ");
}

Test(terminal, prompt_is_made_safe)
{
    char time[] = "\033[1m";
    check("a\033]0;x\a\nb", NULL, "", "a<U+001B>]0;x<U+0007> b> ");
    check("a", time, "", "a <U+001B>[1m> ");
}
