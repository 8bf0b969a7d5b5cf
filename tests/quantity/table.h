/* Reads a tab-separated table of check values: '#' lines and the header line are passed over. */
#ifndef OWNMARK_TESTS_QUANTITY_TABLE_H
#define OWNMARK_TESTS_QUANTITY_TABLE_H

#include <stddef.h>
#include <stdio.h>

enum { TABLE_COLUMNS = 12 };

struct table {
    FILE *file;
    char line[2048];
    char *cells[TABLE_COLUMNS];   /* missing ones are "" */
};

void table_open(struct table *table, const char *path);   /* fails the test when the file is missing */
int table_next(struct table *table);                      /* 0 at the end */
void table_close(struct table *table);

#endif
