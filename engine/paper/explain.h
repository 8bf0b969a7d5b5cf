/* A blueprint and a choice in words. */
#ifndef OWNMARK_PAPER_EXPLAIN_H
#define OWNMARK_PAPER_EXPLAIN_H

#include "paper/gather.h"
#include "report/page.h"

/* A table: each demand, the marks it wants, the marks it has in this choice. */
void explain_blueprint(struct page *page, const struct gathered *gathered, const struct verdict *verdict);

/* What the nearest choice misses, one item each: which demand, by how much, and what the questions hold at all. Nothing
 * when it misses nothing. */
void explain_misses(struct page *page, const struct gathered *gathered, const struct verdict *nearest);

/* Is it enemies or the papers to avoid that are in the way? The trials are the nearest choices without regard to the
 * first, and to either. Adds a sentence for each that is; nothing otherwise. */
void explain_bars(struct page *page, const struct verdict *nearest, const struct verdict *with_enemies,
                  const struct verdict *with_all);

#endif
