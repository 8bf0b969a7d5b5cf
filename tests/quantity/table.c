#include "table.h"

#include <criterion/criterion.h>
#include <string.h>

static int next_line(struct table *table)
{
    do {
        if (!fgets(table->line, sizeof table->line, table->file))
            return 0;
    } while (table->line[0] == '#');
    table->line[strcspn(table->line, "\n")] = '\0';
    return 1;
}

void table_open(struct table *table, const char *path)
{
    table->file = fopen(path, "r");
    cr_assert_not_null(table->file, "%s is missing: run the tests from the project's folder", path);
    cr_assert(next_line(table), "%s has no header", path);
}

int table_next(struct table *table)
{
    static char nothing[] = "";
    if (!next_line(table))
        return 0;
    char *rest = table->line;
    for (int i = 0; i < TABLE_COLUMNS; i++) {
        char *cell = strsep(&rest, "\t");
        table->cells[i] = cell ? cell : nothing;
    }
    return 1;
}

void table_close(struct table *table)
{
    fclose(table->file);
}
