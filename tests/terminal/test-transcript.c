/* Asking without a terminal, through pipes, with tests/programs/pty-session.c. */
#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>

#include "base/buffer.h"

/* Runs the shell command, "$P" being the program; gives its exit status and what it wrote. */
static int run(const char *command, struct buffer *output)
{
    char chunk[4096];
    size_t got;
    const char *path = getenv("PTY_SESSION");
    setenv("P", path ? path : "build/pty-session", 1);
    setenv("LC_ALL", "C.UTF-8", 1);
    FILE *stream = popen(command, "r");
    cr_assert(stream != NULL);
    while ((got = fread(chunk, 1, sizeof chunk, stream)) > 0)
        buffer_add_bytes(output, chunk, got);
    int status = pclose(stream);
    return WIFEXITED(status) ? WEXITSTATUS(status) : 256 + WTERMSIG(status);
}

static void check(const char *command, int status, const char *expected)
{
    struct buffer output = BUFFER_EMPTY;
    cr_expect(run(command, &output) == status, "%s", command);
    cr_expect(strcmp(buffer_text(&output), expected) == 0, "%s\ngot [%s]", command, buffer_text(&output));
    buffer_free(&output);
}

Test(terminal, transcript_shows_each_line_behind_its_prompt)
{
    check("printf 'one\\r\\n\\n.\\nlast' | $P several words clock show", 0,
          "It is earned \u2265 1\nanswer> one\ngot line one;\nanswer> \ngot line ;\nanswer> .\ngot line .;\n"
          "answer> last\ngot line last;\nanswer> \ngot end ;\n");
}

Test(terminal, transcript_ends_at_the_end_of_its_input)
{
    check("$P </dev/null", 0, "answer> \ngot end ;\n");
    check("$P <&-", 0, "answer> \ngot end ;\n");
}

Test(terminal, transcript_refuses_what_is_not_text_and_makes_it_safe)
{
    check("printf 'a\\377\\na\\000b\\n\\033[2J\\nquit\\n' | $P | sed 's/got line .*;/got;/'", 0,
          "answer> a<0xFF>\nThat line was not taken: it holds bytes that are not text in UTF-8. Please type\nit again.\n"
          "answer> a<0xFF>b\nThat line was not taken: it holds bytes that are not text in UTF-8. Please type\n"
          "it again.\nanswer> <U+001B>[2J\ngot;\nanswer> quit\ngot;\n");
}

Test(terminal, transcript_takes_a_line_of_the_limit_and_refuses_one_byte_more)
{
    check("{ head -c 65536 /dev/zero | tr '\\0' w; echo; } | $P | grep got", 0, "got line (65536 bytes);\ngot end ;\n");
    check("{ head -c 65537 /dev/zero | tr '\\0' w; echo; } | $P | grep -c -e got -e 'not taken'", 0, "2\n");
}

Test(terminal, output_failure_is_noticed)
{
    check("echo quit | $P 2>&1 >/dev/full", 3, "output failed: No space left on device\n");
    check("echo quit | $P 2>&1 >&-", 3, "output failed: Bad file descriptor\n");
}
