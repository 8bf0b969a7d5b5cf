/* Tables of the plain renderer. Private to this room. */
#ifndef OWNMARK_REPORT_TABLE_H
#define OWNMARK_REPORT_TABLE_H

#include "report/text.h"

/* Adds the table as marked text (marked.h), set in by `indent`, at most look->width wide. */
void table_add(struct buffer *out, const struct page_block *table, size_t indent, const struct text_look *look);

#endif
