/* Writes the program behind a paper as CPLEX LP text, each question a column of its own, for other solvers:
 * export-paper BANK MARKS SEED FILE. Used by tools/bench. */
#include <stdio.h>
#include <stdlib.h>

#include "paper/gather.h"

int main(int count, char **words)
{
    if (count != 5) {
        fprintf(stderr, "export-paper BANK MARKS SEED FILE: writes the program behind a paper as LP text\n");
        return 2;
    }
    struct messages messages = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    struct bank *bank = bank_open(words[1], true, &messages);
    struct gathered gathered;
    const struct paper_wishes wishes = {.marks = atoi(words[2]), .seed = strtoull(words[3], NULL, 10)};
    bool good = bank && wishes.marks >= 1 && gather(&bank, 1, &wishes, arena, &gathered, &messages) &&
                blueprint_write_model(&gathered.blueprint, words[4]);
    messages_print(&messages);
    messages_free(&messages);
    arena_free(arena);
    bank_close(bank);
    return good ? 0 : 1;
}
