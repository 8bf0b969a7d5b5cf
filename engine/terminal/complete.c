/* Completion. */
#include "terminal/complete.h"

#include <string.h>
#include <strings.h>
#include <stdio.h>
#include <readline/readline.h>

#include "base/memory.h"

static const struct terminal_ask *asked;

/* Called with 0, then 1, 2 … until it gives NULL. Line editing frees what it is given with free(). */
static char *next_candidate(const char *start, int call)
{
    static size_t next;
    if (call == 0)
        next = 0;
    while (next < asked->completion_count) {
        const char *word = asked->completions[next++];
        if (strncasecmp(word, start, strlen(start)) == 0)
            return memory_copy_text(word);
    }
    return NULL;
}

static char **candidates(const char *start, int from, int to)
{
    (void)from;
    (void)to;
    rl_attempted_completion_over = 1;       /* this and the next are set back before each call */
    rl_completion_append_character = '\0';
    return asked->completion_count > 0 ? rl_completion_matches(start, next_candidate) : NULL;
}

void complete_from(const struct terminal_ask *ask)
{
    bool phrases = false;
    for (size_t i = 0; i < ask->completion_count; i++)
        phrases = phrases || strchr(ask->completions[i], ' ');
    asked = ask;
    rl_attempted_completion_function = candidates;
    rl_completer_word_break_characters = phrases ? "\n" : " \n";
    rl_completer_quote_characters = NULL;
    rl_completion_query_items = -1; /* its question would wait for a key behind our back */
}
