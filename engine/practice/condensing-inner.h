/* Inside condensing: what its two files share. Not for others. */
#ifndef OWNMARK_PRACTICE_CONDENSING_INNER_H
#define OWNMARK_PRACTICE_CONDENSING_INNER_H

#include "practice/condensing.h"
#include "practice/keywords.h"

enum condensing_place { CONDENSING_WRITING, CONDENSING_COMPARED, CONDENSING_OVER };

struct condensing {
    struct bank *bank;
    struct record *record;
    const struct topic *topic;
    enum condense_stage stage, earlier;     /* earlier: the one to compare with; CONDENSE_NONE */
    int limit;                              /* words */
    day_number exam;
    struct arena *arena;
    struct key_words words;
    struct topic_notes notes;               /* kept up as events are noted */
    enum condensing_place place;
    bool over_warned;                       /* the limit was named for what stands there now */
    bool fresh;                             /* nothing was asked yet: what is on the screen may be the earlier notes */

    struct page *page;
    bool page_shown;
    struct buffer prefill;
    bool has_prefill;
    struct practice_ask ask;
};

bool condensing_one_line(const struct condensing *condensing);
const char *condensing_text(const struct condensing *condensing);      /* as it stands now, "" for nothing */
int condensing_words_over(const struct condensing *condensing);        /* the limit; below 0: still free */

void condensing_introduce(struct condensing *condensing);
void condensing_show_kept(struct condensing *condensing);              /* and set beside what is to compare with */

#endif
